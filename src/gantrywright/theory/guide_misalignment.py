"""Loads that blocks get from rails that are not parallel, not level, or driven askew: before any cutting."""

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, Newton, NewtonMetre, NewtonMetrePerRadian, NewtonPerMetre, Number

RIGID: float = 1e15
"""Stiffness that stands for a structure that does not give, N/m."""


@formula("F = e/(1/k1 + 1/k2 + 1/ks)", source="derived")
def parallelism_load(*, error: Metre, first: NewtonPerMetre, second: NewtonPerMetre, structure: NewtonPerMetre = RIGID) -> Newton:
    """Lateral load of two opposite blocks between rails whose distance is off.

    Args:
        error: Of the distance.
        first: Lateral stiffness of the block on one rail.
        second: Of the one opposite.
        structure: Of what lies between them, in series.

    Example:
        >>> round(parallelism_load(error=20e-6, first=200e6, second=200e6, structure=50e6), 1)
        666.7
    """
    return error / (1 / first + 1 / second + 1 / structure)


@formula("F = e/(4/k + 1/ks)", source="derived")
def corner_load(*, error: Metre, stiffness: NewtonPerMetre, structure: NewtonPerMetre = RIGID) -> Newton:
    """Load of each of four blocks when one seat is high: up, down, down, up.

    Args:
        error: How much the seat is high.
        stiffness: Normal stiffness of one block.
        structure: Of the carriage against twist, as a spring at that corner.
    """
    return error / (4 / stiffness + 1 / structure)


@formula("M = k dh/c", source="derived")
def height_moment(*, error: Metre, across: Metre, roll_stiffness: NewtonMetrePerRadian) -> NewtonMetre:
    """Moment on every block when one rail lies higher than the other.

    Args:
        error: Difference of height.
        across: Between the rails.
        roll_stiffness: Of one block about its rail.
    """
    return roll_stiffness * error / across


@formula("F = k (l/2) d/c", source="derived")
def racking_load(*, lead: Metre, drive_spacing: Metre, spacing: Metre, lateral_stiffness: NewtonPerMetre) -> Newton:
    """Lateral load of each block when one of two drives leads the other; rigid structure.

    Args:
        lead: Of one drive over the other.
        drive_spacing: Between the drives.
        spacing: Of the blocks along a rail.
        lateral_stiffness: Of one block.
    """
    return lateral_stiffness * spacing / 2 * lead / drive_spacing


@formula("share = (1/k1 + 1/k2)/(1/k1 + 1/k2 + 1/ks)", source="derived")
def share_on_blocks(*, first: NewtonPerMetre, second: NewtonPerMetre, structure: NewtonPerMetre) -> Number:
    """Part of an error of the rails that the blocks must swallow; the rest bends the structure.

    Args:
        first: Stiffness of the block on one rail.
        second: Of the one opposite.
        structure: Of what lies between them, in series.
    """
    blocks = 1 / first + 1 / second
    return blocks / (blocks + 1 / structure)

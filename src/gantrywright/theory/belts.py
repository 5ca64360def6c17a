"""Toothed belts as linear drives: a loop with a clamped carriage, or a fixed belt that the motor climbs along."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Hertz,
    KilogramPerMetre,
    Metre,
    MetrePerTurn,
    Newton,
    NewtonMetrePerRadian,
    NewtonPerMetre,
    Number,
    Radian,
)

LEAST_MESH = 6
"""Teeth in mesh below which a belt's tooth rating does not hold (belt-maker-tables)."""


@formula("s = p z", source="definition")
def travel_per_turn(*, pitch: Metre, teeth: Number) -> MetrePerTurn:
    """Travel for one turn of the pulley.

    Args:
        pitch: Of the teeth.
        teeth: Of the pulley.

    Returns:
        Circumference of the pitch circle.

    Source:
        Definition.
    """
    return pitch * teeth


@formula("k = c (1/x + 1/(2 L - x))", source="derived")
def loop_stiffness(*, specific_stiffness: Newton, distance: Metre, span: Metre) -> NewtonPerMetre:
    """Stiffness at a carriage clamped to a loop, drive pulley locked, idler free.

    Args:
        specific_stiffness: Force per unit strain of the belt.
        distance: Drive pulley to carriage; may carry an axis of places that is last.
        span: Pulley to pulley.

    Returns:
        Stiffness while both sides are tight: the short side and the way round the idler share.

    Source:
        Derived: two springs side by side.

    Example:
        >>> round(float(loop_stiffness(specific_stiffness=275e3, distance=0.6, span=1.2)) / 1e6, 3)
        0.611
    """
    return specific_stiffness * (1 / np.asarray(distance) + 1 / (2 * span - distance))


@formula("k = c (1/x + 1/(L - x))", source="derived")
def fixed_belt_stiffness(*, specific_stiffness: Newton, distance: Metre, span: Metre) -> NewtonPerMetre:
    """Stiffness at a motor that rides along a belt clamped at both ends, pulley locked.

    Args:
        specific_stiffness: Force per unit strain of the belt.
        distance: One clamp to the pulley; may carry an axis of places that is last.
        span: Clamp to clamp.

    Returns:
        Stiffness while both sides are tight.

    Source:
        Derived: two springs side by side.
    """
    return specific_stiffness * (1 / np.asarray(distance) + 1 / (span - distance))


@formula("k = c / x where T_0 < F, else both sides", source="derived")
def one_sided_stiffness(*, specific_stiffness: Newton, distance: Metre) -> NewtonPerMetre:
    """Stiffness that is left when the other side has gone slack.

    Args:
        specific_stiffness: Force per unit strain of the belt.
        distance: Length of the side that still pulls.

    Returns:
        Stiffness of that side.

    Source:
        Derived.
    """
    return specific_stiffness / np.asarray(distance)


@formula("T_0 >= F", source="belt-maker-tables")
def needed_pretension(*, force: Newton) -> Newton:
    """Tension at rest that keeps the slack side of a linear drive tight.

    Args:
        force: Greatest force along the axis.

    Returns:
        Pretension; a transmission between two pulleys needs half of it.

    Source:
        [belt-maker-tables] 1.0 of the force for linear drives.
    """
    return 1.0 * force


@formula("F <= T_allowed - T_0", source="derived")
def tension_limit(*, allowed: Newton, pretension: Newton) -> Newton:
    """Force that brings the tight side to its allowed tension.

    Args:
        allowed: Of the belt.
        pretension: At rest.

    Returns:
        Force along the axis, as if the tight side took all of it (it does beside the drive pulley).

    Source:
        Derived.
    """
    return np.maximum(allowed - pretension, 0.0)


@formula("f = sqrt(T / m') / (2 L_s)", source="derived")
def span_frequency(*, tension: Newton, mass_per_length: KilogramPerMetre, span: Metre) -> Hertz:
    """Note of a plucked span, by which pretension is set.

    Args:
        tension: At rest.
        mass_per_length: Of the belt.
        span: That swings freely.

    Returns:
        Frequency.

    Source:
        Derived: a string.
    """
    return np.sqrt(tension / np.asarray(mass_per_length)) / (2 * span)


@formula("T = 4 m' L_s^2 f^2", source="derived")
def span_tension(*, frequency: Hertz, mass_per_length: KilogramPerMetre, span: Metre) -> Newton:
    """Tension of a span whose note was measured.

    Args:
        frequency: Of the plucked span.
        mass_per_length: Of the belt.
        span: That swings freely.

    Returns:
        Tension.

    Source:
        Derived: a string.
    """
    return 4 * mass_per_length * np.square(span) * np.square(frequency)


@formula("n = z theta / (2 pi)", source="definition")
def teeth_in_mesh(*, teeth: Number, wrap: Radian = np.pi) -> Number:
    """Teeth that share the pull on a pulley.

    Args:
        teeth: Of the pulley.
        wrap: Angle that the belt lies on; half a turn between two equal pulleys.

    Returns:
        Whole teeth in mesh.

    Source:
        Definition.
    """
    return np.floor(np.asarray(teeth) * wrap / (2 * np.pi) + 1e-9)


@formula("k = (k_1 + k_2) r^2", source="derived")
def stage_stiffness(*, specific_stiffness: Newton, span: Metre, pulley_radius: Metre) -> NewtonMetrePerRadian:
    """Torsional stiffness of a belt stage at its driven pulley, motor held.

    Args:
        specific_stiffness: Force per unit strain of the belt.
        span: Free length of one side.
        pulley_radius: Pitch radius of the driven pulley.

    Returns:
        Stiffness at the driven pulley, both sides tight.

    Source:
        Derived: two springs on one arm.
    """
    return 2 * specific_stiffness / span * np.square(pulley_radius)

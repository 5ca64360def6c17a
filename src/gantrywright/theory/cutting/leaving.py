"""What leaves the cut: chips by the hour, the air that carries them away, and a piece that is thrown."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    CubicMetrePerSecond,
    Joule,
    Kilogram,
    KilogramPerCubicMetre,
    KilogramPerSecond,
    Metre,
    MetrePerSecond,
    Number,
    RadianPerSecond,
    SquareMetre,
)

CARRYING: float = 20.0
"""Speed of the air that carries dry chips along a duct, m/s (from memory)."""


@formula("v = omega D/2", source="definition")
def thrown_speed(*, diameter: Metre, speed: RadianPerSecond) -> MetrePerSecond:
    """Speed at which a piece of the cutter, or something that its edge has caught, leaves.

    Args:
        diameter: Where it comes off.
        speed: Of the spindle.

    Example:
        >>> round(float(thrown_speed(diameter=0.025, speed=24000 * np.pi / 30)), 1)
        31.4
    """
    return speed * diameter / 2


@formula("E = m v^2/2", source="definition")
def thrown_energy(*, mass: Kilogram, speed: MetrePerSecond) -> Joule:
    """Energy of a piece that is thrown.

    Args:
        mass: Of the piece.
        speed: At which it leaves.
    """
    return mass * speed**2 / 2


@formula("m' = rho ap ae vf", source="definition")
def chip_mass_rate(
    *, density: KilogramPerCubicMetre, depth: Metre, width: Metre, feed: MetrePerSecond, share: Number = 1.0
) -> KilogramPerSecond:
    """Mass of chips and dust that a cut makes.

    Args:
        density: Of the work.
        depth: Of cut.
        width: Of cut.
        feed: Of the cut.
        share: Of the time that it cuts.
    """
    return density * depth * width * feed * share


@formula("Q = v pi d^2/4", source="definition")
def duct_flow(*, diameter: Metre, speed: MetrePerSecond = CARRYING) -> CubicMetrePerSecond:
    """Air that a duct needs so that chips do not settle in it.

    Args:
        diameter: Of the duct.
        speed: Of the air in it.

    Example:
        >>> round(float(duct_flow(diameter=0.1)) * 3600)
        565
    """
    return speed * np.pi / 4 * np.square(diameter)


@formula("A = m'/(rho_max v)", source="definition")
def carrying_area(*, chips: KilogramPerSecond, loading: KilogramPerCubicMetre, speed: MetrePerSecond = CARRYING) -> SquareMetre:
    """Area of a duct that carries chips without growing thick with them.

    Args:
        chips: Mass of chips by time.
        loading: Mass of chips in a volume of air that the duct still carries.
        speed: Of the air.
    """
    return chips / (loading * speed)

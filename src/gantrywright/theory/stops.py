"""What a hard stop must take: energy of what moves, thrust of what goes on pushing, stroke of a bumper."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Joule,
    Kilogram,
    KilogramSquareMetre,
    Metre,
    MetrePerSecond,
    Newton,
    NewtonMetre,
)


@formula("E = (m + m_r) v^2/2", source="definition")
def moving_energy(*, mass: Kilogram, reflected: Kilogram, speed: MetrePerSecond) -> Joule:
    """Energy of an axis that moves, with all that turns.

    Args:
        mass: Of all that moves along.
        reflected: What rotors, couplings and screws add to it.
        speed: Of the axis.
    """
    return (mass + reflected) * speed**2 / 2


@formula("J_lin = J / r^2", source="definition")
def reflected_mass(*, inertia: KilogramSquareMetre, travel_per_radian: Metre) -> Kilogram:
    """What a turning inertia adds to the moving mass."""
    return inertia / travel_per_radian**2


@formula("s = 2 E/(F - T): spring bumper, E + T s/2 = F s/2", source="derived")
def bumper_stroke(*, energy: Joule, thrust: Newton, allowed: Newton) -> Metre:
    """Stroke of a spring or rubber bumper that stops an axis whose motors go on pushing.

    The spring ends at the allowed force. On the way it takes the energy and the work of the motors, whose thrust grows with what
    resists it up to where they stall.

    Args:
        energy: Of what moves.
        thrust: Of the drives where they stall.
        allowed: Greatest force.

    Returns:
        Infinite where the thrust alone is all that is allowed or more: no bumper helps then.

    Example:
        >>> bumper_stroke(energy=2.0, thrust=600.0, allowed=1000.0)
        0.01
    """
    spare = np.asarray(allowed - thrust, dtype=float)
    stroke = np.where(spare > 0, 2 * energy / np.where(spare > 0, spare, 1.0), np.inf)
    return float(stroke) if stroke.ndim == 0 else stroke


@formula("F = T + 2 E/s: spring bumper, E + T s/2 = F s/2", source="derived")
def bumper_force(*, energy: Joule, thrust: Newton, stroke: Metre) -> Newton:
    """Force at the end of a spring or rubber bumper of a given stroke that stops an axis whose motors go on pushing.

    Args:
        energy: Of what moves.
        thrust: Of the drives where they stall; it grows with what resists it, as in `bumper_stroke`.
        stroke: That the bumper has.

    Example:
        >>> bumper_force(energy=2.0, thrust=600.0, stroke=0.01)
        1000.0
    """
    return thrust + 2 * energy / stroke


@formula("F = T/r", source="definition")
def force_of_torque(*, torque: NewtonMetre, travel_per_radian: Metre) -> Newton:
    """Force along the axis that a torque at a shaft stands for, without losses."""
    return torque / travel_per_radian

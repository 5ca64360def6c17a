"""A two-lipped drill: chip, torque, power and the thrust that pushes on table and Z axis."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Metre,
    MetrePerTurn,
    Newton,
    NewtonMetre,
    NewtonPerMetre,
    Number,
    Pascal,
    Radian,
    RadianPerSecond,
    Real,
    Watt,
)


@formula("h = (f/2) sin(sigma/2)", source="from memory")
def chip(*, feed: MetrePerTurn, point_angle: Radian) -> Metre:
    """Chip thickness at a lip.

    Args:
        feed: Advance for one turn.
        point_angle: Included angle of the point; often 118 or 135 degrees, 180 for a flat-bottomed bit.

    Returns:
        Thickness.
    """
    thickness: Real = feed / 2 * np.sin(point_angle / 2)
    return thickness


@formula("M = kc f (D^2 - d^2)/8", source="derived")
def torque(*, specific_force: Pascal, diameter: Metre, pilot: Metre, feed: MetrePerTurn) -> NewtonMetre:
    """Torque of both lips.

    Args:
        specific_force: Of the material, at the chip of the lip.
        diameter: Of the drill.
        pilot: Diameter of the hole that is there already; 0 for full material.
        feed: Advance for one turn.

    Returns:
        Torque.
    """
    return specific_force * feed * (diameter**2 - pilot**2) / 8


@formula("F = k_t kc f (D - d)/2 sin(sigma/2)/(1 - chi)", source="from memory")
def thrust(
    *,
    specific_force: Pascal,
    diameter: Metre,
    pilot: Metre,
    feed: MetrePerTurn,
    point_angle: Radian,
    thrust_ratio: Number,
    chisel_share: Number,
) -> Newton:
    """Force along the drill.

    Args:
        specific_force: Of the material, at the chip of the lip.
        diameter: Of the drill.
        pilot: Diameter of the hole that is there already; 0 for full material.
        feed: Advance for one turn.
        point_angle: Included angle of the point.
        thrust_ratio: Of the force that pushes a lip back to the one that turns it; about 0.5.
        chisel_share: Part of the whole thrust that the chisel edge takes; about 0.5, 0.2 to 0.3 with a thinned or brad point, 0 with a pilot
            hole wider than the web.

    Returns:
        Thrust.
    """
    lips: Real = thrust_ratio * specific_force * feed * (diameter - pilot) / 2 * np.sin(point_angle / 2)
    return lips / (1 - chisel_share)


@formula("P = M w", source="definition")
def power(*, torque: NewtonMetre, speed: RadianPerSecond) -> Watt:
    """Power at the drill.

    Args:
        torque: Of both lips.
        speed: Of the spindle.

    Returns:
        Power.
    """
    return torque * speed


@formula("kc = Kt + Kte/h", source="altintas-manufacturing-automation")
def lip_force(*, shear: Pascal, edge: NewtonPerMetre, chip: Metre) -> Pascal:
    """Specific force of a lip by the coefficients that milling goes by.

    Args:
        shear: Tangential shear coefficient.
        edge: Tangential edge coefficient, wear in it.
        chip: Thickness of the chip, more than nothing.

    Example:
        >>> lip_force(shear=35e6, edge=2500.0, chip=0.1e-3) / 1e6
        60.0
    """
    return shear + edge / chip


@formula("tau = 16 M/(pi d^3)", source="shigley")
def twist_stress(*, torque: NewtonMetre, core: Metre) -> Pascal:
    """Shear stress of a round bar that is as strong in twist as the fluted part.

    Args:
        torque: Of both lips.
        core: Diameter of that bar.
    """
    return 16 * torque / (np.pi * core**3)

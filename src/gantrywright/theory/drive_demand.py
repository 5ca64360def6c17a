"""What the motion of an axis asks of its drives."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import GRAVITY, Kilogram, Metre, MetrePerSecondSquared, Newton, Number
from gantrywright.theory.screw_life import cube_mean_force

SERVICE = 1_000_000.0
"""Travel that a builder may expect of a drive, m: 1000 km, some 5 500 hours at a mean of 3 m/min (common practice, no source)."""

WARMING_AT_WORK = 5.0
"""Warming of a drive between the first and the last part of a job, K (common practice, no source: 3 to 10)."""


@formula("W = |m g rise - F_counter|", source="derived")
def weight_along(*, mass: Kilogram, rise: Number, counterweight: Newton) -> Newton:
    """Weight that the drives of an axis carry.

    Args:
        mass: That moves.
        rise: Sine of the slope of the axis.
        counterweight: Force that carries it.

    Returns:
        Size of the force along the axis; a counterweight that is too strong pushes the other way.

    Source:
        Derived.
    """
    return np.abs(mass * GRAVITY * rise - counterweight)


@formula("F = s_m (m a + W + F_f) + s_c F_c", source="derived")
def thrust(
    *,
    mass: Kilogram,
    acceleration: MetrePerSecondSquared,
    weight: Newton,
    friction: Newton,
    cutting: Newton,
    mass_share: Number = 1.0,
    force_share: Number = 1.0,
) -> Newton:
    """Push that one drive must give.

    Args:
        mass: That the axis moves.
        acceleration: Wanted.
        weight: Along the axis.
        friction: Of the guides.
        cutting: Force of the cut along the axis.
        mass_share: Share of mass, weight and friction that this drive bears.
        force_share: Share of the cutting force that it bears.

    Returns:
        Force along the axis, all of them against the motion.

    Source:
        Derived.

    Example:
        >>> thrust(mass=60.0, acceleration=1.0, weight=0.0, friction=30.0, cutting=150.0)
        240.0
    """
    return mass_share * (mass * acceleration + weight + friction) + force_share * cutting


@formula("F_m = ((F_cut^3 + F_idle^3) / 2)^(1/3)", source="iso-3408-5")
def working_mean_force(
    *, weight: Newton, friction: Newton, cutting: Newton, mass_share: Number = 1.0, force_share: Number = 1.0
) -> Newton:
    """Constant force that wears a drive like ordinary work: half the travel cutting, half positioning (an assumption).

    Args:
        weight: Along the axis.
        friction: Of the guides.
        cutting: Mean force of the cut along the axis.
        mass_share: Share of weight and friction that this drive bears.
        force_share: Share of the cutting force that it bears.

    Returns:
        Cube mean.

    Source:
        [iso-3408-5].
    """
    idle = np.asarray(mass_share * (weight + friction), dtype=float)
    cut = idle + force_share * cutting
    forces = np.stack(np.broadcast_arrays(cut, idle), axis=-1)
    return cube_mean_force(forces=forces, speeds=np.ones(2), time_shares=np.full(2, 0.5))


@formula("s = 1/2 + max(x) / W", source="derived")
def worst_share(*, farthest: Metre, distance: Metre) -> Number:
    """Greatest share that one of two drives bears of what moves between them, guides not resisting yaw.

    Args:
        farthest: Greatest offset of mass or force from the middle between the drives, towards this one.
        distance: Between the drives.

    Returns:
        Share by the rule of the lever; over 1 where the load stands outside this drive.

    Source:
        Derived: the rule of the lever.

    Example:
        >>> float(worst_share(farthest=0.3, distance=1.0))
        0.8
    """
    return 0.5 + farthest / np.asarray(distance)

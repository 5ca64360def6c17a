"""What an upright axis does when the power goes."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Kilogram,
    KilogramSquareMetre,
    Metre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Newton,
    NewtonMetre,
    Number,
    Second,
)


@formula("a = max(0, (F r eta_b - T_f) / (J/r + m r eta_b))", source="derived")
def fall_acceleration(
    *,
    mass: Kilogram,
    force: Newton,
    travel_per_radian: Metre,
    back_efficiency: Number,
    resisting_torque: NewtonMetre,
    inertia: KilogramSquareMetre,
) -> MetrePerSecondSquared:
    """Acceleration of a load that turns its unpowered drive.

    Args:
        mass: That falls, on this drive.
        force: Weight along the axis less counterweight and guide friction, on this drive.
        travel_per_radian: Of the shaft that torque and inertia are given for.
        back_efficiency: While the load drives; 0 holds.
        resisting_torque: Of drag, bearings, seals and the motor's detent.
        inertia: Of everything that turns, rotor included.

    Returns:
        Acceleration downwards; 0 where it stays.

    Source:
        Derived from Newton's law at the shaft: the nut passes on (F - m a) r eta_b.

    Example:
        >>> r = 0.005 / (2 * np.pi)
        >>> round(float(fall_acceleration(mass=12.0, force=12 * 9.80665, travel_per_radian=r, back_efficiency=0.8986,
        ...                               resisting_torque=0.06, inertia=5e-5)), 3)
        0.338
    """
    passed_on = travel_per_radian * back_efficiency
    return np.maximum((force * passed_on - resisting_torque) / (inertia / travel_per_radian + mass * passed_on), 0.0)


@formula("v = sqrt(2 a s)", source="derived")
def fall_speed(*, acceleration: MetrePerSecondSquared, distance: Metre) -> MetrePerSecond:
    """Speed after a fall from rest.

    Args:
        acceleration: Of the fall.
        distance: That it falls.

    Returns:
        Speed at the bottom.

    Source:
        Kinematics.
    """
    return np.sqrt(2 * np.asarray(acceleration) * distance)


@formula("t = sqrt(2 s / a)", source="derived")
def fall_time(*, acceleration: MetrePerSecondSquared, distance: Metre) -> Second:
    """Time of a fall from rest.

    Args:
        acceleration: Of the fall.
        distance: That it falls.

    Returns:
        Time; infinite where it holds.

    Source:
        Kinematics.
    """
    acceleration = np.asarray(acceleration, dtype=float)
    falls = acceleration > 0
    return np.where(falls, np.sqrt(2 * distance / np.where(falls, acceleration, 1.0)), np.inf)


@formula("a = max(0, (F - sum T_i/(r_i eta_b,i)) / (m + sum J_i/(r_i^2 eta_b,i)))", source="derived")
def fall_acceleration_of_several(
    *, mass: Kilogram, force: Newton, holding_force: Newton, apparent_mass: Kilogram
) -> MetrePerSecondSquared:
    """Acceleration of a load that turns several unpowered drives at once.

    Args:
        mass: That falls.
        force: Weight along the axis less counterweight and guide friction.
        holding_force: Sum over the drives of resisting torque over travel per radian and back efficiency.
        apparent_mass: Sum over the drives of inertia over squared travel per radian and back efficiency.

    Returns:
        Acceleration downwards; 0 where it stays. One drive gives `fall_acceleration`.

    Source:
        Derived from Newton's law.
    """
    return np.maximum((force - holding_force) / (mass + apparent_mass), 0.0)

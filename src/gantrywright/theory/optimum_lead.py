"""Which lead moves a mass quickest with a given motor."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Array,
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


@formula("r* = (sqrt(F'^2 J^2 + m' T^2 J) - F' J) / (m' T), m' = m/eta, F' = F/eta", source="derived")
def optimum_travel_per_radian(
    *, torque: NewtonMetre, inertia: KilogramSquareMetre, mass: Kilogram, force: Newton, efficiency: Number
) -> Metre:
    """Travel per radian that accelerates most while the torque is constant; without force the reflected load then equals the inertia.

    Args:
        torque: Of the motor, drag taken off.
        inertia: Of all that turns, at the motor shaft.
        mass: Moving mass.
        force: Friction, weight, cutting.
        efficiency: While the motor drives.

    Source: derived; a numeric maximiser agrees (tests/against).
    """
    heavy, push = mass / efficiency, force / efficiency
    return (np.sqrt((push * inertia) ** 2 + heavy * torque**2 * inertia) - push * inertia) / (heavy * torque)


@formula("a = (T - F' r) / (J/r + m' r)", source="derived")
def ramp_acceleration(
    *,
    torque: NewtonMetre,
    travel_per_radian: Metre,
    inertia: KilogramSquareMetre,
    mass: Kilogram,
    force: Newton,
    efficiency: Number,
) -> MetrePerSecondSquared:
    """Acceleration of a mass through a travel per radian.

    Args:
        torque: Of the motor, drag taken off.
        travel_per_radian: Travel of the axis per radian of the motor shaft.
        inertia: Of all that turns, at the motor shaft.
        mass: Moving mass.
        force: Friction, weight, cutting.
        efficiency: While the motor drives.

    Source: derived.
    """
    turning = inertia / travel_per_radian + mass * travel_per_radian / efficiency
    return (torque - force * travel_per_radian / efficiency) / turning


@formula("t = s/v + v/a, or 2 sqrt(s/a) where v is not reached", source="derived")
def move_time(*, stroke: Metre, speed: MetrePerSecond, acceleration: MetrePerSecondSquared) -> Second:
    """Time of a move from rest to rest; infinite where there is no acceleration.

    Args:
        stroke: Length of the move.
        speed: Greatest speed.
        acceleration: Of the ramps.

    Source: derived.

    Example:
        >>> float(move_time(stroke=0.1, speed=0.1, acceleration=1.0))
        1.1
    """
    able = np.maximum(acceleration, 1e-12)
    cruise = stroke / np.maximum(speed, 1e-12) + speed / able
    time = np.where(stroke * able >= speed * np.asarray(speed), cruise, 2 * np.sqrt(stroke / able))
    return np.where(np.asarray(acceleration) > 0, time, np.inf)[()]


@formula("least t over v = w r", source="derived")
def least_move_time(
    *, stroke: Metre, travel_per_radian: Array, motor_speeds: Array, torques: Array, inertia: KilogramSquareMetre, mass: Kilogram,
    force: Newton, efficiency: Number, speed_cap: MetrePerSecond = np.inf,
) -> Array:  # fmt: skip
    """Shortest time of a move for each of several leads, the top speed chosen best on the falling torque curve.

    Args:
        stroke: Length of the move.
        travel_per_radian: One for each lead, m, shape (n_leads,).
        motor_speeds: Grid of motor speeds, rad/s, shape (n_speeds,).
        torques: Of the motor at these, margin applied and drag taken off, N m, shape (n_speeds,).
        inertia: Of all that turns, at the motor shaft.
        mass: Moving mass.
        force: Friction, weight.
        efficiency: While the motor drives.
        speed_cap: Other speed limit of each lead, m/s, shape (n_leads,) or one value.

    Returns:
        Times, s, shape (n_leads,).

    Source: derived.
    """
    radius = np.asarray(travel_per_radian, dtype=float)[:, None]
    able = ramp_acceleration(
        torque=torques[None, :], travel_per_radian=radius, inertia=inertia, mass=mass, force=force, efficiency=efficiency
    )
    # the grid has no point exactly on a cap; running slower than a point's speed on that point's acceleration is on the careful side
    speed = np.minimum(motor_speeds[None, :] * radius, np.broadcast_to(speed_cap, (radius.size,))[:, None])
    times: Array = np.min(move_time(stroke=stroke, speed=speed, acceleration=able), axis=1)
    return times

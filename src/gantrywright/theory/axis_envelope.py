"""What an axis asks of its motor, and what the motor leaves for it: torque, thrust, acceleration.

One drive bears a share of the moving mass and of the forces. Inertia is all that turns, seen at the motor shaft; the moving mass is not in it.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    GRAVITY,
    Array,
    Kilogram,
    KilogramSquareMetre,
    Metre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Newton,
    NewtonMetre,
    Number,
    RadianPerSecond,
)


@formula(
    "T = J a/r + (F r/eta if F v >= 0 else F r eta_b) + T_drag sgn v, F = m a + F_cut + F_f sgn v + m g rise", source="derived"
)
def motor_torque(
    *, speed: MetrePerSecond, acceleration: MetrePerSecondSquared, mass: Kilogram, cutting: Newton, friction: Newton, rise: Number,
    travel_per_radian: Metre, inertia: KilogramSquareMetre, efficiency: Number, back_efficiency: Number, drag_torque: NewtonMetre,
) -> NewtonMetre:  # fmt: skip
    """Torque that a motion asks of the motor shaft; negative brakes.

    Args:
        speed: Of the axis; its sign is the direction, upwards positive on an upright axis.
        acceleration: Of the axis.
        mass: That this drive moves.
        cutting: Cutting force against the motion.
        friction: Of the guides.
        rise: Sine of the slope of the axis: 1 upright, 0 level.
        travel_per_radian: Travel of the axis per radian of the motor shaft.
        inertia: Of all that turns, at the motor shaft.
        efficiency: While the motor drives.
        back_efficiency: While the load drives.
        drag_torque: Drag at the motor shaft.

    Source: derived. Dividing by the efficiency while braking would overstate the braking torque.
    """
    direction = np.sign(speed)
    force = mass * acceleration + cutting + friction * direction + mass * GRAVITY * rise
    drives = force * speed >= 0
    load = np.where(drives, force * travel_per_radian / efficiency, force * travel_per_radian * back_efficiency)
    return (inertia * acceleration / travel_per_radian + load + drag_torque * direction)[()]


@formula("F = (k T - T_drag) eta / r", source="derived")
def thrust(
    *, torque: NewtonMetre, margin: Number, drag_torque: NewtonMetre, efficiency: Number, travel_per_radian: Metre
) -> Newton:
    """Steady force along the axis that a drive gives, guide friction not taken off; negative where the drag is more than the torque.

    Args:
        torque: Of the motor at this speed.
        margin: Part of it that is used.
        drag_torque: Drag at the motor shaft.
        efficiency: While the motor drives.
        travel_per_radian: Travel of the axis per radian of the motor shaft.

    Source: derived.
    """
    return (margin * torque - drag_torque) * efficiency / travel_per_radian


@formula("a = (F_thrust - F) / (m + J eta / r^2)", source="derived")
def acceleration(
    *, thrust: Newton, force: Newton, mass: Kilogram, inertia: KilogramSquareMetre, efficiency: Number, travel_per_radian: Metre
) -> MetrePerSecondSquared:
    """Acceleration that is left at a speed; to be taken at the top of the ramp, where the motor is weakest.

    Args:
        thrust: Of the drive at this speed.
        force: Friction, weight and cutting that this drive bears.
        mass: That this drive moves.
        inertia: Of all that turns, rotor included, at the motor shaft.
        efficiency: While the motor drives.
        travel_per_radian: Travel of the axis per radian of the motor shaft.

    Source: derived.
    """
    return (thrust - force) / (mass + inertia * efficiency / travel_per_radian**2)


@formula("J_load = m r^2 / eta", source="derived")
def reflected_inertia(*, mass: Kilogram, travel_per_radian: Metre, efficiency: Number = 1.0) -> KilogramSquareMetre:
    """A moving mass as an inertia at the motor shaft.

    Args:
        mass: Moving mass.
        travel_per_radian: Travel of the axis per radian of the motor shaft.
        efficiency: Of the drive; 1 for the kinetic energy.

    Source: derived.
    """
    return mass * travel_per_radian**2 / efficiency


@formula("margin = below up to 1.3 w_corner, beyond above it", source="common practice, no source")
def open_loop_margin(*, speed: RadianPerSecond, corner: RadianPerSecond, below: Number = 0.7, beyond: Number = 0.5) -> Number:
    """Part of the pull-out torque that an open-loop stepper may be asked for on a ramp of constant acceleration.

    Simulated undamped motors lost step at 0.79 to 0.87 of it below 1.45 times the corner, at 0.46 to 0.57 near twice the corner.

    Args:
        speed: Mechanical speed.
        corner: Corner speed for an amplitude equal to the bus voltage.
        below: Up to 1.3 times the corner.
        beyond: Above it.

    Source: common practice, no source; backed by simulation of the motor.
    """
    return np.where(speed <= RELIABLE * corner, below, beyond)[()]


RELIABLE = 1.3
"""Times the corner speed, up to which the closed form of the pull-out torque may be promised."""


@formula("v where a(v) = a_wanted, on a grid of speeds", source="derived")
def greatest_speed(*, speeds: Array, reserve: Array) -> MetrePerSecond:
    """Greatest speed up to which a reserve is never negative, by straight lines between points of a grid; 0 where there is none at rest.

    Args:
        speeds: Growing along the last axis, m/s, shape (n_points,) or (n_samples, n_points).
        reserve: What is left at each speed; same shape or broadcast with it.

    Returns:
        A float, or one value a sample.

    Source: derived.
    """
    places, left = np.broadcast_arrays(np.asarray(speeds, dtype=float), np.asarray(reserve, dtype=float))
    shape, points = left.shape[:-1], left.shape[-1]
    places, left = places.reshape(-1, points), left.reshape(-1, points)
    short, row = left < 0, np.arange(len(left))
    first = np.where(short.any(axis=1), short.argmax(axis=1), points)
    before, after = np.maximum(first - 1, 0), np.minimum(first, points - 1)
    above, below = left[row, before], left[row, after]
    part = np.where(below < 0, above / np.maximum(above - below, 1e-300), 1.0)
    between = places[row, before] + part * (places[row, after] - places[row, before])
    found = np.where(first == 0, 0.0, between).reshape(shape)
    return float(found) if found.ndim == 0 else found

"""The rotor on its magnetic spring: load angle, stiffness, resonance, and the steps in torque or speed that it survives."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Hertz,
    KilogramSquareMetre,
    Metre,
    NewtonMetre,
    NewtonMetrePerRadian,
    NewtonPerMetre,
    Number,
    Radian,
    RadianPerSecond,
    Real,
)


@formula("d = asin(T / (K I)) / p", source="derived")
def load_angle(*, torque: NewtonMetre, peak_torque: NewtonMetre, pole_pairs: Number) -> Radian:
    """How far the rotor lags behind its commanded angle under a steady torque; a quarter of an electrical turn at pull-out.

    Args:
        torque: Load at the shaft.
        peak_torque: Torque constant times peak current: holding torque at the current that is set.
        pole_pairs: Rotor teeth.

    Source: derived.
    """
    angle: Real = np.arcsin(np.clip(torque / peak_torque, -1.0, 1.0))
    return angle / pole_pairs


@formula("k = p sqrt((K I)^2 - T^2)", source="derived")
def magnetic_stiffness(*, torque: NewtonMetre, peak_torque: NewtonMetre, pole_pairs: Number) -> NewtonMetrePerRadian:
    """Stiffness of the magnetic spring at a steady load; 0 at pull-out.

    Args:
        torque: Load at the shaft.
        peak_torque: Holding torque at the current that is set.
        pole_pairs: Rotor teeth.

    Source: derived.
    """
    return pole_pairs * np.sqrt(np.maximum(peak_torque**2 - torque**2, 0.0))


@formula("k_lin = k / r^2", source="derived")
def linear_stiffness(*, stiffness: NewtonMetrePerRadian, travel_per_radian: Metre) -> NewtonPerMetre:
    """A spring at the motor shaft, seen along the axis.

    Args:
        stiffness: At the motor shaft.
        travel_per_radian: Travel of the axis per radian of the motor shaft.

    Source: derived.
    """
    return stiffness / travel_per_radian**2


@formula("f_n = sqrt(k / J) / (2 pi)", source="derived")
def natural_frequency(*, stiffness: NewtonMetrePerRadian, inertia: KilogramSquareMetre) -> Hertz:
    """Frequency at which rotor and load swing on the magnetic spring.

    Args:
        stiffness: At the motor shaft.
        inertia: All that is seen at the motor shaft, moving mass included.

    Source: derived; the ring-down of a simulated chopper agrees to 0.02 %.
    """
    return np.sqrt(stiffness / inertia) / (2 * np.pi)


@formula("w = 2 pi f_n / (p k)", source="derived")
def resonant_speed(*, frequency: Hertz, pole_pairs: Number, order: Number) -> RadianPerSecond:
    """Speed at which an error of the drive shakes the rotor at its natural frequency.

    Args:
        frequency: Natural frequency.
        pole_pairs: Rotor teeth.
        order: 1 offset of the currents, 2 unequal gain or angle, 4 detent and full steps.

    Source: derived.
    """
    return 2 * np.pi * frequency / (pole_pairs * order)


@formula("t1 (pi - asin t1 - asin t0) = cos(asin t0) + cos(asin t1)", source="derived")
def step_limit(*, load_ratio: Number) -> Number:
    """Load, over pull-out torque, that an undamped rotor survives when it comes at once: the reason behind the margin on torque.

    Args:
        load_ratio: Load before the step over pull-out torque.

    Source: derived (equal areas); integration of the equation of motion agrees (tests/against).
    """
    before = np.asarray(load_ratio, dtype=float)
    low, high = before, np.ones_like(before)
    start = np.arcsin(before)
    for _ in range(50):
        middle = (low + high) / 2
        angle = np.arcsin(middle)
        beyond = middle * (np.pi - angle - start) > np.cos(start) + np.cos(angle)
        low, high = np.where(beyond, low, middle), np.where(beyond, middle, high)
    found: Real = ((low + high) / 2)[()]
    return found


@formula("w_start = 2 (2 pi f_n) / p", source="derived")
def start_speed(*, frequency: Hertz, pole_pairs: Number) -> RadianPerSecond:
    """Greatest speed that a frictionless rotor can be started at without a ramp; half of it is what practice dares.

    Args:
        frequency: Natural frequency.
        pole_pairs: Rotor teeth.

    Source: derived (separatrix of the pendulum); a simulated chopper agrees to 0.01 %.
    """
    return 4 * np.pi * frequency / pole_pairs


@formula("T_inc = K I sin(pi / (2 mu))", source="from memory")
def microstep_torque(*, peak_torque: NewtonMetre, microsteps: Number) -> NewtonMetre:
    """Torque that one microstep from rest can add.

    Args:
        peak_torque: Holding torque at the current that is set.
        microsteps: Per full step.

    Source: from memory.
    """
    return peak_torque * np.sin(np.pi / (2 * microsteps))


@formula("d = asin(T_f / (K I)) / p", source="derived")
def dead_zone(*, friction_torque: NewtonMetre, peak_torque: NewtonMetre, pole_pairs: Number) -> Radian:
    """Half-width of the angle within which static friction holds the rotor, however fine the microsteps are.

    Args:
        friction_torque: Static friction at the motor shaft.
        peak_torque: Holding torque at the current that is set.
        pole_pairs: Rotor teeth.

    Source: derived.
    """
    angle: Real = np.arcsin(np.clip(friction_torque / peak_torque, 0.0, 1.0))
    return angle / pole_pairs

"""Torque of servo motors against speed, from the data sheet or from the winding; mean torque of a duty."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Ampere,
    Array,
    Henry,
    NewtonMetre,
    NewtonMetrePerAmpere,
    Number,
    Ohm,
    RadianPerSecond,
    Real,
    Volt,
    Watt,
)


@formula("T = P / w", source="definition")
def rated_torque(*, power: Watt, rated_speed: RadianPerSecond) -> NewtonMetre:
    """Torque from rated power and rated speed.

    Source: definition.

    Example:
        >>> round(rated_torque(power=750.0, rated_speed=314.159265), 4)
        2.3873
    """
    return power / rated_speed


@formula("T to w_rated, then on a straight line to T_top at w_top, then 0", source="common practice, no source")
def datasheet_torque(
    *,
    speed: RadianPerSecond,
    torque: NewtonMetre,
    rated_speed: RadianPerSecond,
    top_speed: RadianPerSecond,
    top_torque: NewtonMetre,
) -> NewtonMetre:
    """Torque of a servo by the three points of its data sheet.

    Args:
        speed: Speed asked for.
        torque: Up to rated speed.
        rated_speed: End of the level part.
        top_speed: Highest speed.
        top_torque: At the highest speed.

    Source: common practice, no source.
    """
    fall = np.clip((speed - rated_speed) / np.maximum(top_speed - rated_speed, 1e-9), 0.0, 1.0)
    return np.where(speed <= top_speed, torque + (top_torque - torque) * fall, 0.0)[()]


@formula("(R iq + we lam)^2 + (we L iq)^2 = (V/sqrt3)^2, iq <= sqrt2 I_rms, T = 1.5 p lam iq", source="derived")
def winding_torque(
    *, speed: RadianPerSecond, torque_per_rms: NewtonMetrePerAmpere, resistance: Ohm, inductance: Henry, pole_pairs: Number,
    voltage: Volt, current_rms: Ampere,
) -> NewtonMetre:  # fmt: skip
    """Greatest torque of a three-phase servo without field weakening, by voltage and current.

    Args:
        speed: Mechanical speed.
        torque_per_rms: Torque per ampere rms of phase current.
        resistance: Line to neutral: half of line to line.
        inductance: Line to neutral.
        pole_pairs: Of the rotor.
        voltage: Of the direct-current bus.
        current_rms: Largest phase current.

    Source: derived.
    """
    flux = 2**0.5 * torque_per_rms / (3 * pole_pairs)
    electrical = pole_pairs * speed
    emf, square = electrical * flux, resistance**2 + (electrical * inductance) ** 2
    root = (resistance * emf) ** 2 - square * (emf**2 - voltage**2 / 3)
    by_voltage = (np.sqrt(np.maximum(root, 0.0)) - resistance * emf) / square
    return 1.5 * pole_pairs * flux * np.clip(by_voltage, 0.0, 2**0.5 * current_rms)


@formula("T_rms = sqrt(sum T_i^2 t_i / sum t_i)", source="definition")
def rms_torque(*, torques: Array, times: Array) -> NewtonMetre:
    """Torque that heats as much as a duty does.

    Args:
        torques: Of each part of the duty, N m; parts on the last axis.
        times: Of each part, s; parts on the last axis.

    Source: definition.

    Example:
        >>> round(float(rms_torque(torques=np.array([2.5, 0.6, -1.9, 0.0]), times=np.array([0.1, 0.4, 0.1, 0.4]))), 5)
        1.06301
    """
    heat = np.asarray(torques, dtype=float) ** 2 * np.asarray(times, dtype=float)
    mean: Real = np.sqrt(np.sum(heat, axis=-1) / np.sum(np.asarray(times, dtype=float), axis=-1))
    return mean


@formula("ratio = J_load / J_rotor", source="definition")
def inertia_ratio(*, load: Number, rotor: Number) -> Number:
    """Inertia of the load at the motor shaft over that of the rotor: a guide to tuning, not to the best lead.

    Source: definition.
    """
    return load / rotor

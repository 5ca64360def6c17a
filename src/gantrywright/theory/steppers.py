"""The hybrid stepper as a two-phase synchronous machine: what it can pull at a speed, from its winding and the voltage.

Amplitudes are peak values. Torque is the greatest quadrature current inside two circles: that of the current and that of the voltage. An
open-loop drive needs no angle control to reach it, since the rotor finds the angle by itself.
"""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Ampere,
    Henry,
    NewtonMetre,
    NewtonMetrePerAmpere,
    NewtonMetreSecond,
    Number,
    Ohm,
    RadianPerSecond,
    Volt,
    Watt,
    Weber,
)

SQUARE_WAVE = 4 / np.pi
"""Fundamental of a square wave over its height."""
TINY = 1e-12


@formula("K = T_H / I_peak", source="definition")
def torque_constant(*, holding: NewtonMetre, current_peak: Ampere) -> NewtonMetrePerAmpere:
    """Torque per ampere of peak phase current; the same number is the back-EMF amplitude per rad/s.

    Args:
        holding: Holding torque of the data sheet.
        current_peak: Peak of the sine that gives it; of a sheet that means direct current in both phases, sqrt(2) times its figure.

    Source: definition.

    Example:
        >>> round(torque_constant(holding=4.5, current_peak=5.5 * 2**0.5), 6)
        0.578542
    """
    return holding / current_peak


@formula("lambda = K / p", source="definition")
def flux_linkage(*, torque_constant: NewtonMetrePerAmpere, pole_pairs: Number) -> Weber:
    """Flux of the magnet that one phase links.

    Source: definition.
    """
    return torque_constant / pole_pairs


@formula("I_ch = K / (p L)", source="definition")
def characteristic_current(*, torque_constant: NewtonMetrePerAmpere, pole_pairs: Number, inductance: Henry) -> Ampere:
    """Current whose own flux equals that of the magnet; it rules the torque far above the corner speed.

    Source: definition.
    """
    return torque_constant / (pole_pairs * inductance)


@formula("(R I + K w)^2 + (p w L I)^2 = V1^2", source="derived")
def corner_speed(
    *,
    resistance: Ohm,
    inductance: Henry,
    torque_constant: NewtonMetrePerAmpere,
    pole_pairs: Number,
    current: Ampere,
    amplitude: Volt,
) -> RadianPerSecond:
    """Speed up to which the full phase current can be driven at the best angle; 0 where the voltage cannot even drive it at rest.

    Args:
        resistance: Of one phase as wired.
        inductance: Of one phase as wired.
        torque_constant: Per ampere of peak current.
        pole_pairs: Rotor teeth: 50 for a 1.8 degree motor.
        current: Peak of the sine that is set.
        amplitude: Amplitude of the phase voltage that the bridge can give.

    Source: derived; checked against a grid of current vectors.
    """
    square = torque_constant**2 + (pole_pairs * inductance * current) ** 2
    drop = resistance * current
    half = drop * torque_constant
    spare = np.maximum(amplitude**2 - drop**2, 0.0)
    return (np.sqrt(half**2 + square * spare) - half) / square


@formula("(R I)^2 + (K + p L I)^2 w^2 = V1^2", source="derived")
def light_load_corner_speed(
    *,
    resistance: Ohm,
    inductance: Henry,
    torque_constant: NewtonMetrePerAmpere,
    pole_pairs: Number,
    current: Ampere,
    amplitude: Volt,
) -> RadianPerSecond:
    """Speed at which a hardly loaded motor stops following its current: the current then strengthens the magnet.

    Args:
        resistance: Of one phase as wired.
        inductance: Of one phase as wired.
        torque_constant: Per ampere of peak current.
        pole_pairs: Rotor teeth.
        current: Peak of the sine that is set.
        amplitude: Amplitude of the phase voltage that the bridge can give.

    Source: derived.
    """
    spare = np.maximum(amplitude**2 - (resistance * current) ** 2, 0.0)
    return np.sqrt(spare) / (torque_constant + pole_pairs * inductance * current)


@formula("P = V1 I_ch - R I_ch^2", source="derived")
def limiting_power(
    *, resistance: Ohm, inductance: Henry, torque_constant: NewtonMetrePerAmpere, pole_pairs: Number, amplitude: Volt
) -> Watt:
    """Shaft power far above the corner speed: proportional to the voltage, whatever the current setting.

    Args:
        resistance: Of one phase as wired.
        inductance: Of one phase as wired.
        torque_constant: Per ampere of peak current.
        pole_pairs: Rotor teeth.
        amplitude: Amplitude of the phase voltage, 4/pi of the bus voltage far above the corner.

    Source: derived.
    """
    current = torque_constant / (pole_pairs * inductance)
    return amplitude * current - resistance * current**2


@dataclass(frozen=True, slots=True)
class RotorCurrents:
    """Currents in the frame of the rotor, peak values."""

    direct: Ampere
    """Along the magnet; negative weakens it."""
    quadrature: Ampere
    """Makes the torque."""


@formula("greatest iq with id^2 + iq^2 <= I^2 and |i - c| <= V1/Z", source="derived")
def pull_out_currents(
    *, speed: RadianPerSecond, resistance: Ohm, inductance: Henry, torque_constant: NewtonMetrePerAmpere, pole_pairs: Number,
    current: Ampere, amplitude: Volt,
) -> RotorCurrents:  # fmt: skip
    """Rotor-frame currents at pull-out: the greatest torque inside the circle of the current and that of the voltage.

    Args:
        speed: Mechanical speed.
        resistance: Of one phase as wired.
        inductance: Of one phase as wired.
        torque_constant: Per ampere of peak current.
        pole_pairs: Rotor teeth.
        current: Peak of the sine that is set.
        amplitude: Amplitude of the phase voltage that the bridge can give at this speed.

    Source: derived; checked against a grid search (tests/against) and a simulation of the chopper.
    """
    reactance = pole_pairs * inductance * speed
    emf = torque_constant * speed
    square = resistance**2 + reactance**2
    radius = amplitude / np.sqrt(square)
    centre_d, centre_q = -reactance * emf / square, -resistance * emf / square
    by_current = centre_d**2 + (current - centre_q) ** 2 <= radius**2
    top = radius + centre_q
    by_voltage = centre_d**2 + top**2 <= current**2
    distance = np.sqrt(centre_d**2 + centre_q**2) + TINY
    along = (current**2 - radius**2 + distance**2) / (2 * distance)
    across = np.sqrt(np.maximum(current**2 - along**2, 0.0))
    unit_d, unit_q = centre_d / distance, centre_q / distance
    meet_d, meet_q = along * unit_d + across * unit_q, along * unit_q - across * unit_d
    apart = distance > current + radius
    quadrature = np.where(by_current, current, np.where(by_voltage, top, np.where(apart, 0.0, meet_q)))
    direct = np.where(by_current, 0.0, np.where(by_voltage, centre_d, np.where(apart, 0.0, meet_d)))
    return RotorCurrents(direct[()], np.maximum(quadrature, 0.0)[()])


@formula("T = K iq at pull-out", source="derived")
def pull_out_torque_at_amplitude(
    *, speed: RadianPerSecond, resistance: Ohm, inductance: Henry, torque_constant: NewtonMetrePerAmpere, pole_pairs: Number,
    current: Ampere, amplitude: Volt,
) -> NewtonMetre:  # fmt: skip
    """Electromagnetic pull-out torque for a given amplitude of the phase voltage, losses not taken off.

    Args:
        speed: Mechanical speed.
        resistance: Of one phase as wired.
        inductance: Of one phase as wired.
        torque_constant: Per ampere of peak current.
        pole_pairs: Rotor teeth.
        current: Peak of the sine that is set.
        amplitude: Amplitude of the phase voltage.

    Source: derived.
    """
    currents = pull_out_currents(
        speed=speed, resistance=resistance, inductance=inductance, torque_constant=torque_constant, pole_pairs=pole_pairs, current=current,
        amplitude=amplitude,
    )  # fmt: skip
    return torque_constant * currents.quadrature


@formula("k_v = 1 + (4/pi - 1)(1 - exp(-1.8 max(w/w_corner - 1, 0)^1.1))", source="derived")
def voltage_use(*, speed: RadianPerSecond, corner: RadianPerSecond) -> Number:
    """Amplitude of the phase voltage over the bus voltage: 1 while a sine is tracked, 4/pi where the bridge gives a square wave.

    The blend between both was fitted to a simulated chopper: 6 motors, 4 voltages, 2 currents, up to 4 times the corner; rms 1.7 %,
    worst +6.4 and -4.0 %.

    Args:
        speed: Mechanical speed.
        corner: Corner speed for an amplitude equal to the bus voltage.

    Source: derived (fit to a simulation).
    """
    over = np.maximum(speed / np.maximum(corner, 1e-9) - 1, 0.0)
    return 1 + (SQUARE_WAVE - 1) * (1 - np.exp(-1.8 * over**1.1))


@formula("T_out = K iq(V1 = k_v V) - T_c - B w", source="derived")
def pull_out_torque(
    *, speed: RadianPerSecond, resistance: Ohm, inductance: Henry, torque_constant: NewtonMetrePerAmpere, pole_pairs: Number,
    current: Ampere, voltage: Volt, loss_torque: NewtonMetre = 0.0, loss_per_speed: NewtonMetreSecond = 0.0,
) -> NewtonMetre:  # fmt: skip
    """Torque that pulls the motor out of step, at the shaft, never below 0.

    An upper bound: reliable up to about 1.3 times the corner speed. Beyond, an undamped rotor may lose step at a quarter of it.

    Args:
        speed: Mechanical speed.
        resistance: Of one phase as wired.
        inductance: Of one phase as wired.
        torque_constant: Per ampere of peak current.
        pole_pairs: Rotor teeth.
        current: Peak of the sine that is set.
        voltage: Of the bus, bridge drops taken off.
        loss_torque: Constant part of iron and bearing loss.
        loss_per_speed: Part of it that grows with speed.

    Source: derived; simulated chopper within 4.5 % (tests/against).
    """
    winding = {
        "resistance": resistance, "inductance": inductance, "torque_constant": torque_constant, "pole_pairs": pole_pairs, "current": current,
    }  # fmt: skip
    corner = corner_speed(amplitude=voltage, **winding)
    amplitude = voltage_use(speed=speed, corner=corner) * voltage
    torque = pull_out_torque_at_amplitude(speed=speed, amplitude=amplitude, **winding)
    return np.maximum(torque - loss_torque - loss_per_speed * speed, 0.0)


@formula("P = R I^2", source="derived")
def standstill_heat(*, resistance: Ohm, current: Ampere) -> Watt:
    """Copper heat of both phases, the same at rest and running while the current is tracked.

    Args:
        resistance: Of one phase as wired.
        current: Peak of the sine that is set.

    Source: derived.
    """
    return resistance * current**2

"""What motors draw from a direct-current supply, and what a hard stop gives back to it."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Ampere,
    Farad,
    Henry,
    Hertz,
    Joule,
    Kilogram,
    KilogramSquareMetre,
    Metre,
    MetrePerSecond,
    NewtonMetre,
    NewtonMetrePerAmpere,
    Number,
    Ohm,
    RadianPerSecond,
    Volt,
    Watt,
)
from gantrywright.theory.steppers import corner_speed, voltage_use


@formula("P = R (id^2 + iq^2) + T w, id from |i| = I, else from |v| = V1", source="derived")
def stepper_power(
    *, torque: NewtonMetre, speed: RadianPerSecond, resistance: Ohm, inductance: Henry, torque_constant: NewtonMetrePerAmpere,
    pole_pairs: Number, current: Ampere, voltage: Volt,
) -> Watt:  # fmt: skip
    """Power that a stepper takes from its bridge: copper heat and shaft power; negative gives back.

    Args:
        torque: Electromagnetic torque, iron loss included; at most the pull-out torque.
        speed: Mechanical speed.
        resistance: Of one phase as wired.
        inductance: Of one phase as wired.
        torque_constant: Per ampere of peak current.
        pole_pairs: Rotor teeth.
        current: Peak of the sine that is set.
        voltage: Of the bus, bridge drops taken off.

    Source: derived; simulated chopper within 0.5 %, near the corner up to 6 % above this.
    """
    corner = corner_speed(
        resistance=resistance, inductance=inductance, torque_constant=torque_constant, pole_pairs=pole_pairs, current=current,
        amplitude=voltage,
    )  # fmt: skip
    amplitude = voltage * voltage_use(speed=speed, corner=corner)
    reactance, emf = pole_pairs * inductance * speed, torque_constant * speed
    square = resistance**2 + reactance**2
    quadrature = torque / torque_constant
    tracked = np.sqrt(np.maximum(current**2 - quadrature**2, 0.0))
    asked = (resistance * tracked - reactance * quadrature) ** 2 + (resistance * quadrature + reactance * tracked + emf) ** 2
    half = reactance * emf
    rest = square * quadrature**2 + 2 * resistance * emf * quadrature + emf**2 - amplitude**2
    saturated = (np.sqrt(np.maximum(half**2 - square * rest, 0.0)) - half) / square
    direct = np.where(asked <= amplitude**2, tracked, saturated)
    return (resistance * (direct**2 + quadrature**2) + torque * speed)[()]


@formula("P = 3 R I_rms^2 + T w", source="derived")
def servo_power(*, torque: NewtonMetre, speed: RadianPerSecond, resistance: Ohm, torque_per_rms: NewtonMetrePerAmpere) -> Watt:
    """Power that a servo takes from its drive.

    Args:
        torque: At the shaft.
        speed: Mechanical speed.
        resistance: Line to neutral.
        torque_per_rms: Torque per ampere rms of phase current.

    Source: derived.
    """
    return 3 * resistance * (torque / torque_per_rms) ** 2 + torque * speed


@formula("P = P_motor / eta + P_idle", source="derived")
def driver_input(*, motor: Watt, efficiency: Number, idle: Watt) -> Watt:
    """Power that a driver takes from its bus while the motor takes power.

    Args:
        motor: What the motor takes.
        efficiency: Of the power stage.
        idle: Of its electronics.

    Source: derived.
    """
    return motor / efficiency + idle


@formula("P = 2/3 V I", source="common practice, no source")
def two_thirds_power(*, voltage: Volt, phase_current: Ampere) -> Watt:
    """Supply power of a motor by the rule of thumb: two thirds of its rated phase current at the bus voltage.

    It pays for every motor at full shaft power at once.

    Args:
        voltage: Of the bus.
        phase_current: Rated, both phases on.

    Source: common practice, no source.
    """
    return voltage * phase_current * (2 / 3)


@formula("E = (m + J/r^2) v^2 / 2", source="derived")
def kinetic_energy(*, mass: Kilogram, inertia: KilogramSquareMetre, travel_per_radian: Metre, speed: MetrePerSecond) -> Joule:
    """Energy of an axis that moves: rotors often hold more than the table.

    Args:
        mass: Moving mass.
        inertia: Of all that turns, rotors included, at the motor shaft.
        travel_per_radian: Travel of the axis per radian of the motor shaft.
        speed: Of the axis.

    Source: derived.
    """
    return 0.5 * (mass + inertia / travel_per_radian**2) * speed**2


@formula("V' = sqrt(V^2 + 2 E / C)", source="derived")
def bus_rise(*, voltage: Volt, energy: Joule, capacitance: Farad) -> Volt:
    """Bus voltage after an energy went into the capacitors: an upper bound, since copper takes a good part of it.

    Args:
        voltage: Before the stop.
        energy: That comes back.
        capacitance: Of supply output and drivers together; a regulated supply takes nothing back.

    Source: derived; simulated stops gave 6 to 45 % of this rise.
    """
    return np.sqrt(voltage**2 + 2 * energy / capacitance)


@formula("C = 2 E / (V_max^2 - V^2)", source="derived")
def capacitance_needed(*, voltage: Volt, highest: Volt, energy: Joule) -> Farad:
    """Capacitance that keeps the bus below a limit.

    Args:
        voltage: Before the stop.
        highest: Limit of the drivers.
        energy: That comes back.

    Source: derived.
    """
    return 2 * energy / np.maximum(highest**2 - voltage**2, 1e-12)


@formula("V_set = sqrt(V_max^2 - 2 E / C) / (1 + tol)", source="derived")
def highest_setting(*, highest: Volt, energy: Joule, capacitance: Farad, tolerance: Number = 0.0) -> Volt:
    """Highest setting of a supply that keeps the bus below the drivers' limit after a hard stop; 0 where none does.

    Args:
        highest: Limit of the drivers.
        energy: That comes back.
        capacitance: Of supply output and drivers together.
        tolerance: Of the setting and with temperature.

    Source: derived.
    """
    return np.sqrt(np.maximum(highest**2 - 2 * energy / capacitance, 0.0)) / (1 + tolerance)


@formula("dV = I / (2 f C)", source="derived")
def ripple(*, current: Ampere, line_frequency: Hertz, capacitance: Farad) -> Volt:
    """Ripple of a full-wave rectified, unregulated supply; an upper bound.

    Args:
        current: That is drawn.
        line_frequency: Of the line.
        capacitance: Behind the rectifier.

    Source: derived.
    """
    return current / (2 * line_frequency * capacitance)


@formula("C = I / (2 f dV)", source="derived")
def smoothing(*, current: Ampere, line_frequency: Hertz, ripple: Volt) -> Farad:
    """Capacitance for a given ripple of an unregulated supply.

    Args:
        current: That is drawn.
        line_frequency: Of the line.
        ripple: Allowed, peak to peak.

    Source: derived.
    """
    return current / (2 * line_frequency * ripple)


@formula("C = 0.08 F I / V", source="common practice, no source")
def smoothing_by_rule(*, current: Ampere, voltage: Volt) -> Farad:
    """Smoothing capacitance by the rule of thumb 80 000 uF times amperes over volts.

    Args:
        current: That is drawn.
        voltage: Of the bus.

    Source: common practice, no source.
    """
    return 0.08 * current / voltage


@formula("V = 32 sqrt(L / 1 mH)", source="common practice, no source")
def guide_voltage(*, inductance: Henry) -> Volt:
    """Upper guide to the bus voltage against heating of the iron; no requirement.

    Args:
        inductance: Of one phase as wired.

    Source: common practice, no source.
    """
    return 32 * np.sqrt(inductance / 1e-3)

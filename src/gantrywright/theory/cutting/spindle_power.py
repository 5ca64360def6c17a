"""What a spindle can turn: torque and power over speed, cooling, what the outlet leaves, balance.

Speeds are those of the shaft, rad/s. A high-frequency spindle is an induction motor that an inverter feeds: constant torque below its base
speed, constant power above, and a pull-out torque that falls with the square of the speed. How deep the pull-out falls at low speed,
where the resistance of the winding eats the voltage, is told by the equivalent circuit in `spindle_circuit`.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Ampere,
    Hertz,
    Kilogram,
    Metre,
    MetrePerSecond,
    Newton,
    NewtonMetre,
    Number,
    RadianPerSecond,
    Real,
    Volt,
    Watt,
)


@formula("w_s = 2 pi f/(poles/2)", source="definition")
def synchronous_speed(*, frequency: Hertz, poles: int) -> RadianPerSecond:
    """Speed of the turning field; the shaft is a few per cent slower.

    Args:
        frequency: Of the inverter.
        poles: Of the winding, 2 or 4.

    Example:
        >>> round(float(synchronous_speed(frequency=400.0, poles=2)) * 30 / 3.141592653589793)
        24000
    """
    return 2 * np.pi * frequency / (poles / 2)


@formula("P = k P_plate", source="common practice, no source")
def useful_power(*, plate: Watt, share: Number) -> Watt:
    """Power that the shaft gives for long: small spindles are often rated by what goes in, or for minutes.

    Args:
        plate: Power on the plate.
        share: Part of it that comes out for long, 0.7 to 0.8.
    """
    return share * plate


@formula("T = P/w_b", source="definition")
def rated_torque(*, power: Watt, base_speed: RadianPerSecond) -> NewtonMetre:
    """Torque of a spindle at and below its base speed.

    Args:
        power: At the base speed.
        base_speed: Where the voltage reaches its rated value.

    Example:
        >>> round(float(rated_torque(power=2200.0, base_speed=2513.274)), 4)
        0.8754
    """
    return power / base_speed


@formula("T = T_r (w <= w_b); min(P/w, k T_r (w_b/w)^2) (w > w_b)", source="derived")
def shaft_torque(*, power: Watt, base_speed: RadianPerSecond, speed: RadianPerSecond, pull_out: Number = 2.0) -> NewtonMetre:
    """Torque that a spindle has at a speed: constant to its base speed, then constant power, in the end its pull-out.

    Args:
        power: At the base speed.
        base_speed: Where the voltage reaches its rated value.
        speed: Asked.
        pull_out: Greatest torque over the rated one, at the base speed.

    Returns:
        Torque for a well cooled spindle; below the base speed as if the winding had no resistance.
    """
    slowness = base_speed / np.maximum(speed, 1e-9)
    above: Real = np.minimum(np.minimum(slowness, pull_out * slowness**2), 1.0)
    return rated_torque(power=power, base_speed=base_speed) * above


@formula("P = T w", source="definition")
def shaft_power(*, power: Watt, base_speed: RadianPerSecond, speed: RadianPerSecond, pull_out: Number = 2.0) -> Watt:
    """Power that a spindle has at a speed.

    Args:
        power: At the base speed.
        base_speed: Where the voltage reaches its rated value.
        speed: Asked.
        pull_out: Greatest torque over the rated one, at the base speed.

    Returns:
        Power; half the speed has half of it.
    """
    return speed * shaft_torque(power=power, base_speed=base_speed, speed=speed, pull_out=pull_out)


@formula("k = sqrt(0.25 + 0.75 (w/w_b)^0.7), at most 1", source="derived")
def fan_share(*, speed: RadianPerSecond, base_speed: RadianPerSecond) -> Number:
    """Part of its torque that a spindle with a fan on its own shaft can give for long; water does not mind the speed.

    Args:
        speed: Of the shaft and so of the fan.
        base_speed: At which the fan cools as rated.

    Returns:
        Factor on the torque, 0.5 at standstill.

    Source:
        Derived from heat of the winding with the square of torque, a quarter of it carried off without wind, the rest by a film that goes
        with speed to the 0.7; an estimate, never measured here.
    """
    wind: Real = np.clip(speed / base_speed, 0.0, 1.0) ** 0.7
    share: Real = np.sqrt(0.25 + 0.75 * wind)
    return share


@formula("I = k I_n", source="common practice, no source")
def usable_current(*, rating: Ampere, share: Number = 0.8) -> Ampere:
    """Current that an outlet gives for hours.

    Args:
        rating: Of the branch.
        share: 0.8 where rules for cord-and-plug or lasting loads ask for it, 1 where the protective device may be used up.
    """
    return share * rating


@formula("P = (I - I_other) V PF eta_m eta_i", source="derived")
def outlet_shaft_power(
    *, voltage: Volt, usable_current: Ampere, other_current: Ampere, power_factor: Number, motor_efficiency: Number,
    inverter_efficiency: Number,
) -> Watt:  # fmt: skip
    """Shaft power that an outlet leaves for the spindle while it also feeds other loads.

    Args:
        voltage: Of the outlet.
        usable_current: That it gives for hours.
        other_current: Of all that runs while cutting; their sum is an upper bound, as currents of different shape do not add in full.
        power_factor: True power factor of the inverter: about 0.60 bare, 0.73 with a choke, 0.95 with active correction.
        motor_efficiency: 0.72 to 0.86.
        inverter_efficiency: 0.93 to 0.97.

    Returns:
        Power, 0 where the others use up all.

    Example:
        >>> power = outlet_shaft_power(
        ...     voltage=120.0, usable_current=12.0, other_current=3.6, power_factor=0.6, motor_efficiency=0.8, inverter_efficiency=0.95
        ... )
        >>> round(float(power))
        460
    """
    left: Real = np.maximum(usable_current - other_current, 0.0)
    return left * voltage * power_factor * motor_efficiency * inverter_efficiency


@formula("I = P/(V PF eta_m eta_i)", source="derived")
def spindle_current(
    *, shaft_power: Watt, voltage: Volt, power_factor: Number, motor_efficiency: Number, inverter_efficiency: Number
) -> Ampere:
    """Current that a spindle draws from an outlet through its inverter.

    Args:
        shaft_power: At the cut.
        voltage: Of the outlet.
        power_factor: True power factor of the inverter.
        motor_efficiency: Of the spindle.
        inverter_efficiency: Of the inverter.
    """
    return shaft_power / (voltage * power_factor * motor_efficiency * inverter_efficiency)


@formula("F = m e w^2", source="definition")
def unbalance_force(*, mass: Kilogram, eccentricity: Metre, speed: RadianPerSecond) -> Newton:
    """Force that turns with a rotor whose centre of mass is off its axis.

    Args:
        mass: Of all that turns.
        eccentricity: Of its centre of mass.
        speed: Of the shaft.

    Example:
        >>> round(float(unbalance_force(mass=0.3, eccentricity=5e-6, speed=2 * 3.141592653589793 * 400)), 2)
        9.47
    """
    return mass * eccentricity * speed**2


@formula("e = G/w", source="from memory")
def balance_eccentricity(*, grade: MetrePerSecond, speed: RadianPerSecond) -> Metre:
    """Eccentricity of the centre of mass that a balance grade allows.

    Args:
        grade: Speed of the centre of mass, m/s: 2.5e-3 for G 2.5.
        speed: Highest of the rotor.

    Source:
        From memory: grades of the standard of rotor balance.
    """
    return grade / speed

"""An induction spindle by its equivalent circuit: pull-out, slip and how both change where the inverter runs it slowly.

One phase: stator resistance and leakage, magnetising branch, rotor resistance over slip and leakage, all referred to the stator and told at the
rated frequency. The inverter keeps voltage over frequency constant to the rated frequency and the voltage beyond, unless told otherwise.
"""

from typing import NamedTuple

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Hertz, NewtonMetre, Number, Ohm, RadianPerSecond, Real, Volt

PHASES = 3


class Fed(NamedTuple):
    """The stator as the rotor sees it: one source behind one impedance."""

    voltage: Volt
    resistance: Ohm
    reactance: Ohm
    """With the leakage of the rotor."""
    field_speed: RadianPerSecond


@formula("U = U_r min(f/f_r, 1) + boost (1 - min(f/f_r, 1))", source="definition")
def inverter_voltage(*, rated_voltage: Volt, rated_frequency: Hertz, frequency: Hertz, boost: Volt = 0.0) -> Volt:
    """Voltage of one phase that an inverter gives at a frequency.

    Args:
        rated_voltage: Of one phase, at the rated frequency. It must be reached THERE: at mains frequency already the winding saturates and burns.
        rated_frequency: Of the spindle.
        frequency: Asked.
        boost: Added at standstill against the drop in the winding.
    """
    share: Real = np.minimum(frequency / rated_frequency, 1.0)
    return rated_voltage * share + boost * (1 - share)


@formula("T_max = 3 U_th^2/(2 w_s (R_th + sqrt(R_th^2 + (X_th + X_2)^2)))", source="derived")
def pull_out_torque(
    *, stator_resistance: Ohm, stator_reactance: Ohm, rotor_reactance: Ohm, magnetising_reactance: Ohm, voltage: Volt,
    rated_frequency: Hertz, frequency: Hertz, poles: int = 2,
) -> NewtonMetre:  # fmt: skip
    """Torque at which an induction spindle stalls.

    Args:
        stator_resistance: Of one phase.
        stator_reactance: Leakage of the stator at the rated frequency.
        rotor_reactance: Leakage of the rotor at the rated frequency, referred to the stator.
        magnetising_reactance: At the rated frequency.
        voltage: Of one phase at the frequency asked, see `inverter_voltage`.
        rated_frequency: At which the reactances are told.
        frequency: Asked.
        poles: Of the winding.

    Returns:
        Torque; the resistance of the rotor does not matter to it.

    Source:
        Derived: matched load of the source that the rotor sees.
    """
    ratio = frequency / rated_frequency
    fed = _fed(stator_resistance, stator_reactance, rotor_reactance, magnetising_reactance, voltage, ratio, frequency, poles)
    impedance: Real = np.sqrt(fed.resistance**2 + fed.reactance**2)
    return PHASES * fed.voltage**2 / (2 * fed.field_speed * (fed.resistance + impedance))


@formula("T w_s = 3 U_th^2 y/((R_th + y)^2 + (X_th + X_2)^2), y = R_2/s", source="derived")
def induction_torque(
    *, stator_resistance: Ohm, stator_reactance: Ohm, rotor_resistance: Ohm, rotor_reactance: Ohm, magnetising_reactance: Ohm,
    voltage: Volt, rated_frequency: Hertz, frequency: Hertz, slip: Number, poles: int = 2,
) -> NewtonMetre:  # fmt: skip
    """Torque of an induction spindle at a slip.

    Args:
        stator_resistance: Of one phase.
        stator_reactance: Leakage of the stator at the rated frequency.
        rotor_resistance: Referred to the stator.
        rotor_reactance: Leakage of the rotor at the rated frequency, referred to the stator.
        magnetising_reactance: At the rated frequency.
        voltage: Of one phase at the frequency asked.
        rated_frequency: At which the reactances are told.
        frequency: Asked.
        slip: Field less shaft over field; 1 at standstill.
        poles: Of the winding.
    """
    ratio = frequency / rated_frequency
    fed = _fed(stator_resistance, stator_reactance, rotor_reactance, magnetising_reactance, voltage, ratio, frequency, poles)
    load = rotor_resistance / slip
    return PHASES * fed.voltage**2 * load / (fed.field_speed * ((fed.resistance + load) ** 2 + fed.reactance**2))


@formula("s = R_2/y, y the greater root of T w_s ((R_th + y)^2 + X^2) = 3 U_th^2 y", source="derived")
def slip_under(
    *, torque: NewtonMetre, stator_resistance: Ohm, stator_reactance: Ohm, rotor_resistance: Ohm, rotor_reactance: Ohm,
    magnetising_reactance: Ohm, voltage: Volt, rated_frequency: Hertz, frequency: Hertz, poles: int = 2,
) -> Number:  # fmt: skip
    """Slip at which an induction spindle carries a torque.

    Args:
        torque: At the rotor, friction included; above 0.
        stator_resistance: Of one phase.
        stator_reactance: Leakage of the stator at the rated frequency.
        rotor_resistance: Referred to the stator.
        rotor_reactance: Leakage of the rotor at the rated frequency, referred to the stator.
        magnetising_reactance: At the rated frequency.
        voltage: Of one phase at the frequency asked.
        rated_frequency: At which the reactances are told.
        frequency: Asked.
        poles: Of the winding.

    Returns:
        Slip; 1, standstill, where the torque is above the pull-out.
    """
    ratio = frequency / rated_frequency
    fed = _fed(stator_resistance, stator_reactance, rotor_reactance, magnetising_reactance, voltage, ratio, frequency, poles)
    half = PHASES * fed.voltage**2 / (2 * fed.field_speed * np.maximum(torque, 1e-12)) - fed.resistance
    inside = half**2 - fed.resistance**2 - fed.reactance**2
    load = half + np.sqrt(np.maximum(inside, 0.0))
    slip: Real = np.where((inside >= 0) & (half > 0), np.minimum(rotor_resistance / np.where(half > 0, load, 1.0), 1.0), 1.0)[()]
    return slip


@formula("w = w_f - s_r w_b (T/T_r) max(w_f/w_b, 1)^2", source="derived")
def loaded_speed(
    *, field_speed: RadianPerSecond, base_speed: RadianPerSecond, rated_slip: Number, torque: NewtonMetre, rated_torque: NewtonMetre
) -> RadianPerSecond:
    """Speed of the shaft under load where only the rated slip is known.

    Args:
        field_speed: Of the field at the frequency that is set.
        base_speed: Of the field at the rated frequency.
        rated_slip: At rated torque and frequency, 0.01 to 0.05.
        torque: Of the cut.
        rated_torque: Of the spindle.

    Returns:
        Speed. To the base speed the torque asks for the same difference of speeds at every frequency; beyond, the weaker field asks for the
        square of the frequencies' ratio more.
    """
    weak: Real = np.maximum(field_speed / base_speed, 1.0) ** 2
    lag = rated_slip * base_speed * torque / rated_torque * weak
    speed: Real = np.maximum(field_speed - lag, 0.0)
    return speed


def _fed(
    resistance: Ohm, leakage: Ohm, rotor_leakage: Ohm, magnetising: Ohm, voltage: Volt, ratio: Number, frequency: Hertz, poles: int
) -> Fed:
    """Reactances go with the frequency."""
    branch = 1j * np.asarray(magnetising * ratio)
    stator = resistance + 1j * np.asarray(leakage * ratio)
    seen = branch * stator / (branch + stator)
    source: Real = np.abs(voltage * branch / (branch + stator))
    return Fed(source, seen.real, seen.imag + rotor_leakage * ratio, 2 * np.pi * frequency / (poles / 2))

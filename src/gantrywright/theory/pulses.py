"""Step pulses: how many for a metre, how many in a second, and which speeds a timer can make."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Hertz, Metre, MetrePerSecond, Number


@formula("steps/m = 4 p mu / (2 pi r)", source="definition")
def steps_per_metre(*, travel_per_radian: Metre, pole_pairs: Number, microsteps: Number) -> Number:
    """Pulses for a metre of travel. Never to be rounded: round absolute targets to steps instead.

    Args:
        travel_per_radian: Travel of the axis per radian of the motor shaft.
        pole_pairs: Rotor teeth: a turn has four times as many full steps.
        microsteps: Per full step.

    Source: definition.
    """
    return 4 * pole_pairs * microsteps / (2 * np.pi * travel_per_radian)


@formula("f = v steps/m", source="definition")
def pulse_frequency(*, speed: MetrePerSecond, steps_per_metre: Number) -> Hertz:
    """Pulse rate at a speed.

    Args:
        speed: Of the axis.
        steps_per_metre: Pulses for a metre.

    Source: definition.
    """
    return speed * steps_per_metre


@formula("v = f / (steps/m)", source="definition")
def pulse_speed(*, frequency: Hertz, steps_per_metre: Number) -> MetrePerSecond:
    """Speed at a pulse rate.

    Args:
        frequency: Highest pulse rate.
        steps_per_metre: Pulses for a metre.

    Source: definition.
    """
    return frequency / steps_per_metre


@formula("v = f_clock / (N steps/m), N = round(f_clock / f)", source="derived")
def timer_speed(*, clock: Hertz, count: Number, steps_per_metre: Number) -> MetrePerSecond:
    """Speed that a timer makes with one pulse every so many ticks.

    Args:
        clock: Of the timer.
        count: Ticks from pulse to pulse.
        steps_per_metre: Pulses for a metre.

    Source: definition.
    """
    return clock / (count * steps_per_metre)


@formula("s = 1 / (steps/m)", source="definition")
def step_length(*, steps_per_metre: Number) -> Metre:
    """Travel of one pulse: resolution, which is not accuracy.

    Args:
        steps_per_metre: Pulses for a metre.

    Source: definition.
    """
    return 1 / steps_per_metre

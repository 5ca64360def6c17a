"""Power and bus voltage."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import supplies as theory
from gantrywright.theory.steppers import pull_out_torque
from motor_cases import A, B


def test_standing_still_costs_copper_heat_only() -> None:
    assert theory.stepper_power(torque=1.0, speed=0.0, voltage=50.0, **A) == pytest.approx(0.45 * A["current"] ** 2)


@given(st.floats(1.0, 200.0), st.floats(0.0, 1.0))
def test_power_covers_the_shaft(speed: float, part: float) -> None:
    torque = part * float(pull_out_torque(speed=speed, voltage=50.0, **A))
    assert theory.stepper_power(torque=torque, speed=speed, voltage=50.0, **A) >= torque * speed


def test_hard_braking_gives_back_less_than_the_shaft_loses() -> None:
    speeds = np.linspace(20.0, 60.0, 9)
    power = np.asarray(theory.stepper_power(torque=-3.0, speed=speeds, voltage=50.0, **A))
    assert np.all(power > -3.0 * speeds)
    assert power[-1] < 0


@given(st.floats(20.0, 90.0), st.floats(0.0, 50.0), st.floats(1e-4, 1e-1))
def test_the_setting_that_keeps_the_limit_just_keeps_it(highest: float, energy: float, capacitance: float) -> None:
    setting = theory.highest_setting(highest=highest, energy=energy, capacitance=capacitance)
    peak = theory.bus_rise(voltage=setting, energy=energy, capacitance=capacitance)
    assert peak == pytest.approx(highest) if setting > 0 else peak >= highest * (1 - 1e-9)


def test_the_capacitance_that_is_needed_just_suffices() -> None:
    needed = theory.capacitance_needed(voltage=48.0, highest=60.0, energy=8.0)
    assert theory.bus_rise(voltage=48.0, energy=8.0, capacitance=needed) == pytest.approx(60.0)


def test_ripple_and_smoothing_are_each_others_inverse() -> None:
    farad = theory.smoothing(current=8.0, line_frequency=60.0, ripple=5.0)
    assert theory.ripple(current=8.0, line_frequency=60.0, capacitance=farad) == pytest.approx(5.0)


def test_a_driver_takes_its_own_share() -> None:
    assert theory.driver_input(motor=95.0, efficiency=0.95, idle=5.0) == pytest.approx(105.0)


def test_two_thirds_pays_for_every_motor_at_full_power() -> None:
    assert theory.two_thirds_power(voltage=50.0, phase_current=5.5) > 4 * theory.stepper_power(
        torque=0.0, speed=0.0, voltage=50.0, **B
    )


def test_a_servo_at_rest_without_load_takes_nothing() -> None:
    assert theory.servo_power(torque=0.0, speed=0.0, resistance=1.2, torque_per_rms=0.5) == 0.0
    assert theory.servo_power(torque=1.0, speed=100.0, resistance=1.2, torque_per_rms=0.5) == pytest.approx(100.0 + 3 * 1.2 * 4.0)

"""Torque and power of a spindle over speed, and what an outlet leaves."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting import spindle_power as sp

BASE = 24_000 * np.pi / 30


@given(st.floats(100.0, 5000.0), st.floats(0.01, 4.0), st.floats(1.5, 3.0))
def test_torque_is_even_then_power_then_pull_out(power: float, ratio: float, pull_out: float) -> None:
    torque = sp.shaft_torque(power=power, base_speed=BASE, speed=ratio * BASE, pull_out=pull_out)
    rated = power / BASE
    if ratio <= 1:
        assert torque == pytest.approx(rated)
    elif ratio < pull_out:
        assert torque * ratio * BASE == pytest.approx(power)
    else:
        assert torque == pytest.approx(rated * pull_out / ratio**2)


def test_torque_never_rises_with_speed() -> None:
    speeds = BASE * np.linspace(0.01, 4, 400)
    torque = np.asarray(sp.shaft_torque(power=2200.0, base_speed=BASE, speed=speeds))
    assert np.all(np.diff(torque) <= 1e-12)


def test_a_fan_cools_less_where_it_turns_slowly() -> None:
    share = np.asarray(sp.fan_share(speed=BASE * np.array([0.0, 0.25, 0.5, 1.0, 1.5]), base_speed=BASE))
    assert share[0] == pytest.approx(0.5)
    assert np.all(np.diff(share[:4]) > 0)
    np.testing.assert_allclose(share[3:], 1.0)


@given(st.floats(50.0, 3000.0), st.floats(100.0, 240.0), st.floats(0.5, 0.95), st.floats(0.0, 6.0))
def test_an_outlet_leaves_what_draws_the_rest_of_its_current(power: float, voltage: float, factor: float, other: float) -> None:
    same = {"voltage": voltage, "power_factor": factor, "motor_efficiency": 0.8, "inverter_efficiency": 0.95}
    current = sp.spindle_current(shaft_power=power, **same)
    assert sp.outlet_shaft_power(usable_current=current + other, other_current=other, **same) == pytest.approx(power)
    assert sp.outlet_shaft_power(usable_current=other, other_current=other + 1.0, **same) == 0.0


def test_useful_shares() -> None:
    assert sp.useful_power(plate=2200.0, share=0.75) == pytest.approx(1650.0)
    assert sp.usable_current(rating=15.0) == pytest.approx(12.0)


def test_four_poles_turn_half_as_fast() -> None:
    assert sp.synchronous_speed(frequency=400.0, poles=4) == pytest.approx(BASE / 2)


def test_unbalance_goes_with_the_square_of_speed_and_a_grade_makes_it_even() -> None:
    one, two = (sp.unbalance_force(mass=0.3, eccentricity=5e-6, speed=k * BASE) for k in (1, 2))
    assert two / one == pytest.approx(4)
    allowed = sp.balance_eccentricity(grade=2.5e-3, speed=BASE)
    assert allowed * BASE == pytest.approx(2.5e-3)


def test_samples_are_answered_one_by_one() -> None:
    power, speed = np.array([500.0, 2200.0]), np.array([0.5, 1.7]) * BASE
    many = np.asarray(sp.shaft_torque(power=power, base_speed=BASE, speed=speed))
    for i in range(2):
        assert many[i] == pytest.approx(sp.shaft_torque(power=power[i], base_speed=BASE, speed=speed[i]))

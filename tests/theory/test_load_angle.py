"""Lag, stiffness, resonance."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import load_angle as theory


@given(st.floats(0.0, 4.0))
def test_stiffness_is_the_slope_of_torque_over_angle(torque: float) -> None:
    step = 1e-5
    low, high = (theory.load_angle(torque=torque + sign * step, peak_torque=4.5, pole_pairs=50) for sign in (-1, 1))
    stiffness = theory.magnetic_stiffness(torque=torque, peak_torque=4.5, pole_pairs=50)
    assert 2 * step / (high - low) == pytest.approx(stiffness, rel=1e-5)


def test_pull_out_is_a_quarter_of_an_electrical_turn_without_stiffness() -> None:
    assert theory.load_angle(torque=9.0, peak_torque=4.5, pole_pairs=50) == pytest.approx(1.5707963 / 50)
    assert theory.magnetic_stiffness(torque=9.0, peak_torque=4.5, pole_pairs=50) == 0.0


def test_lag_along_the_axis_at_one_newton_metre() -> None:
    # check value D10: 3.567, 7.133 and 14.266 um at leads of 5, 10 and 20 mm
    angle = theory.load_angle(torque=1.0, peak_torque=4.5, pole_pairs=50)
    lags = [angle * lead / 6.283185307 * 1e6 for lead in (5e-3, 10e-3, 20e-3)]
    assert lags == pytest.approx([3.567, 7.133, 14.266], rel=1e-3)


def test_magnet_and_screw_in_series() -> None:
    # check value D10: 88.826 N/um in series with 40 N/um gives 27.580 N/um
    magnet = theory.linear_stiffness(stiffness=225.0, travel_per_radian=0.01 / 6.283185307)
    assert 1 / (1 / magnet + 1 / 40e6) == pytest.approx(27.580e6, rel=1e-3)


@given(st.floats(0.0, 0.95))
def test_a_step_in_load_is_survived_between_the_load_itself_and_pull_out(ratio: float) -> None:
    limit = theory.step_limit(load_ratio=ratio)
    assert ratio < limit < 1.0


def test_more_friction_a_wider_dead_zone() -> None:
    zone = [theory.dead_zone(friction_torque=t, peak_torque=4.5, pole_pairs=50) for t in (0.0, 0.15, 0.3)]
    assert zone[0] == 0.0
    assert zone[2] == pytest.approx(2 * zone[1], rel=2e-3)

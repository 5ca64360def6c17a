"""Thrust, acceleration and speed of an axis."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import axis_envelope as theory
from gantrywright.theory.steppers import corner_speed, pull_out_torque
from motor_cases import A

R10 = 0.01 / (2 * np.pi)
SPEEDS = np.linspace(1e-3, 1.0, 4000)


def thrust_of(speed: float, margin: float, lead: float = 0.01, **losses: float) -> float:
    radius = lead / (2 * np.pi)
    torque = pull_out_torque(speed=speed / radius, voltage=50.0, **A, **losses)
    return float(theory.thrust(torque=torque, margin=margin, drag_torque=0.08, efficiency=0.9, travel_per_radian=radius))


@pytest.mark.parametrize(
    ("speed", "margin", "expected"), [(0.05, 0.7, 1703.9), (0.1, 0.5, 749.8), (0.2, 0.5, 351.3), (0.3, 0.5, 209.3)]
)
def test_thrust_left_against_speed(speed: float, margin: float, expected: float) -> None:
    assert thrust_of(speed, margin) - 30.0 == pytest.approx(expected, rel=5e-3)  # check value A5


@pytest.mark.parametrize(("force", "expected"), [(30.0, 4.701), (180.0, 3.761)])
def test_acceleration_at_the_top_of_the_ramp(force: float, expected: float) -> None:
    made = theory.acceleration(
        thrust=thrust_of(0.1, 0.5), force=force, mass=60.0, inertia=2.8e-4, efficiency=0.9, travel_per_radian=R10
    )
    assert made == pytest.approx(expected, rel=5e-3)  # check value A5


@pytest.mark.parametrize(
    ("lead", "plain", "with_losses"), [(5e-3, 0.3156, 0.2405), (10e-3, 0.3789, 0.3291), (20e-3, 0.4211, 0.3946)]
)
def test_greatest_speed_of_the_motor(lead: float, plain: float, with_losses: float) -> None:
    # check value A4: margin 0.5, 150 N of cutting force, 30 N of friction
    for expected, losses in ((plain, {}), (with_losses, {"loss_torque": 0.0585, "loss_per_speed": 3e-4})):
        reserve = np.array([thrust_of(v, 0.5, lead, **losses) for v in SPEEDS[::10]]) - 180.0
        assert theory.greatest_speed(speeds=SPEEDS[::10], reserve=reserve) == pytest.approx(expected, rel=5e-3)


@given(st.floats(0.0, 5.0), st.floats(0.0, 300.0))
def test_the_torque_of_a_ramp_gives_back_its_acceleration(accel: float, force: float) -> None:
    given_ = {"mass": 60.0, "travel_per_radian": R10, "inertia": 2.8e-4, "efficiency": 0.9, "drag_torque": 0.08}
    torque = theory.motor_torque(
        speed=0.1, acceleration=accel, cutting=force, friction=30.0, rise=0.0, back_efficiency=0.85, **given_
    )
    pushed = theory.thrust(torque=torque, margin=1.0, drag_torque=0.08, efficiency=0.9, travel_per_radian=R10)
    back = theory.acceleration(thrust=pushed, force=force + 30.0, mass=60.0, inertia=2.8e-4, efficiency=0.9, travel_per_radian=R10)
    assert back == pytest.approx(accel, abs=1e-9)


def test_braking_is_helped_by_friction_and_not_divided_by_the_efficiency() -> None:
    given_ = {
        "cutting": 0.0,
        "rise": 0.0,
        "travel_per_radian": R10,
        "inertia": 0.0,
        "efficiency": 0.5,
        "back_efficiency": 0.4,
        "drag_torque": 0.0,
    }
    torque = theory.motor_torque(speed=0.1, acceleration=-2.0, mass=60.0, friction=20.0, **given_)
    assert torque == pytest.approx((-120.0 + 20.0) * R10 * 0.4)


def test_margin_halves_beyond_the_reliable_range() -> None:
    corner = corner_speed(amplitude=50.0, **A)
    assert theory.open_loop_margin(speed=1.29 * corner, corner=corner) == 0.7
    assert theory.open_loop_margin(speed=1.31 * corner, corner=corner) == 0.5


def test_speed_is_found_between_points_and_nothing_is_none() -> None:
    speeds = np.array([0.0, 1.0, 2.0])
    assert theory.greatest_speed(speeds=speeds, reserve=np.array([3.0, 1.0, -1.0])) == pytest.approx(1.5)
    assert theory.greatest_speed(speeds=speeds, reserve=np.array([-1.0, 1.0, 2.0])) == 0.0
    assert theory.greatest_speed(speeds=speeds, reserve=np.array([3.0, 2.0, 1.0])) == 2.0
    many = theory.greatest_speed(speeds=speeds, reserve=np.array([[3.0, 1.0, -1.0], [1.0, -1.0, -2.0]]))
    assert list(np.asarray(many)) == pytest.approx([1.5, 0.5])

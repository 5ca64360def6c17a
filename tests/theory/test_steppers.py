"""Laws of the pull-out torque."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.steppers import (
    corner_speed,
    light_load_corner_speed,
    limiting_power,
    pull_out_currents,
    pull_out_torque,
    pull_out_torque_at_amplitude,
    voltage_use,
)
from gantrywright.theory.windings import rewire
from motor_cases import RPM, SQUARE, A

SPEEDS = st.floats(0.0, 400.0)
VOLTS = st.floats(20.0, 100.0)


def test_torque_is_level_up_to_the_corner_and_falls_beyond() -> None:
    corner = corner_speed(amplitude=50.0, **A)
    speeds = np.linspace(0.0, 5.0, 200) * corner
    torque = np.asarray(pull_out_torque(speed=speeds, voltage=50.0, **A))
    assert torque[speeds <= corner] == pytest.approx(4.5)
    assert np.all(np.diff(torque[speeds > 1.2 * corner]) < 0)


def test_power_far_above_the_corner_goes_to_its_limit() -> None:
    limit = limiting_power(amplitude=50 * SQUARE, **{k: v for k, v in A.items() if k != "current"})
    speed = 60 * corner_speed(amplitude=50.0, **A)
    assert pull_out_torque(speed=speed, voltage=50.0, **A) * speed == pytest.approx(limit, rel=1e-3)


@given(st.floats(3.5, 20.0))
def test_the_current_setting_plays_no_part_in_the_limit(current: float) -> None:
    speed = 300.0  # far above the corner of all these settings, all of them above the characteristic current
    torque = pull_out_torque_at_amplitude(speed=speed, amplitude=50.0, **(A | {"current": current}))
    assert torque == pytest.approx(pull_out_torque_at_amplitude(speed=speed, amplitude=50.0, **A), rel=1e-9)


@given(SPEEDS, VOLTS)
def test_series_at_twice_the_voltage_equals_parallel(speed: float, voltage: float) -> None:
    series = rewire(
        resistance=A["resistance"], inductance=A["inductance"], current=A["current"], torque_constant=A["torque_constant"],
        wired="parallel", to="series",
    )  # fmt: skip
    rewired = {
        "resistance": series.resistance, "inductance": series.inductance, "current": series.current,
        "torque_constant": series.torque_constant, "pole_pairs": 50,
    }  # fmt: skip
    assert pull_out_torque(speed=speed, voltage=2 * voltage, **rewired) == pytest.approx(
        pull_out_torque(speed=speed, voltage=voltage, **A), rel=1e-9, abs=1e-12
    )


@given(SPEEDS, VOLTS)
def test_the_currents_lie_in_both_circles(speed: float, voltage: float) -> None:
    found = pull_out_currents(speed=speed, amplitude=voltage, **A)
    reactance, emf = 50 * A["inductance"] * speed, A["torque_constant"] * speed
    across = A["resistance"] * found.direct - reactance * found.quadrature
    along = A["resistance"] * found.quadrature + reactance * found.direct + emf
    assert found.direct**2 + found.quadrature**2 <= A["current"] ** 2 * (1 + 1e-9)
    assert across**2 + along**2 <= voltage**2 * (1 + 1e-9)


@given(VOLTS, st.floats(1.01, 2.0))
def test_more_voltage_never_takes_torque_away(voltage: float, factor: float) -> None:
    speeds = np.linspace(0.0, 300.0, 60)
    low = np.asarray(pull_out_torque(speed=speeds, voltage=voltage, **A))
    assert np.all(np.asarray(pull_out_torque(speed=speeds, voltage=factor * voltage, **A)) >= low - 1e-9)


def test_a_voltage_that_cannot_drive_the_current_at_rest_has_no_corner() -> None:
    assert corner_speed(amplitude=3.0, **A) == 0.0
    assert pull_out_torque(speed=0.0, voltage=3.0, **A) == pytest.approx(A["torque_constant"] * 3.0 / 0.45, rel=0.3)


def test_a_light_load_ends_tracking_before_the_corner() -> None:
    assert light_load_corner_speed(amplitude=50.0, **A) < corner_speed(amplitude=50.0, **A)


def test_voltage_use_runs_from_one_to_a_square_wave() -> None:
    assert voltage_use(speed=10.0, corner=30.0) == 1.0
    assert voltage_use(speed=300.0, corner=30.0) == pytest.approx(SQUARE, rel=1e-4)


def test_samples_and_single_values_agree() -> None:
    many = np.asarray(pull_out_torque(speed=600 * RPM, voltage=np.array([36.0, 50.0, 70.0]), **A))
    assert list(many) == pytest.approx([float(pull_out_torque(speed=600 * RPM, voltage=v, **A)) for v in (36.0, 50.0, 70.0)])


def test_losses_come_off_at_the_shaft_and_never_turn_torque_around() -> None:
    plain = pull_out_torque(speed=100.0, voltage=50.0, **A)
    assert pull_out_torque(speed=100.0, voltage=50.0, loss_torque=0.05, loss_per_speed=1e-3, **A) == pytest.approx(plain - 0.15)
    assert pull_out_torque(speed=100.0, voltage=50.0, loss_torque=100.0, **A) == 0.0

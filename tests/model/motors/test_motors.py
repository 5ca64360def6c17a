"""Motors made from part records: what they answer, and what they say is missing."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from gantrywright.base.errors import UnreadableText
from gantrywright.base.values import PhaseCurrent
from gantrywright.catalog import kinds
from gantrywright.model.axis import DriveFit
from gantrywright.model.bodies import Use
from gantrywright.model.electric import DriverFit, MotorFit
from gantrywright.model.motors import Missing, Motor, motor_kinds, motor_of
from gantrywright.model.motors.closed_loop import ClosedLoopStepper
from gantrywright.model.motors.curve import read_points
from gantrywright.model.motors.servo import Servo
from gantrywright.model.motors.stepper import Stepper
from motor_cases import RPM
from motor_machines import SERVO
from simple_machine import DRIVER, STEPPER, screw_drive

SETTING = PhaseCurrent(5.6, "peak")
CURVE = {
    "curve_speeds": "60, 120, 240, 360, 480, 600, 900, 1200 rpm", "curve_torques": "2.6, 2.6, 2.5, 2.3, 1.95, 1.65, 1.15, 0.85 N m",
    "curve_voltage": 48.0, "curve_current": PhaseCurrent(5.6, "peak"),
}  # fmt: skip


def fit(motor: kinds.Motor | None, driver: kinds.Driver | None = DRIVER, current: PhaseCurrent | None = SETTING) -> DriveFit:
    drive = screw_drive("x", "main", line=((0, 0, 0), (1, 0, 0)), grip=(0.5, 0, 0), holds="a", grips="b", travel=0.6)
    return replace(
        drive, motor=None if motor is None else MotorFit("axis.x.drive.main.motor", motor, Use()),
        driver=None if driver is None else DriverFit("axis.x.drive.main.driver", driver, current, Use()),
    )  # fmt: skip


def made(motor: kinds.Motor, **words: Any) -> Motor:
    found = motor_of(fit(motor, **words))
    assert not isinstance(found, Missing), found
    return found


def test_three_kinds_stand_in_the_register() -> None:
    assert set(motor_kinds()) == {"stepper", "closed-loop", "servo"}


def test_the_rating_told_as_rms_is_read_as_both_phases_on() -> None:
    motor = made(STEPPER)
    assert isinstance(motor, Stepper)
    assert motor.torque_constant == pytest.approx(3.0 / (4.2 * 2**0.5))
    assert motor.stall_torque == pytest.approx(3.0 * 5.6 / (4.2 * 2**0.5))


def test_an_open_loop_motor_promises_part_of_its_torque_and_only_up_to_a_speed() -> None:
    motor = made(STEPPER)
    corner = motor.corner_speed(44.0)
    assert motor.open_loop
    assert motor.promised_up_to(44.0) == pytest.approx(1.3 * corner)
    assert [motor.margin(f * corner, 44.0) for f in (0.5, 1.29, 1.31)] == [0.7, 0.7, 0.5]
    assert motor.stiffness(0.0) == pytest.approx(50 * motor.stall_torque)
    assert motor.load_angle(0.0) == 0.0


def test_a_closed_loop_keeps_its_curve_and_has_no_spring() -> None:
    opened, closed = made(STEPPER), made(replace(STEPPER, type="closed-loop"))
    assert isinstance(closed, ClosedLoopStepper)
    speeds = np.linspace(0.0, 150.0, 7)
    np.testing.assert_allclose(closed.torque(speeds, 44.0), opened.torque(speeds, 44.0))
    assert not closed.open_loop
    assert closed.promised_up_to(44.0) == np.inf
    assert closed.margin(1000.0, 44.0) == 0.9
    assert closed.stiffness(1.0) is None
    assert closed.load_angle(1.0) is None
    # at rest without load its current is nought, that of the open loop is not
    assert closed.electrical_power(0.0, 0.0, 44.0) == pytest.approx(5.0)
    assert opened.electrical_power(0.0, 0.0, 44.0) == pytest.approx(5.0 + 0.8 * 5.6**2 / 0.95)


def test_the_bridge_takes_its_drop() -> None:
    weak = made(STEPPER, driver=replace(DRIVER, drop=10.0))
    assert weak.torque(100.0, 44.0) == pytest.approx(made(STEPPER).torque(100.0, 35.5))


@pytest.mark.parametrize(
    ("field", "value"),
    [("resistance", None), ("inductance", None), ("holding", None), ("current", None), ("inertia", None), ("pole_pairs", None)],
)
def test_what_is_unknown_is_named(field: str, value: None) -> None:
    found = motor_of(fit(replace(STEPPER, **{field: value})))
    assert isinstance(found, Missing)
    assert f"axis.x.drive.main.motor.{field}" in found.what


def test_a_motor_without_driver_setting_or_kind_is_missing_that() -> None:
    for words, named in (
        ({"driver": None}, ".driver"),
        ({"current": None}, ".driver.current"),
        ({"driver": replace(DRIVER, drop=None)}, ".driver.drop"),
    ):
        found = motor_of(fit(STEPPER, **words))
        assert isinstance(found, Missing)
        assert found.what.endswith(named)
    for motor, named in ((None, ".motor"), (replace(STEPPER, type="air"), "motor.type")):
        found = motor_of(fit(motor))
        assert isinstance(found, Missing)
        assert named in found.what


def test_a_curve_replaces_the_nameplate_and_widens_the_promise() -> None:
    motor = made(replace(STEPPER, **CURVE, holding=None, inductance=None))
    assert isinstance(motor, Stepper)
    torques = np.asarray(motor.torque(np.array([120.0, 600.0, 1200.0]) * RPM, 48.0 + 1.5))
    assert list(torques) == pytest.approx([2.6, 1.65, 0.85], rel=0.05)
    assert motor.promised_up_to(48.0) == pytest.approx(1200 * RPM)
    assert motor.promised_up_to(24.0) == pytest.approx(600 * RPM)  # the curve is scaled down with the voltage, never up
    assert motor.promised_up_to(96.0) < 2400 * RPM
    assert motor.margin(1100 * RPM, 48.0) == 0.7


def test_a_curve_without_its_voltage_or_with_points_that_do_not_match_is_missing() -> None:
    for changes, named in (({"curve_voltage": None}, "curve_voltage"), ({"curve_torques": "2.6, 2.5 N m"}, "curve_torques")):
        found = motor_of(fit(replace(STEPPER, **(CURVE | changes))))
        assert isinstance(found, Missing)
        assert named in found.what


def test_points_take_the_unit_of_the_last() -> None:
    assert read_points("60, 120 rpm", "turn-speed") == pytest.approx((60 * RPM, 120 * RPM))
    assert read_points("340, 300 oz in", "torque") == pytest.approx((340 * 7.0615518e-3, 300 * 7.0615518e-3), rel=1e-6)
    with pytest.raises(UnreadableText):
        read_points("60, 120", "turn-speed")


def test_a_servo_has_lasting_and_short_torque() -> None:
    motor = made(SERVO, driver=replace(DRIVER, current=None), current=None)
    assert isinstance(motor, Servo)
    assert motor.torque(100.0, 310.0) == pytest.approx(7.1)
    assert motor.torque(100.0, 310.0, continuous=True) == pytest.approx(2.39)
    assert motor.torque(5200 * RPM, 310.0) == 0.0
    assert motor.torque(3000 * RPM, 100.0) < motor.torque(3000 * RPM, 310.0)  # a low bus cannot drive it
    assert motor.margin(100.0, 310.0) == 0.9


def test_the_driver_caps_the_short_torque_of_a_servo() -> None:
    motor = made(SERVO, current=PhaseCurrent(8.4, "rms"))
    assert motor.stall_torque == pytest.approx(2 * 2.39)


def test_a_servo_without_its_torque_is_missing_it() -> None:
    found = motor_of(fit(replace(SERVO, rated_torque=None)))
    assert isinstance(found, Missing)
    assert "rated_torque" in found.what


@pytest.mark.parametrize("part", [STEPPER, replace(STEPPER, type="closed-loop"), SERVO])
def test_beyond_its_end_speed_a_motor_gives_less(part: kinds.Motor) -> None:
    motor = made(part)
    for torque in (0.05, 0.2, 0.6):
        assert motor.torque(motor.end_speed(torque, 48.0), 48.0) <= torque


@pytest.mark.parametrize("part", [STEPPER, SERVO])
def test_samples_meet_a_grid(part: kinds.Motor) -> None:
    sampled = made(replace(part, inductance=np.array([2e-3, 5e-3])))
    torques = np.asarray(sampled.along_grid().torque(np.linspace(0.0, 300.0, 5), 48.0))
    assert torques.shape == (2, 5)
    one = made(replace(part, inductance=5e-3))
    np.testing.assert_allclose(torques[1], np.asarray(one.torque(np.linspace(0.0, 300.0, 5), 48.0)))


def test_a_curve_is_fitted_once_for_all_samples() -> None:
    sampled = made(replace(STEPPER, **CURVE, resistance=np.array([0.7, 0.8, 0.9])))
    one = made(replace(STEPPER, **CURVE, resistance=0.8))
    assert isinstance(sampled, Stepper)
    assert isinstance(one, Stepper)
    assert sampled.inductance == one.inductance
    assert np.asarray(sampled.torque(60.0, 44.0)).shape == (3,)

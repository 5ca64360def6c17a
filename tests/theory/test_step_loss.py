"""The simulated stepper: laws that hold whatever the motor is."""

import pytest

from gantrywright.theory.step_loss import SimulatedMotor, forced_run, keeps_step, loss_factor
from motor_cases import A

MOTOR = SimulatedMotor(**A, voltage=50.0, inertia=5.6e-4, friction=0.3)


def test_a_gentle_ramp_keeps_step_and_a_brutal_one_does_not() -> None:
    assert keeps_step(motor=MOTOR, speed=36.0, acceleration=500.0, damping=0.0)
    assert not keeps_step(motor=MOTOR, speed=36.0, acceleration=12_000.0, damping=0.0)


def test_the_factor_lies_between_kept_and_lost() -> None:
    factor = loss_factor(motor=MOTOR, speed=36.0, acceleration=4000.0, damping=0.02)
    assert keeps_step(motor=MOTOR, speed=36.0, acceleration=0.99 * factor * 4000.0, damping=0.02)
    assert not keeps_step(motor=MOTOR, speed=36.0, acceleration=1.03 * factor * 4000.0, damping=0.02)


def test_a_ramp_that_is_lost_itself_has_a_factor_below_one() -> None:
    assert loss_factor(motor=MOTOR, speed=36.0, acceleration=9000.0, damping=0.0) < 1.0


def test_where_nothing_is_lost_the_largest_factor_comes_back() -> None:
    assert loss_factor(motor=MOTOR, speed=10.0, acceleration=100.0, damping=0.0, most=2.0) == 2.0


def test_the_torque_of_a_slow_motor_is_that_of_the_sine() -> None:
    run = forced_run(motor=MOTOR, speed=5.0, lead=1.5707963)
    assert run.torque == pytest.approx(4.5, rel=2e-2)
    assert run.power == pytest.approx(0.45 * A["current"] ** 2 + 4.5 * 5.0, rel=3e-2)


def test_a_finer_time_step_changes_little() -> None:
    assert MOTOR.time_step <= 4e-6
    stiff = SimulatedMotor(**(A | {"inductance": 0.5e-3}), voltage=50.0, inertia=5.6e-4)
    assert stiff.time_step < MOTOR.time_step


def test_below_the_start_speed_no_ramp_is_too_steep() -> None:
    assert keeps_step(motor=MOTOR, speed=20.0, acceleration=1e6, damping=0.0)  # starts from rest up to 25 rad/s without a ramp

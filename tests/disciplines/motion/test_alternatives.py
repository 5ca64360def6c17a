"""Edits that may mend a finding of motors on axes."""

from dataclasses import replace

from gantrywright.disciplines.motion import alternatives
from motor_machines import CLOSED, SERVOS, supplied, with_part
from simple_machine import DRIVER, STEPPER, simple_machine


def test_longer_leads_change_both_screws_of_a_gantry() -> None:
    first, second = alternatives.longer_leads(simple_machine().axis("y"))
    assert first.words == "screw 16 x 16 instead of 16 x 10"
    assert second.words == "screw 16 x 20 instead of 16 x 10"
    assert [path for path, _ in first.edits if path.endswith(".part")] == ["axis.y.drive.left.part", "axis.y.drive.right.part"]


def test_series_windings_are_offered_in_parallel() -> None:
    series = with_part(simple_machine(), replace(STEPPER, winding="series"))
    (change,) = alternatives.parallel_winding(series.axis("x"))
    assert dict(change.edits) == {
        "axis.x.drive.main.motor.winding": "parallel", "axis.x.drive.main.motor.resistance": "0.2 ohm",
        "axis.x.drive.main.motor.inductance": "0.875 mH", "axis.x.drive.main.motor.current": "11.9 A peak",
    }  # fmt: skip
    assert alternatives.parallel_winding(simple_machine().axis("x")) == ()


def test_an_adjustable_supply_is_set_higher_up_to_below_the_drivers_limit() -> None:
    machine = supplied(with_part(simple_machine(), driver=replace(DRIVER, highest=60.0)), set=44.0)
    (change,) = alternatives.higher_voltage(machine, machine.axis("x"))
    assert change.edits == (("supply.main.set", "54 V"),)
    assert alternatives.higher_voltage(simple_machine(), simple_machine().axis("x")) == ()  # 45 V is the end, too near to matter


def test_a_fixed_supply_is_replaced_by_one_that_the_drivers_bear() -> None:
    machine = supplied(with_part(simple_machine(), driver=replace(DRIVER, highest=80.0)), part={"adjustable": False}, set=48.0)
    (change,) = alternatives.higher_voltage(machine, machine.axis("x"))
    (part, name), (set_path, volts) = change.edits
    assert (part, set_path) == ("supply.main.part", "supply.main.set")
    assert name.startswith("dc-")
    assert 48 < float(volts.removesuffix(" V")) <= 72


def test_a_closed_loop_of_the_same_size_with_its_driver() -> None:
    (change,) = alternatives.closed_loop(simple_machine(), simple_machine().axis("x"))
    assert change.edits == (
        ("axis.x.drive.main.motor.part", "closed-loop-23-112"),
        ("axis.x.drive.main.driver.part", "closed-loop-driver-50v"),
    )
    assert alternatives.closed_loop(CLOSED, CLOSED.axis("x")) == ()


def test_the_next_stronger_motor_of_its_frame() -> None:
    small = with_part(simple_machine(), replace(STEPPER, id="stepper-23-56", holding=1.2))
    (change,) = alternatives.stronger_motor(small.axis("x"))
    assert change.edits == (("axis.x.drive.main.motor.part", "stepper-23-76"),)
    assert alternatives.stronger_motor(with_part(simple_machine(), replace(STEPPER, frame="")).axis("x")) == ()
    assert alternatives.full_current(SERVOS.axis("x")) == ()


def test_as_few_microsteps_as_the_pulse_rate_asks() -> None:
    (fit,) = with_part(simple_machine(), driver=replace(DRIVER, microsteps=64)).axis("x").drives
    assert alternatives.fewer_microsteps(fit, 3.0)[0].edits == (("axis.x.drive.main.driver.microsteps", "16"),)
    assert alternatives.fewer_microsteps(fit, 0.9) == ()
    assert alternatives.fewer_microsteps(fit, 100.0) == ()  # so few would shake the rotor

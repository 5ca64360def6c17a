"""The promise of an axis, from a hand-built machine."""

from dataclasses import replace

import numpy as np
import pytest

from fed_machine import cutting_of, drives_of, friction_of, masses_of, results_of
from gantrywright.base.values import PhaseCurrent
from gantrywright.disciplines.motion import analyse
from gantrywright.disciplines.motion.simulate import simulate
from gantrywright.model.axis import Counterweight
from gantrywright.model.machine import Machine
from gantrywright.model.motors import motor_of
from gantrywright.results.drives import TravelSpeedLimit
from gantrywright.results.ledger import Ledger
from gantrywright.results.motion import AxisMotion
from gantrywright.theory.axis_envelope import motor_torque
from motor_machines import CLOSED, with_part
from simple_machine import DRIVER, STEPPER, simple_machine

RADIUS = 0.01 / (2 * np.pi)


def axis(machine: Machine, name: str = "x", **drive: object) -> AxisMotion:
    return results_of(machine, **drive).motion.axes[name]


def test_an_open_loop_axis_is_promised_up_to_its_reliable_speed() -> None:
    machine = simple_machine()
    moved = axis(machine)
    motor = motor_of(machine.axis("x").drives[0])
    assert moved.rapid == pytest.approx(1.3 * motor.corner_speed(44.0) * RADIUS)
    assert moved.binds.startswith("step loss")
    assert moved.next.startswith("whirl")
    assert moved.beyond_corner == pytest.approx(0.15 / moved.rapid)
    low, high = moved.beyond_band
    assert moved.rapid < low < high


def test_a_closed_loop_is_held_by_its_drive_then_by_pulses() -> None:
    moved = axis(CLOSED)
    assert moved.rapid == pytest.approx(0.3)
    assert moved.binds.startswith("whirl")
    assert moved.next.startswith("pulse rate")
    assert [cap.reason for cap in moved.caps] == ["whirl", "pulse rate", "motor torque"]
    assert moved.caps[1].speed == pytest.approx(100e3 / 320e3)
    assert moved.beyond_band is None


def test_a_limit_that_is_a_caution_caps_nothing() -> None:
    slow = TravelSpeedLimit("nut shake", 0.05, "derived", "", hard=False)
    assert axis(CLOSED, speed_limits=(slow,)).rapid > 0.05


def test_the_promised_acceleration_uses_the_promised_torque() -> None:
    machine = simple_machine()
    moved = axis(machine)
    motor = motor_of(machine.axis("x").drives[0])
    torque = motor_torque(
        speed=moved.rapid, acceleration=moved.accel, mass=10.0, cutting=0.0, friction=30.0, rise=0.0, travel_per_radian=RADIUS,
        inertia=8e-5 + 9e-5, efficiency=0.9, back_efficiency=0.85, drag_torque=0.08,
    )  # fmt: skip
    assert torque == pytest.approx(0.7 * motor.torque(moved.rapid / RADIUS, 44.0))
    assert moved.drives[0].accel_torque == pytest.approx(torque)


def test_a_load_limit_of_the_drive_caps_the_acceleration() -> None:
    moved = axis(simple_machine(), load_limits=(("buckling", 60.0, "derived", "a thicker screw"),))
    assert moved.accel == pytest.approx((60.0 - 30.0) / 10.0)
    assert "buckling" in moved.accel_binds


def test_at_the_motor_cap_the_reserve_is_just_left() -> None:
    moved = axis(CLOSED, speed_limits=())
    machine = with_part(CLOSED, driver=replace(DRIVER, pulse_rate=1e9))
    moved = axis(replace(machine, controller=None), speed_limits=())
    assert moved.binds.startswith("motor torque")
    faster = replace(machine, controller=None, axes=tuple(replace(a, rapid=10.0) for a in machine.axes))
    assert axis(faster, speed_limits=()).accel == pytest.approx(moved.rapid_reserve, rel=0.05)


def test_weight_pulls_on_an_upright_axis_and_a_counterweight_takes_it_off() -> None:
    machine = simple_machine()
    plain = axis(machine, "z")
    assert plain.drives[0].force == pytest.approx(30.0 + 7.0 * 9.80665)
    balanced = simple_machine(axis_z={"counterweight": Counterweight("gas-spring", 7.0 * 9.80665, "carriage")})
    assert axis(balanced, "z").drives[0].force == pytest.approx(30.0)
    too_much = simple_machine(axis_z={"counterweight": Counterweight("gas-spring", 3 * 7.0 * 9.80665, "carriage")})
    assert axis(too_much, "z").drives[0].force == pytest.approx(30.0 + 2 * 7.0 * 9.80665)


def test_a_hung_weight_must_be_accelerated_too() -> None:
    hung = simple_machine(axis_z={"counterweight": Counterweight("weight", 7.0 * 9.80665, "carriage")})
    assert axis(hung, "z").drives[0].mass == pytest.approx(14.0)


def test_each_motor_of_a_gantry_bears_more_than_half_at_the_worst_place() -> None:
    left, right = axis(simple_machine(), "y").drives
    assert left.share == pytest.approx(right.share)  # a machine like its mirror image
    assert 0.5 < left.share < 1.0
    # lever without stiffness of the guides: carriage and head (10 of 33 kg) go 300 mm off the middle, drives 1 m apart
    lever = axis(simple_machine(), "y", stiffness_least=None).drives[0]
    assert lever.share == pytest.approx(0.5 + 0.3 * 10 / 33 / 1.0)
    assert lever.cutting == pytest.approx(60.0 * 0.8)


def test_one_motor_that_turns_two_screws_bears_all() -> None:
    machine = simple_machine()
    left, right = machine.axis("y").drives
    belt = replace(right, driven_by=left.path, motor=None, driver=None, supply="")
    coupled = simple_machine(axis_y={"drives": (left, belt)})
    (made,) = axis(coupled, "y").drives
    assert made.share == 1.0
    assert made.inertia == pytest.approx(8e-5 + 2 * 9e-5)
    assert made.drag_torque == pytest.approx(0.16)


def test_stiffness_is_screw_and_magnet_in_series_and_two_drives_add() -> None:
    moved = axis(simple_machine(), "x")
    motor = motor_of(simple_machine().axis("x").drives[0])
    magnet = motor.stiffness(moved.drives[0].feed_torque) / RADIUS**2
    assert moved.stiffness == pytest.approx(1 / (1 / 20e6 + 1 / magnet))
    assert axis(CLOSED, "x").stiffness == pytest.approx(20e6)
    assert axis(CLOSED, "y").stiffness == pytest.approx(40e6)


def test_whether_the_motors_are_in_the_stiffness_is_told() -> None:
    moved, ledger = axis(simple_machine(), "x"), Ledger()
    machine = simple_machine()
    analyse.analyse(machine, masses_of(machine), cutting_of(), friction_of(machine), drives_of(machine), ledger)
    assert moved.softest == "magnetic spring (axis.x.drive.main); magnetic spring of the motors in it"
    motor = motor_of(machine.axis("x").drives[0])
    spring = ledger["axis.x.drive.main.motor_stiffness"].value
    assert spring == pytest.approx(motor.stiffness(moved.drives[0].feed_torque) / RADIUS**2)
    assert {i.name: i.path for i in ledger["axis.x.drive.main.stiffness"].inputs}["motor"] == "axis.x.drive.main.motor_stiffness"
    stiff = axis(simple_machine(), "x", links={"shaft": 30e6, "nut": 50e6}).softest
    assert stiff.startswith("shaft (axis.x.drive.main)")
    held = Ledger()
    analyse.analyse(CLOSED, masses_of(CLOSED), cutting_of(), friction_of(CLOSED), drives_of(CLOSED), held)
    assert "axis.x.drive.main.motor_stiffness" not in held
    assert axis(CLOSED, "x", links={"nut": 50e6}).softest == "nut (axis.x.drive.main); motors taken as rigid: a loop holds them"
    assert axis(simple_machine(), "x", stiffness_least=None).softest == ""


def test_force_at_feed_adds_up_over_the_shares() -> None:
    one, two = axis(simple_machine(), "x"), axis(simple_machine(), "y")
    assert two.feed_force > 1.3 * one.feed_force
    motor = motor_of(simple_machine().axis("x").drives[0])
    torque = motor_torque(
        speed=0.05, acceleration=0.0, mass=10.0, cutting=one.feed_force, friction=30.0, rise=0.0, travel_per_radian=RADIUS, inertia=0.0,
        efficiency=0.9, back_efficiency=0.85, drag_torque=0.08,
    )  # fmt: skip
    assert torque == pytest.approx(0.7 * motor.torque(0.05 / RADIUS, 44.0))


def test_unknown_data_give_no_promise_and_name_themselves() -> None:
    moved = axis(with_part(simple_machine(), replace(STEPPER, resistance=None)))
    assert moved.rapid is None
    assert moved.accel is None
    assert "axis.x.drive.main.motor.resistance" in moved.missing
    assert [cap.reason for cap in moved.caps] == ["whirl", "pulse rate"]  # what the metal says is still told


def test_an_unknown_mass_gives_no_promise() -> None:
    machine = simple_machine()
    solids = tuple(replace(solid, mass=None) if solid.path == "spindle" else solid for solid in machine.solids)
    assert "mass of spindle" in axis(replace(machine, solids=solids)).missing


def test_an_unknown_cutting_force_leaves_the_feed_torque_unknown() -> None:
    moved = results_of(simple_machine(), cutting=cutting_of(known=False)).motion.axes["x"]
    assert moved.drives[0].feed_torque is None
    assert moved.rapid is not None


def test_more_mass_never_promises_more() -> None:
    light, heavy = simple_machine(), simple_machine()
    heavy = replace(heavy, solids=tuple(replace(s, mass=3 * s.mass) for s in heavy.solids))
    for name in ("x", "y", "z"):
        assert axis(heavy, name).accel < axis(light, name).accel
        assert axis(heavy, name).beyond_band[0] < axis(light, name).beyond_band[0]


def test_samples_give_the_same_as_one_by_one() -> None:
    inductances = np.array([2.5e-3, 3.5e-3, 4.5e-3])
    sampled = axis(with_part(simple_machine(), replace(STEPPER, inductance=inductances)), "y")
    for index, inductance in enumerate(inductances):
        one = axis(with_part(simple_machine(), replace(STEPPER, inductance=float(inductance))), "y")
        assert np.asarray(sampled.rapid)[index] == pytest.approx(one.rapid)
        assert np.asarray(sampled.accel)[index] == pytest.approx(one.accel)
        assert np.asarray(sampled.beyond_band[1])[index] == pytest.approx(one.beyond_band[1], rel=1e-6)


def test_figures_can_be_opened() -> None:
    ledger = Ledger()
    machine = simple_machine()
    analyse.analyse(machine, masses_of(machine), cutting_of(), friction_of(machine), drives_of(machine), ledger)
    for name in ("rapid_promise", "accel_promise", "feed_force", "drive_stiffness", "best_lead", "stall_force"):
        assert ledger[f"axis.x.{name}"].formula
    assert ledger["axis.x.drive.main.ramp.thrust"].source == "derived"
    assert ledger["axis.x.move_time_best"].value < ledger["axis.x.move_time"].value
    assert ledger["axis.x.best_lead"].value > 0.01


def test_a_measured_curve_carries_the_promise_beyond() -> None:
    measured = replace(
        STEPPER, curve_speeds="60, 120, 240, 360, 480, 600, 900, 1200 rpm", curve_torques="2.6, 2.6, 2.5, 2.3, 1.95, 1.65, 1.15, 0.85 N m",
        curve_voltage=44.0, curve_current=PhaseCurrent(5.6, "peak"),
    )  # fmt: skip
    moved = axis(with_part(simple_machine(), measured))
    assert moved.rapid == pytest.approx(1200 / 60 * 0.01)
    assert moved.beyond_corner < 1


def test_the_promised_ramp_keeps_step_in_simulation_and_a_harder_one_does_not() -> None:
    machine = simple_machine()
    simulation = simulate(machine, results_of(machine))
    assert set(simulation.axes) == {"x", "y", "z"}
    for run in simulation.axes.values():
        assert [each.damping for each in run.runs] == [0.0, 0.02, 0.05, 0.1]
        assert all(each.keeps_step and each.lost_beyond and each.loss_factor > 1 for each in run.runs)


def test_what_closes_a_loop_is_not_simulated() -> None:
    assert simulate(CLOSED, results_of(CLOSED)).axes == {}

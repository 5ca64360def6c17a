"""Every check of motors on axes, heard to speak on a machine that deserves it and to be silent on one that does not."""

from dataclasses import replace

from fed_machine import cutting_of, results_of
from gantrywright.base.values import PhaseCurrent
from gantrywright.disciplines.motion import checks
from gantrywright.disciplines.motion.simulate import simulate
from gantrywright.findings import Finding, Status, checks_in, judge
from gantrywright.model.axis import Home
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from motor_machines import CLOSED, SERVOS, set_to, with_part
from motor_machines import wishing as slow
from simple_machine import DRIVER, STEPPER, simple_machine

ALL = {check.id: check for check in checks_in(checks)}


def found(id: str, machine: Machine, results: Results | None = None, subject: str = "") -> list[Finding]:
    given = results or results_of(machine)
    return [judge(ALL[id], verdict) for verdict in ALL[id].judge(machine, given) if verdict.subject.startswith(subject)]


def statuses(id: str, machine: Machine, results: Results | None = None, subject: str = "axis.x") -> set[Status]:
    return {finding.status for finding in found(id, machine, results, subject)}


def test_ids() -> None:
    assert sorted(ALL) == [
        "MOT-101", "MOT-102", "MOT-103", "MOT-201", "MOT-202", "MOT-203", "MOT-204", "MOT-205", "MOT-301", "MOT-302", "MOT-401", "MOT-402",
        "MOT-501", "MOT-502",
    ]  # fmt: skip


def test_rapid_ok_fail_and_unknown() -> None:
    assert statuses("MOT-101", CLOSED) == {Status.OK}
    assert statuses("MOT-101", slow(CLOSED, rapid=0.4)) == {Status.FAIL}  # whirl at 0.3
    assert statuses("MOT-101", simple_machine()) == {Status.UNKNOWN}  # only the open-loop model stands against it
    assert statuses("MOT-101", slow(simple_machine(), rapid=0.07)) == {Status.OK}
    assert statuses("MOT-101", with_part(CLOSED, replace(CLOSED.axes[0].drives[0].motor.part, inertia=None))) == {Status.UNKNOWN}


def test_rapid_proposes_a_concrete_change() -> None:
    (finding,) = found("MOT-101", slow(CLOSED, rapid=0.4), subject="axis.x")
    assert finding.verdict.changes[0].edits[0] == ("axis.x.drive.main.part", "ball-screw-1616")
    assert "binds: whirl" in finding.verdict.note


def test_accel() -> None:
    assert statuses("MOT-102", simple_machine()) == {Status.OK}
    assert statuses("MOT-102", slow(simple_machine(), accel=40.0)) == {Status.FAIL}
    assert found("MOT-102", slow(simple_machine(), accel=None)) == []


def test_feed() -> None:
    assert statuses("MOT-103", simple_machine()) == {Status.OK}
    assert statuses("MOT-103", slow(CLOSED, feed=0.35)) == {Status.FAIL}
    assert statuses("MOT-103", slow(simple_machine(), feed=0.1)) == {Status.UNKNOWN}
    assert statuses("MOT-103", slow(simple_machine(), feed=0.1), subject="axis.z") == {Status.OK}  # it only plunges


def test_torque_in_the_cut() -> None:
    assert statuses("MOT-201", simple_machine()) == {Status.OK}
    assert statuses("MOT-201", simple_machine(), results_of(simple_machine(), cutting=cutting_of(mean=1200.0))) == {Status.FAIL}
    assert statuses("MOT-201", simple_machine(), results_of(simple_machine(), cutting=cutting_of(known=False))) == {Status.UNKNOWN}


def test_lag() -> None:
    assert statuses("MOT-202", simple_machine()) == {Status.OK}
    tight = replace(simple_machine().purpose, accuracy=5e-6)
    assert statuses("MOT-202", simple_machine(purpose=tight)) == {Status.FAIL}
    assert found("MOT-202", CLOSED) == []


def test_inertia_ratio_is_only_a_caution() -> None:
    assert statuses("MOT-203", CLOSED) == {Status.OK}
    tiny = with_part(CLOSED, replace(CLOSED.axes[0].drives[0].motor.part, inertia=1e-6))
    assert statuses("MOT-203", tiny) == {Status.WATCH}
    assert found("MOT-203", simple_machine()) == []


def test_resonance_is_only_a_caution() -> None:
    machine = simple_machine()
    speed = results_of(machine).motion.axes["x"].drives[0].resonant_feeds[0]
    assert statuses("MOT-204", machine) == {Status.OK}
    assert statuses("MOT-204", slow(machine, feed=float(speed))) == {Status.WATCH}
    assert "may buzz" in found("MOT-204", machine)[0].verdict.note


def test_heat_of_a_servo() -> None:
    assert statuses("MOT-205", SERVOS) == {Status.OK}
    weak = with_part(SERVOS, replace(SERVOS.axes[0].drives[0].motor.part, rated_torque=0.25))
    assert statuses("MOT-205", weak) == {Status.FAIL}
    assert found("MOT-205", simple_machine()) == []


def test_a_stalled_side_on_strong_and_weak_blocks() -> None:
    machine = simple_machine()
    assert statuses("MOT-301", machine, subject="axis.y") == {Status.OK}
    weak = simple_machine(axis_y={"blocks": tuple(replace(b, use=replace(b.use, remaining=0.1)) for b in machine.axis("y").blocks)})
    assert statuses("MOT-301", weak, subject="axis.y") == {Status.FAIL}
    unrated = simple_machine(
        axis_y={"blocks": tuple(replace(b, part=replace(b.part, static=None)) for b in machine.axis("y").blocks)}
    )
    assert statuses("MOT-301", unrated, subject="axis.y") == {Status.UNKNOWN}
    assert {finding.subject for finding in found("MOT-301", machine)} == {"axis.y"}


def test_squaring_after_power_up() -> None:
    assert statuses("MOT-302", simple_machine(), subject="axis.y") == {Status.FAIL}  # 0.2 mm against half of 0.2 mm
    homed = simple_machine(axis_y={"home": Home("least", None, True)})
    assert statuses("MOT-302", homed, subject="axis.y") == {Status.OK}
    (finding,) = found("MOT-302", simple_machine())
    assert finding.verdict.changes[0].edits == (("axis.y.home.each_drive", "true"),)


def test_beyond_the_corner() -> None:
    machine = simple_machine()
    assert statuses("MOT-401", machine) == {Status.WATCH}  # even a quarter of the torque would do
    assert statuses("MOT-401", slow(machine, rapid=0.07)) == {Status.OK}
    assert statuses("MOT-401", slow(machine, rapid=0.5)) == {Status.FAIL}
    assert found("MOT-401", CLOSED) == []
    words = [change.words for change in found("MOT-401", machine, subject="axis.x")[0].verdict.changes]
    assert any("closed-loop" in word for word in words)
    assert any("16 x 16" in word for word in words)


def test_simulation_is_heard_only_where_it_ran() -> None:
    machine = simple_machine()
    results = results_of(machine)
    assert found("MOT-402", machine, results) == []
    ran = replace(results, simulation=simulate(machine, results))
    assert statuses("MOT-402", machine, ran) == {Status.OK}
    hard = replace(results.motion.axes["x"], accel=3 * results.motion.axes["x"].accel)
    bold = replace(results, motion=replace(results.motion, axes=results.motion.axes | {"x": hard}))
    assert statuses("MOT-402", machine, replace(bold, simulation=simulate(machine, bold))) == {Status.FAIL}


def test_pulse_rate() -> None:
    machine = simple_machine()
    assert statuses("MOT-501", machine) == {Status.OK}
    fine = with_part(machine, driver=replace(DRIVER, microsteps=64))
    (finding,) = found("MOT-501", fine, subject="axis.x")
    assert finding.status is Status.FAIL
    assert finding.verdict.changes[0].edits == (("axis.x.drive.main.driver.microsteps", "32"),)
    nobody = replace(with_part(machine, driver=replace(DRIVER, pulse_rate=None)), controller=None)
    assert statuses("MOT-501", nobody) == {Status.UNKNOWN}


def test_resolution() -> None:
    assert statuses("MOT-502", simple_machine()) == {Status.OK}
    coarse = with_part(simple_machine(), replace(STEPPER, pole_pairs=10), replace(DRIVER, microsteps=1))
    assert statuses("MOT-502", coarse) == {Status.FAIL}


def test_little_current_offers_more() -> None:
    machine = slow(set_to(simple_machine(), PhaseCurrent(2.8, "peak")), accel=40.0)
    (finding,) = found("MOT-102", machine, subject="axis.x")
    assert ("axis.x.drive.main.driver.current", "5.6 A peak") in finding.verdict.changes[0].edits


def test_with_a_measured_curve_only_damped_runs_count() -> None:
    measured = replace(
        STEPPER, curve_speeds="60, 120, 240, 360, 480, 600, 900, 1200 rpm", curve_torques="2.6, 2.6, 2.5, 2.3, 1.95, 1.65, 1.15, 0.85 N m",
        curve_voltage=44.0, curve_current=PhaseCurrent(5.6, "peak"),
    )  # fmt: skip
    machine = slow(with_part(simple_machine(), measured), rapid=0.12)
    results = results_of(machine)
    simulation = simulate(machine, results)
    run = simulation.axes["x"]
    assert run.measured
    (finding,) = found("MOT-402", machine, replace(results, simulation=simulation), "axis.x")
    assert finding.verdict.value == min(each.loss_factor for each in run.runs if each.damping >= 0.05)

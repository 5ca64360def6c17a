"""Travels, reach, daylight, clashes and stops of the hand-built machine, by hand and by what the checks say."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from gantrywright.base.units import GRAVITY
from gantrywright.catalog.kinds import CableChain
from gantrywright.disciplines.masses.analyse import analyse as masses_of
from gantrywright.disciplines.travel import checks
from gantrywright.disciplines.travel.analyse import analyse
from gantrywright.disciplines.travel.distance import grip_rooms, rooms
from gantrywright.disciplines.travel.meeting import daylight, meetings
from gantrywright.findings import Check, Finding, Status, judge
from gantrywright.model.axis import CableChainFit
from gantrywright.model.bodies import Box, Solid
from gantrywright.model.machine import Machine, movements, shifts
from gantrywright.results.drives import DriveAnswer, DriveResult
from gantrywright.results.ledger import Ledger
from gantrywright.results.motion import AxisMotion, MotionResult
from gantrywright.results.structure import StructureResult
from gantrywright.results.travel import TravelResult
from simple_machine import X, Y, Z, simple_machine

PER_RADIAN = 0.010 / (2 * np.pi)


def motion(machine: Machine, stall: float = 500.0) -> MotionResult:
    return MotionResult({
        axis.name: AxisMotion(
            axis=axis.name, rapid=0.2, accel=1.0, feed_force=300.0, caps=(), binds="", next="", margin_used=0.5, stiffness=2e7,
            inertia_ratio=1.0, load_angle=0.1, envelope=None, stall_force=stall,
        )
        for axis in machine.axes
    })  # fmt: skip


def drives(machine: Machine, buckling: float = 3000.0) -> DriveResult:
    fields = dict.fromkeys(DriveAnswer.__dataclass_fields__)
    return DriveResult({
        fit.path: DriveAnswer(**fields | {  # type: ignore[arg-type]
            "path": fit.path, "axis": axis.name, "travel_per_radian": PER_RADIAN, "inertia": 4e-5,
            "load_limits": (("buckling", buckling, "derived", "thicker screw"),),
        })
        for axis in machine.axes for fit in axis.drives
    })  # fmt: skip


class Only:
    def __init__(self, machine: Machine, **given: Any) -> None:
        self.ledger, self.structure = Ledger(), StructureResult(adrift=given.pop("adrift", {}))
        self.motion = motion(machine, given.pop("stall", 500.0))
        self.travel: TravelResult = analyse(
            machine, masses_of(machine, self.ledger), drives(machine, **given), self.motion, self.ledger
        )


def said(check: Check, machine: Machine, **given: Any) -> dict[str, Finding]:
    return {v.subject: judge(check, v) for v in check.judge(machine, Only(machine, **given))}


def with_axis(machine: Machine, name: str, **changes: Any) -> Machine:
    return replace(machine, axes=tuple(replace(a, **changes) if a.name == name else a for a in machine.axes))


def with_part(machine: Machine, path: str, body: str, centre: Any, size: Any, kind: str = "item") -> Machine:
    return replace(machine, solids=(*machine.solids, Solid(path, body, kind, 1.0, centre, (X, Y, Z), size)))


def test_travel_by_rails_and_screws() -> None:
    got = Only(simple_machine()).travel.axes
    assert got["x"].by_rails == pytest.approx(0.8 - 0.15 - 0.075 - 0.01)
    assert got["x"].by_screw == pytest.approx(0.8 - 0.045 - 0.01)
    assert got["x"].gives == got["x"].by_rails
    assert got["x"].binds == "rails"


def test_a_short_screw_binds() -> None:
    machine = simple_machine()
    fit = machine.axis("y").drives[1]
    short = replace(fit, line=((0.8, 0.1, -0.1), (0.8, 1.0, -0.1)))
    machine = with_axis(machine, "y", drives=(machine.axis("y").drives[0], short))
    got = Only(machine).travel.axes["y"]
    assert got.binds == "axis.y.drive.right"
    assert got.gives == pytest.approx(0.9 - 0.045 - 0.01)
    finding = said(checks.long_enough, machine)["axis.y"]
    assert finding.status is Status.FAIL
    assert "axis.y.drive.right" in finding.verdict.note


def test_rails_that_are_too_short_are_told_how_much_longer() -> None:
    finding = said(checks.long_enough, simple_machine())["axis.x"]
    assert finding.status is Status.FAIL
    edits = dict(finding.verdict.changes[0].edits)
    assert edits == {"axis.x.rail.upper.length": "835 mm", "axis.x.rail.lower.length": "835 mm"}


def test_unknown_nut_is_not_ok_but_short_rails_fail_all_the_same() -> None:
    machine = simple_machine()

    def bare(name: str) -> Any:
        return tuple(replace(f, drive=replace(f.drive, parts=replace(f.drive.parts, nut=None))) for f in machine.axis(name).drives)

    bare_y, bare_x = (with_axis(machine, name, drives=bare(name)) for name in "yx")
    finding = said(checks.long_enough, bare_y)["axis.y"]
    assert finding.status is Status.UNKNOWN
    assert "nut" in finding.verdict.missing
    assert said(checks.long_enough, bare_x)["axis.x"].status is Status.FAIL


def test_room_at_both_ends_of_a_rail() -> None:
    """Y: blocks in the middle of 1.2 m, 0.45 m each way: 1.2/2 - 0.45 - 0.1 - 0.0375. Z: drawn at the top of its travel."""
    y = rooms(simple_machine().axis("y"))[0]
    assert (y.near, y.far) == (pytest.approx(0.0125), pytest.approx(0.0125))
    z = rooms(simple_machine().axis("z"))[0]
    assert z.near == pytest.approx(0.17 - 0.045 - 0.0375 - 0.12)
    assert z.far == pytest.approx(0.3 - 0.17 - 0.045 - 0.0375)
    assert said(checks.blocks_stay_on, simple_machine())["axis.z"].status is Status.FAIL
    assert said(checks.blocks_stay_on, simple_machine())["axis.y"].status is Status.OK


def test_room_is_a_figure_that_its_inputs_give() -> None:
    machine = simple_machine()
    given = Only(machine)
    for axis in machine.axes:
        finding = said(checks.blocks_stay_on, machine)[axis.path]
        assert finding.verdict.figure == f"{axis.path}.rail_room"
        figure = given.ledger[finding.verdict.figure]
        told = {i.name: i.value for i in figure.inputs}
        by_hand = min(told["first"] - told["block"] / 2, told["rail"] - told["last"] - told["block"] / 2)
        assert by_hand == pytest.approx(figure.value)
        assert finding.verdict.value == pytest.approx(figure.value)
        assert told["last"] - told["first"] == pytest.approx(told["spacing"] + told["travel"])
        paths = {i.path for i in figure.inputs}
        assert {
            f"{axis.path}.travel",
            f"{axis.path}.stops",
            f"{axis.path}.blocks.spacing",
            f"{axis.path}.blocks.part.length",
        } <= paths
        assert told["stop"] == finding.verdict.limit


def test_riding_rails_run_the_other_way() -> None:
    axis = simple_machine().axis("z")
    riding = rooms(replace(axis, rails_ride=True))[0]
    # drawn at the top: going down, rails that ride leave the block towards their upper end
    assert riding.near == pytest.approx(0.3 - 0.17 - 0.045 - 0.0375 - 0.12)
    assert riding.far == pytest.approx(0.17 - 0.045 - 0.0375)
    assert rooms(replace(axis, sign=-1))[0] == riding


def test_room_of_the_nut() -> None:
    ((_, near, far),) = grip_rooms(simple_machine().axis("z"))
    # the screw runs down from 0.43 to 0.15; drawn at the top the nut is 0.13 m below the motor end
    assert near == pytest.approx(0.13)
    assert far == pytest.approx(0.28 - 0.13 - 0.12)
    off = with_axis(simple_machine(), "x", travel=0.9, drawn=0.45)
    assert said(checks.grips_stay_on, off)["axis.x.drive.main"].status is Status.FAIL
    assert said(checks.grips_stay_on, simple_machine())["axis.x.drive.main"].status is Status.OK


def test_sides_out_of_reach() -> None:
    machine = simple_machine(reach=Box((0.02, -0.01, 0.005), (0.61, 0.85, 0.12)))
    assert dict(Only(machine).travel.short) == {
        "left": pytest.approx(0.02),
        "back": pytest.approx(0.05),
        "bottom": pytest.approx(0.005),
    }
    sides = said(checks.reaches_the_sides, machine)
    assert {subject: finding.status for subject, finding in sides.items()} == {
        "purpose.work_area (left)": Status.FAIL, "purpose.work_area (right)": Status.OK, "purpose.work_area (front)": Status.OK,
        "purpose.work_area (back)": Status.FAIL,
    }  # fmt: skip
    assert sides["purpose.work_area (back)"].verdict.changes[0].edits == (("axis.y.travel", "1000 mm"),)
    up = said(checks.reaches_down_and_up, machine)
    assert up["purpose.work_area (bottom)"].status is Status.FAIL
    assert up["purpose.work_area (bottom)"].verdict.changes[0].edits == (("tool.stick_out", "35 mm"),)
    assert up["purpose.work_area (top)"].status is Status.OK


def test_daylight_is_that_of_the_lowest_part_over_the_table() -> None:
    found = daylight(simple_machine())
    assert found is not None
    assert found == (pytest.approx(0.10), "carriage.plate")
    hung = with_part(simple_machine(), "gantry.hook", "gantry", (0.3, 0.6, 0.07), (0.02, 0.02, 0.04))
    assert daylight(hung) == (pytest.approx(0.05), "gantry.hook")
    # beside the work area it is in nobody's way
    beside = with_part(simple_machine(), "gantry.hook", "gantry", (-0.1, 0.6, 0.07), (0.02, 0.02, 0.04))
    assert daylight(beside) == (pytest.approx(0.10), "carriage.plate")
    assert said(checks.passes_under, simple_machine())["purpose.work_area (height)"].status is Status.FAIL
    low = simple_machine(table=Box((0.0, 0.0, 0.0), (0.6, 0.9, 0.08)))
    assert said(checks.passes_under, low)["purpose.work_area (height)"].status is Status.OK


def test_nothing_meets_on_the_plain_machine() -> None:
    assert meetings(simple_machine()) == ()
    assert said(checks.nothing_meets, simple_machine())["machine"].status is Status.OK


def test_a_post_in_the_way_of_the_beam_is_found_where_it_stands() -> None:
    machine = with_part(simple_machine(), "bed.post", "bed", (0.3, 1.0, 0.25), (0.03, 0.03, 0.03))
    (meeting,) = (m for m in meetings(machine) if m.a == "gantry.beam" or m.b == "gantry.beam")
    # beam drawn at y 0.64 with q 0.45; over the post at y 1.0 with q 0.81, where 15 + 40 mm of depth would part them
    assert meeting.pose[1] == pytest.approx(0.81, abs=0.03)
    assert meeting.overlap == pytest.approx(0.03 / 2 + 0.08 / 2, abs=1e-6)
    finding = said(checks.nothing_meets, machine)["gantry.beam (against bed.post)"]
    assert finding.status is Status.FAIL
    outside = with_part(simple_machine(), "bed.post", "bed", (0.3, 1.2, 0.25), (0.03, 0.03, 0.03))
    assert meetings(outside) == ()


def test_a_thin_pin_between_coarse_poses_is_found() -> None:
    machine = with_part(simple_machine(), "bed.pin", "bed", (0.137, 0.613, 0.112), (0.003, 0.003, 0.003))
    found = {frozenset((m.a, m.b)): m for m in meetings(machine)}
    assert frozenset(("bed.pin", "carriage.plate")) in found
    assert found[frozenset(("bed.pin", "carriage.plate"))].overlap == pytest.approx(0.009, abs=1e-3)


def test_parts_that_are_there_to_touch_are_left_out() -> None:
    machine = simple_machine()
    axis = machine.axis("x")
    rail, block = axis.rails[0], axis.blocks[0]
    machine = with_part(machine, rail.path, "gantry", (0.3, 0.59, 0.31), (0.8, 0.0175, 0.02), "rail")
    machine = with_part(machine, block.path, "carriage", (0.3, 0.585, 0.31), (0.075, 0.03, 0.06), "block")
    assert not any({m.a, m.b} == {rail.path, block.path} for m in meetings(machine))
    # the same block against another axis' rail is a clash
    other = with_part(machine, "axis.y.rail.left", "bed", (0.3, 0.585, 0.31), (0.02, 0.8, 0.02), "rail")
    assert any({m.a, m.b} == {"axis.y.rail.left", block.path} for m in meetings(other))


def test_a_screw_through_a_bore_is_no_clash_but_a_screw_that_goes_deeper_is() -> None:
    screw = with_part(simple_machine(), "axis.x.drive.main", "gantry", (0.3, 0.56, 0.25), (0.8, 0.016, 0.016), "screw")
    assert not any("axis.x.drive.main" in (m.a, m.b) for m in meetings(screw))
    shifted = with_part(simple_machine(), "axis.z.drive.main", "carriage", (0.3, 0.51, 0.48), (0.016, 0.016, 0.1), "screw")
    assert any("axis.z.drive.main" in (m.a, m.b) for m in meetings(with_axis(shifted, "z", travel=0.3)))


def test_the_cutter_may_go_into_the_table_but_not_into_the_gantry() -> None:
    machine = with_part(simple_machine(), "tool.cutter", "head", (0.3, 0.45, 0.05), (0.006, 0.006, 0.2), "cutter")
    assert not any("tool.cutter" in (m.a, m.b) for m in meetings(machine))
    hook = with_part(machine, "gantry.hook", "gantry", (0.3, 0.45, 0.07), (0.02, 0.02, 0.04))
    assert any({m.a, m.b} == {"tool.cutter", "gantry.hook"} for m in meetings(hook))


def test_movements_are_the_shifts_of_poses() -> None:
    machine = simple_machine()
    moved = movements(machine)
    pose = {"x": 0.5, "y": 0.1, "z": 0.03}
    for body, shift in shifts(machine, pose).items():
        steps = np.array([pose[axis.name] - axis.drawn for axis in machine.axes])
        np.testing.assert_allclose(steps @ np.array(moved[body]), shift, atol=1e-12)


def test_stop_by_hand() -> None:
    """Y: 33 kg and two screws; each 4e-5 + 8e-5 kg m2 over r^2; 0.2 m/s. Push 2 x 500 N, screws bear 2 x 3000 N."""
    got = Only(simple_machine()).travel.axes["y"]
    reflected = 2 * 1.2e-4 / PER_RADIAN**2
    energy = (33 + reflected) * 0.04 / 2
    assert got.stop_energy == pytest.approx(energy)
    assert got.stop_force == pytest.approx(1000.0)
    assert got.weakest_force == pytest.approx(6000.0)
    assert got.bumper_stroke == pytest.approx(2 * energy / 5000)


def test_upright_axis_adds_its_weight_to_the_push() -> None:
    assert Only(simple_machine()).travel.axes["z"].stop_force == pytest.approx(500 + 7 * GRAVITY)


def test_coupling_may_be_the_weakest() -> None:
    got = Only(simple_machine(), buckling=30e3).travel.axes["x"]
    assert got.weakest == "coupling of axis.x.drive.main"
    assert got.weakest_force == pytest.approx(12.5 / PER_RADIAN)


def test_stops_are_judged() -> None:
    machine = simple_machine()
    assert said(checks.bumper_fits, machine)["axis.y"].status is Status.OK
    assert said(checks.bumper_fits, with_axis(machine, "y", stops=1e-4))["axis.y"].status is Status.FAIL
    assert said(checks.drives_bear_a_stall, machine)["axis.x"].status is Status.OK
    stuck = said(checks.drives_bear_a_stall, machine, stall=4000.0)["axis.x"]
    assert stuck.status is Status.FAIL
    endless = said(checks.bumper_fits, machine, stall=4000.0)["axis.x"]
    assert endless.status is Status.FAIL
    assert "no bumper helps" in endless.verdict.note
    assert said(checks.hands, machine)["axis.x"].status is Status.WATCH
    assert said(checks.hands, machine, stall=40.0)["axis.x"].status is Status.OK


def test_unknown_rotor_is_unknown() -> None:
    machine = simple_machine()
    fit = machine.axis("x").drives[0]
    assert fit.motor is not None
    bare = replace(fit, motor=replace(fit.motor, part=replace(fit.motor.part, inertia=None)))
    finding = said(checks.bumper_fits, with_axis(machine, "x", drives=(bare,)))["axis.x"]
    assert finding.status is Status.UNKNOWN
    assert "rotors" in finding.verdict.missing


def test_cable_chain_needs_its_radius() -> None:
    part = CableChain(id="chain", radius=0.05)
    chain = CableChainFit(part, "bed", (0.0, 0.0, 0.0), (0.0, 0.3, 0.11), None)
    ok = said(checks.chains_have_room, with_axis(simple_machine(), "y", cable_chain=chain))
    assert {f.status for f in ok.values()} == {Status.OK}
    tight = replace(chain, moving_at=(0.0, 0.3, 0.08), radius=0.04)
    bad = said(checks.chains_have_room, with_axis(simple_machine(), "y", cable_chain=tight))
    assert {f.status for f in bad.values()} == {Status.FAIL}


def test_strays_are_told() -> None:
    machine = simple_machine(
        stray=(("gantry.beam", "touches nothing of its body"), ("gantry.beam", "goes 2.0 mm into gantry.plate"))
    )
    found = said(checks.placed_well, machine)
    assert {subject: f.status for subject, f in found.items()} == {"gantry.beam": Status.WATCH, "gantry.beam (2)": Status.WATCH}
    assert said(checks.placed_well, simple_machine())["machine"].status is Status.OK
    adrift = {"gantry.beam": "carries rails", "carriage.plate": "is bolted to blocks"}
    found = said(checks.placed_well, machine, adrift=adrift)
    fail = {subject for subject, f in found.items() if f.status is Status.FAIL}
    assert fail == {"gantry.beam", "gantry.beam (2)", "carriage.plate"}, "what lies between tool and ground and hangs in the air"
    assert "is bolted to blocks and is joined to nothing" in found["carriage.plate"].verdict.note


def test_samples_of_mass_are_answered_one_by_one() -> None:
    machine = simple_machine()
    mass = np.array([4.0, 5.0, 9.0])

    def heavy(value: Any) -> Machine:
        return replace(machine, solids=tuple(replace(s, mass=value) if s.path == "spindle" else s for s in machine.solids))

    many = Only(heavy(mass)).travel.axes["z"]
    for i, value in enumerate(mass):
        one = Only(heavy(float(value))).travel.axes["z"]
        assert many.bumper_stroke[i] == pytest.approx(one.bumper_stroke)  # type: ignore[index]
        assert many.stop_force[i] == pytest.approx(one.stop_force)  # type: ignore[index]

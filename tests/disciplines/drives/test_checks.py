from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from drive_cases import CUTTING, FRICTION, masses, with_fit
from gantrywright.base.values import Rating
from gantrywright.catalog import kinds
from gantrywright.disciplines.drives import checks
from gantrywright.disciplines.drives.analyse import analyse
from gantrywright.findings import Finding, Status, Verdict, checks_in, judge
from gantrywright.model.drives import belt, lead_screw
from gantrywright.model.drives.protocol import DriveParts
from gantrywright.model.machine import Machine
from gantrywright.results.cutting import CuttingResult
from gantrywright.results.ledger import Ledger
from gantrywright.results.masses import MassResult, RigidMass
from simple_machine import BEARING, NUT, SCREW, simple_machine

CHECKS = {check.id: check for check in checks_in(checks)}


def said_by(id: str, machine: Machine, weighed: MassResult | None = None, cutting: CuttingResult = CUTTING) -> list[Verdict]:
    ledger, weighed = Ledger(), weighed or masses()
    results = SimpleNamespace(
        drives=analyse(machine, weighed, cutting, FRICTION, ledger),
        masses=weighed,
        cutting=cutting,
        friction=FRICTION,
        ledger=ledger,
    )
    said = list(CHECKS[id].judge(machine, results))
    for verdict in said:
        assert not verdict.figure or verdict.figure in ledger
    assert len({verdict.subject for verdict in said}) == len(said)
    return said


def found(id: str, machine: Machine, *, weighed: MassResult | None = None, cutting: CuttingResult = CUTTING) -> dict[str, Finding]:
    return {verdict.subject: judge(CHECKS[id], verdict) for verdict in said_by(id, machine, weighed, cutting)}


def heavy(mass: float) -> MassResult:
    return masses(z=RigidMass("axis.z", mass, (0.3, 0.5, 0.2), (1.0, 1.0, 1.0)))


def with_drive(axis: str, drive: Any) -> Machine:
    fit = replace(simple_machine().axis(axis).drives[0], drive=drive)
    return simple_machine(**{f"axis_{axis}": {"drives": (fit,)}})


def belt_drive(**changes: Any) -> Any:
    given = {
        "path": "axis.x.drive.main", "kind": "belt", "free_length": 0.8, "travel": 0.6, "nearest": 0.1, "farthest": 0.7, "rise": 0.0,
        "part": kinds.Belt(pitch=0.005, width=0.01, stiffness=275e3, allowed=1100.0, mass_per_length=0.04),
        "pulley": kinds.Pulley(pitch=0.005, teeth=20, width=0.011, inertia=1e-5), "pretension": 300.0,
    } | changes  # fmt: skip
    return belt.make(DriveParts(**given))


def test_ids_and_words() -> None:
    assert sorted(CHECKS) == [
        "DRV-101", "DRV-102", "DRV-201", "DRV-202", "DRV-203", "DRV-204", "DRV-205", "DRV-301", "DRV-302", "DRV-303", "DRV-401",
        "DRV-501", "DRV-502", "DRV-601",
    ]  # fmt: skip
    assert all(check.why and check.source and check.remedy for check in CHECKS.values())


def test_whirl_at_the_wanted_rapid() -> None:
    """Y screws of 1.2 m: 0.2287 m/s at eight tenths of whirl; 0.15 passes, 0.30 fails by 31 %."""
    said = found("DRV-101", simple_machine())
    assert said["axis.y.drive.left (whirl)"].status is Status.OK
    assert len(said) == 8
    fast = found("DRV-101", simple_machine(axis_y={"rapid": 0.30}))["axis.y.drive.left (whirl)"]
    assert fast.status is Status.FAIL
    assert fast.verdict.margin == pytest.approx(1 - 0.30 / 0.22871, rel=1e-3)


def test_remedies_are_enough_and_change_both_screws_of_a_gantry() -> None:
    """0.30 over 0.2287 m/s with 5 % to spare asks for root x lead of 180 mm2: 20 x 10 has 169 and is passed over."""
    verdict = found("DRV-101", simple_machine(axis_y={"rapid": 0.30}))["axis.y.drive.left (whirl)"].verdict
    words = [change.words for change in verdict.changes]
    assert words[0] == "screw 16 x 16 instead of 16 x 10"
    assert words[1] == "screw 20 x 20 instead of 16 x 10"
    assert ("axis.y.drive.right.part", "ball-screw-2020") in verdict.changes[1].edits
    assert ("axis.y.drive.left.nut", "nut-2020") in verdict.changes[1].edits


def test_no_screw_that_is_not_enough_is_proposed() -> None:
    verdict = found("DRV-101", simple_machine(axis_y={"rapid": 20.0}))["axis.y.drive.left (whirl)"].verdict
    assert [change.words for change in verdict.changes] == ["fixed bearings at both ends instead of fixed-supported"]


def test_turning_nut_is_only_a_caution() -> None:
    machine = with_fit("x", parts={"turns": "nut", "free_length": 3.0, "far_end_held": 0.0})
    said = found("DRV-102", machine)["axis.x.drive.main (whirl)"]
    assert said.status is Status.WATCH
    assert said.verdict.value > said.verdict.limit
    assert "axis.x.drive.main (whirl)" not in found("DRV-101", machine)
    near = with_fit("x", parts={"turns": "nut"})
    assert found("DRV-102", near)["axis.x.drive.main (whirl)"].status is Status.OK
    assert found("DRV-102", simple_machine()) == {}


def test_buckling() -> None:
    """6136 N may be used on X: 6000 N of mean cut passes, 7000 N fails."""
    for force, status in ((5900.0, Status.OK), (7000.0, Status.FAIL)):
        cutting = replace(CUTTING, peak_in_plane=force)
        assert found("DRV-201", simple_machine(), cutting=cutting)["axis.x.drive.main (buckling)"].status is status


def test_lower_bounds_can_fail_but_not_pass() -> None:
    unknown = replace(CUTTING, known=False)
    assert found("DRV-201", simple_machine(), cutting=unknown)["axis.x.drive.main (buckling)"].status is Status.UNKNOWN
    failing = replace(unknown, peak_in_plane=7000.0)
    assert found("DRV-201", simple_machine(), cutting=failing)["axis.x.drive.main (buckling)"].status is Status.FAIL


def test_missing_acceleration_is_said() -> None:
    said = found("DRV-201", simple_machine(axis_x={"accel": None}))["axis.x.drive.main (buckling)"]
    assert "without acceleration" in said.verdict.note
    assert said.verdict.value == pytest.approx(100.0)


def test_coupling() -> None:
    fit = simple_machine().axis("x").drives[0]
    weak = replace(fit, coupling=replace(fit.coupling, torque=0.1))
    machine = simple_machine(axis_x={"drives": (weak,)})
    assert found("DRV-201", machine)["axis.x.drive.main (coupling torque)"].status is Status.FAIL


@pytest.mark.parametrize(("pretension", "status"), [(300.0, Status.OK), (90.0, Status.FAIL), (None, Status.UNKNOWN)])
def test_belt_pretension(pretension: float | None, status: Status) -> None:
    """112 N are asked of X; the mend is 1.2 of that, rounded up."""
    said = found("DRV-202", with_drive("x", belt_drive(pretension=pretension)))["axis.x.drive.main"]
    assert said.status is status
    if status is Status.FAIL:
        assert said.verdict.changes[0].edits == (("axis.x.drive.main.pretension", "140 N"),)


@pytest.mark.parametrize(("teeth", "status"), [(12, Status.OK), (11, Status.FAIL)])
def test_teeth_in_mesh(teeth: int, status: Status) -> None:
    pulley = kinds.Pulley(pitch=0.005, teeth=teeth, width=0.011, inertia=1e-5)
    assert found("DRV-203", with_drive("x", belt_drive(pulley=pulley)))["axis.x.drive.main"].status is status
    assert found("DRV-203", simple_machine()) == {}


@pytest.mark.parametrize(("limit", "status"), [(0.05e6, Status.OK), (0.01e6, Status.FAIL), (None, Status.UNKNOWN)])
def test_heat_of_a_plain_nut(limit: float | None, status: Status) -> None:
    """Mean force 56 N on 703.7 mm2 = 0.0796 MPa; 0.05 m/s at lead 4 slides 0.553 m/s: 0.044 MPa m/s."""
    screw = kinds.LeadScrew(diameter=0.016, root=0.0115, lead=0.004, starts=1)
    nut = kinds.Nut(friction=0.12, length=0.032, pressure_speed=limit)
    parts = replace(simple_machine().axis("x").drives[0].drive.parts, part=screw, nut=nut)
    said = found("DRV-204", with_drive("x", lead_screw.make(parts)))["axis.x.drive.main"]
    assert said.status is status
    if said.verdict.value is not None:
        assert said.verdict.value == pytest.approx(0.044e6, rel=1e-2)


@pytest.mark.parametrize(("held", "length", "status"), [(0.0, 2.0, Status.OK), (1.0, 0.8, Status.OK), (1.0, 2.0, Status.FAIL)])
def test_held_screw_and_warmth(held: float, length: float, status: Status) -> None:
    """Critical warming of 13.1 mm: 57.5 K on 0.8 m, 9.2 K on 2 m fixed-fixed; 10 K are reckoned with."""
    machine = with_fit("x", parts={"far_end_held": held, "free_length": length, "buckling_factor": 4.0})
    assert found("DRV-205", machine)["axis.x.drive.main"].status is status


@pytest.mark.parametrize(("play", "status"), [(4e-5, Status.OK), (1.5e-4, Status.FAIL), (None, Status.UNKNOWN)])
def test_play(play: float | None, status: Status) -> None:
    machine = with_fit("x", parts={"nut": replace(NUT, backlash=play)})
    assert found("DRV-301", machine)["axis.x.drive.main"].status is status


@pytest.mark.parametrize(("grade", "status"), [("T7", Status.OK), ("T10", Status.FAIL), ("", Status.UNKNOWN)])
def test_lead_error(grade: str, status: Status) -> None:
    machine = with_fit("x", parts={"part": replace(SCREW, grade=grade)})
    assert found("DRV-302", machine)["axis.x.drive.main"].status is status


@pytest.mark.parametrize(("grade", "status"), [("T7", Status.OK), ("T10", Status.UNKNOWN)])
def test_a_measured_travel_per_turn_leaves_less_than_the_grade_says(grade: str, status: Status) -> None:
    """Less than an allowed error is allowed; less than one that is too large may be either."""
    machine = with_fit("x", parts={"part": replace(SCREW, grade=grade), "travel_per_turn": 0.010002})
    assert found("DRV-302", machine)["axis.x.drive.main"].status is status


def test_growth_and_no_wanted_accuracy() -> None:
    """0.6 m by 5 K: 34.5 um, half of 60 um does not allow it."""
    plain = simple_machine()
    assert found("DRV-303", plain)["axis.x.drive.main"].status is Status.OK
    fine = replace(plain, purpose=replace(plain.purpose, accuracy=6e-5))
    assert found("DRV-303", fine)["axis.x.drive.main"].status is Status.FAIL
    nothing = replace(plain, purpose=replace(plain.purpose, accuracy=None))
    for id in ("DRV-301", "DRV-302", "DRV-303"):
        assert all(f.status is Status.UNKNOWN for f in found(id, nothing).values())


@pytest.mark.parametrize(("mass", "status"), [(8.0, Status.OK), (11.0, Status.WATCH), (20.0, Status.FAIL)])
def test_fall(mass: float, status: Status) -> None:
    said = found("DRV-401", simple_machine(), weighed=heavy(mass))
    assert set(said) == {"axis.z"}
    assert said["axis.z"].status is status
    if status is Status.FAIL:
        assert "crush hazard" in said["axis.z"].verdict.note
        assert said["axis.z"].verdict.changes[0].edits == (("axis.z.counterweight.force", "200 N"),)
        assert said["axis.z"].verdict.changes[1].words == "screw 16 x 5 instead of 16 x 10"


def test_brake_holds_and_no_motor_is_unknown() -> None:
    fit = simple_machine().axis("z").drives[0]
    braked = replace(fit, motor=replace(fit.motor, part=replace(fit.motor.part, brake=True)))
    said = found("DRV-401", simple_machine(axis_z={"drives": (braked,)}), weighed=heavy(20.0))["axis.z"]
    assert said.status is Status.OK
    assert "brake" in said.verdict.note
    assert found("DRV-401", simple_machine(axis_z={"drives": (replace(fit, motor=None),)}))["axis.z"].status is Status.UNKNOWN


def test_lives() -> None:
    """Cut of 2000 N mean on X: (9/1.60)^3 x 1e6 x 10 mm = 1770 km passes; 4000 N gives 224 km."""
    for force, status in ((2000.0, Status.OK), (4000.0, Status.FAIL)):
        cutting = replace(CUTTING, mean_in_plane=force)
        assert found("DRV-501", simple_machine(), cutting=cutting)["axis.x.drive.main"].status is status
    light = with_fit("x", parts={"bearing": replace(BEARING, dynamic=Rating(1500.0, "turns", 1e6))})
    cutting = replace(CUTTING, mean_in_plane=2000.0)
    assert found("DRV-502", light, cutting=cutting)["axis.x.drive.main"].status is Status.FAIL
    assert found("DRV-502", simple_machine())["axis.x.drive.main"].status is Status.OK


def test_unknown_ratings_are_unknown_lives() -> None:
    bare = with_fit("x", parts={"part": replace(SCREW, dynamic=None), "nut": replace(NUT, dynamic=None), "bearing": None})
    assert found("DRV-501", bare)["axis.x.drive.main"].status is Status.UNKNOWN
    assert found("DRV-502", bare)["axis.x.drive.main"].status is Status.UNKNOWN
    assert "axis.x.drive.main" not in found("DRV-501", with_drive("x", belt_drive()))


def test_subjects_are_the_same_with_samples() -> None:
    """Which verdicts there are never depends on a number."""
    sampled = with_fit("x", parts={"part": replace(SCREW, root=np.array([0.012, 0.0131])), "far_end_held": np.array([0.0, 1.0])})
    for id in CHECKS:
        assert [v.subject for v in said_by(id, sampled)] == [v.subject for v in said_by(id, simple_machine())], id

"""Forces of jobs, and what the checks say of chip, speed and power."""

import csv
from dataclasses import replace
from importlib.resources import files

import numpy as np
import pytest

from gantrywright.catalog.columns import columns_of
from gantrywright.catalog.kinds import Material
from gantrywright.disciplines.cutting import checks
from gantrywright.disciplines.cutting.analyse import analyse
from gantrywright.disciplines.cutting.chip_load import chip_loads
from gantrywright.disciplines.cutting.jobs import jobs
from gantrywright.findings import Check, Finding, Status, judge
from gantrywright.model.machine import Machine
from gantrywright.results.cutting import CuttingResult
from gantrywright.results.electrics import ElectricResult
from gantrywright.results.ledger import Ledger
from gantrywright.results.motion import MotionResult
from gantrywright.results.structure import StructureResult
from gantrywright.theory.cutting.engagement import largest_chip
from simple_machine import simple_machine


class Only:
    """What the checks of the jobs ask of the results, of a machine whose axes and structure are not known."""

    def __init__(self, machine: Machine) -> None:
        ledger = Ledger()
        self.cutting = analyse(machine, ledger)
        self.motion, self.electrics, self.structure = MotionResult({}), ElectricResult({}), StructureResult(lacking=("all",))
        self.jobs = jobs(machine, self.motion, self.electrics, self.structure, ledger, None)


def cut(machine: Machine) -> CuttingResult:
    return analyse(machine, Ledger())


def with_job(**changes: object) -> Machine:
    machine = simple_machine()
    return replace(machine, jobs=(replace(machine.jobs[0], **changes),))


def said(check: Check, machine: Machine) -> dict[str, Finding]:
    return {v.subject: judge(check, v) for v in check.judge(machine, Only(machine))}


def test_slot_by_hand() -> None:
    """Closed form of a slot: Fx = -N ap (Kr fz/4 + Kre/pi), Fy = N ap (Kt fz/4 + Kte/pi); torque from the power."""
    got = cut(simple_machine()).jobs[0]
    chip = 0.05 / (2 * 1885.0 / (2 * np.pi))
    along = 2 * 0.006 * (0.25 * 38e6 * chip / 4 + 2500 / np.pi)
    across = 2 * 0.006 * (38e6 * chip / 4 + 2500 / np.pi)
    assert got.chip == pytest.approx(chip)
    assert got.mean_in_plane == pytest.approx(np.hypot(along, across), rel=1e-4)  # told from angles of a turn
    assert got.power == pytest.approx(got.torque * 1885.0, rel=1e-4)
    assert got.mean_axial > 0, "an up-cut helix pulls the tool into the work"


def test_both_ways_take_the_worse_one() -> None:
    both, climb, conventional = (
        cut(with_job(slot=False, width=0.001, way=way)).jobs[0] for way in ("both", "climb", "conventional")
    )
    for name in ("mean_in_plane", "peak_in_plane", "torque"):
        assert getattr(both, name) == pytest.approx(max(getattr(climb, name), getattr(conventional, name)))


def test_material_without_coefficients_is_unknown_not_free() -> None:
    machine = simple_machine()
    machine = with_job(material=replace(machine.jobs[0].material, shear_force=None))
    got = cut(machine)
    assert not got.known
    assert got.jobs == ()
    finding = said(checks.forces_are_known, machine)["job.panels"]
    assert finding.status is Status.UNKNOWN
    assert "shear force of plywood-birch" in finding.verdict.missing
    assert not cut(simple_machine(jobs=())).known


def test_greatest_of_several_jobs() -> None:
    machine = simple_machine()
    deep = replace(machine.jobs[0], name="deep", depth=0.012)
    got = cut(replace(machine, jobs=(machine.jobs[0], deep)))
    assert got.mean_in_plane == pytest.approx(2 * cut(machine).mean_in_plane, rel=1e-4)
    assert got.known


def test_samples_are_answered_one_by_one() -> None:
    machine = simple_machine()
    shear = np.array([20e6, 38e6, 65e6])
    got = cut(with_job(material=replace(machine.jobs[0].material, shear_force=shear)))
    for i, value in enumerate(shear):
        one = cut(with_job(material=replace(machine.jobs[0].material, shear_force=float(value))))
        assert got.peak_in_plane[i] == pytest.approx(one.peak_in_plane)  # type: ignore[index]
        assert got.peak_axial[i] == pytest.approx(one.peak_axial)  # type: ignore[index]


def test_down_cut_pushes_the_tool_up() -> None:
    machine = simple_machine()
    up, down = (cut(with_job(cutter=replace(machine.jobs[0].cutter, helix=h))).jobs[0].peak_axial for h in (0.5236, -0.5236))
    assert up > 0 > down


@pytest.mark.parametrize(
    ("feed", "thick", "thin"),
    [(0.05, Status.OK, Status.WATCH), (0.15, Status.OK, Status.OK), (0.5, Status.FAIL, Status.OK), (0.01, Status.OK, Status.FAIL)],
)
def test_chip_against_the_usual(feed: float, thick: Status, thin: Status) -> None:
    machine = with_job(feed=feed)
    assert said(checks.chip_is_not_too_thick, machine)["job.panels"].status is thick
    assert said(checks.chip_is_not_too_thin, machine)["job.panels"].status is thin


def test_a_change_mends_the_chip() -> None:
    finding = said(checks.chip_is_not_too_thick, with_job(feed=0.5))["job.panels"]
    ((path, text),) = finding.verdict.changes[0].edits
    assert path == "job.panels.feed"
    feed = float(text.split()[0]) / 60
    assert said(checks.chip_is_not_too_thick, with_job(feed=feed))["job.panels"].status is Status.OK


def test_spindle_speed_and_power() -> None:
    fast = said(checks.spindle_reaches_the_speed, with_job(speed=3000.0))
    assert fast["job.panels (fastest)"].status is Status.FAIL
    assert fast["job.panels (slowest)"].status is Status.OK
    assert said(checks.spindle_reaches_the_speed, simple_machine(spindle=None))["job.panels"].status is Status.UNKNOWN
    slow = said(checks.spindle_has_the_power, with_job(speed=900.0, depth=0.06))["job.panels"]
    # constant torque: 2200 W at 2513 rad/s is 788 W at 900 rad/s; three quarters of a plate's power last
    assert slow.verdict.limit == pytest.approx(0.75 * 2200 * 900 / 2513)
    assert slow.status is Status.FAIL
    assert said(checks.flutes_are_long_enough, with_job(depth=0.03))["job.panels"].status is Status.FAIL


def test_table_of_chip_loads_has_every_group() -> None:
    assert set(chip_loads()) == set(columns_of(Material)["group"].kind.split("/"))
    rows = csv.DictReader(files("gantrywright.data").joinpath("defaults/chip-load.csv").read_text("utf-8").splitlines())
    assert all(row["source"] for row in rows)
    for load in chip_loads().values():
        assert all(low < high for low, high in zip(load.low, load.high, strict=True))
        assert list(load.low) == sorted(load.low)


def test_middle_of_the_table() -> None:
    low, high = chip_loads()["plywood"].band(0.0045)
    assert low == pytest.approx((0.06e-3 + 0.15e-3) / 2)
    assert high == pytest.approx((0.13e-3 + 0.35e-3) / 2)


def test_orientation_values_of_common_cuts() -> None:
    """Mean force, torque and power of everyday cuts, 25 degree helix: birch plywood slot 36 N, 0.132 N m, 249 W; PMMA 20 N, 138 W."""
    machine = simple_machine()
    speed = 18_000 * np.pi / 30
    cutter = replace(machine.jobs[0].cutter, helix=np.radians(25))
    ply = cut(with_job(cutter=cutter, speed=speed, feed=0.2e-3 * 2 * 300)).jobs[0]
    assert (ply.mean_in_plane, ply.torque, ply.power) == (
        pytest.approx(36, rel=0.03),
        pytest.approx(0.132, rel=0.01),
        pytest.approx(249, rel=0.01),
    )
    assert ply.peak_in_plane == pytest.approx(62, rel=0.03)
    assert largest_chip(feed_per_tooth=0.2e-3, diameter=6e-3, width=6e-3) == pytest.approx(0.2e-3)


def test_the_grain_lies_as_it_is_hardest() -> None:
    """A slot along the grain: two thirds of the way from along to across, as quadrature of sin^3 says; across the grain one third."""
    along = {"shear_force": 14e6, "edge_force": 0.0, "shear_ratio": 0.1, "edge_ratio": 1.0}
    across = {"across_shear": 35e6, "across_edge": 0.0, "across_shear_ratio": 0.2, "across_edge_ratio": 1.0}
    machine, wood = simple_machine(), Material(id="pine", density=450.0, **along, **across)
    power = {
        grain: cut(replace(machine, jobs=(replace(machine.jobs[0], material=wood, grain=grain),))).jobs[0].power
        for grain in ("along", "across", "all")
    }
    plain = {
        k: cut(with_job(material=Material(id="even", density=450.0, **{**along, "shear_force": k}))).jobs[0].power
        for k in (28e6, 21e6)
    }
    assert power["along"] == pytest.approx(plain[28e6], rel=1e-6)
    assert power["across"] == pytest.approx(plain[21e6], rel=1e-6)
    assert power["all"] == pytest.approx(power["along"], rel=1e-9)

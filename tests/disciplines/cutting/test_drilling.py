"""A job with a drill is judged as drilling: known answers on a whole machine."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from gantrywright.base.samples import typical
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import again, resolve
from gantrywright.results.jobs import JobAnswer, Limit, Runs
from gantrywright.study import job_words
from gantrywright.study.study import Study, run, settle, simulated

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo" / "as-built.toml"
DRILL = (
    ("job.fittings.cutter", "drill-6"),
    ("job.fittings.plunge", "0.9 m/min"),
    ("job.fittings.speed", "6000 rpm"),
    ("job.fittings.work.size", "200 x 100 x 10 mm"),
    ("job.fittings.work.at", "0, 0, 0 mm"),
)


def studied(*edits: tuple[str, Any]) -> Study:
    return run(resolve(revise(read_document(DEMO), (*DRILL, *edits))))


@pytest.fixture(scope="module")
def plain() -> Study:
    return studied()


def drill(study: Study) -> JobAnswer:
    return study.results.jobs.jobs["fittings"]


def limit(study: Study, id: str) -> Limit:
    return next(limit for limit in drill(study).limits if limit.id == id)


def test_thrust_torque_and_power_by_hand(plain: Study) -> None:
    """0.15 mm for a turn: chip (f/2) sin 59 deg, specific force Kt + Kte/h of al-6082, M = kc f D^2/8, half of the thrust by the chisel edge."""
    chip = 0.15e-3 / 2 * np.sin(np.radians(59))
    specific = 650e6 + 14000 / chip
    torque = specific * 0.15e-3 * 0.006**2 / 8
    thrust = 0.5 * specific * 0.15e-3 * 0.006 / 2 * np.sin(np.radians(59)) / 0.5
    force = next(force for force in plain.results.cutting.jobs if force.job == "fittings")
    assert typical(force.torque) == pytest.approx(torque, rel=1e-6)
    assert typical(force.peak_axial) == pytest.approx(-thrust, rel=1e-6)
    assert typical(force.power) == pytest.approx(torque * 2 * np.pi * 100, rel=1e-6)
    assert typical(limit(plain, "axis-z").value) == pytest.approx(thrust, rel=1e-6)
    assert typical(limit(plain, "spindle-power").value) == pytest.approx(torque * 2 * np.pi * 100, rel=1e-6)


def test_a_drill_pushes_z_and_nothing_across(plain: Study) -> None:
    force = next(force for force in plain.results.cutting.jobs if force.job == "fittings")
    assert force.peak_in_plane == 0
    assert typical(plain.results.cutting.peak_axial) == pytest.approx(-typical(force.peak_axial))  # greater than of any milling
    ids = {limit.id for limit in drill(plain).limits}
    assert "axis-z" in ids
    assert not ids & {"axis-x", "axis-y", "accuracy", "chatter", "lift"}


def test_removal_is_the_hole_times_its_feed(plain: Study) -> None:
    assert typical(drill(plain).removal) == pytest.approx(np.pi / 4 * 0.006**2 * 0.9 / 60)


def test_work_is_turned_by_the_torque_at_a_quarter_of_its_diagonal(plain: Study) -> None:
    torque = typical(plain.results.ledger["job.fittings.torque"].value)
    assert typical(limit(plain, "hold-down").value) == pytest.approx(torque / (np.hypot(0.2, 0.1) / 4))


def test_the_core_bears_the_twist_and_the_thrust() -> None:
    study = studied(("job.fittings.stick_out", "60 mm"))
    torque = typical(study.results.ledger["job.fittings.torque"].value)
    core = 0.8 * 0.006
    assert typical(limit(study, "cutter").value) == pytest.approx(16 * torque / np.pi / core**3)
    modulus = typical(study.machine.jobs[1].cutter_material.modulus)  # type: ignore[union-attr]
    assert typical(limit(study, "cutter-buckling").limit) == pytest.approx(
        0.5 * 2.0457 * np.pi**2 * modulus * np.pi / 64 * core**4 / 0.06**2, rel=1e-4
    )


def test_a_hole_deeper_than_the_flutes_does_not_run() -> None:
    study = studied(("job.fittings.depth", "30 mm"), ("job.fittings.passes", "2"))
    assert limit(study, "flutes").exceeded
    assert drill(study).runs is Runs.NO


def test_wood_is_drilled_as_it_is_hardest(plain: Study) -> None:
    study = studied(("job.fittings.material", "maple-hard"))
    chip = 0.15e-3 / 2 * np.sin(np.radians(59))
    assert typical(study.results.ledger["job.fittings.lip_force"].value) == pytest.approx(60e6 + 5000 / chip, rel=1e-6)


def test_work_of_no_told_width_is_unknown_and_so_is_the_job() -> None:
    study = run(resolve(revise(read_document(DEMO), DRILL[:3])))
    assert "job.fittings.work" in limit(study, "hold-down").missing
    assert drill(study).runs is Runs.UNKNOWN


def test_a_held_work_of_no_told_size_is_not_told_to_be_unheld() -> None:
    study = run(resolve(revise(read_document(DEMO), DRILL[:3])))
    finding = next(one for one in study.findings if one.id == "CUT-401" and one.subject == "job.fittings")
    assert "job.fittings.work" in finding.verdict.missing
    assert "hold_down" not in finding.verdict.missing
    words = job_words.held(study, drill(study))
    assert "job.fittings.work" in words[0]
    assert "does not say how" not in words[0]


def test_high_speed_steel_in_steel_burns_where_carbide_and_wood_do_not() -> None:
    """5 mm at 6000 rpm: 94 m/min at the corners."""
    burnt = studied(("job.fittings.material", "steel-s235"), ("job.fittings.cutter", "drill-5"))
    found = {one.subject: one for one in burnt.findings if one.id == "CUT-121"}
    assert str(found["job.fittings (fast)"].status) == "fail"
    assert str(found["job.fittings (slow)"].status) == "ok"
    assert typical(limit(burnt, "edge-speed").value) == pytest.approx(np.pi * 0.005 * 100)
    assert limit(burnt, "edge-speed").exceeded
    carbide = studied(("job.fittings.material", "steel-s235"), ("job.fittings.cutter", {"part": "drill-5", "material": "carbide"}))
    assert not limit(carbide, "edge-speed").exceeded
    wood = studied(
        ("job.fittings.material", "maple-hard"), ("job.fittings.cutter", "drill-12"), ("job.fittings.speed", "18000 rpm")
    )
    assert {str(one.status) for one in wood.findings if one.id == "CUT-121"} == {"watch", "ok"}
    assert not [one for one in drill(wood).limits if one.id == "edge-speed"]


@pytest.mark.parametrize(("rpm", "id"), [("1800 rpm", "slow-speed"), ("40000 rpm", "speed")])
def test_a_speed_that_the_spindle_cannot_turn_is_a_limit(plain: Study, rpm: str, id: str) -> None:
    study = studied(("job.fittings.speed", rpm))
    assert limit(study, id).exceeded
    assert drill(study).runs is Runs.NO
    assert not limit(plain, "speed").exceeded
    assert not [one for one in drill(plain).limits if one.id == "slow-speed"]


def test_the_change_that_is_proposed_brings_a_drill_to_its_speed() -> None:
    fast = (("job.fittings.cutter", "drill-5"), ("job.fittings.speed", "18000 rpm"), ("job.fittings.plunge", "2.7 m/min"))
    before = next(one for one in studied(*fast).findings if one.id == "CUT-121" and "fast" in one.subject)
    assert before.verdict.changes
    after = studied(*fast, *before.verdict.changes[0].edits)
    assert not limit(after, "edge-speed").exceeded
    turned = typical(after.machine.jobs[1].plunge) / typical(after.machine.jobs[1].speed)
    assert turned == pytest.approx(2.7 / 60 / (18000 * np.pi / 30), rel=0.05)


def test_a_drill_of_untold_material_is_unknown() -> None:
    study = studied(("job.fittings.cutter", {"part": "drill-6", "material": "unknown"}))
    assert "job.fittings.cutter.material" in next(one for one in study.findings if one.id == "CUT-121").verdict.missing


def test_without_coefficients_nothing_is_known() -> None:
    answer = drill(studied(("job.fittings.material", "screw-steel")))
    assert answer.runs is Runs.UNKNOWN
    assert "part.screw-steel.shear_force" in answer.missing


def test_nothing_is_said_of_it_as_if_it_milled(plain: Study) -> None:
    found = simulated(plain)
    spoken = {finding.id: finding for finding in found.findings if finding.subject.startswith("job.fittings")}
    assert not {"CUT-102", "CUT-103", "CUT-107", "CUT-110", "CUT-201", "CUT-601"} & set(spoken)
    assert str(spoken["CUT-120"].status) == "ok"
    assert not [finding for finding in found.findings if str(finding.status) == "broken"]


def test_its_thrust_spreads_with_the_material() -> None:
    document = revise(read_document(DEMO), DRILL)
    study = settle(run(resolve(document)), again(document), count=96)
    low, high = study.bands["job.fittings.thrust"]
    assert low < typical(study.results.ledger["job.fittings.thrust"].value) < high

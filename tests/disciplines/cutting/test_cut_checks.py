"""The checks of the cut on whole machines: what they say, what they stay silent about, and that their changes do what they promise."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gantrywright.base.quantities import parse
from gantrywright.base.samples import typical
from gantrywright.disciplines.cutting.changes import depth_text
from gantrywright.disciplines.cutting.light_pass import light_pass
from gantrywright.findings import Finding, Status
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import again, resolve
from gantrywright.study.remedies import with_remedies
from gantrywright.study.study import Study, run, simulated
from gantrywright.theory.cutting.run_out import signed_chips

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo"
Edits = dict[str, str]


def studied(edits: Edits, name: str = "as-built", *, deep: bool = False) -> Study:
    study = run(resolve(revise(read_document(DEMO / f"{name}.toml"), tuple(edits.items()))))
    return simulated(study) if deep else study


def spoken(study: Study, id: str, subject: str = "") -> list[Finding]:
    return [f for f in study.findings if f.id == id and (not subject or f.subject == subject)]


def one(study: Study, id: str, subject: str) -> Finding:
    (found,) = spoken(study, id, subject)
    return found


@pytest.mark.parametrize(
    ("name", "id", "subject", "deep", "edits"),
    [
        ("as-built", "CUT-105", "job.frames", False,
         {"spindle.part": "spindle-0.8kw-24k", "job.frames.cutter": "end-mill-12-2f-down", "job.frames.depth": "18 mm", "job.frames.speed": "8000 rpm"}),
        ("as-built", "CUT-110", "job.frames", False, {"job.frames.feed": "0.9 m/min", "job.frames.run_out": "15 um"}),
        ("as-built", "CUT-201", "job.fittings", False, {"job.fittings.width": "3 mm", "job.fittings.depth": "6 mm"}),
        ("as-built", "CUT-401", "job.fittings", False, {}),
        ("first-idea", "CUT-601", "job.frames", True, {}),
        ("bench", "CUT-404", "job.box-sides.hold_down.tabs (push)", False,
         {f"job.box-sides.hold_down.tabs.{key}": value for key, value in (("count", "2"), ("width", "3 mm"), ("thickness", "0.6 mm"))}),
    ],
)  # fmt: skip
def test_some_change_mends_and_it_was_looked_at_as_deeply_as_the_finding(
    name: str, id: str, subject: str, deep: bool, edits: Edits
) -> None:
    document = revise(read_document(DEMO / f"{name}.toml"), tuple(edits.items()))
    study = run(resolve(document))
    study = simulated(study) if deep else study
    bad = one(study, id, subject)
    assert bad.status in (Status.FAIL, Status.WATCH)
    assert bad.verdict.changes
    told = with_remedies(Study(study.machine, study.results, (bad,)), again(document), most=1).findings[0].remedies
    assert any(remedy.mends for remedy in told), told
    assert not any("no longer applies" in effect for remedy in told for effect in remedy.effects)


def test_a_material_that_nobody_knows_is_unknown_and_its_edge_is_judged_all_the_same() -> None:
    study = studied({"job.frames.material": "granite"})
    for id in ("CUT-102", "CUT-103"):
        found = one(study, id, "job.frames")
        assert found.status is Status.UNKNOWN
        assert "part.granite.group" in found.verdict.missing
    assert one(study, "CUT-103", "job.frames (edge)").status is Status.OK
    assert not spoken(study, "CUT-105", "job.frames"), "CUT-101 has said that its forces are not known"


def test_an_edge_pushes_a_chip_aside_that_is_thinner_than_its_rounding() -> None:
    thin = {"job.frames.feed": "0.05 m/min"}  # 1.4 um a tooth against 0.3 of 8 um
    found = one(studied(thin), "CUT-103", "job.frames (edge)")
    assert found.status is Status.FAIL
    assert found.verdict.limit == pytest.approx(0.3 * 8e-6)
    worn = one(studied({"job.frames.edge": "worn"}), "CUT-103", "job.frames (edge)")
    assert typical(worn.verdict.limit or 0.0) == pytest.approx(3.5 * 0.3 * 8e-6)


@given(flutes=st.integers(2, 6), chip=st.floats(5e-6, 3e-4))
@settings(max_examples=15, deadline=None)
def test_a_tooth_is_out_of_work_just_where_the_run_out_check_says(flutes: int, chip: float) -> None:
    reading = chip / np.sin(np.pi / flutes)  # the limit of CUT-110

    def thinnest(reading: float) -> float:
        across = np.array([np.pi / 2])
        return min(
            float(np.min(signed_chips(flutes=flutes, feed_per_tooth=chip, run_out=reading / 2, run_out_angle=at, angles=across)))
            for at in np.linspace(0, 2 * np.pi, 181)
        )

    assert thinnest(0.99 * reading) > 0
    assert thinnest(1.01 * reading) < 0


@pytest.mark.parametrize(
    ("id", "subject", "edits"),
    [
        ("CUT-107", "job.frames (fast)", {"job.frames.material": "pmma", "job.frames.cutter": "end-mill-12-2f", "job.frames.speed": "24000 rpm"}),
        ("CUT-110", "job.frames", {"job.frames.run_out": "0.5 mm"}),
        ("CUT-113", "job.fittings.stick_out", {"job.fittings.stick_out": "40 mm"}),
        ("CUT-112", "job.fittings", {"job.fittings.cutter": "surfacing-22-2f"}),
    ],
)  # fmt: skip
def test_rules_of_the_trade_are_cautions_and_never_fail(id: str, subject: str, edits: Edits) -> None:
    found = one(studied(edits), id, subject)
    assert found.status is Status.WATCH
    assert found.verdict.note.startswith("caution:")


def test_the_sign_of_the_wall_is_told_in_words() -> None:
    study = studied({"job.fittings.way": "climb", "job.fittings.width": "3 mm", "job.fittings.depth": "6 mm"})
    wall = study.results.jobs.jobs["fittings"].wall
    assert wall is not None
    assert typical(wall.worst) < 0, "climbing pushes the cutter off the wall"
    note = one(study, "CUT-201", "job.fittings").verdict.note
    assert "leaves" in note
    assert "standing" in note
    assert "squareness, leads and holes come on top" in note
    over = one(studied({}), "CUT-201", "job.frames").verdict
    assert "too much" in over.note, "the conventional side of a slot is drawn into"


def test_the_light_pass_that_is_advised_keeps_the_wall() -> None:
    edits = {"job.fittings.width": "3 mm", "job.fittings.depth": "6 mm"}
    study = studied(edits)
    found = one(study, "CUT-201", "job.fittings")
    assert "last pass" in (found.verdict.remedy or "")
    job = next(job for job in study.machine.jobs if job.name == "fittings")
    assert study.machine.purpose.accuracy is not None
    light = light_pass(study.machine, study.results, job, study.machine.purpose.accuracy)
    assert light is not None
    assert 0 < typical(light.width) < 3e-3
    lighter = studied({**edits, "job.fittings.way": light.way, "job.fittings.width": f"{typical(light.width):.6f} m"})
    assert typical(one(lighter, "CUT-201", "job.fittings").verdict.margin or -1.0) >= 0


def test_without_a_wanted_accuracy_walls_are_unknown_once() -> None:
    found = spoken(studied({"purpose.accuracy": "unknown"}), "CUT-201")
    assert [(f.subject, f.status) for f in found] == [("purpose", Status.UNKNOWN)]


def test_the_outlet_names_what_else_hangs_on_it_and_moves_it_where_it_can() -> None:
    weak = {
        "site.outlet.wall.voltage": "120 V",
        "site.outlet.wall.current": "15 A",
        "site.rules": "NEC",
        "job.frames.depth": "18 mm",
    }
    alone = one(studied(weak), "CUT-109", "spindle.outlet")
    assert "vacuum-cleaner (1.2 kW)" in alone.verdict.note
    assert not any("outlet" in change.words for change in alone.verdict.changes)
    other = {"site.outlet.bench.voltage": "120 V", "site.outlet.bench.current": "15 A"}
    two = one(studied({**weak, **other}), "CUT-109", "spindle.outlet")
    assert ("site.load.vacuum-cleaner.outlet", "bench") in two.verdict.changes[0].edits
    moved = one(studied({**weak, **other, "site.load.vacuum-cleaner.outlet": "bench"}), "CUT-109", "spindle.outlet")
    assert "vacuum-cleaner" not in moved.verdict.note
    assert typical(moved.verdict.limit or 0.0) > 1.5 * typical(two.verdict.limit or 0.0)


def test_chatter_and_the_word_on_the_whole_job_come_with_the_depth_of_the_look() -> None:
    shallow, deep = studied({}), studied({}, deep=True)
    assert not [f for f in shallow.findings if f.id in ("CUT-601", "CUT-701")]
    found = one(deep, "CUT-601", "job.fittings")
    assert "Hz" in found.verdict.note
    assert "a third of this" in found.verdict.note, "it climbs with a sixth of its diameter"
    assert "a third" not in one(deep, "CUT-601", "job.frames").verdict.note, "a slot is well told by zero order"


def test_a_job_that_does_not_run_names_the_reason() -> None:
    deep = studied({"job.fittings.hold_down.force": "5 N"}, deep=True)
    found = one(deep, "CUT-701", "job.fittings")
    assert found.status is Status.FAIL
    assert deep.results.jobs.jobs["fittings"].no_advice[1:] in found.verdict.note


def test_tape_is_proposed_larger_and_a_pump_no_stronger_than_pumps_are() -> None:
    tape = one(studied({"job.escutcheons.hold_down.area": "0.5 in2"}, "bench"), "CUT-401", "job.escutcheons")
    assert any(path.endswith("hold_down.area") for change in tape.verdict.changes for path, _ in change.edits)
    sucked = {"job.fittings.hold_down.kind": "vacuum", "job.fittings.hold_down.area": "20 cm2"}
    weak = one(studied(sucked), "CUT-401", "job.fittings")
    assert weak.status is Status.FAIL
    assert not any("pressure" in path for change in weak.verdict.changes for path, _ in change.edits)


def test_parts_that_are_cut_free_are_a_caution_until_tabs_are_told() -> None:
    sucked = {"job.box-sides.hold_down.kind": "vacuum", "job.box-sides.hold_down.area": "0.2 m2"}
    study = studied(sucked, "bench")
    assert one(study, "CUT-403", "job.box-sides").status is Status.WATCH
    edits = dict(one(study, "CUT-403", "job.box-sides").verdict.changes[0].edits)
    tabbed = studied({**sucked, **edits}, "bench")
    assert not spoken(tabbed, "CUT-403")
    assert {f.subject for f in spoken(tabbed, "CUT-404")} == {
        "job.box-sides.hold_down.tabs (push)",
        "job.box-sides.hold_down.tabs (pull)",
    }


@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize("depth", [5.5e-5, 3.1e-4, 2.01e-3, 6.1e-3])
def test_depths_are_rounded_up_by_little(system: str, depth: float) -> None:
    told = float(parse(depth_text(depth, system), "length").value)
    assert depth * (1 - 1e-9) <= told <= 1.1 * depth

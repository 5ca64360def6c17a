"""Cuts at several feeds with the power of the spindle: coefficients of the material, and what is believed of its jobs after them."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from gantrywright.base.errors import FileProblems
from gantrywright.base.samples import typical
from gantrywright.findings import Finding
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import again, resolve
from gantrywright.results.readings import Reading
from gantrywright.study.study import Study, run, settle

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo" / "as-built.toml"
READ = (
    ("measured.cuts.observe", "spindle-power"),
    ("measured.cuts.job", "frames"),
    ("measured.cuts.feeds", ["2 m/min", "4 m/min", "6 m/min", "8 m/min", "10 m/min"]),
    ("measured.cuts.powers", ["153 W", "186 W", "223 W", "255 W", "292 W"]),
    ("measured.cuts.idle", "0 W"),
    ("measured.cuts.efficiency", "1"),
    ("measured.cuts.with", "power meter"),
    ("measured.cuts.on", date(2026, 11, 20)),
)


def studied(*edits: tuple[str, Any]) -> Study:
    return run(resolve(revise(read_document(DEMO), (*READ, *edits))))


def reading(study: Study, observe: str) -> Reading:
    return next(one for one in study.results.cutting.readings if one.observe == observe)


def spoken(study: Study, observe: str) -> Finding:
    return next(one for one in study.findings if one.id == "CUT-801" and one.subject == f"measured.cuts ({observe})")


@pytest.fixture(scope="module")
def settled() -> Study:
    document = revise(read_document(DEMO), READ)
    return settle(run(resolve(document)), again(document), count=128)


def test_coefficients_of_a_worked_example() -> None:
    """A slot of 6 mm, 6 mm deep, two flutes at 300 turns a second: the frames' own cut."""
    study = studied()
    shear, edge = reading(study, "shear"), reading(study, "edge")
    assert shear.measured == pytest.approx(28.92e6, rel=1e-3)
    assert shear.deviation == pytest.approx(0.37e6, rel=0.02)
    assert edge.measured == pytest.approx(3469, rel=1e-3)
    assert edge.deviation == pytest.approx(43, rel=0.02)
    assert shear.predicted == pytest.approx(38e6)


def test_power_of_the_inverter_is_taken_above_idle_and_by_the_efficiency() -> None:
    told = [f"{power / 0.8 + 120} W" for power in (153, 186, 223, 255, 292)]
    study = studied(("measured.cuts.powers", told), ("measured.cuts.idle", "120 W"), ("measured.cuts.efficiency", "0.8"))
    assert reading(study, "shear").measured == pytest.approx(28.92e6, rel=1e-3)
    assert reading(study, "edge").measured == pytest.approx(3469, rel=1e-3)


def test_an_efficiency_that_nobody_measured_widens_the_error() -> None:
    study = studied(("measured.cuts.efficiency", "unknown"))
    shear = reading(study, "shear")
    assert shear.measured == pytest.approx(0.85 * 28.92e6, rel=1e-3)
    assert shear.deviation == pytest.approx(0.85 * (0.37**2 + (0.04 * 28.92) ** 2) ** 0.5 * 1e6, rel=0.02)


def test_without_idle_power_the_edge_is_unknown_and_the_shear_is_not() -> None:
    study = studied(("measured.cuts.idle", "unknown"))
    assert reading(study, "shear").measured == pytest.approx(28.92e6, rel=1e-3)
    assert reading(study, "edge").measured is None
    assert str(spoken(study, "edge").status) == "unknown"
    assert "idle" in spoken(study, "edge").verdict.missing


@pytest.mark.parametrize(
    ("edit", "said"),
    [
        (("measured.cuts.job", "nobody"), "nobody"),
        (("measured.cuts.feeds", ["2 m/min", "4 m/min"]), "feeds"),
        (("job.frames.cutter", "drill-6"), "mills"),
        (("measured.cuts.powers", ["292 W", "255 W", "223 W", "186 W", "153 W"]), "grow with the feed"),
    ],
)
def test_what_cannot_be_fitted_is_unknown(edit: tuple[str, Any], said: str) -> None:
    found = spoken(studied(edit), "shear")
    assert str(found.status) == "unknown"
    assert said in found.verdict.missing


def test_feeds_are_asked_for_and_a_value_is_not() -> None:
    with pytest.raises(FileProblems, match=r"lacks feeds"):
        resolve(revise(read_document(DEMO), [edit for edit in READ if edit[0] != "measured.cuts.feeds"]))


def test_the_job_is_believed_by_what_was_measured(settled: Study) -> None:
    """Before: the table's band; after: about the measured line, 223 W at 4 m/min... of a shaft, far narrower."""
    after = {one.path: one for one in settled.lessons.figures}
    power = after["job.frames.power"]
    assert power.before[0] < power.after[0] < power.after[1] < power.after[2] < power.before[2]
    assert power.after[1] == pytest.approx(186, rel=0.05)
    assert power.after[2] / power.after[0] < 0.5 * power.before[2] / power.before[0]
    shear = next(one for one in settled.lessons.inputs if one.path == "material.plywood-birch.shear_force")
    assert shear.after[1] == pytest.approx(28.92e6, rel=0.05)


def test_what_does_not_hang_on_that_material_is_not_told_as_corrected(settled: Study) -> None:
    assert not [one.path for one in settled.lessons.figures if one.path.startswith(("job.fittings", "structure."))]


def test_the_own_row_that_is_offered_makes_the_material_as_measured(settled: Study) -> None:
    change = spoken(settled, "shear").verdict.changes[0]
    machine = resolve(revise(read_document(DEMO), (*READ, *change.edits)))
    assert typical(machine.jobs[0].material.shear_force) == pytest.approx(28.92e6, rel=1e-3)  # type: ignore[arg-type]
    assert typical(machine.jobs[0].material.edge_force) == pytest.approx(3469, rel=1e-3)  # type: ignore[arg-type]
    study = run(machine)
    assert str(spoken(study, "shear").status) == "ok"
    assert reading(study, "shear").predicted == pytest.approx(28.92e6, rel=1e-3)


def test_a_reading_far_outside_of_the_band_fails_and_corrects_nothing() -> None:
    document = revise(
        read_document(DEMO),
        (*READ, ("measured.cuts.powers", ["153 W", "353 W", "553 W", "753 W", "953 W"]), ("measured.cuts.idle", "0 W")),
    )
    study = settle(run(resolve(document)), again(document), count=96)
    assert str(spoken(study, "shear").status) == "fail"
    assert not study.lessons.inputs

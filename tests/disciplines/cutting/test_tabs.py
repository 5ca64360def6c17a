"""Tabs of a job as a limit of it."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from gantrywright.base.samples import typical
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import again, resolve
from gantrywright.results.jobs import JobAnswer, Limit
from gantrywright.study.study import Study, run, settle

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo" / "bench.toml"
TABS = (
    ("job.box-sides.hold_down.tabs.count", "5"),
    ("job.box-sides.hold_down.tabs.width", "6 mm"),
    ("job.box-sides.hold_down.tabs.thickness", "1.5 mm"),
)


def studied(*edits: tuple[str, Any]) -> Study:
    return run(resolve(revise(read_document(DEMO), edits)))


def sides(study: Study) -> JobAnswer:
    return study.results.jobs.jobs["box-sides"]


def limit(answer: JobAnswer, id: str) -> Limit:
    return next(limit for limit in answer.limits if limit.id == id)


def test_half_the_tabs_bear_a_push_and_all_of_them_a_lift() -> None:
    """Maple: 16.1 MPa along the grain in shear, 109 MPa in bending, over a kerf of 6.35 mm and a safety of 2."""
    answer = sides(studied(*TABS))
    shear = 6 * 1.5 * 16.1
    push = 2 * min(shear, 36 * 1.5 * 109 / (3 * 6.35)) / 2
    lift = 5 * min(shear, 6 * 1.5**2 * 109 / (3 * 6.35)) / 2
    assert typical(limit(answer, "tabs").limit) == pytest.approx(push)
    assert typical(limit(answer, "tabs-lift").limit) == pytest.approx(lift)
    assert typical(limit(answer, "tabs").value) == pytest.approx(typical(limit(answer, "hold-down").value))


def test_thin_tabs_bend_rather_than_shear_and_bind() -> None:
    answer = sides(studied(*TABS, ("job.box-sides.hold_down.tabs.thickness", "0.2 mm")))
    assert limit(answer, "tabs").exceeded
    assert answer.binds is not None
    assert answer.binds.id == "tabs"
    assert typical(limit(answer, "tabs-lift").limit) == pytest.approx(5 * 6 * 0.04 * 109 / (3 * 6.35) / 2)


def test_tape_holds_a_part_besides_its_tabs() -> None:
    taped = (("job.box-sides.hold_down.kind", "tape"), ("job.box-sides.hold_down.area", "100 cm2"))
    clamped, stuck = sides(studied(*TABS)), sides(studied(*TABS, *taped))
    more = typical(limit(stuck, "tabs").limit) - typical(limit(clamped, "tabs").limit)
    assert more == pytest.approx(typical(limit(stuck, "hold-down").limit))


def test_tabs_of_a_material_of_unknown_strength_are_unknown() -> None:
    answer = sides(studied(*TABS, ("job.box-sides.material", "eva-foam")))
    found = limit(answer, "tabs")
    assert found.ceiling is None
    assert "part.eva-foam.shear_strength" in found.missing
    assert found in answer.unknown


@pytest.mark.parametrize("material", ["mdf", "plywood-birch", "al-6082", "pmma", "stainless"])
def test_tabs_in_sheets_are_known(material: str) -> None:
    answer = sides(studied(*TABS, ("job.box-sides.material", material)))
    assert {limit(answer, id).ceiling is None for id in ("tabs", "tabs-lift")} == {False}


def test_a_job_that_tells_no_tabs_has_no_such_limit() -> None:
    assert not [limit for limit in sides(studied()).limits if limit.id.startswith("tabs")]


def test_tabs_spread_with_the_strength_of_the_wood() -> None:
    document = revise(read_document(DEMO), TABS)
    study = settle(run(resolve(document)), again(document), count=96)
    low, high = study.bands["job.box-sides.tabs_push"]
    assert low < typical(study.results.ledger["job.box-sides.tabs_push"].value) < high
    assert np.isfinite(high)

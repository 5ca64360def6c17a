"""The spoilboard of a whole machine: known answers, and what is told where something is lacking."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from gantrywright.base.samples import typical
from gantrywright.findings import Finding
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.results.spoilboard import SpoilboardResult
from gantrywright.study.study import Study, run

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo"


def studied(*edits: tuple[str, Any], name: str = "as-built") -> Study:
    return run(resolve(revise(read_document(DEMO / f"{name}.toml"), edits)))


def board(*edits: tuple[str, Any]) -> SpoilboardResult:
    found = studied(*edits).results.spoilboard
    assert found is not None
    return found


def spoken(study: Study, id: str) -> Finding:
    return next(finding for finding in study.findings if finding.id == id)


def test_tilt_across_the_feed_leaves_its_slope_times_the_step() -> None:
    found = board(("spoilboard.tram_across", "1 mm/m"), ("spoilboard.tram_along", "0 mm/m"), ("spoilboard.step_over", "10 mm"))
    assert typical(found.ridge) == pytest.approx(10e-6)  # 10 mm at 1 mm/m
    assert typical(found.spacing) == pytest.approx(7e-3)  # where a ridge of 7 um is still good


def test_a_board_is_faced_until_its_screws_are_reached() -> None:
    found = board(("spoilboard.unevenness", "0.6 mm"), ("spoilboard.tram_across", "0 mm/m"), ("spoilboard.tram_along", "0 mm/m"))
    assert typical(found.facing) == pytest.approx(0.7e-3)
    assert typical(found.passes) == 2
    assert typical(found.left) == 7  # (19 - 14) mm / 0.7 mm
    assert typical(board(("spoilboard.unevenness", "0.6 mm"), ("spoilboard.least", "18 mm")).left) == 1


def test_the_facing_cutter_turns_no_faster_than_is_marked() -> None:
    found = board(("spoilboard.cutter", "surfacing-50-4f"))
    assert typical(found.fastest) == pytest.approx(18000 * np.pi / 30)
    assert typical(found.time) == pytest.approx((np.ceil(1250 / 12) + 1) * 1.25 / (4 / 60))


def test_a_board_on_bearers_sags_and_one_on_another_layer_does_not() -> None:
    assert board().rests
    found = board(("spoilboard.span", "400 mm"), ("spoilboard.thickness", "18 mm"))
    plate = 3e9 * 0.018**3 / 12 / (1 - 0.3**2)
    push = 18.719567862431315  # of the fittings, along the spindle
    assert typical(found.sag) == pytest.approx(0.01695 * push * 0.4**2 / plate, rel=0.05)
    assert typical(board(("spoilboard.span", "800 mm"), ("spoilboard.thickness", "18 mm")).sag) == pytest.approx(
        4 * typical(found.sag), rel=1e-6
    )


def test_vacuum_pulls_the_board_down_between_its_bearers() -> None:
    pulled = (
        ("job.fittings.hold_down.kind", "vacuum"),
        ("job.fittings.hold_down.area", "100 cm2"),
        ("job.fittings.hold_down.pressure", "30 kPa"),
    )
    more = typical(board(("spoilboard.span", "400 mm"), *pulled).sag) - typical(board(("spoilboard.span", "400 mm")).sag)
    plate = 3e9 * 0.019**3 / 12 / (1 - 0.3**2)
    assert more == pytest.approx(5 * 30e3 * 0.4**4 / 384 / plate, rel=1e-6)


@pytest.mark.parametrize(
    ("key", "id", "said"),
    [
        ("spoilboard.tram_across", "CUT-501", "tram_across"),
        ("spoilboard.cutter", "CUT-501", "spoilboard.cutter"),
        ("spoilboard.cutter", "CUT-502", "spoilboard.cutter"),
        ("spoilboard.cutter", "CUT-503", "spoilboard.cutter"),
        ("spoilboard.unevenness", "CUT-504", "unevenness"),
        ("spoilboard.thickness", "CUT-504", "thickness"),
    ],
)
def test_what_is_not_told_is_unknown(key: str, id: str, said: str) -> None:
    found = spoken(studied((key, "unknown")), id)
    assert str(found.status) == "unknown"
    assert said in found.verdict.missing


def test_a_machine_without_a_spoilboard_is_told_nothing_of_it() -> None:
    study = studied(name="bench")
    assert study.results.spoilboard is None
    assert not [finding for finding in study.findings if finding.id.startswith("CUT-5")]


FACED = (
    ("job.surface.material", "mdf"), ("job.surface.cutter", "surfacing-25-2f"), ("job.surface.width", "12 mm"), ("job.surface.depth", "0.3 mm"),
    ("job.surface.speed", "16000 rpm"), ("job.surface.feed", "3 m/min"),
)  # fmt: skip


def test_facing_names_how_a_board_that_is_screwed_on_is_told() -> None:
    faced = studied(*FACED)
    slips = next(one for one in faced.findings if one.id == "CUT-401" and one.subject == "job.surface")
    assert "job.surface.hold_down" in slips.verdict.missing
    assert 'kind = "screws"' in slips.verdict.missing


def test_a_board_that_is_screwed_on_holds_like_any_work() -> None:
    """Twelve screws of 400 N each at 0.2, the worst place of a piece of untold size 0.41 of it, less the pull, over 2."""
    screwed = (
        ("job.surface.hold_down.kind", "screws"), ("job.surface.hold_down.count", "12"), ("job.surface.hold_down.force", "400 N"),
        ("job.surface.hold_down.friction", "0.2"),
    )  # fmt: skip
    held = studied(*FACED, *screwed).results.jobs.jobs["surface"].holding
    assert held is not None
    assert held.slip is not None
    assert typical(held.slip) == pytest.approx(0.2 * (12 * 400 - max(typical(held.pull), 0)) * 0.41 / 2, rel=1e-6)

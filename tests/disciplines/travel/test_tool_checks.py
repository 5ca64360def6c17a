"""GEO-206: a cutter that is not as long as it stands out."""

from pathlib import Path
from typing import Any

import pytest

from gantrywright.findings import Finding, Status
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.study.study import run

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo"
UNKNOWN = ("tool.cutter", {"part": "end-mill-6-2f-up", "length": "unknown"})


def found(*edits: tuple[str, Any]) -> dict[str, Finding]:
    machine = resolve(revise(read_document(DEMO / "as-built.toml"), edits))
    return {finding.subject: finding for finding in run(machine).findings if finding.id == "GEO-206"}


@pytest.mark.parametrize(
    ("out", "status"),
    [("22 mm", Status.OK), ("37 mm", Status.OK), ("39 mm", Status.WATCH), ("51 mm", Status.FAIL), ("19 in", Status.FAIL)],
)
def test_a_cutter_of_50_mm_wants_12_of_them_in_its_collet(out: str, status: Status) -> None:
    tool = found(("tool.stick_out", out))["tool.stick_out"]
    assert tool.verdict.limit == pytest.approx(0.05)
    assert tool.status is status


def test_what_it_proposes_mends_it() -> None:
    (change,) = found(("tool.stick_out", "60 mm"))["tool.stick_out"].verdict.changes
    assert change.edits == (("tool.stick_out", "38 mm"),)
    assert found(*change.edits)["tool.stick_out"].status is Status.OK


@pytest.mark.parametrize(("out", "status"), [("47 mm", Status.OK), ("49 mm", Status.WATCH), ("19 in", Status.WATCH)])
def test_of_unknown_length_eight_diameters_are_to_be_looked_at(out: str, status: Status) -> None:
    tool = found(UNKNOWN, ("tool.stick_out", out))["tool.stick_out"]
    assert tool.verdict.limit == pytest.approx(8 * 0.006)
    assert tool.status is status
    assert "tool.cutter.length" in tool.verdict.note


def test_a_job_is_judged_where_it_has_a_cutter_or_a_stick_out_of_its_own() -> None:
    same = (
        ("job.frames.cutter", "end-mill-6-2f-up"),
        ("tool.cutter", "end-mill-6-2f-up"),
        ("job.fittings.cutter", "end-mill-6-2f-up"),
    )
    assert list(found(*same)) == ["tool.stick_out"]
    assert list(found(*same, ("job.frames.stick_out", "55 mm"))) == ["job.frames.stick_out", "tool.stick_out"]
    assert found(*same, ("job.frames.stick_out", "55 mm"))["job.frames.stick_out"].status is Status.FAIL

"""GEO-207: pieces of the jobs against what the tip reaches."""

from pathlib import Path
from typing import Any

import pytest

from gantrywright.findings import Finding, Status
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.model.machine import Machine
from gantrywright.study.study import run

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo"


def machine(*edits: tuple[str, Any]) -> Machine:
    return resolve(revise(read_document(DEMO / "as-built.toml"), edits))


def found(*edits: tuple[str, Any]) -> Finding:
    findings = run(machine(*edits)).findings
    return next(finding for finding in findings if finding.id == "GEO-207" and finding.subject == "job.frames.work")


def test_a_sheet_within_the_travel_is_well() -> None:
    assert found().status is Status.OK


def test_a_sheet_longer_than_the_travel_is_to_be_watched_and_told_how_far() -> None:
    piece = found(("job.frames.work.size", "5000 x 1250 x 12 mm"))
    assert piece.status is Status.WATCH
    assert piece.verdict.value == pytest.approx(5.0 - machine().reach.most[0])
    assert "right" in piece.verdict.note


def test_a_piece_that_no_cutter_meets_is_at_fault() -> None:
    piece = found(("job.frames.work.size", "100 x 100 x 12 mm"), ("job.frames.work.at", "-900, 0, 0 mm"))
    assert piece.status is Status.FAIL
    assert piece.verdict.value == pytest.approx(machine().reach.least[0] + 0.9)
    assert "left" in piece.verdict.note


def test_jobs_without_a_piece_are_passed_over() -> None:
    findings = run(machine(("job.frames.work", None))).findings
    assert "job.frames.work" not in {finding.subject for finding in findings if finding.id == "GEO-207"}

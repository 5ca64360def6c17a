"""What a change is told to have broken before its spread is known: only what typical values judge otherwise than before it."""

from dataclasses import replace
from pathlib import Path

import pytest

from gantrywright.findings import Status, judge
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import again, resolve
from gantrywright.study.carried import carried_over
from gantrywright.study.glance import glance
from gantrywright.study.study import Study, run, settle, simulated

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"
DOCUMENT = read_document(DEMO / "first-idea.toml")
TYPICAL = run(resolve(DOCUMENT))
BEFORE = settle(TYPICAL, again(DOCUMENT), count=64)


def changed(*edits: tuple[str, str]) -> tuple[Study, Study]:
    """At a glance, and that with what is carried over."""
    quick = glance(resolve(revise(DOCUMENT, edits)), BEFORE)
    return quick, carried_over(quick, BEFORE)


def counts(study: Study) -> dict[Status, int]:
    return {status: study.count(status) for status in Status}


def test_a_change_that_breaks_nothing_is_told_to_break_nothing() -> None:
    quick, told = changed(("purpose.feed", "3.99 m/min"))
    assert counts(quick) != counts(BEFORE)  # typical values alone would tell of things that the change never broke
    assert counts(told) == counts(BEFORE)
    whole = carried_over(TYPICAL, BEFORE)
    assert {(f.id, f.subject): f.status for f in whole.findings} == {(f.id, f.subject): f.status for f in BEFORE.findings}


def test_what_speaks_of_the_simulation_stands_until_there_is_one() -> None:
    later = [f for f in BEFORE.findings if f.check.simulated]
    assert Status.FAIL in {f.status for f in later}
    assert not [f for f in TYPICAL.findings if f.check.simulated]
    told = carried_over(TYPICAL, BEFORE)
    assert [f for f in told.findings if f.check.simulated] == later
    assert {f.id for f in later} <= set(told.pending)
    assert list(told.findings) == sorted(told.findings, key=lambda f: (f.id, f.subject))
    deep = simulated(TYPICAL)
    silent = replace(deep, findings=tuple(f for f in deep.findings if not f.check.simulated))
    assert not [f for f in carried_over(silent, BEFORE).findings if f.check.simulated]


def test_a_job_that_is_gone_takes_its_findings_with_it() -> None:
    gone = "job.fittings"
    machine = replace(TYPICAL.machine, jobs=tuple(job for job in TYPICAL.machine.jobs if job.path != gone))
    assert [f for f in BEFORE.findings if f.check.simulated and f.subject == gone]
    for study in (run(machine), glance(machine, BEFORE)):
        told = carried_over(study, BEFORE)
        assert not [f for f in told.findings if f.check.simulated and f.subject.startswith(gone)]
        assert [f for f in told.findings if f.check.simulated and f.subject == "job.frames"]


def test_what_typical_values_judge_otherwise_is_told_at_once() -> None:
    quick, told = changed(("purpose.rapid", "100 m/min"))
    typical = {(f.id, f.subject): judge(f.check, f.verdict).status for f in BEFORE.findings}
    fresh = {(f.id, f.subject): f for f in quick.findings if f.probability is None}
    moved = {
        key for key, f in fresh.items() if key in typical and f.status is not typical[key] and typical[key] is not Status.UNKNOWN
    }
    assert moved
    for found in told.findings:
        if (found.id, found.subject) in moved:
            assert found.status is fresh[found.id, found.subject].status


@pytest.mark.parametrize("value", ["3.99 m/min", "1 m/min"])
def test_values_are_those_of_the_change_and_what_waits_for_its_spread_is_pending(value: str) -> None:
    quick, told = changed(("purpose.feed", value))
    assert [(f.id, f.subject, f.verdict) for f in told.findings] == [(f.id, f.subject, f.verdict) for f in quick.findings]
    assert set(told.pending) >= set(quick.pending) | {f.id for f in BEFORE.findings if f.probability is not None}
    assert not told.settled

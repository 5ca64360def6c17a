"""A first look against the whole study of the same machine."""

from pathlib import Path
from typing import Any

import pytest

from gantrywright.disciplines.structure.analyse import tip_at
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import again, resolve
from gantrywright.study.analyses import stands_the_same
from gantrywright.study.checking import all_checks
from gantrywright.study.glance import LATER, glance
from gantrywright.study.promises import promises
from gantrywright.study.study import run, settle, simulated

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"
EDITS = {
    "another screw": (("axis.x.drive.main.part", "ball-screw-1610"),),
    "a thicker plate": (("carriage.size", "230 x 330 x 25 mm"),),
    "less travel": (("axis.z.travel", "120 mm"), ("purpose.work_area", "1250 x 1250 x 100 mm")),
}
DOCUMENT = read_document(DEMO / "as-built.toml")
SIMULATED = {check.id for check in all_checks() if check.simulated}
BEFORE = settle(run(resolve(DOCUMENT)), again(DOCUMENT), count=64)


DEEP = ("runs", "removal rate")
"""Promises that rest on the depths that chatter allows and on advised settings."""


def near(value: object, rel: float = 1e-9) -> Any:
    """The same number but for rounding; what is no number is itself."""
    return value if value is None else pytest.approx(value, rel=rel)


@pytest.mark.parametrize("name", EDITS)
def test_tells_what_the_whole_study_tells(name: str) -> None:
    machine = resolve(revise(DOCUMENT, EDITS[name]))
    quick, whole = glance(machine, BEFORE), run(machine)
    for ours, theirs in zip(promises(quick), promises(whole), strict=True):
        assert (ours.subject, ours.what) == (theirs.subject, theirs.what)
        assert ours.wanted == near(theirs.wanted)
        if ours.what in DEEP:
            continue
        # the softest place may wander a little on the grid of the whole study
        assert ours.value == near(theirs.value, 1e-9 if ours.what != "stiffness at the tool" else 0.02)
        assert (ours.word, ours.pending) == (theirs.word, theirs.pending)
    at_once = {(f.id, f.subject): f for f in whole.findings if not f.id.startswith(LATER)}
    fresh = {(f.id, f.subject): f for f in quick.findings if f.id not in quick.pending}
    assert list(fresh) == list(at_once)
    for key, found in fresh.items():
        assert (key, found.status) == (key, at_once[key].status)
        assert (key, found.verdict.value) == (key, near(at_once[key].verdict.value))


@pytest.mark.parametrize("name", EDITS)
def test_of_a_job_only_chatter_and_advice_are_those_of_before(name: str) -> None:
    machine = resolve(revise(DOCUMENT, EDITS[name]))
    quick, whole = glance(machine, BEFORE), run(machine)
    for job, ours in quick.results.jobs.jobs.items():
        before, theirs = BEFORE.results.jobs.jobs[job], whole.results.jobs.jobs[job]
        assert theirs.pending
        assert (ours.advice, ours.no_advice) == (before.advice, before.no_advice)
        assert ours.removal == near(theirs.removal)
        fresh = {limit.id: limit for limit in ours.limits if limit.id != "chatter"}
        assert fresh.keys() == {limit.id for limit in theirs.limits} - {"chatter"}
        for limit in theirs.limits:
            if limit.id != "chatter":
                assert (limit.id, fresh[limit.id].ceiling) == (limit.id, near(limit.ceiling))
                assert (limit.id, fresh[limit.id].used) == (limit.id, near(limit.used))
        chatter = {limit.id: limit for limit in ours.limits}["chatter"]
        assert chatter.ceiling == near({limit.id: limit for limit in before.limits}["chatter"].ceiling)
    assert {"CUT-601", "CUT-701"} <= set(quick.pending)


def test_what_takes_longer_is_held_over_and_said_to_be_pending() -> None:
    quick = glance(resolve(revise(DOCUMENT, EDITS["a thicker plate"])), BEFORE)
    assert not quick.settled
    held = {f.id for f in BEFORE.findings if f.id.startswith(LATER)} | SIMULATED
    assert set(quick.pending) == held
    before = {(f.id, f.subject): f for f in BEFORE.findings if f.id in held}
    assert {(f.id, f.subject): f for f in quick.findings if f.id in held} == before
    assert quick.bands == BEFORE.bands


def test_checks_that_need_the_simulation_say_so_themselves() -> None:
    typical = run(resolve(DOCUMENT))
    told = {f.id for f in simulated(typical).findings} - {f.id for f in typical.findings}
    assert told == SIMULATED


def test_a_change_of_stiffness_is_seen_at_once() -> None:
    quick = glance(resolve(revise(DOCUMENT, EDITS["a thicker plate"])), BEFORE)
    tip = {p.what: p.value for p in promises(quick)}["stiffness at the tool"]
    before = {p.what: p.value for p in promises(BEFORE)}["stiffness at the tool"]
    assert tip > 1.02 * before


WISHES = {
    "wanted acceleration": ("purpose.accel", "0.9 m/s2"), "wanted accuracy": ("purpose.accuracy", "0.1 mm"), "a feed": ("job.frames.feed", "2 m/min"),
    "a depth": ("job.fittings.depth", "1 mm"), "an outlet": ("site.outlet.wall.current", "20 A"),
}  # fmt: skip
BUILDING = {
    "a screw": ("axis.x.drive.main.part", "ball-screw-1610"), "a plate": ("carriage.size", "230 x 330 x 25 mm"), "a motor": ("axis.y.drive.left.motor.part", "stepper-23-112"),
    "the tool": ("tool.stick_out", "35 mm"), "a block": ("axis.x.blocks.preload", "heavy"), "the travel": ("axis.z.travel", "120 mm"),
}  # fmt: skip


@pytest.mark.parametrize("name", WISHES)
def test_what_is_wanted_does_not_change_the_structure(name: str) -> None:
    machine = resolve(revise(DOCUMENT, [WISHES[name]]))
    assert stands_the_same(machine, BEFORE.machine)
    worst = BEFORE.results.structure.worst
    assert worst is not None
    tip = tip_at(machine, worst.pose)
    assert tip is not None
    assert tip.least == worst.least


@pytest.mark.parametrize("name", BUILDING)
def test_what_is_built_does(name: str) -> None:
    assert not stands_the_same(resolve(revise(DOCUMENT, [BUILDING[name]])), BEFORE.machine)

"""A first look against the whole study of the same machine."""

from pathlib import Path

import pytest

from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import again, resolve
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


@pytest.mark.parametrize("name", EDITS)
def test_tells_what_the_whole_study_tells(name: str) -> None:
    machine = resolve(revise(DOCUMENT, EDITS[name]))
    quick, whole = glance(machine, BEFORE), run(machine)
    for ours, theirs in zip(promises(quick), promises(whole), strict=True):
        assert (ours.subject, ours.what) == (theirs.subject, theirs.what)
        # the softest place may wander a little on the grid of the whole study
        assert ours.value == pytest.approx(theirs.value, rel=1e-9 if ours.what != "stiffness at the tool" else 0.02)
    at_once = [f for f in whole.findings if not f.id.startswith(LATER)]
    fresh = [f for f in quick.findings if f.id not in quick.pending]
    assert [(f.id, f.subject, f.status, f.verdict.value) for f in fresh] == [
        (f.id, f.subject, f.status, f.verdict.value) for f in at_once
    ]


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

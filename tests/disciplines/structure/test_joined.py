"""Parts that nothing holds: on the way from the tool to the ground there is no answer, elsewhere they ride along."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from gantrywright.disciplines.structure.joined import Joined, adrift
from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.findings import Status
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.model.bodies import JointStiffness
from gantrywright.model.machine import Machine
from gantrywright.study.standing import no_answer
from gantrywright.study.study import Study, run
from gantrywright.theory.frames.skeleton import GROUND, Anchor, Tie

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo"
FLOATS = ("gantry.upright.top", "7 in")
"""The beam of the bench stands 2 in above its uprights."""
STOP = ("bed.member.stop", {"section": "flat-40x8", "from": "-100, 1100, 60 mm", "to": "100, 1100, 60 mm"})


def machine(*edits: tuple[str, Any]) -> Machine:
    return resolve(revise(read_document(DEMO / "bench.toml"), edits))


def placed(study: Study, subject: str) -> Status:
    return next(f.status for f in study.findings if f.id == "GEO-302" and f.subject == subject)


def tie(a: int, b: int) -> Tie:
    point = (0.0, 0.0, 0.0)
    return Tie(part="t", kind="joint", a=Anchor(a, point), b=Anchor(b, point), axes=(point,) * 3, stiffness=(1.0,) * 6)


def test_what_hangs_together_is_found_whatever_the_order() -> None:
    joined = Joined(6, (tie(0, 1), tie(3, 2), tie(GROUND, 1), tie(2, 4)))
    assert [joined.stands(bar) for bar in range(6)] == [True, True, False, False, False, False]
    assert joined.root(4) == joined.root(3) != joined.root(5)
    joined.join(4, 0)
    assert [joined.stands(bar) for bar in range(6)] == [True, True, True, True, True, False]


def test_a_beam_that_touches_nothing_has_no_answer() -> None:
    study = run(machine(FLOATS))
    found = study.results.structure
    assert found.worst is None
    assert dict(found.adrift) == {"gantry.beam": "carries rails"}
    assert no_answer(found) == ["no answer: gantry.beam, which carries rails, is joined to nothing"]
    assert placed(study, "gantry.beam") is Status.FAIL
    assert found.heat, "warmth is known without it"


def test_a_joint_by_name_holds_it_again() -> None:
    welded = tuple(
        (f"joint.{side}", {"between": ["gantry.beam", f"gantry.upright-{side}"], "kind": "welded"}) for side in ("left", "right")
    )
    study = run(machine(FLOATS, *welded))
    assert study.results.structure.worst is not None
    assert not study.results.structure.adrift


def test_a_joint_of_unknown_stiffness_is_no_missing_joint() -> None:
    whole = machine()
    named = ["gantry.beam + gantry.upright-left", "gantry.beam + gantry.upright-right"]
    joints = tuple(replace(joint, stiffness=JointStiffness()) if joint.path in named else joint for joint in whole.joints)
    built = skeleton_of(replace(whole, joints=joints))
    assert built.skeleton is None
    assert not built.adrift
    assert built.lacking == tuple(f"{path}.stiffness" for path in named)


def test_a_plate_that_nothing_holds_is_named_with_what_it_carries() -> None:
    """The table of the bench without its blocks and its screw."""
    whole = machine()
    built = skeleton_of(whole)
    assert built.skeleton is not None
    bars, ties = list(built.skeleton.bars), [each for each in built.skeleton.ties if each.axis != "y"]
    joined = Joined(len(bars), ties)
    loose = adrift(whole, bars, joined, (built.skeleton.tip.bar, *built.skeleton.rest.bars))
    assert loose.parts == {"table.plate": "is bolted to blocks"}
    assert loose.lacking == ("a joint that holds table.plate, which is bolted to blocks",)


def test_a_part_beside_the_way_rides_along() -> None:
    study = run(machine(STOP))
    built = skeleton_of(study.machine)
    assert built.skeleton is not None
    (rides,) = (each for each in built.skeleton.ties if each.part.startswith("bed.stop"))
    assert (rides.part, rides.kind) == ("bed.stop + bed.slab", "joint")
    assert "carries nothing" in study.results.structure.notes["bed.stop"]
    assert study.results.structure.worst is not None
    assert placed(study, "bed.stop") is Status.WATCH
    without = run(machine()).results.structure.worst
    assert without is not None
    assert study.results.structure.worst.least == pytest.approx(without.least, rel=1e-6), "it stiffens nothing"

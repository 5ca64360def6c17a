"""Bolted joints and feet of whole machines against plain statics."""

from pathlib import Path

import numpy as np
import pytest

from gantrywright.base.units import GRAVITY
from gantrywright.disciplines.structure import bolted as room
from gantrywright.disciplines.structure.loads import LoadCases, load_cases
from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.disciplines.structure.statics import solved
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.model.machine import Machine
from gantrywright.study.study import Study, run
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.skeleton import Skeleton

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo"


def machine_of(name: str, *edits: tuple[str, str]) -> Machine:
    return again(read_document(DEMO / f"{name}.toml"))({}, edits)


def study_of(name: str, *edits: tuple[str, str]) -> Study:
    return run(machine_of(name, *edits))


@pytest.fixture(scope="module")
def parts() -> tuple[Machine, Skeleton, LoadCases]:
    machine = machine_of("as-built")
    skeleton = skeleton_of(machine).skeleton
    assert skeleton is not None
    return machine, skeleton, load_cases(skeleton, solved(Mesher(skeleton), {}), machine.axes)


def weight_on(skeleton: Skeleton, bodies: set[str], bars: set[str]) -> float:
    """Of the bars of some bodies and of single bars, with what hangs on them."""
    held = {number for number, bar in enumerate(skeleton.bars) if bar.body in bodies or bar.part in bars}
    length = [np.linalg.norm(np.array(bar.stop) - np.array(bar.start)) for bar in skeleton.bars]
    mass = sum(float(skeleton.bars[k].mass_per_length) * length[k] for k in held)
    return float((mass + sum(float(lump.mass) for lump in skeleton.lumps if lump.at.bar in held)) * GRAVITY)


def test_two_ends_of_the_beam_carry_what_hangs_on_it(parts: tuple[Machine, Skeleton, LoadCases]) -> None:
    machine, skeleton, cases = parts
    ends = [joint for joint in machine.joints if "gantry.beam" in (joint.a, joint.b)]
    whole = np.zeros(3)
    for joint in ends:
        ties = [number for number, tie in enumerate(skeleton.ties) if tie.part == joint.path]
        # outer force on the upright, to which the normal points: what stands below holds it up against the beam
        whole += room._wrench(skeleton, cases, ties, joint.points[0])[:3, cases.weight]
    assert whole[2] == pytest.approx(weight_on(skeleton, {"carriage", "head"}, {"gantry.beam"}), rel=1e-6)
    assert np.abs(whole[:2]).max() < 1e-6 * abs(whole[2])


def test_the_feet_carry_the_machine(parts: tuple[Machine, Skeleton, LoadCases]) -> None:
    machine, skeleton, cases = parts
    feet = [number for number, tie in enumerate(skeleton.ties) if tie.kind == "foot"]
    pressed = -cases.tie_forces[feet, 2, cases.weight]
    own = sum(float(s.mass) for s in machine.solids if s.mass is not None) * GRAVITY
    assert pressed.sum() == pytest.approx(own, rel=1e-6)
    assert np.all(pressed > 0)


def test_a_sideways_push_on_tool_and_work_leaves_the_floor_alone(parts: tuple[Machine, Skeleton, LoadCases]) -> None:
    _, skeleton, cases = parts
    feet = [number for number, tie in enumerate(skeleton.ties) if tie.kind == "foot"]
    assert np.abs(cases.tie_forces[feet, :3, :3].sum(axis=0)).max() < 1e-7


@pytest.mark.parametrize(("small", "large"), [("8 x M5", "8 x M8"), ("4 x M8", "8 x M8")])
def test_more_and_larger_bolts_are_used_less(small: str, large: str) -> None:
    less, more = (
        {b.joint: float(b.slip or 0) for b in study_of("as-built", ("gantry.joint.bolts", text)).results.structure.bolted}
        for text in (large, small)
    )
    assert less
    assert all(0 < less[joint] < more[joint] for joint in less)


def test_an_upright_push_splits_as_the_lever_rule_says() -> None:
    # at the middle of the travel both ends of a symmetric gantry slip alike
    found = study_of("as-built").results.structure.bolted
    first, second = (float(b.slip or 0) for b in found)
    assert first == pytest.approx(second, rel=0.1)

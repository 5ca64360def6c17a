"""The skeleton of whole machines: every part that carries is there once, with its own stiffness and its own mass."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from gantrywright.disciplines.structure.skeleton import Built, skeleton_of
from gantrywright.disciplines.structure.statics import solved, tip_answer
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.model.machine import Machine
from gantrywright.results.structure import Tip
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.skeleton import GROUND, Bar, Skeleton
from gantrywright.theory.frames.solver import Unheld

ROOT = Path(__file__).parents[3]
DEMO = ROOT / "src" / "gantrywright" / "data" / "demo"
MACHINES = ROOT / "tests" / "machines"
FILES = {
    "first-idea": DEMO / "first-idea.toml", "as-built": DEMO / "as-built.toml", "bench": DEMO / "bench.toml",
    "salvaged": MACHINES / "salvaged.toml", "fixed_gantry": MACHINES / "fixed_gantry.toml", "long_bed": MACHINES / "long_bed.toml",
}  # fmt: skip


def machine_of(name: str, *edits: tuple[str, str]) -> Machine:
    return again(read_document(FILES[name]))({}, edits)


def skeleton(machine: Machine) -> Skeleton:
    built = skeleton_of(machine)
    assert built.skeleton is not None, built.lacking
    return built.skeleton


def tip(held: Skeleton) -> Tip:
    pose = {motion.axis: motion.travel / 3 for motion in held.motions}
    here = solved(Mesher(held), pose)
    return tip_answer(held, pose, here, here.under(here.mesh.load))


def long(bar: Bar) -> float:
    return float(np.linalg.norm(np.subtract(bar.stop, bar.start)))


@pytest.fixture(scope="module", params=FILES)
def pair(request: pytest.FixtureRequest) -> tuple[Machine, Skeleton]:
    machine = machine_of(request.param)
    return machine, skeleton(machine)


def test_every_kilogram_is_there_once(pair: tuple[Machine, Skeleton]) -> None:
    machine, held = pair
    assert all(solid.mass is not None for solid in machine.solids)
    weighed = sum(float(solid.mass or 0) for solid in machine.solids)
    carried = sum(float(bar.mass_per_length) * long(bar) for bar in held.bars) + sum(float(lump.mass) for lump in held.lumps)
    assert carried == pytest.approx(weighed, rel=1e-9)


def test_members_are_bars_with_their_sections(pair: tuple[Machine, Skeleton]) -> None:
    machine, held = pair
    bars = {bar.part: bar for bar in held.bars}
    assert all([bar.part for bar in held.bars].count(part.path) == 1 for part in (*machine.members, *machine.plates))
    for member in machine.members:
        bar, section, material = bars[member.path], member.section, member.material
        assert (bar.start, bar.stop, bar.height_axis) == (member.start, member.stop, member.height_axis)
        if member.filling is None:
            assert bar.bend_height == pytest.approx(material.modulus * section.second_moment_height)
            assert bar.bend_width == pytest.approx(material.modulus * section.second_moment_width)
            assert bar.torsion == pytest.approx(material.shear_modulus * section.torsion)
            assert bar.axial == pytest.approx(material.modulus * section.area)


def test_plates_are_strips(pair: tuple[Machine, Skeleton]) -> None:
    machine, held = pair
    bars = {bar.part: bar for bar in held.bars}
    for plate in machine.plates:
        bar = bars[plate.path]
        assert bar.height_axis == plate.normal
        lengthwise = abs(np.dot(plate.strip or plate.first, plate.first)) > 0.5
        length, width, thickness = plate.size if lengthwise else (plate.size[1], plate.size[0], plate.size[2])
        assert long(bar) == pytest.approx(length)
        if not plate.openings and not plate.rigid:
            assert bar.bend_height == pytest.approx(plate.material.modulus * width * thickness**3 / 12)
            assert bar.bend_width == pytest.approx(plate.material.modulus * thickness * width**3 / 12)


def test_blocks_run_freely_and_drives_hold_that_way_alone(pair: tuple[Machine, Skeleton]) -> None:
    machine, held = pair
    ties = {tie.part: tie for tie in held.ties}
    for axis in machine.axes:
        for block in axis.blocks:
            tie = ties[block.path]
            assert tie.kind == "block"
            assert tie.stiffness[2] == 0.0
            assert abs(np.dot(tie.axes[2], axis.direction)) == pytest.approx(1)
            assert all(float(k) > 0 for number, k in enumerate(tie.stiffness) if number != 2)
        for fit in axis.drives:
            tie = ties[fit.path]
            assert tie.along is not None
            assert float(tie.along(axis.travel / 2)) > 0
            assert abs(np.dot(tie.axes[0], axis.direction)) == pytest.approx(1)


def test_it_stands_on_the_floor(pair: tuple[Machine, Skeleton]) -> None:
    machine, held = pair
    feet = [tie for tie in held.ties if tie.kind == "foot"]
    assert {tie.part for tie in feet} >= {foot.path for foot in machine.feet}
    assert len(feet) >= 3
    assert {tie.a.bar for tie in held.ties if GROUND in (tie.a.bar, tie.b.bar)} == {GROUND}


@pytest.mark.parametrize("axis", ["x", "y", "z"])
def test_an_axis_without_its_drive_moves_freely(axis: str) -> None:
    held = skeleton(machine_of("as-built"))
    loose = replace(held, ties=tuple(tie for tie in held.ties if not (tie.kind == "drive" and tie.axis == axis)))
    with pytest.raises(Unheld) as told:
        tip(loose)
    shifts = np.abs(told.value.motion.reshape(-1, 6)[:, :3]).max(axis=0)
    assert "xyz"[int(np.argmax(shifts))] == axis


def test_what_no_joint_holds_is_told() -> None:
    before = machine_of("as-built")
    left = replace(before, joints=tuple(joint for joint in before.joints if "bed.cross-2" not in (joint.a, joint.b)))
    assert "bed.cross-2" not in skeleton_of(before).notes
    built = skeleton_of(left)
    assert "carries nothing" in built.notes["bed.cross-2"]


@pytest.mark.parametrize("lost", ["modulus", "shear_modulus"])
def test_an_unknown_modulus_is_named(lost: str) -> None:
    before = machine_of("as-built")
    members = tuple(
        replace(member, material=replace(member.material, **{lost: None})) if member.path == "gantry.beam" else member
        for member in before.members
    )
    built: Built = skeleton_of(replace(before, members=members))
    assert built.skeleton is None
    assert built.lacking == (f"gantry.beam.material.{lost}",)


@pytest.mark.parametrize("name", FILES)
def test_a_share_is_how_the_give_falls_with_a_stiffer_tie(name: str) -> None:
    """d ln C/d ln k = -share, by central differences on the whole machine; a stiffer tie never softens any direction."""
    held, step = skeleton(machine_of(name)), 1e-3
    whole = tip(held)
    shares = {share.part: share for share in whole.shares}
    numbers = [n for n, tie in enumerate(held.ties) if tie.along is None]
    parts = sorted({held.ties[n].part for n in numbers}, key=lambda part: -float(shares[part].weakest))[:4]
    for part in parts:
        gives = []
        for factor in (1 + step, 1 - step):
            ties = tuple(
                replace(tie, stiffness=tuple(k * factor for k in tie.stiffness)) if tie.part == part else tie for tie in held.ties
            )
            gives.append(tip(replace(held, ties=ties)).give[:3, :3])
        slope = np.log(np.diagonal(gives[0]) / np.diagonal(gives[1])) / np.log((1 + step) / (1 - step))
        np.testing.assert_allclose(-slope, shares[part].along, rtol=1e-4, atol=1e-7)
        assert np.all(np.linalg.eigvalsh(gives[1] - gives[0]) > -1e-9 * np.trace(gives[0]))


def test_the_local_give_of_the_table_is_in_the_answer() -> None:
    held = skeleton(machine_of("salvaged"))
    more, without = 2e-9, replace(held, rest=replace(held.rest, give=lambda _: (0.0,) * 6))
    given = replace(held, rest=replace(held.rest, give=lambda _: (0.0, 0.0, more, 0.0, 0.0, 0.0)))
    assert tip(given).give[2, 2] - tip(without).give[2, 2] == pytest.approx(more, rel=1e-6)
    assert tip(given).give[0, 0] == pytest.approx(tip(without).give[0, 0], rel=1e-9)

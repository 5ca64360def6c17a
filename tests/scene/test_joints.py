"""Marks of joints: where parts meet, with their screws, picked by the joint and carried by its part."""

from pathlib import Path

import numpy as np
import pytest

import gantrywright.data
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import resolve
from gantrywright.model.machine import Machine
from gantrywright.pictures.tints import tints
from gantrywright.scene import Piece, Scene, scene_of
from gantrywright.scene.joints import thread_diameter
from gantrywright.scene.whole import box_of
from gantrywright.study.study import run

DEMO = Path(gantrywright.data.__file__).parent / "demo"


def machine(name: str) -> Machine:
    return resolve(read_document(DEMO / f"{name}.toml"))


def marks(scene: Scene, joint: str) -> list[Piece]:
    return [piece for piece in scene.pieces if piece.part == joint]


@pytest.mark.parametrize("name", ["as-built", "bench", "first-idea"])
def test_every_joint_has_a_mark_at_its_points_that_touches_both_parts(name: str) -> None:
    drawn = machine(name)
    scene = scene_of(drawn)
    assert drawn.joints
    for joint in drawn.joints:
        found = marks(scene, joint.path)
        assert found, joint.path
        assert {piece.kind for piece in found} == {"joint"}
        boxes = [box_of(piece) for piece in found]
        least, most = np.min([b[0] for b in boxes], axis=0), np.max([b[1] for b in boxes], axis=0)
        for point in joint.points:
            assert (np.array(point) > least - 1e-3).all()
            assert (np.array(point) < most + 1e-3).all()


def test_a_weld_stands_out_all_round_the_faces_that_meet() -> None:
    drawn = machine("as-built")
    joint = next(joint for joint in drawn.joints if joint.path == "bed.cross-1 + bed.left-side")
    (mark,) = marks(scene_of(drawn), joint.path)
    assert mark.what == "welded joint"
    assert mark.size[1:] == pytest.approx((0.09, 0.09))
    assert mark.mass is None
    assert ("Kind", "welded") in mark.detail


def test_bolts_go_through_the_thinner_part_and_their_heads_stick_out() -> None:
    drawn = machine("as-built")
    joint = next(joint for joint in drawn.joints if joint.path == "gantry.beam + gantry.upright-right")
    bolts = [piece for piece in marks(scene_of(drawn), joint.path) if piece.shape == "cylinder"]
    assert len(bolts) == joint.bolts == 8
    for bolt in bolts:
        assert bolt.size == pytest.approx((0.02 + 0.7 * 0.008, 1.6 * 0.008, 1.6 * 0.008))
        assert box_of(bolt)[1][0] == pytest.approx(1.455 + 0.7 * 0.008, abs=1e-4)  # the outer face of the upright and a head


def test_a_joint_is_coloured_by_the_share_of_the_give_that_it_holds() -> None:
    study = run(machine("as-built"))
    rows = {row["id"]: row for row in tints(study, "give")["pieces"]}
    scene = scene_of(study.machine)
    tip = study.results.structure.worst
    assert tip is not None
    held = {share.part: 100 * float(share.weakest) for share in tip.shares if " + " in share.part}
    assert held
    softest = max(held, key=held.__getitem__)
    pieces = marks(scene, softest)
    assert pieces
    total = sum(100 * float(share.weakest) for share in tip.shares if share.part == softest)
    for piece in pieces:
        assert rows[piece.id]["value"] == pytest.approx(total)


def test_threads_are_drawn_as_wide_as_they_are() -> None:
    assert thread_diameter("M10") == pytest.approx(0.01)
    assert thread_diameter("3/8-16") == pytest.approx(0.009525)
    assert thread_diameter("#10-24") == pytest.approx(0.004826)

"""Names of modes on machines whose softest part is known, so that the lowest mode can only be one."""

from dataclasses import replace

import numpy as np
import pytest

from bar_machine import bar_machine
from gantrywright.theory.frames.assembly import rigid_motions as unit_motions
from gantrywright.theory.frames.assembly import stiffness, stretches
from gantrywright.theory.frames.character import Character, characters, node_masses, rigid_motion, rigid_motions
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.modes import modes, strain_shares
from gantrywright.theory.frames.regions import regions, strained
from gantrywright.theory.frames.skeleton import Skeleton
from small_gantry import small_gantry


def named(skeleton: Skeleton, count: int = 6) -> tuple[Character, ...]:
    mesh = Mesher(skeleton).at({}, longest=0.2)
    frame = mesh.frame
    rows, mass = stretches(frame), mass_matrix(frame)
    found = modes(stiffness(rows, frame.coefficients), mass, count)
    where = regions(skeleton)
    by = strained(skeleton, where, mesh.element_bar)
    shares = strain_shares(stretches=rows @ found.shapes, coefficients=frame.coefficients)
    motions = rigid_motions(where, mesh.node_bar, frame.nodes, node_masses(mass), found.shapes)
    return characters(where, by, by.gathered(shares), motions)


@pytest.mark.parametrize(
    ("soft", "name"),
    [
        ({"upright_x": 1e-2}, "frame sway along X"),
        ({"upright_y": 1e-2}, "gantry nod along Y"),
        ({"beam_torsion": 2e-3}, "beam torsion"),
        ({"beam_up": 3e-2}, "beam bending up and down"),
        ({"beam_level": 3e-2}, "beam bending along Y"),
        ({"y_drive": 2e5}, "bouncing on the drive of y"),
        ({"x_drive": 2e5}, "bouncing on the drive of x"),
        ({"head_pitch": 1e4}, "head nod"),
        ({"collet": 50.0}, "cutter bending along X"),
        ({"fixed": True, "y_drive": 2e5}, "bouncing on the drive of y"),
        ({"fixed": True, "table": 3e-3}, "table bounce"),
        ({"fixed": True, "upright_x": 1e-2}, "frame sway along X"),
        ({"fixed": True, "beam_torsion": 2e-3}, "beam torsion"),
        ({"bed_up": 3e-3}, "bed bending"),
    ],
)
def test_the_softest_part_names_the_lowest_mode(soft: dict, name: str) -> None:
    lowest = named(bar_machine(**soft))[0]
    names = (
        (name, name.replace("along X", "along Y")) if name.startswith("cutter") else (name,)
    )  # a round cutter bends alike both ways
    assert lowest.name in names, lowest
    assert lowest.share > 0.5


def test_on_soft_feet_the_first_six_modes_are_those_of_the_feet() -> None:
    found = named(bar_machine(foot=1e5))
    assert all("the feet" in one.name and one.share + sum(s for _, s in one.also) > 0.9 for one in found)
    assert {"bouncing on the feet", "turning on the feet", "rocking on the feet along X", "rocking on the feet along Y"} == {
        one.name for one in found
    }


def test_two_soft_drives_bounce_together_and_rack_against_each_other() -> None:
    first, second = named(bar_machine(y_drive=2e5, block_yaw=0.0))[:2]
    assert {first.name, second.name} == {"bouncing on the drive of y", "gantry racking"}
    assert min(first.share, second.share) > 0.8


def test_every_share_of_strain_is_spoken_for() -> None:
    """Two parts alike soft: both are told, and no mode's shares pass 1."""
    for one in named(bar_machine(upright_x=1e-2, foot=3e6)):
        assert one.share + sum(share for _, share in one.also) <= 1 + 1e-9
        assert one.share >= max((share for _, share in one.also), default=0.0)
    mixed = named(bar_machine(upright_x=1e-2, foot=2e7))[0]
    assert mixed.words == " with ".join((mixed.name, *[name for name, _ in mixed.also[:1]]))


def test_regions_of_both_layouts() -> None:
    moving, still = bar_machine(), bar_machine(fixed=True)
    assert regions(moving).bars == ("bed",) * 4 + ("frame",) * 2 + ("beam", "head", "spindle", "cutter")
    assert regions(still).bars == ("bed",) * 4 + ("frame",) * 2 + ("beam", "head", "spindle", "cutter", "table")
    assert regions(moving).beam_axes == {"y"}
    assert regions(still).beam_axes == frozenset()
    assert regions(moving).ties[-4:] == ("drive y", "head", "drive x", "cutter")
    assert regions(moving).across == 0


def test_the_fit_of_a_rigid_motion_is_that_motion() -> None:
    frame = small_gantry()
    shapes = unit_motions(frame) @ np.array([[1.0, 0.2], [0.0, -0.3], [0.5, 0.1], [0.0, 2.0], [0.0, 1.0], [0.7, -4.0]])
    weights = np.linspace(1.0, 3.0, len(frame.nodes))
    fitted = rigid_motion(frame.nodes, weights, shapes.reshape(len(frame.nodes), 6, 2))
    assert pytest.approx(np.array([[0, 0, 0.7], [2.0, 1.0, -4.0]])) == fitted.turn.T
    centre = weights @ frame.nodes / weights.sum()
    assert fitted.shift[:, 1] == pytest.approx(np.array([0.2, -0.3, 0.1]) + np.cross([2.0, 1.0, -4.0], centre))
    assert fitted.rigid == pytest.approx([1.0, 1.0])
    assert fitted.parts(0).sum(axis=0) == pytest.approx([1.0, 1.0])
    still = fitted.against(fitted)
    assert still.shift == pytest.approx(np.zeros((3, 2)))
    assert still.turn == pytest.approx(np.zeros((3, 2)))


def test_a_bending_group_is_not_rigid() -> None:
    """A row of nodes that bends to and fro keeps its centre and its slope."""
    nodes = np.array([[0.0, 0, 0], [1.0, 0, 0], [2.0, 0, 0]])
    shape = np.zeros((3, 6, 1))
    shape[:, 2, 0] = (1.0, -2.0, 1.0)
    fitted = rigid_motion(nodes, np.ones(3), shape)
    assert fitted.rigid == pytest.approx([0.0], abs=1e-12)
    assert fitted.turn == pytest.approx(np.zeros((3, 1)))


def test_node_masses_are_the_whole_mass() -> None:
    frame = small_gantry(parts=2, lump=True)
    assert node_masses(mass_matrix(frame)).sum() == pytest.approx((frame.bars.mass * frame.bars.length).sum() + 8.0)


def renamed(skeleton: Skeleton, names: dict[str, str]) -> Skeleton:
    """The same machine with its bodies called otherwise."""
    return replace(
        skeleton,
        bars=tuple(replace(bar, body=names.get(bar.body, bar.body)) for bar in skeleton.bars),
        motions=tuple(replace(m, shift={names.get(body, body): way for body, way in m.shift.items()}) for m in skeleton.motions),
        rest=replace(skeleton.rest, body=names.get(skeleton.rest.body, skeleton.rest.body)),
    )


def test_modes_are_told_in_the_builder_s_names_of_the_bodies() -> None:
    names = {"bed": "base", "gantry": "bridge"}
    assert named(renamed(bar_machine(bed_up=3e-3), names))[0].name == "base bending"
    assert named(renamed(bar_machine(upright_y=1e-2), names))[0].name == "bridge nod along Y"


def test_one_body_that_is_bed_and_frame_in_one_leaves_the_words_of_the_trade() -> None:
    names = {"bed": "weldment", "gantry": "weldment"}
    assert named(renamed(bar_machine(fixed=True, bed_up=3e-3), names))[0].name == "bed bending"

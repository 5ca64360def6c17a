"""Laws of elasticity that every machine must obey, whatever its parts: held on the whole machines of the demos and of the tests."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.disciplines.structure.statics import give_of, solved, tip_answer
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.theory.frames import mesh
from gantrywright.theory.frames.assembly import stiffness
from gantrywright.theory.frames.frame import load_at
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.modes import modes
from gantrywright.theory.frames.skeleton import Anchor, Bar, Lump, Motion, Point, Skeleton, Tie
from gantrywright.theory.frames.stiffness_map import stiffness_map

ROOT = Path(__file__).parents[2]
FILES = {
    **{name: ROOT / "src" / "gantrywright" / "data" / "demo" / f"{name}.toml" for name in ("first-idea", "as-built", "bench")},
    **{name: ROOT / "tests" / "machines" / f"{name}.toml" for name in ("fixed_gantry", "long_bed", "salvaged")},
}
AS_BUILT_ALIKE = (
    ("axis.x.drive.main.turns", "nut"),
    ("axis.x.drive.main.ends", "clamped-clamped"),
    ("axis.x.drive.main.shift", "0 mm"),
    ("gantry.plate.upright-left.openings", '[{ size = "66 x 66 mm", at = "-21, 210 mm" }]'),
)
"""Edits that leave nothing of the machine on one side alone.

A still screw does not wind up from its motor's end, and lies in the middle; the left upright is cut out as the right one is for the motor.
"""
BENDS = ("axial", "torsion", "bend_height", "bend_width", "shear_height", "shear_width")
machines = pytest.mark.parametrize("name", FILES)
names = st.sampled_from(sorted(FILES))
spots = st.floats(0.0, 1.0)
times = st.floats(1.1, 30.0)
several = settings(max_examples=25, deadline=None)


@cache
def skeleton(name: str, *edits: tuple[str, str]) -> Skeleton:
    held = skeleton_of(again(read_document(FILES[name]))({}, edits)).skeleton
    assert held is not None
    return held


def at(one: Skeleton, spot: float) -> dict[str, float]:
    return {motion.axis: spot * motion.travel for motion in one.motions}


def give(one: Skeleton, pose: dict[str, float]) -> np.ndarray:
    here = solved(Mesher(one), pose)
    return np.asarray(give_of(here, here.under(here.mesh.load)))


def unlike(found: np.ndarray, wanted: np.ndarray) -> float:
    """Largest difference of two gives, each entry against the gives of its own two loads."""
    size = np.sqrt(np.diagonal(wanted, axis1=-2, axis2=-1))
    return float(np.abs((found - wanted) / (size[..., :, None] * size[..., None, :])).max())


def frequencies(one: Skeleton, pose: dict[str, float]) -> np.ndarray:
    here = solved(Mesher(one), pose)
    return modes(stiffness(here.rows, here.coefficients), mass_matrix(here.mesh.frame), 8).frequencies


def stiffer(one: Tie, by: float) -> Tie:
    along: Callable[..., object] | None = one.along
    return replace(
        one, stiffness=tuple(k * by for k in one.stiffness), along=None if along is None else lambda pose: by * along(pose)  # type: ignore[arg-type]
    )  # fmt: skip


def stiffened(whole: Skeleton, number: int, by: float) -> Skeleton:
    """The machine with one of its bars or ties so many times stiffer."""
    bars, ties = list(whole.bars), list(whole.ties)
    number %= len(bars) + len(ties)
    if number < len(bars):
        bars[number] = replace(bars[number], **{name: getattr(bars[number], name) * by for name in BENDS})
    else:
        ties[number - len(bars)] = stiffer(ties[number - len(bars)], by)
    return replace(whole, bars=tuple(bars), ties=tuple(ties))


def test_a_machine_alike_on_both_sides_gives_alike_on_both_sides() -> None:
    """Left and right of the middle the give is the same with X turned round, whatever Y and Z; as drawn, the screw has a motor's end."""
    alike, drawn = skeleton("as-built", *AS_BUILT_ALIKE), skeleton("as-built")
    turn = np.diag([-1.0, 1.0, 1.0])
    lopsided = []
    for one in (alike, drawn):
        places = {motion.axis: np.array([0.1, 0.8]) * motion.travel for motion in one.motions}
        places["x"] = np.array([0.03, 0.31, 0.5, 0.69, 0.97]) * next(m.travel for m in one.motions if m.axis == "x")
        found = stiffness_map(one, places)
        across = np.moveaxis(found.give, found.axes.index("x"), 0)
        lopsided.append(unlike(turn @ across[::-1] @ turn, across))
        assert (np.abs(across[0, ..., 0, 1]) / across[0, ..., 0, 0]).max() > 1e-3  # what changes its sign is not nil at the sides
    assert lopsided[0] < 1e-9
    assert lopsided[1] > 1e-2


@machines
def test_a_load_here_moves_there_as_a_load_there_moves_here(name: str) -> None:
    """Between tool and work all six ways, and between the tool and any other node, each load solved by itself (Maxwell, Betti)."""
    one = skeleton(name)
    here = solved(Mesher(one), at(one, 0.37))
    whole = here.under(here.mesh.load)
    found = give_of(here, whole)
    assert unlike(found, found.T) < 1e-9
    assert np.linalg.eigvalsh(found[:3, :3]).min() > 0
    for node in range(0, len(here.mesh.frame.nodes), 17):
        load = load_at(here.mesh.frame, node, np.zeros(3))
        there, back = load.T @ whole.whole(), (here.mesh.load.T @ here.under(load).whole()).T
        scale = np.sqrt(np.abs(np.outer(np.diagonal(load.T @ here.under(load).whole()), np.diagonal(found))))
        assert np.abs((there - back) / scale).max() < 1e-8


@several
@given(names, spots, st.integers(0, 10**6), times)
def test_no_part_that_is_made_stiffer_softens_the_tool(name: str, spot: float, number: int, by: float) -> None:
    """In no direction, shifts and turns mixed at will: the difference of both gives has no negative eigenvalue."""
    one = skeleton(name)
    before, after = (give(each, at(one, spot)) for each in (one, stiffened(one, number, by)))
    size = np.sqrt(np.diagonal(before))
    assert np.linalg.eigvalsh((before - after) / np.outer(size, size)).min() > -1e-9


@several
@given(names, spots, st.integers(0, 10**6), times)
def test_no_part_that_is_made_stiffer_rings_lower_and_no_mass_rings_higher(name: str, spot: float, number: int, by: float) -> None:
    one, pose = skeleton(name), at(skeleton(name), spot)
    plain = frequencies(one, pose)
    assert np.all(frequencies(stiffened(one, number, by), pose) > plain * (1 - 1e-7))
    lumps = list(one.lumps)
    lumps[number % len(lumps)] = replace(lumps[number % len(lumps)], mass=lumps[number % len(lumps)].mass * by)
    assert np.all(frequencies(replace(one, lumps=tuple(lumps)), pose) < plain * (1 + 1e-7))


@several
@given(names, spots, st.integers(0, 10**6))
def test_the_share_of_a_part_is_what_a_little_more_of_it_wins(name: str, spot: float, number: int) -> None:
    """d ln C / d ln k = -share, for any part of any machine: both sides of the part made a little stiffer and softer."""
    one, pose = skeleton(name), at(skeleton(name), spot)
    here = solved(Mesher(one), pose)
    tip = tip_answer(one, pose, here, here.under(here.mesh.load))
    parts = sorted({part.part for part in (*one.bars, *one.ties)})
    part, small = parts[number % len(parts)], 1e-3
    slopes = []
    for by in (1 + small, 1 / (1 + small)):
        bars = tuple(replace(b, **{way: getattr(b, way) * by for way in BENDS}) if b.part == part else b for b in one.bars)
        ties = tuple(stiffer(tie, by) if tie.part == part else tie for tie in one.ties)
        slopes.append(np.log(np.diagonal(give(replace(one, bars=bars, ties=ties), pose))[:3]))
    wins = -(slopes[0] - slopes[1]) / (2 * np.log(1 + small))
    # a drive is told link by link
    links = {path for tie in one.ties if tie.part == part and tie.links is not None for path in tie.links(pose[tie.axis])}
    held = [share.along for share in tip.shares if (share.part in links if links else share.part == part)]
    assert wins == pytest.approx(np.sum(held, axis=0), abs=1e-6)


def turned_round(one: Tie) -> Tie:
    """The same spring told from its other side."""
    return replace(one, a=one.b, b=one.a, slides={"a": "b", "b": "a", "": ""}[one.slides])


@machines
def test_it_does_not_matter_which_side_of_a_joint_is_named_first(name: str) -> None:
    one = skeleton(name)
    other = replace(one, ties=tuple(turned_round(tie) for tie in one.ties))
    grid = {motion.axis: np.array([0.2, 0.9]) * motion.travel for motion in one.motions}
    assert unlike(stiffness_map(other, grid).give, stiffness_map(one, grid).give) < 1e-9
    assert unlike(give(other, at(one, 0.4)), give(one, at(one, 0.4))) < 1e-9


def riding(whole: Skeleton, axis: str, place: float) -> Skeleton:
    """The machine with the blocks of an axis on the other side: at one place they stand where they stood, elsewhere they do not."""
    motion: Motion = next(m for m in whole.motions if m.axis == axis)

    def other(tie: Tie) -> Tie:
        if tie.kind != "block" or tie.axis != axis:
            return tie
        moves = [np.array(motion.shift.get(whole.bars[side.bar].body, (0.0, 0.0, 0.0))) for side in (tie.a, tie.b)]
        way = moves[1] - moves[0] if tie.slides == "a" else moves[0] - moves[1]
        points: list[Point] = [tuple(np.array(side.point) + (place - motion.drawn) * way) for side in (tie.a, tie.b)]  # type: ignore[misc]
        return replace(
            tie, slides="b" if tie.slides == "a" else "a", a=Anchor(tie.a.bar, points[0]), b=Anchor(tie.b.bar, points[1])
        )

    return replace(whole, ties=tuple(other(tie) for tie in whole.ties))


@pytest.mark.parametrize("name", ["as-built", "bench", "fixed_gantry"])
@pytest.mark.parametrize("axis", ["x", "y", "z"])
def test_rails_that_ride_give_as_rails_that_stand_where_the_blocks_are_at_the_same_place(name: str, axis: str) -> None:
    """At that one pose both machines are one; half a travel further the blocks of the other one stand elsewhere."""
    one = skeleton(name)
    pose = at(one, 0.4)
    other = riding(one, axis, pose[axis])
    assert unlike(give(other, pose), give(one, pose)) < 1e-9
    further = pose | {axis: 2.25 * pose[axis]}
    assert unlike(give(other, further), give(one, further)) > 1e-4


@pytest.mark.parametrize("name", ["as-built", "bench", "fixed_gantry"])
@pytest.mark.parametrize("axis", ["x", "y", "z"])
def test_the_map_of_riding_rails_meets_that_of_standing_ones(name: str, axis: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same over the whole travel of the axis, by condensation; rails of x ride across the plate that those of z stand along."""
    monkeypatch.setattr(mesh, "TOGETHER", 1e-6)
    one = skeleton(name)
    place = 0.4 * next(motion.travel for motion in one.motions if motion.axis == axis)
    grid = {motion.axis: np.array([0.3, 0.4, 0.8]) * motion.travel for motion in one.motions}
    maps = [stiffness_map(each, grid) for each in (one, riding(one, axis, place))]
    standing, ride = (np.moveaxis(found.give, found.axes.index(axis), 0) for found in maps)
    assert unlike(ride[1], standing[1]) < 1e-9
    assert unlike(ride[2], standing[2]) > 1e-4


RIDE = {
    "x": (("axis.x.rail.each.on", "carriage.plate"), ("axis.x.rail.each.face", "back"), ("axis.x.rail.each.length", "300 mm"),
          ("axis.x.blocks.on", "gantry.beam"), ("axis.x.blocks.face", "front")),
    "z": (("axis.z.rail.each.on", "head.plate"), ("axis.z.rail.each.face", "back"), ("axis.z.rail.each.length", "240 mm"),
          ("axis.z.blocks.on", "carriage.plate"), ("axis.z.blocks.face", "front")),
}  # fmt: skip


@pytest.mark.parametrize("axis", RIDE)
def test_a_machine_file_whose_rails_ride_gives_the_same_by_both_routes(axis: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Written in the file: which side the rails are on; every pose of the map is that of the whole frame meshed anew."""
    monkeypatch.setattr(mesh, "TOGETHER", 1e-6)
    one = skeleton("as-built", *RIDE[axis])
    assert {tie.slides for tie in one.ties if tie.kind == "block" and tie.axis == axis} == {"a"}
    riders = {one.bars[tie.a.bar].body for tie in one.ties if tie.kind == "block" and tie.axis == axis}
    assert riders <= set(next(motion.shift for motion in one.motions if motion.axis == axis))
    grid = {motion.axis: np.array([0.2, 0.7]) * motion.travel for motion in one.motions}
    found = stiffness_map(one, grid)
    for corner in np.ndindex(2, 2, 2):
        pose = {name: float(grid[name][k]) for name, k in zip(found.axes, corner, strict=True)}
        assert unlike(found.give[corner], give(one, pose)[:3, :3]) < 1e-8


def larger(one: Skeleton, by: float) -> Skeleton:
    """The same machine of the same stuff with every length so many times as long."""

    def place(point: Point) -> Point:
        return (point[0] * by, point[1] * by, point[2] * by)

    def bar(old: Bar) -> Bar:
        return replace(
            old, start=place(old.start), stop=place(old.stop), shear_centre=(old.shear_centre[0] * by, old.shear_centre[1] * by),
            **{way: getattr(old, way) * by**2 for way in ("axial", "shear_height", "shear_width", "mass_per_length")},
            **{way: getattr(old, way) * by**4 for way in ("torsion", "bend_height", "bend_width", "rotary_height", "rotary_width")},
        )  # fmt: skip

    def tie(old: Tie) -> Tie:
        along = old.along
        return replace(
            old, a=Anchor(old.a.bar, place(old.a.point)), b=Anchor(old.b.bar, place(old.b.point)), links=None,
            stiffness=tuple(k * by ** (1 if n < 3 else 3) for n, k in enumerate(old.stiffness)),
            along=None if along is None else lambda pose: by * along(np.asarray(pose) / by),
        )  # fmt: skip

    def lump(old: Lump) -> Lump:
        inertia = tuple(tuple(value * by**5 for value in row) for row in old.inertia)
        return replace(old, at=Anchor(old.at.bar, place(old.at.point)), mass=old.mass * by**3, inertia=inertia)

    give_of_rest = one.rest.give
    rest = replace(
        one.rest, give=lambda point: tuple(v / by ** (1 if n < 3 else 3) for n, v in enumerate(give_of_rest(place_back(point))))
    )

    def place_back(point: Point) -> Point:
        return (point[0] / by, point[1] / by, point[2] / by)

    return replace(
        one, bars=tuple(map(bar, one.bars)), ties=tuple(map(tie, one.ties)), lumps=tuple(map(lump, one.lumps)),
        tip=Anchor(one.tip.bar, place(one.tip.point)), rest=rest,
        motions=tuple(replace(m, travel=m.travel * by, drawn=m.drawn * by) for m in one.motions),
    )  # fmt: skip


@machines
def test_a_machine_twice_as_large_is_twice_as_stiff_and_rings_half_as_fast(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of the same stuff: shifts under a force go with 1/size, turns under a moment with 1/size cubed, frequencies with 1/size."""
    monkeypatch.setattr(mesh, "TOGETHER", 1e-6)  # else stations share a node by a length that does not grow
    one = skeleton(name)
    double = larger(one, 2.0)
    ways = np.repeat([1.0, 2.0], 3)
    small, large = give(one, at(one, 0.6)), give(double, at(double, 0.6))
    assert unlike(large * 2 * np.outer(ways, ways), small) < 1e-6
    assert frequencies(double, at(double, 0.6)) * 2 == pytest.approx(frequencies(one, at(one, 0.6)), rel=1e-6)

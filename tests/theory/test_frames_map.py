"""The map over all poses: against each pose meshed anew and solved whole, against handbook beams, and by laws that any machine obeys."""

from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gantrywright.theory.frames import mesh
from gantrywright.theory.frames.assembly import stretches
from gantrywright.theory.frames.groups import LooseGroup, rigid_groups
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.skeleton import Anchor, Motion, Rest, Skeleton
from gantrywright.theory.frames.solver import prepare
from gantrywright.theory.frames.stiffness_map import StiffnessMap, poses_grid, stiffness_map
from invented_skeletons import E, G, Maker, X, Y, Z, moving_gantry, moving_table, riding_rails

MACHINES = {"moving gantry": moving_gantry, "moving table": moving_table, "riding rails": riding_rails}
machines = pytest.mark.parametrize("make", MACHINES.values(), ids=MACHINES)


def whole_give(skeleton: Skeleton, pose: dict[str, float]) -> np.ndarray:
    """Give at one pose of the whole frame, with a node at every contact."""
    meshed = Mesher(skeleton).at(pose)
    coefficients = meshed.frame.coefficients
    motions = prepare(stretches(meshed.frame), coefficients != 0).solve(coefficients, meshed.load)
    return meshed.load.T @ motions + np.diag(meshed.give)


def unlike(found: np.ndarray, wanted: np.ndarray) -> float:
    """Largest difference of two gives, each entry against the gives of its own two loads."""
    size = np.sqrt(np.diagonal(wanted, axis1=-2, axis2=-1))
    return float(np.abs((found - wanted) / (size[..., :, None] * size[..., None, :])).max())


def all_unlike(skeleton: Skeleton, grid: dict[str, np.ndarray]) -> float:
    found = stiffness_map(skeleton, grid, turns=True)
    worst = 0.0
    for at in product(*(range(len(places)) for places in found.places)):
        pose = {axis: float(places[k]) for axis, places, k in zip(found.axes, found.places, at, strict=True)}
        worst = max(worst, unlike(found.give[at], whole_give(skeleton, pose)))
    return worst


@machines
@pytest.mark.parametrize("seed", [1, 2])
def test_every_pose_is_that_of_the_whole_frame_meshed_anew(make, seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(mesh, "TOGETHER", 1e-6)  # else the whole frame holds a contact near a station at the station
    dice, skeleton = np.random.default_rng(seed), make()
    grid = {motion.axis: np.sort(dice.uniform(0, motion.travel, 3)) for motion in skeleton.motions}
    assert all_unlike(skeleton, grid) < 1e-10


@machines
def test_ends_of_travel_and_contacts_past_the_end_of_their_bar(make, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(mesh, "TOGETHER", 1e-6)
    skeleton = make()
    grid = {motion.axis: np.array([-0.137, motion.travel + 0.141]) for motion in skeleton.motions}
    grid["z"] = np.array([0.0, skeleton.motions[-1].travel])
    assert all_unlike(skeleton, grid) < 1e-10


def test_a_work_bar_on_which_contacts_slide_gives_between_them(monkeypatch: pytest.MonkeyPatch) -> None:
    """The planks of the table are slid along and loaded inside one element: the cross give counts, and is not small."""
    monkeypatch.setattr(mesh, "TOGETHER", 1e-6)
    skeleton = moving_table()
    grid = {"y": np.array([0.11, 0.16]), "x": np.array([0.2, 0.43]), "z": np.array([0.05])}
    assert all_unlike(skeleton, grid) < 1e-10
    monkeypatch.setattr("gantrywright.theory.frames.places.Places.crossed", lambda *_: None)
    assert all_unlike(skeleton, grid) > 1e-4


@machines
def test_bars_that_twist_about_another_line_than_they_bend_about(make, monkeypatch: pytest.MonkeyPatch) -> None:
    """Contacts slide inside them, and the work lies on some: each pose is still that of the whole frame, and it is another one."""
    monkeypatch.setattr(mesh, "TOGETHER", 1e-6)
    dice, straight = np.random.default_rng(5), make()
    beside = [tuple(row) for row in dice.uniform(-0.02, 0.02, (len(straight.bars), 2))]
    skeleton = replace(straight, bars=tuple(replace(b, shear_centre=off) for b, off in zip(straight.bars, beside, strict=True)))
    grid = {motion.axis: np.sort(dice.uniform(0, motion.travel, 2)) for motion in skeleton.motions}
    assert all_unlike(skeleton, grid) < 1e-10
    assert unlike(stiffness_map(skeleton, grid).give, stiffness_map(straight, grid).give) > 1e-3


def test_stations_that_share_a_node_cost_little() -> None:
    skeleton = moving_gantry()
    grid = {motion.axis: np.linspace(0, motion.travel, 3) for motion in skeleton.motions}
    assert 0 < all_unlike(skeleton, grid) < 2e-3


def test_the_give_of_sheets_is_added_where_the_tool_stands() -> None:
    def sheet(point):
        return (0.0, 1e-9, 1e-8 * (1 + point[0] + 10 * point[1]), 0.0, 0.0, 0.0)

    grid = poses_grid(moving_gantry(), (3, 2, 2))
    more = stiffness_map(moving_gantry(give=sheet), grid).give - stiffness_map(moving_gantry(), grid).give
    np.testing.assert_allclose(more[..., 1, 1], 1e-9, rtol=1e-6)
    wanted = 1e-8 * (1 + grid["x"][None, :, None] + 10 * (grid["y"][:, None, None] - 0.18))
    np.testing.assert_allclose(more[..., 2, 2], np.broadcast_to(wanted, more.shape[:3]), rtol=1e-6)


# ---- one carriage on one beam: handbook


def cantilever(*, long: float = 1.0, springs=(2e8, 1.6e8, 0.0, 1e5, 1e5, 1e5), second: bool = False) -> Skeleton:
    """A beam built in at x = 0, a stiff carriage that runs along it, held in X."""
    make = Maker()
    make.bar("beam", "bed", (0.0, 0.0, 0.0), (long, 0.0, 0.0), Z, 0.05, 0.08)
    make.tie("", "beam", (0.0, 0.0, 0.0), stiffness=(1e15,) * 6)
    names = ("x", "u") if second else ("x",)
    for name in names:
        make.bar(f"carriage {name}", name, (0.3, 0.0, 0.0), (0.3, 0.0, 0.1), Y, 0.5, 0.5, e=1e18, g=1e18)
        make.tie(
            "beam", f"carriage {name}", (0.3, 0.0, 0.0), stiffness=springs, axes=(Z, Y, (-1.0, 0.0, 0.0)), axis=name, slides="a"
        )
        make.tie("", f"carriage {name}", (0.3, 0.0, 0.0), stiffness=(3e7, 0, 0, 0, 0, 0), kind="drive", axis=name)
    motions = tuple(Motion(name, long, 0.3, {name: X}) for name in names)
    tip = Anchor(make.number[f"carriage {names[-1]}"], (0.3, 0.0, 0.0))
    return Skeleton(tuple(make.bars), tuple(make.ties), (), tip, Rest(()), motions)


def test_a_carriage_on_a_cantilever_gives_as_the_handbook_says() -> None:
    """Tip load of a cantilever as long as the carriage stands out: x^3/(3 E I) + x/(G A_s), the block's spring in series."""
    places = np.linspace(0.05, 1.0, 6)
    give = stiffness_map(cantilever(), {"x": places}).give
    upright = places**3 / (3 * E * 0.05 * 0.08**3 / 12) + places / (G * 0.05 * 0.08 * 5 / 6) + 1 / 2e8
    sideways = places**3 / (3 * E * 0.08 * 0.05**3 / 12) + places / (G * 0.05 * 0.08 * 0.7) + 1 / 1.6e8
    np.testing.assert_allclose(give[:, 2, 2], upright, rtol=1e-6)
    np.testing.assert_allclose(give[:, 1, 1], sideways, rtol=1e-6)
    np.testing.assert_allclose(give[:, 0, 0], 1 / 3e7, rtol=1e-6)


# ---- laws


def mirrored() -> Skeleton:
    """The moving gantry with its one-sided drive of x moved to the middle, so that left and right are alike."""
    skeleton = moving_gantry(drawn=0.4)
    ties = [
        replace(tie, a=Anchor(tie.a.bar, (0.4, *tie.b.point[1:])), along=lambda _: 3e7)
        if (tie.kind, tie.axis) == ("drive", "x")
        else tie
        for tie in skeleton.ties
    ]
    return replace(skeleton, ties=tuple(ties))


def test_a_symmetric_machine_has_a_symmetric_map() -> None:
    off = np.array([-0.33, -0.21, -0.07])
    grid = poses_grid(mirrored(), (3, 1, 2)) | {"x": np.concatenate((0.4 + off, 0.4 - off[::-1]))}
    give = stiffness_map(mirrored(), grid).give
    turn = np.diag([-1.0, 1.0, 1.0])
    assert unlike(turn @ give[:, ::-1] @ turn, give) < 1e-9
    assert np.abs(give[:, 0, :, 0, 1]).min() > 1e-10  # what mirrors is not nil


@settings(max_examples=12, deadline=None)
@given(st.floats(0.05, 40.0))
def test_all_stiffness_times_a_number_is_the_give_over_it(times: float) -> None:
    skeleton = moving_table()
    stiffer = replace(
        skeleton,
        bars=tuple(
            replace(
                b,
                **{
                    name: getattr(b, name) * times
                    for name in ("axial", "torsion", "bend_height", "bend_width", "shear_height", "shear_width")
                },
            )
            for b in skeleton.bars
        ),
        ties=tuple(
            replace(
                t,
                stiffness=tuple(value * times for value in t.stiffness),
                along=None if t.along is None else lambda q, own=t.along: own(q) * times,
            )
            for t in skeleton.ties
        ),
    )
    grid = poses_grid(skeleton, (2, 2, 2))
    assert unlike(stiffness_map(stiffer, grid).give * times, stiffness_map(skeleton, grid).give) < 1e-8


@machines
def test_give_is_symmetric_and_positive(make) -> None:
    give = stiffness_map(make(), poses_grid(make(), (4, 4, 2)), turns=True).give
    np.testing.assert_array_equal(give, np.swapaxes(give, -1, -2))
    assert np.linalg.eigvalsh(give).min() > 0
    np.testing.assert_allclose(give[..., :3, :3], stiffness_map(make(), poses_grid(make(), (4, 4, 2))).give, rtol=1e-8, atol=1e-15)


@settings(max_examples=12, deadline=None)
@given(st.integers(0, 2**31), st.floats(1.1, 20.0))
def test_a_stiffer_spring_never_lets_the_tool_give_more(seed: int, times: float) -> None:
    skeleton = riding_rails()
    number = int(np.random.default_rng(seed).integers(len(skeleton.ties)))
    tie = skeleton.ties[number]
    stiffer = replace(
        tie, stiffness=tuple(v * times for v in tie.stiffness), along=None if tie.along is None else lambda q: tie.along(q) * times
    )
    grid = poses_grid(skeleton, (2, 2, 2))
    before = stiffness_map(skeleton, grid).give
    after = stiffness_map(replace(skeleton, ties=(*skeleton.ties[:number], stiffer, *skeleton.ties[number + 1 :])), grid).give
    assert np.linalg.eigvalsh(before - after).min() > -1e-9 * np.abs(before).max()


# ---- what cannot be held


@pytest.mark.parametrize("axis", ["y", "x", "z"])
@machines
def test_an_axis_without_drive_is_named(make, axis: str) -> None:
    skeleton = make()
    free = replace(skeleton, ties=tuple(tie for tie in skeleton.ties if tie.kind != "drive" or tie.axis != axis))
    with pytest.raises(LooseGroup, match=rf"^{axis}: nothing resists") as raised:
        stiffness_map(free, {})
    assert raised.value.what == axis


def test_an_axis_without_contacts_is_named() -> None:
    skeleton = moving_gantry()
    with pytest.raises(LooseGroup, match=r"^x: "):
        stiffness_map(replace(skeleton, ties=tuple(tie for tie in skeleton.ties if tie.axis != "x")), {})


def test_one_block_less_does_not_free_an_axis_but_two_on_a_hinge_do() -> None:
    skeleton = moving_gantry()
    without_turns = [
        replace(tie, stiffness=(*tie.stiffness[:3], 0.0, 0.0, 0.0)) if (tie.axis, tie.kind) == ("z", "block") else tie
        for tie in skeleton.ties
    ]
    assert stiffness_map(replace(skeleton, ties=tuple(without_turns)), {}).give.shape == (1, 1, 1, 3, 3)
    blocks = [number for number, tie in enumerate(without_turns) if (tie.axis, tie.kind) == ("z", "block")]
    for number in blocks[2:]:
        without_turns[number] = replace(without_turns[number], stiffness=(0.0,) * 6)
    with pytest.raises(LooseGroup, match=r"^z: "):
        stiffness_map(replace(skeleton, ties=tuple(without_turns)), {})


def test_a_part_that_nothing_joins_is_named() -> None:
    make = Maker()
    make.bar("shelf", "bed", (0.0, 0.0, 0.0), (1.0, 0.0, 0.0), Z, 0.05, 0.05)
    skeleton = moving_gantry()
    with pytest.raises(LooseGroup, match=r"^shelf: "):
        stiffness_map(replace(skeleton, bars=(*skeleton.bars, *make.bars)), {})


def test_a_tool_that_its_bearings_let_turn_is_named() -> None:
    skeleton = moving_gantry()
    ties = tuple(replace(tie, stiffness=(*tie.stiffness[:5], 0.0)) if tie.kind == "bearing" else tie for tie in skeleton.ties)
    with pytest.raises(LooseGroup, match=r"^(tool|housing): "):
        stiffness_map(replace(skeleton, ties=ties), {})


def test_two_axes_that_slide_inside_one_element_are_refused() -> None:
    with pytest.raises(ValueError, match="axes x and u slide along the same piece of a bar"):
        stiffness_map(cantilever(second=True), {"x": np.array([0.4, 0.5]), "u": np.array([0.6, 0.7])})


def test_samples_are_refused() -> None:
    skeleton = moving_gantry()
    sampled = replace(skeleton, bars=(replace(skeleton.bars[0], axial=np.array([1e8, 2e8])), *skeleton.bars[1:]))
    with pytest.raises(ValueError, match="typical values"):
        stiffness_map(sampled, {})


# ---- the record


def test_groups_are_what_no_motion_parts() -> None:
    skeleton = moving_gantry()
    groups = rigid_groups(skeleton)
    bodies: dict[int, set[str]] = {}
    for group, bar in zip(groups, skeleton.bars, strict=True):
        bodies.setdefault(int(group), set()).add(bar.body)
    assert bodies[0] == {"bed"}
    assert sorted(map(sorted, bodies.values())) == [["bed"], ["gantry"], ["x"], ["z"]]


def test_poses_span_the_travel_evenly() -> None:
    grid = poses_grid(moving_gantry(), {"y": 5, "x": 2, "z": 1})
    np.testing.assert_allclose(grid["y"], [0, 0.1375, 0.275, 0.4125, 0.55])
    np.testing.assert_allclose(grid["x"], [0, 0.6])
    np.testing.assert_allclose(grid["z"], [0.06])
    np.testing.assert_array_equal(poses_grid(moving_gantry(), (5, 2, 1))["y"], grid["y"])


def test_a_mesher_serves_as_well_as_its_skeleton() -> None:
    grid = poses_grid(moving_gantry(), (2, 2, 1))
    np.testing.assert_array_equal(stiffness_map(Mesher(moving_gantry()), grid).give, stiffness_map(moving_gantry(), grid).give)


def test_an_axis_left_out_stands_as_drawn() -> None:
    skeleton = moving_gantry()
    found = stiffness_map(skeleton, {"x": np.array([0.1, 0.5])})
    drawn = stiffness_map(skeleton, {"x": np.array([0.1, 0.5]), "y": np.array([0.3]), "z": np.array([0.06])})
    assert found.give.shape == (1, 2, 1, 3, 3)
    np.testing.assert_array_equal(found.give, drawn.give)


def test_the_worst_pose_is_that_of_the_largest_give_in_any_direction() -> None:
    skeleton = moving_gantry()
    found = stiffness_map(skeleton, poses_grid(skeleton, (4, 4, 2)))
    worst = found.worst()
    way = np.array(worst.direction)
    assert np.linalg.norm(way) == pytest.approx(1)
    assert way @ found.at(worst.pose) @ way == pytest.approx(worst.give, rel=1e-12)
    dice = np.random.default_rng(0)
    for trial in dice.normal(size=(200, 3)):
        trial /= np.linalg.norm(trial)
        assert np.einsum("i,...ij,j->...", trial, found.give, trial).max() <= worst.give * (1 + 1e-12)


def test_between_poses_the_give_is_linear() -> None:
    values = np.arange(2 * 3 * 1)[:, None, None].astype(float) * np.eye(3)
    found = StiffnessMap(
        ("a", "b", "c"), (np.array([0.0, 1.0]), np.array([0.0, 2.0, 3.0]), np.array([0.5])), values.reshape(2, 3, 1, 3, 3)
    )
    assert found.at({"a": 1.0, "b": 2.0, "c": 9.0})[0, 0] == 4
    assert found.at({"a": 0.25, "b": 1.0, "c": 0.5})[1, 1] == pytest.approx(3 * 0.25 + 0.5)
    assert found.at({"a": 0.0, "b": 2.75, "c": 0.5})[2, 2] == pytest.approx(1.75)
    assert found.at({"a": 7.0, "b": -1.0, "c": 0.5})[0, 0] == pytest.approx(3)


def test_a_load_between_two_bars_comes_down_on_the_line_of_each() -> None:
    mesher = Mesher(moving_gantry())
    lines = np.array([0.05 + k * 0.8 / 3 for k in range(4)])
    tips = np.array([[0.3, lines[1] + 0.1, 0.2], [0.3, lines[0] - 0.04, 0.2], [0.3, lines[3] + 0.02, 0.2]])
    bars, part, points = mesher.rest_at(mesher.start, tips)
    rest = mesher.skeleton.rest.bars
    assert bars.tolist() == [list(rest[1:3]), list(rest[:2]), list(rest[2:])]
    np.testing.assert_allclose(part, [[1 - 0.1 / (0.8 / 3), 0.1 / (0.8 / 3)], [1, 0], [0, 1]], atol=1e-12)
    np.testing.assert_allclose(points[0, :, 1], lines[1:3])
    np.testing.assert_allclose((points[1, 0], points[2, 1]), tips[1:])
    np.testing.assert_allclose(points[..., ::2], np.broadcast_to([0.3, 0.2], (3, 2, 2)))

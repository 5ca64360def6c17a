"""Error of wall and floor: closed forms, laws, signs."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting import cycle, edges, engagement, wall
from gantrywright.theory.cutting.forces import Coefficients

A = Coefficients(796e6, 27.7e3, 169e6, 30.8e3, 222e6, 1.4e3)
GIVE = 1e-6 * np.array([[0.643, 0.02, 0.05], [0.02, 0.793, -0.08], [0.05, -0.08, 0.15]])
EVEN = 1e-6 * np.diag([0.6, 0.8, 0.1])
ways = st.sampled_from(["climb", "conventional"])


def cut(way: engagement.Way, *, helix: float = 30.0, width: float = 0.6e-3, depth: Any = 3e-3, **more: Any) -> dict[str, Any]:
    start, stop = engagement.engagement(diameter=6e-3, width=width, way=way)
    edge = edges.end_mill(depth=depth, diameter=6e-3, helix=np.radians(helix), start=start, stop=stop)
    made: dict[str, Any] = {
        "cut": A, "edge": edge, "flutes": 2, "feed_per_tooth": 5e-5, "run_out": 0.0, "run_out_angle": 0.0, "give": GIVE, "way": way,
    }  # fmt: skip
    return made | more


@pytest.mark.parametrize("way", ["climb", "conventional"])
@pytest.mark.parametrize("width", [0.3e-3, 2e-3, 6e-3])
def test_a_straight_flute_makes_the_wall_by_its_edge_alone(way: engagement.Way, width: float) -> None:
    """The chip is nothing at the wall, where the radial edge force pushes the cutter off it, in conventional milling too."""
    found = wall.wall_error(**cut(way, helix=0.0, width=width, flutes=1))
    side = {"conventional": -1.0, "climb": 1.0}[way]
    force = np.array([A.edge, A.radial_edge, -side * A.axial_edge]) * side * 3e-3
    expected = wall.overcut(way) * (GIVE @ force)[1]
    np.testing.assert_allclose(found.error, expected, rtol=2e-3)
    assert found.most < 0


@given(ways, st.floats(5.0, 45.0), st.floats(2e-4, 6e-3))
def test_a_helix_the_other_way_round_turns_the_wall_upside_down(way: engagement.Way, helix: float, width: float) -> None:
    up, down = (wall.wall_error(**cut(way, helix=sign * helix, width=width, give=EVEN)).error for sign in (1, -1))
    np.testing.assert_allclose(up, down[::-1], atol=1e-3 * np.abs(up).max())


def test_what_the_helix_leaves_of_a_tooth_is_nothing_at_one_end() -> None:
    """A tooth leaves a climb wall with its last point at the top; no other tooth cuts then."""
    climb = wall.wall_error(**cut("climb"))
    conventional = wall.wall_error(**cut("conventional"))
    np.testing.assert_allclose((climb.error[-1], conventional.error[0]), 0.0, atol=1e-9)
    assert climb.least == pytest.approx(climb.error[0])


@given(ways, st.floats(0.1, 10.0))
def test_error_goes_with_give_and_with_coefficients(way: engagement.Way, factor: float) -> None:
    base = wall.wall_error(**cut(way)).error
    np.testing.assert_allclose(wall.wall_error(**cut(way, give=factor * GIVE)).error, factor * base, rtol=1e-9, atol=1e-15)
    names = ("shear", "edge", "radial_shear", "radial_edge", "axial_shear", "axial_edge")
    more = replace(A, **{name: factor * getattr(A, name) for name in names})
    np.testing.assert_allclose(wall.wall_error(**cut(way, cut=more)).error, factor * base, rtol=1e-9, atol=1e-15)


@pytest.mark.parametrize("way", ["climb", "conventional"])
def test_no_engagement_leaves_no_error(way: engagement.Way) -> None:
    assert np.abs(wall.wall_error(**cut(way, width=1e-12)).error).max() < 1e-3 * np.abs(wall.wall_error(**cut(way)).error).max()


def test_most_least_mean_and_worst() -> None:
    found = wall.WallError(np.linspace(0, 1, 3), np.array([-2.0, 0.0, 1.0]))
    assert (found.most, found.least, found.worst, found.mean) == (1.0, -2.0, -2.0, pytest.approx(-0.25))


@given(st.floats(0.0, 3e-5))
def test_run_out_of_one_tooth_moves_the_wall(run_out: float) -> None:
    still = wall.wall_error(**cut("climb", flutes=1)).error
    out = wall.wall_error(**cut("climb", flutes=1, run_out=run_out)).error
    np.testing.assert_allclose(out, still + run_out, atol=1e-12)


def test_a_cutter_whose_one_tooth_does_all_is_a_one_tooth_cutter() -> None:
    two = wall.wall_error(**cut("climb", run_out=30e-6)).error
    one = wall.wall_error(**cut("climb", flutes=1, feed_per_tooth=100e-6)).error
    np.testing.assert_allclose(two, one + 30e-6, rtol=1e-6)


def test_gives_of_heights_count_at_their_height() -> None:
    know = cut("climb")
    give = know.pop("give")
    flat = wall.wall_error(**know, give=give).error
    slope = np.linspace(1.0, 0.2, wall.HEIGHTS)
    tall = wall.tall_wall_error(**know, gives=slope[:, None, None] * give).error
    np.testing.assert_allclose(tall, slope * flat, atol=1e-15)


def test_an_up_cut_helix_digs_by_the_axial_give() -> None:
    know = cut("climb", give=np.diag([0.0, 0.0, 2e-7]))
    way = know.pop("way")
    floor = wall.floor_error(**know)
    force = cycle.force_cycle(**{name: value for name, value in know.items() if name != "give"})
    assert floor.deepest == pytest.approx(2e-7 * force.peak.axial, rel=2e-2)
    assert floor.mean == pytest.approx(2e-7 * force.mean.axial, rel=1e-2)
    assert floor.shallowest == pytest.approx(0.0, abs=1e-9)
    assert way == "climb"


def test_samples_are_answered_one_by_one() -> None:
    shear, depth, run_out = np.array([500e6, 796e6]), np.array([2e-3, 3e-3]), np.array([0.0, 4e-6])
    gives = np.stack((GIVE, 1.5 * GIVE))
    many = wall.wall_error(**cut("conventional", depth=depth, run_out=run_out, give=gives, cut=replace(A, shear=shear)))
    floor_of = {k: v for k, v in cut("conventional", depth=depth, give=gives).items() if k != "way"}
    floors = wall.floor_error(**floor_of)
    for i in range(2):
        know = cut("conventional", depth=depth[i], run_out=run_out[i], give=gives[i], cut=replace(A, shear=shear[i]))
        np.testing.assert_allclose(many.error[i], wall.wall_error(**know).error, rtol=1e-9, atol=1e-15)
        one = wall.floor_error(**{k: v for k, v in cut("conventional", depth=depth[i], give=gives[i]).items() if k != "way"})
        assert np.asarray(floors.deepest)[i] == pytest.approx(one.deepest)


@pytest.mark.parametrize("way", ["climb", "conventional"])
def test_which_tooth_is_longest_changes_nothing(way: engagement.Way) -> None:
    """A cutter of three teeth turned by one of them is the same cutter."""
    first = wall.wall_error(**cut(way, flutes=3, run_out=8e-6, run_out_angle=0.3))
    for tooth in (1, 2):
        turned = wall.wall_error(**cut(way, flutes=3, run_out=8e-6, run_out_angle=0.3 - tooth * 2 * np.pi / 3))
        np.testing.assert_allclose(turned.error, first.error, rtol=1e-6, atol=1e-12)

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting.grip import held_share, least_share, rectangle, rectangle_share, slip_limit, worst_rectangle_share

PART = st.floats(-0.5, 0.5)
TURN = st.floats(0.0, 2 * np.pi)
LONG = st.floats(0.02, 1.0)


def test_shares_of_a_rectangle_are_its_area_and_moments() -> None:
    points, shares = rectangle(length=0.3, width=0.1)
    assert shares.sum() == pytest.approx(1.0, rel=1e-12)
    assert shares @ points[:, 0] ** 2 == pytest.approx(0.3**2 / 12, rel=1e-12)
    assert shares @ points[:, 1] ** 2 == pytest.approx(0.1**2 / 12, rel=1e-12)


@given(length=LONG, width=LONG, turn=TURN)
def test_push_through_the_middle_meets_all_friction(length: float, width: float, turn: float) -> None:
    share = rectangle_share(length=length, width=width, at=(0.0, 0.0), along=(np.cos(turn), np.sin(turn)))
    assert share == pytest.approx(1.0, rel=1e-9)


@given(x=PART, turn=TURN, far=st.floats(-5.0, 5.0))
def test_where_along_its_own_line_a_push_acts_does_not_matter(x: float, turn: float, far: float) -> None:
    """Within what the rounds leave open."""
    along = np.array([np.cos(turn), np.sin(turn)])
    there = np.array([0.2 * x, 0.03])
    one, other = (
        rectangle_share(length=0.2, width=0.1, at=tuple(at), along=tuple(along)) for at in (there, there + far * 0.1 * along)
    )
    assert one == pytest.approx(other, rel=2e-3)


@given(x=PART, y=PART, turn=TURN, size=st.floats(0.1, 10.0))
def test_share_is_the_same_mirrored_reversed_and_at_every_size(x: float, y: float, turn: float, size: float) -> None:
    def share(length: float, width: float, at: tuple[float, float], along: tuple[float, float]) -> float:
        return float(rectangle_share(length=length, width=width, at=at, along=along))

    at, along = (0.2 * x, 0.1 * y), (np.cos(turn), np.sin(turn))
    here = share(0.2, 0.1, at, along)
    assert share(0.2, 0.1, at, (-along[0], -along[1])) == pytest.approx(here, rel=1e-6)
    assert share(0.2, 0.1, (-at[0], at[1]), (-along[0], along[1])) == pytest.approx(here, rel=1e-6)
    assert share(0.2 * size, 0.1 * size, (at[0] * size, at[1] * size), along) == pytest.approx(here, rel=1e-6)


@given(x=st.floats(0.0, 0.5), y=st.floats(0.0, 0.5), turn=TURN)
def test_no_place_is_worse_than_the_worst(x: float, y: float, turn: float) -> None:
    share = rectangle_share(length=0.2, width=0.1, at=(0.2 * x, 0.1 * y), along=(np.cos(turn), np.sin(turn)))
    assert share >= worst_rectangle_share(length=0.2, width=0.1) * (1 - 3e-3)


def test_end_of_a_thin_strip_holds_the_root_of_two_less_one() -> None:
    """A rod on a rough table pushed across its end: exact."""
    assert rectangle_share(length=1.0, width=1e-4, at=(0.5, 0.0), along=(0.0, 1.0)) == pytest.approx(np.sqrt(2) - 1, rel=8e-3)


def test_two_clamps_hold_half_when_pushed_at_one() -> None:
    """The other is the centre of turning: only the pushed clamp slides."""
    points = np.array([[-0.1, 0.0], [0.1, 0.0]])
    share = held_share(points=points, shares=np.array([0.5, 0.5]), at=points[1], along=np.array([0.0, 1.0]))
    assert share == pytest.approx(0.5, rel=1e-2)


def test_single_clamp_holds_nothing_beside_itself() -> None:
    one = {"points": np.zeros((1, 2)), "shares": np.ones(1), "along": np.array([0.0, 1.0])}
    assert held_share(at=np.array([0.05, 0.0]), **one) == 0.0
    assert held_share(at=np.array([0.0, 0.05]), **one) == pytest.approx(1.0)


def test_many_pushes_at_once_are_each_alone() -> None:
    points, shares = rectangle(length=0.2, width=0.1)
    at = np.array([[[0.1, 0.05], [0.0, 0.05]], [[0.02, 0.0], [0.1, 0.0]]])
    along = np.array([[[0.0, 1.0], [1.0, 0.0]], [[0.6, 0.8], [0.6, 0.8]]])
    together = np.asarray(held_share(points=points, shares=shares, at=at, along=along))
    assert together.shape == (2, 2)
    for row, column in np.ndindex(2, 2):
        alone = held_share(points=points, shares=shares, at=at[row, column], along=along[row, column])
        assert together[row, column] == pytest.approx(alone, rel=1e-9)


def test_clamps_round_the_part_hold_better_than_its_face() -> None:
    corners = np.array([[0.1, 0.05], [-0.1, 0.05], [-0.1, -0.05], [0.1, -0.05]])
    clamps = least_share(points=corners, shares=np.full(4, 0.25), corners=corners)
    assert clamps > 1.1 * worst_rectangle_share(length=0.2, width=0.1)


def test_ways_of_holding_add_and_are_sampled() -> None:
    friction = np.array([0.1, 0.2])
    got = slip_limit(friction_forces=(friction * 1000.0, 50.0), shares=(0.5, 0.4), safety=2.0)
    np.testing.assert_allclose(got, [35.0, 60.0])

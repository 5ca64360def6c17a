"""Give and modes moved from the drawn tool to another."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting import cutter_give as cg
from gantrywright.theory.cutting import other_tool as ot

SHORT: dict[str, Any] = {
    "shank_length": 0.009, "shank_diameter": 0.006, "flute_length": 0.021, "flute_diameter": 0.0048, "elastic_modulus": 600e9,
    "shear_modulus": 245e9,
}  # fmt: skip
LONG = SHORT | {"shank_length": 0.018, "flute_length": 0.032}
ways = st.tuples(*[st.floats(-0.1, 0.1)] * 3)


def some_give() -> np.ndarray:
    """Symmetric and positive, shifts in m/N and turns in rad/(N m)."""
    loose = np.random.default_rng(5).normal(size=(6, 9)) * np.array([[1.0]] * 3 + [[10.0]] * 3)
    return 1e-8 * (loose @ loose.T)


@given(ways)
def test_give_at_another_point_is_what_forces_and_moments_there_do(by: tuple[float, float, float]) -> None:
    give, way = some_give(), np.array(by)
    moved = ot.moved_give(give=give, by=way)
    load = np.array([3.0, -2.0, 5.0, 0.1, 0.2, -0.3])
    carried = np.concatenate((load[:3], load[3:] + np.cross(way, load[:3])))
    motion = give @ carried
    expected = np.concatenate((motion[:3] + np.cross(motion[3:], way), motion[3:]))
    np.testing.assert_allclose(moved @ load, expected, atol=1e-9 * np.abs(expected).max())
    np.testing.assert_allclose(ot.moved_give(give=moved, by=-way), give, atol=1e-9 * np.abs(give).max())


def test_a_cutter_is_two_cutters_end_to_end() -> None:
    """The fluted part alone, and the shank alone carried to the tip, are the whole."""
    flutes = cg.tip_matrix(**SHORT | {"shank_length": 0.0})
    shank = cg.tip_matrix(**SHORT | {"flute_length": 0.0, "shank_length": 0.009})
    moved = ot.moved_give(give=shank, by=np.array([0.0, 0.0, -0.021]))
    np.testing.assert_allclose(moved + flutes, cg.tip_matrix(**SHORT), rtol=1e-9, atol=1e-15)


def test_there_and_back_changes_nothing_and_a_longer_tool_gives_more() -> None:
    give = some_give()
    short, long = cg.tip_matrix(**SHORT), cg.tip_matrix(**LONG)
    out = ot.give_with_other(give=give + short, drawn=short, other=long, stick_out=0.03, other_stick_out=0.05)
    back = ot.give_with_other(give=out, drawn=long, other=short, stick_out=0.05, other_stick_out=0.03)
    np.testing.assert_allclose(back, give + short, rtol=1e-9, atol=1e-15)
    np.testing.assert_allclose(out, ot.moved_give(give=give, by=np.array([0.0, 0.0, -0.02])) + long, rtol=1e-9, atol=1e-15)


def test_give_at_heights_is_that_of_the_tip_where_both_are_at_the_tip() -> None:
    rest, tool = some_give(), cg.tip_matrix(**SHORT)
    heights = np.linspace(0.0, 0.012, 5)
    at_tip = ot.give_at_heights(rest=rest, axial=tool[2, 2], force_at=0.0, heights=heights, **SHORT)
    np.testing.assert_allclose(at_tip[0], (rest + tool)[:3, :3])
    up = ot.give_at_heights(rest=rest, axial=tool[2, 2], force_at=0.012, heights=heights, **SHORT)
    np.testing.assert_allclose(up[0], at_tip[-1].T)
    many = ot.give_at_heights(
        rest=np.stack((rest, 2 * rest)), axial=np.full(2, tool[2, 2]), force_at=np.array([0.0, 0.012]), heights=heights, **SHORT
    )
    assert many.shape == (2, 5, 3, 3)
    np.testing.assert_allclose(many[0], at_tip)


def test_feed_axes() -> None:
    give = some_give()[:3, :3]
    along_y = ot.give_in_feed_axes(give=give, direction=np.pi / 2)
    assert along_y[0, 0] == pytest.approx(give[1, 1])
    assert along_y[0, 1] == pytest.approx(-give[0, 1])  # the left of a feed along Y is -X
    several = ot.give_in_feed_axes(give=give, direction=np.array([0.0, np.pi / 2]))
    np.testing.assert_allclose(several, [give, along_y], atol=1e-22)

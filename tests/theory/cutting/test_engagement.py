"""Engagement, arcs, chips and cusps against points on circles, and their laws."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting import engagement as eg

WAYS = st.sampled_from(["climb", "conventional"])


def counted_arc(wall_radius: float, diameter: float, width: float, inside: bool) -> float:
    """Arc over which points of the cutter's circle lie in the stock, by counting them; stock beyond the new wall and ahead only."""
    radius = diameter / 2
    centre = wall_radius - radius if inside else wall_radius + radius
    around = np.linspace(0, np.pi, 400_001)  # from the wall point, ahead of the cutter
    outward = 1.0 if inside else -1.0
    far = np.hypot(centre + outward * radius * np.cos(around), radius * np.sin(around))
    in_stock = far > wall_radius - width if inside else far < wall_radius + width
    return float(np.mean(in_stock) * np.pi)


@pytest.mark.parametrize(("wall", "width"), [(5e-3, 1e-3), (3.2e-3, 0.1e-3), (20e-3, 2e-3), (5e-3, 4e-3)])
def test_arcs_against_points_of_the_circle(wall: float, width: float) -> None:
    inside = eg.inside_arc(diameter=6e-3, width=width, wall_radius=wall)
    outside = eg.outside_arc(diameter=6e-3, width=width, wall_radius=wall)
    assert inside == pytest.approx(counted_arc(wall, 6e-3, width, inside=True), abs=2e-5)
    assert outside == pytest.approx(counted_arc(wall, 6e-3, width, inside=False), abs=2e-5)


@given(width=st.floats(1e-5, 5.9e-3), wall=st.floats(3.1e-3, 1.0))
def test_a_straight_wall_lies_between_inside_and_outside(width: float, wall: float) -> None:
    straight = eg.engagement(diameter=6e-3, width=width, way="conventional")[1]
    assert eg.outside_arc(diameter=6e-3, width=width, wall_radius=wall) <= straight + 1e-9
    assert eg.inside_arc(diameter=6e-3, width=min(width, wall), wall_radius=wall) >= straight - 1e-9
    assert eg.inside_arc(diameter=6e-3, width=width, wall_radius=1e4) == pytest.approx(straight, abs=1e-3)


def test_a_wall_as_round_as_the_cutter_is_half_a_turn() -> None:
    assert eg.inside_arc(diameter=6e-3, width=0.5e-3, wall_radius=3e-3) == pytest.approx(np.pi)


@given(width=st.floats(0, 6e-3))
def test_climb_mirrors_conventional(width: float) -> None:
    up, down = (eg.engagement(diameter=6e-3, width=width, way=way) for way in ("conventional", "climb"))
    assert np.pi - down[0] == pytest.approx(up[1], abs=1e-12)
    assert np.pi - down[1] == pytest.approx(up[0], abs=1e-12)


def test_nothing_is_engaged_at_no_width_and_half_a_turn_in_a_slot() -> None:
    assert eg.engagement(diameter=6e-3, width=0.0, way="climb") == (np.pi, np.pi)
    assert eg.engagement(diameter=6e-3, width=6e-3, way="climb") == pytest.approx((0.0, np.pi))


@given(width=st.floats(1e-5, 6e-3), way=WAYS)
def test_chips_are_those_of_the_sine(width: float, way: eg.Way) -> None:
    start, stop = eg.engagement(diameter=6e-3, width=width, way=way)
    around = np.linspace(start, stop, 20_001)
    chips = 50e-6 * np.sin(around)
    largest = eg.largest_chip(feed_per_tooth=50e-6, diameter=6e-3, width=width)
    assert largest == pytest.approx(chips.max(), rel=1e-6)
    mean = np.trapezoid(chips, around) / (stop - start)
    assert eg.mean_chip(feed_per_tooth=50e-6, diameter=6e-3, width=width) == pytest.approx(mean, rel=1e-6)
    assert largest * eg.thinning(diameter=6e-3, width=width) == pytest.approx(50e-6)


@pytest.mark.parametrize("spacing", [0.05e-3, 0.3e-3, 3e-3])
def test_cusp_against_two_circles(spacing: float) -> None:
    along = np.linspace(0, spacing, 100_001)
    valleys = [3e-3 - np.sqrt(9e-6 - (along - x) ** 2) for x in (0.0, spacing)]
    assert eg.cusp(diameter=6e-3, spacing=spacing) == pytest.approx(np.minimum(*valleys).max(), rel=1e-6)
    assert eg.cusp(diameter=6e-3, spacing=spacing) == pytest.approx(spacing**2 / (4 * 6e-3), rel=0.08)


def test_rubbing() -> None:
    least = eg.smallest_chip(edge_radius=10e-6, share=0.3)
    assert least == pytest.approx(3e-6)
    angle = eg.rubbing_angle(smallest_chip=least, feed_per_tooth=50e-6)
    assert 50e-6 * np.sin(angle) == pytest.approx(least)
    assert eg.rubbing_angle(smallest_chip=least, feed_per_tooth=2e-6) == pytest.approx(np.pi / 2)


def test_samples_are_answered_one_by_one() -> None:
    width, wall = np.array([0.2e-3, 1e-3, 4e-3]), np.array([3e-3, 5e-3, 50e-3])
    for function in (eg.inside_arc, eg.outside_arc):
        together = function(diameter=6e-3, width=width, wall_radius=wall)
        alone = [function(diameter=6e-3, width=w, wall_radius=r) for w, r in zip(width, wall, strict=True)]
        np.testing.assert_allclose(together, alone)
    np.testing.assert_allclose(eg.thinning(diameter=6e-3, width=width), [eg.thinning(diameter=6e-3, width=w) for w in width])

"""Chips against the true paths of the teeth: loops of a cutter that turns about another axis than its own and moves on as it turns."""

import numpy as np
import pytest

from gantrywright.theory.cutting.engagement import Way, cusp, engagement, mean_chip
from gantrywright.theory.cutting.run_out import largest_chips, signed_chips, wall_ridge

RADIUS = 3e-3
FEED = 50e-6


def true_chips(flutes: int, run_out: float, turned: float, angles: np.ndarray, feed: float = FEED) -> np.ndarray:
    """Of every tooth at angles of its own, from where the rays out of the spindle's axis cross all earlier paths; (teeth, angles).

    Time is counted in turns; the axis has moved `flutes * feed * time`. Tooth j points to 2 pi (time - j/flutes).
    """
    found = np.zeros((flutes, angles.size))
    radii = RADIUS + run_out * np.cos(turned + 2 * np.pi * np.arange(flutes) / flutes)
    for tooth in range(flutes):
        now = 8 + tooth / flutes + angles / (2 * np.pi)
        axis = flutes * feed * now
        deepest = np.full(angles.size, -np.inf)
        for earlier in range(1, 3 * flutes + 1):
            other = (tooth - earlier) % flutes
            time = now - earlier / flutes
            for _ in range(30):  # the earlier tooth passed this ray a little sooner or later than a whole pitch ago
                x = flutes * feed * time + radii[other] * np.sin(2 * np.pi * (time - other / flutes)) - axis
                y = radii[other] * np.cos(2 * np.pi * (time - other / flutes))
                off = np.mod(np.arctan2(x, y) - angles + np.pi, 2 * np.pi) - np.pi
                time = time - off / (2 * np.pi)
            deepest = np.maximum(deepest, np.hypot(x, y))
        found[tooth] = np.maximum(radii[tooth] - deepest, 0.0)
    return found


@pytest.mark.parametrize("flutes", [1, 2, 3, 4])
@pytest.mark.parametrize(("run_out", "turned"), [(0.0, 0.0), (5e-6, 0.0), (10e-6, 0.6), (30e-6, 0.0)])
def test_chips_of_a_turn(flutes: int, run_out: float, turned: float) -> None:
    angles = np.linspace(0.15, np.pi - 0.15, 200)
    told = np.maximum(signed_chips(flutes=flutes, feed_per_tooth=FEED, run_out=run_out, run_out_angle=turned, angles=angles), 0.0)
    second_order = (flutes * FEED) ** 2 / (2 * RADIUS)  # a ray meets the circle a turn ago that much further in, at the most
    np.testing.assert_allclose(told, true_chips(flutes, run_out, turned, angles), atol=1.1 * second_order)


@pytest.mark.parametrize(("run_out", "expected"), [(5e-6, (60, 40)), (10e-6, (70, 30)), (25e-6, (100, 0)), (60e-6, (100, 0))])
def test_thickest_chips_of_a_slot(run_out: float, expected: tuple[float, float]) -> None:
    """CU-08: one tooth does all the work once twice the eccentricity is the feed per tooth."""
    told = largest_chips(flutes=2, feed_per_tooth=FEED, run_out=run_out, run_out_angle=0.0, start=0.0, stop=np.pi)
    np.testing.assert_allclose(np.asarray(told) * 1e6, expected, atol=1e-6)
    true = true_chips(2, run_out, 0.0, np.linspace(0.5, np.pi - 0.5, 2001)).max(axis=1)
    np.testing.assert_allclose(true * 1e6, expected, atol=1.0)


@pytest.mark.parametrize(("width", "way", "close"), [(6e-3, "conventional", 1e-4), (3e-3, "climb", 1e-2), (0.3e-3, "climb", 1e-2)])
def test_mean_chip_of_true_loops(width: float, way: Way, close: float) -> None:
    """The circle in place of the loop hardly changes the mean chip. By area, as force goes, and no further in than the face of the stock."""
    start, stop = engagement(diameter=2 * RADIUS, width=width, way=way)
    edges = np.linspace(float(start), float(stop), 4001)
    middle = (edges[1:] + edges[:-1]) / 2
    chips = true_chips(1, 0.0, 0.0, middle)[0]
    if width <= RADIUS:
        chips = np.minimum(chips, RADIUS - (RADIUS - width) / np.abs(np.cos(middle)))
    by_area = chips - chips**2 / (2 * RADIUS)
    assert by_area.mean() == pytest.approx(mean_chip(feed_per_tooth=FEED, diameter=2 * RADIUS, width=width), rel=close)


@pytest.mark.parametrize("flutes", [1, 2, 3, 5])
@pytest.mark.parametrize(("run_out", "turned"), [(0.0, 0.0), (0.03e-6, 0.0), (0.2e-6, 0.9), (2e-6, 0.0), (20e-6, 2.0)])
def test_tooth_marks_on_the_wall(flutes: int, run_out: float, turned: float) -> None:
    """Ridges against circles laid along a wall, a turn apart for each tooth."""
    along = np.linspace(0, flutes * FEED, 20_001)
    radii = RADIUS + run_out * np.cos(turned + 2 * np.pi * np.arange(flutes) / flutes)
    marks = np.arange(-3 * flutes, 4 * flutes)
    wall = np.max([np.sqrt(radii[m % flutes] ** 2 - (along - m * FEED) ** 2) for m in marks], axis=0)
    told = wall_ridge(flutes=flutes, feed_per_tooth=FEED, diameter=2 * RADIUS, run_out=run_out, run_out_angle=turned)
    assert told == pytest.approx(np.ptp(wall), rel=1e-2)
    if run_out == 0:
        assert told == pytest.approx(cusp(diameter=2 * RADIUS, spacing=FEED), rel=1e-4)

"""The wall of a swinging cutter against time steps in which every slice of every tooth meets the surface that the last one left.

Shares nothing with the formula: modes are stepped exactly under a force that is held for a step; loss of contact, chips of any thickness and the
memory of the surface come by themselves; the wall is read off the surface where a tooth leaves it. The first teeth are held to the work, as the
deepest mark on the very wall, over which no feed goes, would be remembered for ever.
"""

import numpy as np
import pytest
from scipy.linalg import expm

from gantrywright.theory.cutting import edges, engagement, surface
from gantrywright.theory.cutting.forces import Coefficients
from gantrywright.theory.cutting.modes import FeedModes

CUT = Coefficients(750e6, 15e3, 225e6, 15e3)
D, FEED = 6e-3, 40e-6
STEPS = 800  # a tooth
TEETH, HELD = 120, 90


def modes(turn: float) -> FeedModes:
    squares = (2 * np.pi * np.array([620.0, 540.0])) ** 2
    return FeedModes(squares, np.diag(np.sqrt(squares / np.array([6e6, 5e6]))), np.array([0.03, 0.03]), np.zeros((2, 2))).turned(
        turn
    )


def wall_by_steps(
    found: FeedModes, flutes: int, depth: float, helix: float, arc: tuple[float, float], way: str, speed: float
) -> np.ndarray:
    """Error at the middle of each slice, lowest first."""
    slices = 1 if helix == 0 else 16
    count = STEPS * flutes
    step = 2 * np.pi / count
    late = np.rint(2 * np.tan(helix) / D * (np.arange(slices) + 0.5) * depth / slices / step).astype(int)
    own = np.sqrt(found.squares)
    size = len(own)
    free = np.block([[np.zeros((size, size)), np.eye(size)], [-np.diag(own**2), -np.diag(2 * found.damping * own)]])
    held = expm(np.block([[free, np.vstack((np.zeros((size, 2)), found.shapes.T))], [np.zeros((2, 2 * size + 2))]]) * step / speed)
    move, push = held[: 2 * size, : 2 * size], held[: 2 * size, 2 * size :]
    at = np.arange(count) * step
    sine, cosine = np.sin(at), np.cos(at)
    # a tooth is in the work while its angle is within the arc, its ends included
    within = (at >= arc[0] - 1e-9) & (at <= arc[1] + 1e-9)
    surface_left = np.zeros((slices, count))
    rows = np.arange(slices)
    state = np.zeros(2 * size)
    for now in range(STEPS * TEETH):
        place = found.shapes @ state[:size]
        force = np.zeros(2)
        for tooth in range(flutes):
            index = (now - tooth * STEPS - late) % count
            use = within[index]
            if not use.any():
                continue
            index, row = index[use], rows[use]
            out = place[0] * sine[index] + place[1] * cosine[index]
            chip = FEED * sine[index] + out - surface_left[row, index]
            cuts = (chip >= -1e-10) | (now < STEPS * HELD)
            surface_left[row, index] = np.where(cuts, out, surface_left[row, index] - FEED * sine[index])
            t = np.where(cuts, CUT.shear * chip + CUT.edge, 0.0) * depth / slices
            r = np.where(cuts, CUT.radial_shear * chip + CUT.radial_edge, 0.0) * depth / slices
            force += (-(t * cosine[index] + r * sine[index]).sum(), (t * sine[index] - r * cosine[index]).sum())
        state = move @ state + push @ force
    return surface_left[:, 0 if way == "conventional" else count // 2]


@pytest.mark.parametrize(
    ("way", "helix", "rpm", "turn"),
    [
        ("climb", 0.0, 12_000, 0.0), ("climb", 0.0, 16_200, 0.0), ("climb", 0.0, 24_000, 0.0), ("conventional", 0.0, 15_000, 0.5),
        ("climb", 30.0, 14_000, 0.5), ("conventional", 30.0, 18_000, 0.0), ("climb", -30.0, 20_000, 0.3),
    ],
)  # fmt: skip
def test_wall(way: engagement.Way, helix: float, rpm: float, turn: float) -> None:
    start, stop = engagement.engagement(diameter=D, width=0.6e-3, way=way)
    depth, found = 2e-3, modes(turn)
    edge = edges.end_mill(depth=depth, diameter=D, helix=np.radians(helix), start=start, stop=stop)
    formula = surface.surface_error(
        cut=CUT, edge=edge, flutes=2, feed_per_tooth=FEED, modes=found, speeds=np.array([rpm * np.pi / 30]), way=way
    )
    steps = wall_by_steps(found, 2, depth, np.radians(helix), (float(start), float(stop)), way, rpm * np.pi / 30)
    heights = (np.arange(len(steps)) + 0.5) * depth / len(steps)
    expected = np.interp(heights, formula.heights, formula.error[0])
    np.testing.assert_allclose(steps, expected, atol=max(0.15e-6, 0.02 * np.abs(expected).max()))

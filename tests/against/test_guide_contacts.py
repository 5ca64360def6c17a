"""Guide formulas against contacts worked out one by one: rows that only push, Hertz springs, least squares."""

import numpy as np
import pytest
from scipy.optimize import brentq, lsq_linear, minimize

from gantrywright.theory.guide_misalignment import corner_load
from gantrywright.theory.guides import equivalent_load, loaded_side

ROWS = np.array([[s, t] for s in (1, -1) for t in (1, -1)]) / np.sqrt(2)
"""Directions (lateral, normal) in which each of four rows at 45 degrees pushes on the block."""


def greatest_row(force: tuple[float, float]) -> float:
    """Four rows that only push, no preload: least energy of the block, sum max(0, -n.u)^2/2 - F.u."""

    def energy(shift: np.ndarray) -> float:
        return float(np.sum(np.maximum(0, -ROWS @ shift) ** 2) / 2 - np.dot(force, shift))

    def slope(shift: np.ndarray) -> np.ndarray:
        return -np.maximum(0, -ROWS @ shift) @ ROWS - np.asarray(force)

    best = minimize(energy, np.asarray(force, dtype=float), jac=slope, method="BFGS", options={"gtol": 1e-10})
    return float(np.maximum(0, -ROWS @ best.x).max())


@pytest.mark.parametrize(("force", "expected"), [((1, -1), 2.0), ((0.5, -1), 1.5), ((-0.3, 0.8), 1.1)])
def test_a_combined_load_falls_on_one_row(force: tuple[float, float], expected: float) -> None:
    """G-03: greatest row over that of one newton straight down is |lateral| + |normal|."""
    got = greatest_row(force) / greatest_row((0, -1))
    assert got == pytest.approx(expected, rel=1e-3)
    assert equivalent_load(lateral=force[0], normal=force[1]) == pytest.approx(got, rel=1e-3)


@pytest.mark.parametrize(("load", "exact"), [(1.0, 1.5424), (2.0, 2.1800), (2.828427, 2.828427)])
def test_preloaded_hertz_pair(load: float, exact: float) -> None:
    """G-09: two opposed contacts F = d^1.5 with unit preload, shifted until their difference is the load."""
    shift = brentq(lambda x: (1 + x) ** 1.5 - max(0.0, 1 - x) ** 1.5 - load, 0, 3)
    loaded = (1 + shift) ** 1.5
    assert loaded == pytest.approx(exact, rel=1e-3)
    assert loaded * (1 - 1e-6) <= loaded_side(load=load, preload=1.0) <= 1.025 * loaded


def test_preload_is_lost_at_2_83_times_itself() -> None:
    grid = np.linspace(0, 4, 4001)
    exact = [brentq(lambda x, f=f: (1 + x) ** 1.5 - max(0.0, 1 - x) ** 1.5 - f, 0, 4) for f in grid]
    lost = grid[np.searchsorted(exact, 1.0)]
    assert lost == pytest.approx(2**1.5, abs=2e-3)


def test_one_high_seat_warps_a_rigid_plate() -> None:
    """G-12: plane through four springs on seats of which one is high, by least squares."""
    corners = np.array([[1, 1], [1, -1], [-1, 1], [-1, -1]])
    seats = np.array([20e-6, 0, 0, 0])
    plane = lsq_linear(np.column_stack((np.ones(4), corners)), seats)
    squeezed = 250e6 * (seats - np.column_stack((np.ones(4), corners)) @ plane.x)
    np.testing.assert_allclose(squeezed, (1250, -1250, -1250, 1250), rtol=1e-3)
    assert corner_load(error=20e-6, stiffness=250e6) == pytest.approx(squeezed[0], rel=1e-6)

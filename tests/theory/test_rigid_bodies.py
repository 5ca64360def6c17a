"""Masses and inertias against sums over many small lumps."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.rigid_bodies import Inertia, box_inertia, cylinder_inertia, end_shares, together

UPRIGHT = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def turned(seed: int) -> tuple[tuple[float, float, float], ...]:
    q, _ = np.linalg.qr(np.random.default_rng(seed).normal(size=(3, 3)))
    return tuple(tuple(float(v) for v in row) for row in q)


def lumps(size: tuple[float, float, float], axes: object, round_: bool) -> np.ndarray:
    grids = [(np.arange(40) + 0.5) / 40 - 0.5 for _ in range(3)]
    points = np.stack(np.meshgrid(*grids, indexing="ij"), axis=-1).reshape(-1, 3) * size
    if round_:
        points = points[np.hypot(points[:, 1], points[:, 2]) <= size[1] / 2]
    return points @ np.asarray(axes)


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("round_", [False, True])
def test_inertia_of_a_turned_solid(seed: int, round_: bool) -> None:
    size = (0.4, 0.1, 0.1) if round_ else (0.4, 0.25, 0.1)
    axes = turned(seed)
    got = (cylinder_inertia if round_ else box_inertia)(mass=5.0, size=size, axes=axes)  # type: ignore[operator,arg-type]
    cloud = lumps(size, axes, round_)
    square = (cloud**2).mean(axis=0) * 5.0
    expected = (square[1] + square[2], square[2] + square[0], square[0] + square[1])
    np.testing.assert_allclose(got, expected, rtol=6e-3)


def test_two_lumps_on_a_rod() -> None:
    ends = [Inertia(2.0, (0.0, y, 0.0), (0.0, 0.0, 0.0)) for y in (0.0, 3.0)]
    whole = together([*ends, Inertia(4.0, (0.0, 6.0, 0.0), (0.1, 0.2, 0.3))])
    assert whole.mass == 8.0
    np.testing.assert_allclose(whole.centre, (0, 3.75, 0))
    # 2 (3.75)^2 + 2 (0.75)^2 + 4 (2.25)^2 = 49.5
    np.testing.assert_allclose(whole.moments, (49.6, 0.2, 49.8))


@given(masses=st.lists(st.floats(0.01, 50), min_size=2, max_size=5), seed=st.integers(0, 100))
def test_together_in_any_order_and_in_steps(masses: list[float], seed: int) -> None:
    random = np.random.default_rng(seed)
    parts = [Inertia(m, tuple(random.normal(size=3)), tuple(random.uniform(0, 1, 3))) for m in masses]
    whole, steps = together(parts), together([together(parts[:1]), together(parts[1:][::-1])])
    np.testing.assert_allclose(whole.centre, steps.centre, atol=1e-9)
    np.testing.assert_allclose(whole.moments, steps.moments, rtol=1e-9)


def test_sampled_mass_moves_the_centre() -> None:
    mass = np.array([1.0, 3.0])
    whole = together([Inertia(mass, (1.0, 0.0, 0.0), (0.0, 0.0, 0.0)), Inertia(1.0, (0.0, 0.0, 0.0), (0.0, 0.0, 0.0))])
    np.testing.assert_allclose(whole.centre[0], (0.5, 0.75))
    np.testing.assert_allclose(whole.moments[1], (0.5, 0.75))


def test_nothing_weighs_nothing() -> None:
    assert together([]).mass == 0.0
    assert together([Inertia(0.0, (1.0, 2.0, 3.0), (0.0, 0.0, 0.0))]).centre == (1.0, 2.0, 3.0)


@given(centre=st.floats(0, 1.4))
def test_two_persons_bear_it_all(centre: float) -> None:
    a, b = end_shares(mass=32.0, length=1.4, centre=centre)
    assert a + b == pytest.approx(32.0)

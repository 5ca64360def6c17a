"""Samples of a frame solved together: against exact answers of every one, and what happens where that is not good enough."""

import numpy as np
import pytest

from gantrywright.theory.frames import reduced
from gantrywright.theory.frames.assembly import stretches
from gantrywright.theory.frames.frame import load_at
from gantrywright.theory.frames.solver import Prepared, prepare
from small_gantry import TIP, small_gantry

SAMPLES = 200


def frame(seed: int, groups: int, *, low: float = 0.2, high: float = 5.0) -> tuple[Prepared, np.ndarray, np.ndarray, np.ndarray]:
    """A gantry whose coefficients vary in random groups: what it is prepared as, its samples, loads, group of every coefficient."""
    random = np.random.default_rng(seed)
    gantry = small_gantry(parts=3)
    group = random.integers(0, groups, len(gantry.coefficients))
    factors = np.exp(random.uniform(np.log(low), np.log(high), (SAMPLES, groups)))
    ready = prepare(stretches(gantry), gantry.coefficients > 0)
    loads = np.concatenate((load_at(gantry, TIP, np.zeros(3)), random.normal(size=(len(ready.order), 1))), axis=1)
    return ready, gantry.coefficients * factors[:, group], loads, group


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("groups", [5, 20, 60])
def test_agrees_with_every_sample_solved_exactly(seed: int, groups: int) -> None:
    """Also where it was not proved: all samples, all loads."""
    ready, coefficients, loads, _ = frame(seed, groups)
    exact = ready.solve(coefficients, loads)
    found = reduced.solve_samples(ready, coefficients, loads)
    assert found.shape == exact.shape
    assert reduced.difference(loads, found, exact) < 1e-3

"""Yield load of a screw in shear against linear programming: the most that any bearing of the shank within its limits can balance."""

import numpy as np
import pytest
from scipy.optimize import linprog

from gantrywright.theory.cutting.screw_shear import screw_shear

CELLS = 120
"""Along each side."""


def programmed(work: float, board: float, deep: float, into: float, diameter: float, moment: float) -> float:
    """Bearing per length q within f d everywhere, bending within the yield moment, no force or moment at the ends."""
    steps = np.concatenate((np.full(CELLS, deep / CELLS), np.full(CELLS, into / CELLS)))
    most = np.concatenate((np.full(CELLS, work), np.full(CELLS, board))) * diameter * steps
    middles = np.cumsum(steps) - steps / 2
    edges = np.cumsum(steps)
    arms = np.maximum(edges[:, None] - middles[None, :], 0.0)  # bending at each edge from the forces before it
    equal = np.vstack((np.ones(2 * CELLS), arms[-1]))
    found = linprog(
        np.concatenate((-np.ones(CELLS), np.zeros(CELLS))), A_ub=np.vstack((arms, -arms)), b_ub=np.full(4 * CELLS, moment),
        A_eq=equal, b_eq=np.zeros(2), bounds=np.column_stack((-most, most)), method="highs",
    )  # fmt: skip
    return float(-found.fun)


@pytest.mark.parametrize("number", range(16))
def test_least_way_to_yield_is_the_limit(number: int) -> None:
    random = np.random.default_rng(number)
    work, board = random.uniform(15e6, 80e6, 2)
    deep, into = random.uniform(0.004, 0.03, 2)
    diameter = random.uniform(0.003, 0.006)
    moment = 10 ** random.uniform(0.0, 1.8)
    got = screw_shear(
        work_bearing=work, board_bearing=board, work_thickness=deep, board_depth=into, diameter=diameter, yield_moment=moment
    )
    assert float(got) == pytest.approx(programmed(work, board, deep, into, diameter, moment), rel=0.01)

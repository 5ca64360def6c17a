"""Slip of a group of screws against limit analysis: the largest multiple of a wrench that friction can balance in any way."""

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import linprog

from gantrywright.theory.bolt_groups import slip_utilisation

SIDES = 48
"""Friction circles stand as polygons inside the circle: within 0.2 %."""


def limit(points: NDArray[np.float64], clamp: NDArray[np.float64], friction: float, force: NDArray[np.float64]) -> float:
    """Largest multiple of (fx, fy, twist) that forces within the friction circles balance."""
    count = len(points)
    turns = np.arange(SIDES) * 2 * np.pi / SIDES
    corners = np.column_stack((np.cos(turns), np.sin(turns)))
    forces = (friction * clamp[:, None, None] * corners).reshape(-1, 2)
    where = np.repeat(points, SIDES, axis=0)
    balance = np.vstack((forces.T, where[:, 0] * forces[:, 1] - where[:, 1] * forces[:, 0]))
    equal = np.hstack((balance, -force[:, None]))
    within = np.hstack((np.kron(np.eye(count), np.ones(SIDES)), np.zeros((count, 1))))
    cost = np.zeros(equal.shape[1])
    cost[-1] = -1.0
    return float(linprog(cost, A_ub=within, b_ub=np.ones(count), A_eq=equal, b_eq=np.zeros(3)).x[-1])


@pytest.mark.parametrize("number", range(20))
def test_faces_hold_below_one_and_hardly_above(number: int) -> None:
    random = np.random.default_rng(number)
    points = random.uniform(-0.06, 0.06, (4 + number % 5, 2))
    clamp = random.uniform(2e3, 8e3, len(points))
    force = np.append(random.normal(size=2) * 1e3, random.normal() * 50)
    used = slip_utilisation(
        wrench=np.array([force[0], force[1], 0.0, 0.0, 0.0, force[2]]), at=(0.0, 0.0, 0.0), points=[(x, y, 0.0) for x, y in points],
        normal=(0.0, 0.0, 1.0), clamp=clamp, friction=0.15,
    )  # fmt: skip
    most = 1 / limit(points, clamp, 0.15, force)
    assert most * 0.997 <= used <= most * 1.06

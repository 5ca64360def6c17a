"""Grip of a pushed part from both sides: linear programming under friction circles, and a search over all centres of turning."""

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import linprog, minimize

from gantrywright.theory.cutting.grip import held_share, least_share, rectangle_share, worst_rectangle_share

SIDES = 48
"""Friction circles stand as polygons inside the circle: within 0.2 %."""
Array = NDArray[np.float64]


def cells(length: float, width: float, count: int) -> tuple[Array, Array]:
    middle = (np.arange(count) + 0.5) / count - 0.5
    x, y = np.meshgrid(length * middle, width * middle, indexing="ij")
    return np.column_stack((x.ravel(), y.ravel())), np.full(count * count, 1 / count**2)


def programmed(points: Array, shares: Array, at: Array, along: Array) -> float:
    """Largest push that forces within the friction circles balance: certainly held."""
    turns = np.arange(SIDES) * 2 * np.pi / SIDES
    forces = (shares[:, None, None] * np.column_stack((np.cos(turns), np.sin(turns)))).reshape(-1, 2)
    where = np.repeat(points - at, SIDES, axis=0)
    reach = np.abs(where).max()
    balance = np.vstack((forces.T, (where[:, 0] * forces[:, 1] - where[:, 1] * forces[:, 0]) / reach))
    equal = np.hstack((balance, -np.append(along, 0.0)[:, None]))
    within = np.hstack((np.kron(np.eye(len(points)), np.ones(SIDES)), np.zeros((len(points), 1))))
    cost = np.append(np.zeros(equal.shape[1] - 1), -1.0)
    return float(linprog(cost, A_ub=within, b_ub=np.ones(len(points)), A_eq=equal, b_eq=np.zeros(3), method="highs").x[-1])


def searched(points: Array, shares: Array, at: Array, along: Array) -> float:
    """Least work of all slidings that give way to the push by one: certainly slips."""
    arms, side = points - at, np.array([-along[1], along[0]])

    def work(how: Array) -> float:
        slide = along + how[0] * side + how[1] * np.column_stack((-arms[:, 1], arms[:, 0]))
        return float(shares @ np.hypot(slide[:, 0], slide[:, 1]))

    convex = {"xatol": 1e-7, "fatol": 1e-10, "maxiter": 2000, "initial_simplex": [[0.0, 0.0], [0.5, 0.0], [0.0, 8.0]]}
    return float(minimize(work, (0.0, 0.0), method="Nelder-Mead", options=convex).fun)


def push(random: np.random.Generator, length: float, width: float) -> tuple[Array, Array]:
    turn = random.uniform(0, 2 * np.pi)
    return random.uniform(-0.5, 0.5, 2) * [length, width], np.array([np.cos(turn), np.sin(turn)])


@pytest.mark.parametrize("number", range(8))
def test_face_lies_between_programming_and_search(number: int) -> None:
    random = np.random.default_rng(number)
    length, width = 0.2, random.uniform(0.02, 0.2)
    at, along = push(random, length, width)
    got = rectangle_share(length=length, width=width, at=(at[0], at[1]), along=(along[0], along[1]))
    assert got >= programmed(*cells(length, width, 12), at, along) * (1 - 4e-3)  # cells take a little off a face that turns
    assert got <= searched(*cells(length, width, 60), at, along) * (1 + 1e-3)
    assert got >= searched(*cells(length, width, 60), at, along) * (1 - 2e-3)


@pytest.mark.parametrize("number", range(25))
def test_clamps_hold_below_the_limit_and_hardly_below(number: int) -> None:
    random = np.random.default_rng(100 + number)
    points = random.uniform(-0.1, 0.1, (2 + number % 6, 2))
    shares = random.uniform(0.2, 1.0, len(points))
    shares /= shares.sum()
    at, along = push(random, 0.2, 0.2)
    got = held_share(points=points, shares=shares, at=at, along=along)
    assert got <= searched(points, shares, at, along) * (1 + 1e-6)
    assert got >= programmed(points, shares, at, along) * 0.98


def test_corner_of_the_reference_plate_from_both_sides() -> None:
    """Plate 200 x 100 mm pushed at a corner along its short side."""
    at, along = np.array([0.1, 0.05]), np.array([0.0, 1.0])
    low, high = programmed(*cells(0.2, 0.1, 20), at, along), searched(*cells(0.2, 0.1, 120), at, along)
    assert high - low < 5e-3 * high
    assert rectangle_share(length=0.2, width=0.1, at=(0.1, 0.05), along=(0.0, 1.0)) == pytest.approx(high, rel=1e-3)


@pytest.mark.parametrize("width", [0.02, 0.1, 0.2])
def test_worst_push_is_no_better_anywhere(width: float) -> None:
    worst = worst_rectangle_share(length=0.2, width=width)
    points, shares = cells(0.2, width, 20)
    turns = np.arange(0, 180, 9) * np.pi / 180
    found = {
        (x, y): min(searched(points, shares, np.array([x * 0.2, y * width]), np.array([np.cos(t), np.sin(t)])) for t in turns)
        for x, y in ((0.5, 0.5), (0.5, 0.25), (0.5, 0.0), (0.25, 0.5), (0.0, 0.5))
    }
    assert min(found, key=lambda place: found[place]) == (0.5, 0.5)
    assert worst == pytest.approx(found[0.5, 0.5], rel=6e-3)


def test_worst_of_clamps_is_found_among_the_corners() -> None:
    random = np.random.default_rng(5)
    points, shares = random.uniform(-0.1, 0.1, (4, 2)), np.full(4, 0.25)
    corners = np.array([[0.12, 0.1], [-0.12, 0.1], [-0.12, -0.1], [0.12, -0.1]])
    worst = least_share(points=points, shares=shares, corners=corners)
    inside = [searched(points, shares, *push(random, 0.24, 0.2)) for _ in range(100)]
    assert worst <= min(inside) * (1 + 1e-6)

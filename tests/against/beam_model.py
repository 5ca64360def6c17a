"""A small Euler-Bernoulli beam of our own, sharing no code with the formulas: cubic elements, consistent mass, geometric stiffness."""

import numpy as np
from scipy.linalg import eigh

FIXED, SUPPORTED, FREE = "fixed", "supported", "free"


def matrices(count: int, length: float, bending: float, mass_per_length: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Stiffness, mass and geometric stiffness (unit compression); unknowns deflection and slope at each node."""
    h = length / count
    k = bending / h**3 * np.array([[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                                   [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]])  # fmt: skip
    m = mass_per_length * h / 420 * np.array([[156, 22 * h, 54, -13 * h], [22 * h, 4 * h * h, 13 * h, -3 * h * h],
                                              [54, 13 * h, 156, -22 * h], [-13 * h, -3 * h * h, -22 * h, 4 * h * h]])  # fmt: skip
    g = 1 / (30 * h) * np.array([[36, 3 * h, -36, 3 * h], [3 * h, 4 * h * h, -3 * h, -h * h],
                                 [-36, -3 * h, 36, -3 * h], [3 * h, -h * h, -3 * h, 4 * h * h]])  # fmt: skip
    size = 2 * (count + 1)
    whole = [np.zeros((size, size)) for _ in range(3)]
    for element in range(count):
        at = slice(2 * element, 2 * element + 4)
        for big, small in zip(whole, (k, m, g), strict=True):
            big[at, at] += small
    return whole[0], whole[1], whole[2]


def held(count: int, near: str, far: str, pins: tuple[int, ...] = ()) -> list[int]:
    """Unknowns that are free."""
    gone = {2 * node for node in pins}
    for node, how in ((0, near), (count, far)):
        if how in (FIXED, SUPPORTED):
            gone.add(2 * node)
        if how == FIXED:
            gone.add(2 * node + 1)
    return [i for i in range(2 * (count + 1)) if i not in gone]


def first_speed(near: str, far: str, *, diameter: float, length: float, modulus: float, density: float, count: int = 60,
                pins: tuple[int, ...] = ()) -> float:  # fmt: skip
    """First bending frequency, rad/s."""
    inertia, area = np.pi * diameter**4 / 64, np.pi * diameter**2 / 4
    k, m, _ = matrices(count, length, modulus * inertia, density * area)
    free = held(count, near, far, pins)
    return float(np.sqrt(eigh(k[np.ix_(free, free)], m[np.ix_(free, free)], eigvals_only=True)[0]))


def buckling(near: str, far: str, *, diameter: float, length: float, modulus: float, count: int = 60) -> float:
    """Least buckling load, N."""
    k, _, g = matrices(count, length, modulus * np.pi * diameter**4 / 64, 1.0)
    free = held(count, near, far)
    greatest = eigh(g[np.ix_(free, free)], k[np.ix_(free, free)], eigvals_only=True)[-1]
    return float(1 / greatest)

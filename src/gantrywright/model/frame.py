"""Vectors of the machine frame: right-handed, X along the beam, Y along the bed, Z up (ISO 841 letters).

Plain tuples: a machine has a few hundred of them, and for three numbers a tuple beats an array.
"""

from math import sqrt
from typing import TypeAlias

Vector: TypeAlias = tuple[float, float, float]

ZERO: Vector = (0.0, 0.0, 0.0)
AXES: dict[str, Vector] = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0)}
DIRECTIONS: dict[str, Vector] = {
    "left": (-1.0, 0.0, 0.0), "right": (1.0, 0.0, 0.0), "front": (0.0, -1.0, 0.0), "back": (0.0, 1.0, 0.0),
    "bottom": (0.0, 0.0, -1.0), "top": (0.0, 0.0, 1.0),
    "-x": (-1.0, 0.0, 0.0), "+x": (1.0, 0.0, 0.0), "-y": (0.0, -1.0, 0.0), "+y": (0.0, 1.0, 0.0),
    "-z": (0.0, 0.0, -1.0), "+z": (0.0, 0.0, 1.0),
}  # fmt: skip


def add(a: Vector, b: Vector) -> Vector:
    """a + b."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def subtract(a: Vector, b: Vector) -> Vector:
    """a - b."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def scale(a: Vector, factor: float) -> Vector:
    """A times a number."""
    return (a[0] * factor, a[1] * factor, a[2] * factor)


def along(start: Vector, direction: Vector, distance: float) -> Vector:
    """The point ``distance`` from ``start`` in ``direction``."""
    return (start[0] + direction[0] * distance, start[1] + direction[1] * distance, start[2] + direction[2] * distance)


def dot(a: Vector, b: Vector) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """Vector product."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def length(a: Vector) -> float:
    """Length of a vector."""
    return sqrt(dot(a, a))


def unit(a: Vector) -> Vector:
    """A vector of length 1 in the same direction; raises ``ZeroDivisionError`` for a vector of no length."""
    return scale(a, 1 / length(a))


def middle(a: Vector, b: Vector) -> Vector:
    """Half way from a to b."""
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)

"""Boxes, faces and directions: what all placing is made of."""

from collections.abc import Iterable
from dataclasses import dataclass

from gantrywright.model.bodies import Solid
from gantrywright.model.frame import AXES, DIRECTIONS, Vector, add, along, cross, dot, length, scale, subtract, unit

LEVEL: tuple[Vector, Vector, Vector] = (AXES["x"], AXES["y"], AXES["z"])
"""Axes of a box that stands square to the machine."""

TIE = 1e-6
"""Two faces that are this near to one direction are a tie."""


class Unclear(ValueError):
    """A direction or face that cannot be told from the words; the message says why."""


@dataclass(frozen=True, slots=True)
class Face:
    """One side of a box."""

    middle: Vector
    normal: Vector
    half: float
    """From the middle of the box."""


def direction_of(word: object, *, x: float = 0.0, middle: float | None = None) -> Vector:
    """The unit vector that a direction or face word names.

    Args:
        word: A word of the trade, ``outer`` or ``inner``, ``"0, 0.7, 0.7"``, or a vector already.
        x: Where the part lies, for outer and inner.
        middle: Middle plane of its body.
    """
    if isinstance(word, tuple):
        return unit(word)
    text = str(word).strip()
    if text in DIRECTIONS:
        return DIRECTIONS[text]
    if text in ("outer", "inner"):
        if middle is None:
            raise Unclear(f"'{text}' needs the body's middle: give middle = ...")
        if abs(x - middle) < 1e-9:
            raise Unclear(f"'{text}' says nothing of a part that lies in the body's middle plane")
        outer = 1.0 if x > middle else -1.0
        return (outer if text == "outer" else -outer, 0.0, 0.0)
    try:
        parts = tuple(float(part) for part in text.split(","))
    except ValueError:
        parts = ()
    if len(parts) != 3 or not any(parts):
        raise Unclear(f"'{text}' is no direction; allowed are {', '.join(DIRECTIONS)}, outer, inner, or three numbers")
    return unit(parts)


def face_of(solid: Solid, word: object, middle: float | None = None) -> Face:
    """The side of a part whose normal is nearest to a word; of a bar one of its four long sides."""
    wanted = direction_of(word, x=solid.centre[0], middle=middle)
    start = 1 if solid.kind == "member" else 0
    found: list[tuple[float, int, float]] = []
    for number in range(start, 3):
        nearness = dot(solid.axes[number], wanted)
        found.append((abs(nearness), number, 1.0 if nearness > 0 else -1.0))
    found.sort(reverse=True)
    if found[0][0] - found[1][0] < TIE:
        raise Unclear(f"two faces of {solid.path} are equally near to '{word}'; write the vector")
    _, number, sign = found[0]
    normal = scale(solid.axes[number], sign)
    half = solid.size[number] / 2
    return Face(along(solid.centre, normal, half), normal, half)


def half_extent(solid: Solid, direction: Vector) -> float:
    """Half of what a box measures along a direction."""
    return sum(abs(dot(axis, direction)) * size / 2 for axis, size in zip(solid.axes, solid.size, strict=True))


def with_component(point: Vector, direction: Vector, value: float) -> Vector:
    """The point moved along a unit direction until its component along it is ``value``."""
    return along(point, direction, value - dot(point, direction))


def left_over(t: Vector, n: Vector) -> Vector:
    """The positive body axis left over by travel and normal; ``n x t`` where that is no axis."""
    s = cross(n, t)
    for axis in LEVEL:
        if abs(dot(s, axis)) > 1 - 1e-9:
            return axis
    return unit(s)


def face_axes(normal: Vector) -> tuple[Vector, Vector]:
    """The two axes of a face in the order x y z; of a slanted face the nearest vectors that lie in it."""
    order = sorted(range(3), key=lambda number: abs(normal[number]))
    if abs(normal[order[2]]) > 1 - 1e-9:
        first, second = sorted(order[:2])
        return LEVEL[first], LEVEL[second]
    flat = order[0]
    one = unit(subtract(LEVEL[flat], scale(normal, normal[flat])))
    two = cross(normal, one)
    return (one, two) if flat <= min(order[1:]) else (two, one)


def mean(points: Iterable[Vector]) -> Vector:
    """The mean of some points."""
    gathered = tuple(points)
    total = (0.0, 0.0, 0.0)
    for point in gathered:
        total = add(total, point)
    return scale(total, 1 / len(gathered))


def tidy(vector: Vector) -> Vector:
    """Unit vector without the rounding of an exact axis: -0.0 and 1e-17 become 0."""
    return tuple(float(round(part)) if abs(part - round(part)) < 1e-12 else part for part in vector)  # type: ignore[return-value]


def square_to(up: Vector, axis: Vector) -> Vector:
    """``up`` made square to an axis, of length 1; raises `Unclear` where the two are parallel."""
    rest = subtract(up, scale(axis, dot(up, axis)))
    if length(rest) < 1e-6:
        raise Unclear("up runs along the bar; choose a direction square to it")
    return tidy(unit(rest))


def bounds(solids: Iterable[Solid]) -> tuple[Vector, Vector]:
    """Least and greatest corner of the upright box round some solids."""
    low, high = [float("inf")] * 3, [float("-inf")] * 3
    for solid in solids:
        for number, axis in enumerate(LEVEL):
            half = half_extent(solid, axis)
            low[number] = min(low[number], solid.centre[number] - half)
            high[number] = max(high[number], solid.centre[number] + half)
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])

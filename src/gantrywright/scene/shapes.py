"""Unit shapes: what a piece is before its matrix puts it in its place.

All three are centred on their own origin with x along: a box is the unit cube, a cylinder has diameter and length 1, an extrusion has
length 1 and the outline that it is given, in metres.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from hashlib import blake2s
from math import cos, pi, sin

from gantrywright.theory.sections.outline import Ring

ROUND = 24
"""Straight pieces of a round opening."""
TOUCH = 1e-6
"""Rings that come nearer than this are cut from each other, m."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A shape that pieces share."""

    id: str
    """Tells its form: two machines that have the same section have the same id."""
    kind: str
    """box, cylinder or extrusion."""
    rings: tuple[Ring, ...] = ()
    """Of an extrusion: outer ring counter-clockwise, then openings; points (y, z) of its own frame, for a bar (width, height), m."""


BOX = Shape("box", "box")
CYLINDER = Shape("cylinder", "cylinder")


@lru_cache(maxsize=512)
def extrusion(ring: Ring, openings: tuple[Ring, ...] = ()) -> Shape:
    """The extrusion of an outline; every ring turned the way that it must run."""
    rings = (_turned(ring, 1.0), *(_turned(opening, -1.0) for opening in openings))
    text = ";".join(",".join(f"{y * 1e7:.0f} {z * 1e7:.0f}" for y, z in each) for each in rings)
    return Shape(f"extrusion-{blake2s(text.encode(), digest_size=6).hexdigest()}", "extrusion", rings)


def area_of(shape: Shape) -> float:
    """Area of an extrusion's outline less its openings, m2."""
    return sum(_area(ring) for ring in shape.rings)


def rectangle(width: float, height: float, at: tuple[float, float] = (0.0, 0.0), chamfer: float = 0.0) -> Ring:
    """A rectangle about a point, its corners cut off where a chamfer is given."""
    x, y, c = width / 2, height / 2, chamfer
    if c <= 0.0:
        corners: Iterable[tuple[float, float]] = ((-x, -y), (x, -y), (x, y), (-x, y))
    else:
        corners = ((c - x, -y), (x - c, -y), (x, c - y), (x, y - c), (x - c, y), (c - x, y), (-x, y - c), (-x, c - y))
    return tuple((at[0] + a, at[1] + b) for a, b in corners)


def ellipse(width: float, height: float, at: tuple[float, float] = (0.0, 0.0)) -> Ring:
    """An ellipse about a point."""
    turns = (2 * pi * (number + 0.5) / ROUND for number in range(ROUND))
    return tuple((at[0] + width / 2 * cos(turn), at[1] + height / 2 * sin(turn)) for turn in turns)


def cut(ring: Ring, openings: tuple[Ring, ...]) -> tuple[tuple[Ring, tuple[Ring, ...]], ...]:
    """An outline with openings that may run over its edge or into each other: what is left, outer rings with their openings.

    Openings of a rectangle that lie apart and inside are taken as they are; anything else is cut properly.
    """
    if _apart(ring, openings):
        return ((ring, openings),)
    from shapely.geometry import Polygon  # only the odd plate needs it, and it is slow to load
    from shapely.ops import unary_union

    left = Polygon(ring).difference(unary_union([Polygon(opening) for opening in openings]))
    polygons = [part for part in getattr(left, "geoms", [left]) if part.geom_type == "Polygon" and part.area > 0.0]
    return tuple((_open(part.exterior.coords), tuple(_open(inner.coords) for inner in part.interiors)) for part in polygons)


def _open(points: Iterable[tuple[float, ...]]) -> Ring:
    """A ring without its first point at its end."""
    gathered = tuple((float(point[0]), float(point[1])) for point in points)
    return gathered[:-1] if gathered and gathered[0] == gathered[-1] else gathered


def _apart(ring: Ring, openings: tuple[Ring, ...]) -> bool:
    """Whether a rectangle's openings lie inside it and clear of each other, by their boxes."""
    if not openings:
        return True
    outer = _box(ring)
    if len(ring) != 4 or abs(abs(_area(ring)) - (outer[1] - outer[0]) * (outer[3] - outer[2])) > TOUCH**2:
        return False
    boxes = [_box(opening) for opening in openings]
    inside = all(
        b[0] > outer[0] + TOUCH and b[1] < outer[1] - TOUCH and b[2] > outer[2] + TOUCH and b[3] < outer[3] - TOUCH for b in boxes
    )
    return inside and not any(_meet(a, b) for number, a in enumerate(boxes) for b in boxes[number + 1 :])


def _meet(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return a[0] < b[1] + TOUCH and b[0] < a[1] + TOUCH and a[2] < b[3] + TOUCH and b[2] < a[3] + TOUCH


def _box(ring: Ring) -> tuple[float, float, float, float]:
    xs, ys = zip(*ring, strict=True)
    return min(xs), max(xs), min(ys), max(ys)


def _area(ring: Ring) -> float:
    """Signed: positive where it runs counter-clockwise."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)) / 2


def _turned(ring: Ring, way: float) -> Ring:
    return ring if _area(ring) * way >= 0.0 else ring[::-1]

"""Rings to one outline: the largest is the outside, the others are openings in it; whatever cannot be a section is told with its place."""

import math
from collections.abc import Iterable, Sequence

from gantrywright.base.errors import GantrywrightError
from gantrywright.theory.sections.outline import Outline, Ring, without_repeats
from gantrywright.theory.sections.polygon import second_moments

Point = tuple[float, float]

MOST_POINTS = 6000
"""A section of more points than this would keep a machine waiting."""
LARGEST, SMALLEST = 10.0, 1e-4
"""Sizes that a section can have, m; beyond them the unit is wrong."""


class OutlineTrouble(GantrywrightError, ValueError):
    """What keeps a file from being the outline of a section, in words."""


def outline_of(found: Iterable[Sequence[Point]]) -> Outline:
    """One outline about the middle of its box.

    Args:
        found: Closed rings, m, in any order and either way round.

    Raises:
        OutlineTrouble: There is no ring, one crosses itself or another, there are two outsides, or metal lies inside an opening.
    """
    rings = _different([ring for ring in (without_repeats(points) for points in found) if len(ring) >= 3])
    if not rings:
        raise OutlineTrouble("has no closed outline")
    if sum(map(len, rings)) > MOST_POINTS:
        raise OutlineTrouble(f"has {sum(map(len, rings))} points; {MOST_POINTS} are read at most")
    for ring in rings:
        _check_ring(ring)
    outer, *openings = sorted(rings, key=lambda ring: -second_moments(Outline(ring))[0])
    _check_size(outer)
    _check_openings(outer, openings)
    x, y = _middle(outer)

    def moved(ring: Ring) -> Ring:
        return tuple((a - x, b - y) for a, b in ring)

    return Outline(moved(outer), tuple(moved(ring) for ring in openings))


def box_of(ring: Ring) -> tuple[float, float]:
    """Width and height of a ring, m."""
    return max(x for x, _ in ring) - min(x for x, _ in ring), max(y for _, y in ring) - min(y for _, y in ring)


def said(point: Sequence[float]) -> str:
    """A place in millimetres, as people find it in their drawing."""
    return f"{point[0] * 1e3:.6g}, {point[1] * 1e3:.6g} mm"


def _middle(ring: Ring) -> Point:
    return (max(x for x, _ in ring) + min(x for x, _ in ring)) / 2, (max(y for _, y in ring) + min(y for _, y in ring)) / 2


def _different(rings: list[Ring]) -> list[Ring]:
    """The same ring drawn twice is one ring."""
    kept: dict[frozenset[tuple[int, int]], Ring] = {}
    for ring in rings:
        if not all(math.isfinite(part) and abs(part) < 1e6 for point in ring for part in point):
            raise OutlineTrouble("has a point that lies nowhere; its numbers are not finite or far too large")
        kept.setdefault(frozenset((round(x * 1e7), round(y * 1e7)) for x, y in ring), ring)
    return list(kept.values())


def _check_ring(ring: Ring) -> None:
    import shapely

    shape = shapely.Polygon(ring)
    width, height = box_of(ring)
    if shapely.MultiPoint(ring).convex_hull.area < 1e-9 * max(width, height) ** 2:
        raise OutlineTrouble(f"has a ring without area at {said(ring[0])}")
    if not shape.is_valid:
        raise OutlineTrouble(f"has a ring that crosses itself{_place(shapely.is_valid_reason(shape))}")


def _check_size(outer: Ring) -> None:
    size = max(box_of(outer))
    if not SMALLEST <= size <= LARGEST:
        raise OutlineTrouble(f"is {size * 1e3:.4g} mm large; see whether its unit is right")


def _check_openings(outer: Ring, openings: Sequence[Ring]) -> None:
    import shapely

    whole = shapely.Polygon(outer)
    shapes = [shapely.Polygon(ring) for ring in openings]
    for ring, shape in zip(openings, shapes, strict=True):
        if whole.disjoint(shape) or whole.touches(shape):
            raise OutlineTrouble(f"has two outlines apart from each other, the second at {said(ring[0])}; a section is one piece")
        if not whole.covers(shape):
            raise OutlineTrouble(f"has an opening that crosses the outside, near {said(ring[0])}")
    for number, shape in enumerate(shapes):
        for other, ring in zip(shapes[:number], openings[:number], strict=True):
            if shape.intersection(other).area > 1e-12 * whole.area:
                words = "metal inside an opening" if other.covers(shape) else "two openings that cross"
                raise OutlineTrouble(f"has {words} near {said(ring[0])}; a section is one piece")
    left = shapely.Polygon(outer, openings)
    if not left.is_valid:
        raise OutlineTrouble(f"falls into pieces: openings touch{_place(shapely.is_valid_reason(left))}")


def _place(reason: str) -> str:
    """The place in a reason such as ``Self-intersection[0.01 0.02]``."""
    numbers = reason.partition("[")[2].rstrip("]").split()
    try:
        return f" at {said([float(number) for number in numbers])}"
    except (ValueError, IndexError):
        return ""

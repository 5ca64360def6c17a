"""Outlines of sections: an outer ring and openings, (width, height) points in metres."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

Ring = tuple[tuple[float, float], ...]

SAME_POINT = 1e-9
"""Points nearer than this are one, m."""


@dataclass(frozen=True, slots=True)
class Outline:
    """Outer ring and openings of a section."""

    ring: Ring
    openings: tuple[Ring, ...] = ()


def arc_pieces(radius: float) -> int:
    """Straight pieces for a quarter of a circle: four for the small fillets, more for large ones."""
    return max(4, min(16, round(radius / 0.0015)))


def without_repeats(points: Iterable[tuple[float, float]]) -> Ring:
    """The ring without points that lie on the one before them, and without its first point at its end."""
    ring: list[tuple[float, float]] = []
    for point in points:
        if not ring or math.dist(point, ring[-1]) > SAME_POINT:
            ring.append((float(point[0]), float(point[1])))
    while len(ring) > 1 and math.dist(ring[0], ring[-1]) <= SAME_POINT:
        ring.pop()
    return tuple(ring)

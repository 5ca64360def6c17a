"""Outlines of the plain shapes, drawn about the middle of their box."""

import math

from gantrywright.base.errors import OutOfRange
from gantrywright.theory.sections.outline import Outline, Ring, arc_pieces, without_repeats
from gantrywright.theory.sections.plain import hollow_corner_radius


def box_ring(width: float, height: float, radius: float = 0.0) -> Ring:
    """Rectangle with rounded corners, counter-clockwise."""
    x, y = width / 2, height / 2
    if radius <= 0.0:
        return ((-x, -y), (x, -y), (x, y), (-x, y))
    corners = (
        (x - radius, radius - y, -90.0),
        (x - radius, y - radius, 0.0),
        (radius - x, y - radius, 90.0),
        (radius - x, radius - y, 180.0),
    )
    return tuple(point for cx, cy, start in corners for point in _arc(cx, cy, radius, start, 90.0))


def tube_radii(width: float, height: float, wall: float, radius: float | None) -> tuple[float, float]:
    """Outer and inner corner radius; the outer one by the rule of cold-formed tube where it is not given."""
    outer = float(hollow_corner_radius(wall=wall)) if radius is None else radius
    outer = min(outer, width / 2, height / 2)
    return outer, max(0.0, outer - wall)


def tube_outline(width: float, height: float, wall: float, radius: float | None) -> Outline:
    """Rectangular tube."""
    if not 0.0 < 2.0 * wall < min(width, height):
        raise _no_room(wall, min(width, height))
    outer, inner = tube_radii(width, height, wall, radius)
    return Outline(box_ring(width, height, outer), (box_ring(width - 2 * wall, height - 2 * wall, inner),))


def round_outline(diameter: float, wall: float | None) -> Outline:
    """Round bar, or round tube where a wall is given."""
    ring = tuple(_arc(0.0, 0.0, diameter / 2, 0.0, 360.0, closed=True))
    if not wall:
        return Outline(ring)
    if not 0.0 < 2.0 * wall < diameter:
        raise _no_room(wall, diameter)
    return Outline(ring, (tuple(_arc(0.0, 0.0, diameter / 2 - wall, 0.0, 360.0, closed=True)),))


def angle_outline(width: float, height: float, wall: float, fillet: float) -> Outline:
    """Angle with its back at the left and the bottom; toes are rounded with half the fillet."""
    toe = min(fillet / 2, wall)
    points = [
        (0.0, 0.0),
        (width, 0.0),
        *_arc(width - toe, wall - toe, toe, 0.0, 90.0),
        *_arc(wall + fillet, wall + fillet, fillet, 270.0, -90.0),
        *_arc(wall - toe, height - toe, toe, 0.0, 90.0),
        (0.0, height),
    ]
    return Outline(_centred(points, width, height))


def channel_outline(width: float, height: float, flange: float, web: float, fillet: float) -> Outline:
    """Channel with parallel flanges, its back at the left."""
    points = [
        (0.0, 0.0),
        (width, 0.0),
        (width, flange),
        *_arc(web + fillet, flange + fillet, fillet, 270.0, -90.0),
        *_arc(web + fillet, height - flange - fillet, fillet, 180.0, -90.0),
        (width, height - flange),
        (width, height),
        (0.0, height),
    ]
    return Outline(_centred(points, width, height))


def beam_outline(width: float, height: float, flange: float, web: float, fillet: float) -> Outline:
    """I or H beam with parallel flanges."""
    right = [
        (width / 2, -height / 2),
        (width / 2, flange - height / 2),
        *_arc(web / 2 + fillet, flange - height / 2 + fillet, fillet, 270.0, -90.0),
        *_arc(web / 2 + fillet, height / 2 - flange - fillet, fillet, 180.0, -90.0),
        (width / 2, height / 2 - flange),
        (width / 2, height / 2),
    ]
    return Outline((*right, *((-x, -y) for x, y in right)))


def _no_room(wall: float, side: float) -> OutOfRange:
    return OutOfRange("wall", f"{wall * 1e3:g}", "mm", f"0 to {side * 500:g} mm", "two walls fill the smaller side")


def _arc(x: float, y: float, radius: float, start: float, sweep: float, *, closed: bool = False) -> list[tuple[float, float]]:
    """Points of an arc from ``start`` over ``sweep`` degrees; a radius of nought gives its middle."""
    if radius <= 0.0:
        return [(x, y)]
    pieces = max(4, math.ceil(arc_pieces(radius) * abs(sweep) / 90.0))
    angles = [math.radians(start + sweep * i / pieces) for i in range(pieces if closed else pieces + 1)]
    return [(x + radius * math.cos(angle), y + radius * math.sin(angle)) for angle in angles]


def _centred(points: list[tuple[float, float]], width: float, height: float) -> Ring:
    """The ring moved so that the middle of its box is the origin, without repeated points."""
    moved = [(x - width / 2, y - height / 2) for x, y in points]
    return without_repeats(moved)

"""Where a tooth is in the work and how thick its chip gets: engagement, thinning, arcs, cusps.

Feed along +x, y to the left of the feed, spindle clockwise seen from above, angles clockwise from +y. A tooth cuts while its angle is between
`start` and `stop`; up-milling (conventional) has the work on the left of the travel, down-milling (climb) on the right.
"""

from typing import Literal

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, MetrePerSecond, Number, Radian, RadianPerSecond, Real

Way = Literal["climb", "conventional"]


@formula("up: 0 .. acos(1 - 2 ae/D); down: pi - acos(1 - 2 ae/D) .. pi", source="altintas-manufacturing-automation")
def engagement(*, diameter: Metre, width: Metre, way: Way) -> tuple[Radian, Radian]:
    """Angles at which a tooth enters and leaves the work; a slot is a width of the whole diameter.

    Example:
        >>> [round(float(np.degrees(a)), 6) for a in engagement(diameter=6e-3, width=1.5e-3, way="conventional")]
        [0.0, 60.0]
    """
    arc: Real = np.arccos(1 - 2 * np.clip(width / diameter, 0.0, 1.0))
    return between(arc=arc, way=way)


@formula("up: 0 .. phi_s; down: pi - phi_s .. pi", source="definition")
def between(*, arc: Radian, way: Way) -> tuple[Radian, Radian]:
    """Angles at which a tooth enters and leaves, for an arc of contact.

    Args:
        arc: Of contact, from the wall.
        way: Climb or conventional.

    Returns:
        Angles of entering and leaving.
    """
    nothing = arc * 0.0
    return (nothing, arc) if way == "conventional" else (np.pi - arc, nothing + np.pi)


@formula("p = Rw - D/2, Rs = Rw - ae: cos(phi_s) = (Rs^2 - p^2 - D^2/4)/(p D)", source="derived")
def inside_arc(*, diameter: Metre, width: Metre, wall_radius: Metre) -> Radian:
    """Arc of contact where the path runs round the inside of a curved wall: longer than along a straight one.

    Where the wall is hardly rounder than the cutter, the arc grows towards half a turn.

    Args:
        diameter: Of the cutter.
        width: Of cut, between the old wall and the new.
        wall_radius: Of the new wall; at least half the diameter.

    Returns:
        Arc, from 0 to pi.

    Example:
        >>> round(float(np.degrees(inside_arc(diameter=6e-3, width=1e-3, wall_radius=5e-3))), 2)
        75.52
    """
    radius = diameter / 2
    path = np.maximum(wall_radius - radius, 1e-9 * radius)
    stock = np.maximum(wall_radius - width, 0.0)
    arc: Real = np.arccos(np.clip((stock**2 - path**2 - radius**2) / (path * diameter), -1.0, 1.0))
    return arc


@formula("p = Rw + D/2, Rs = Rw + ae: cos(phi_s) = (p^2 + D^2/4 - Rs^2)/(p D)", source="derived")
def outside_arc(*, diameter: Metre, width: Metre, wall_radius: Metre) -> Radian:
    """Arc of contact where the path runs round the outside of a curved wall: shorter than along a straight one.

    Args:
        diameter: Of the cutter.
        width: Of cut, between the old wall and the new.
        wall_radius: Of the new wall.

    Returns:
        Arc, from 0 to pi.
    """
    radius = diameter / 2
    path, stock = wall_radius + radius, wall_radius + width
    arc: Real = np.arccos(np.clip((path**2 + radius**2 - stock**2) / (path * diameter), -1.0, 1.0))
    return arc


@formula("fz = vf/(N n)", source="definition")
def feed_per_tooth(*, feed: MetrePerSecond, speed: RadianPerSecond, flutes: int) -> Metre:
    """Feed from tooth to tooth."""
    return feed / (flutes * speed / (2 * np.pi))


@formula("h = fz for ae >= D/2, else 2 fz sqrt(r (1 - r)), r = ae/D", source="altintas-manufacturing-automation")
def largest_chip(*, feed_per_tooth: Metre, diameter: Metre, width: Metre) -> Metre:
    """Thickest chip of a cut."""
    ratio: Real = np.minimum(width / diameter, 0.5)
    share: Real = 2 * np.sqrt(ratio * (1 - ratio))
    return feed_per_tooth * share


@formula("h = 2 fz (ae/D)/phi_s", source="altintas-manufacturing-automation")
def mean_chip(*, feed_per_tooth: Metre, diameter: Metre, width: Metre) -> Metre:
    """Mean chip thickness over the arc of contact."""
    ratio: Real = np.clip(width / diameter, 1e-12, 1.0)
    share: Real = 2 * ratio / np.arccos(1 - 2 * ratio)
    return feed_per_tooth * share


@formula("fz/h = 1/(2 sqrt(r (1 - r))), r = ae/D < 0.5, else 1", source="altintas-manufacturing-automation")
def thinning(*, diameter: Metre, width: Metre) -> Number:
    """How many times the feed per tooth may be raised in a shallow cut before its thickest chip is that of a slot.

    Args:
        diameter: Of the cutter.
        width: Of cut.

    Returns:
        Factor of 1 or more.

    Example:
        >>> round(float(thinning(diameter=6e-3, width=0.6e-3)), 4)
        1.6667
    """
    ratio: Real = np.clip(width / diameter, 1e-12, 0.5)
    factor: Real = 0.5 / np.sqrt(ratio * (1 - ratio))
    return factor


@formula("c = R - sqrt(R^2 - (s/2)^2)", source="derived")
def cusp(*, diameter: Metre, spacing: Metre) -> Metre:
    """Height of the ridges that a round edge leaves between its marks.

    On a wall the marks stand a feed per tooth apart, or a feed per turn where run-out leaves one tooth cutting; on a floor cut by a ball
    nose they stand a step-over apart.

    Args:
        diameter: Of the cutter.
        spacing: From mark to mark; marks further apart than the diameter leave the ridge a radius high.

    Returns:
        Height from valley to ridge.

    Example:
        >>> round(float(cusp(diameter=6e-3, spacing=0.3e-3)) * 1e6, 3)
        3.752
    """
    radius = diameter / 2
    half = np.minimum(spacing / 2, radius)
    height: Real = half**2 / (radius + np.sqrt(radius**2 - half**2))
    return height


@formula("h_min = c r_e", source="from memory")
def smallest_chip(*, edge_radius: Metre, share: Number) -> Metre:
    """Chip below which an edge rubs and pushes instead of cutting.

    Args:
        edge_radius: How round the cutting edge is.
        share: Of the edge radius; 0.2 to 0.4.

    Returns:
        Chip thickness.
    """
    return share * edge_radius


@formula("phi = asin(h_min/fz)", source="derived")
def rubbing_angle(*, smallest_chip: Metre, feed_per_tooth: Metre) -> Radian:
    """Angle over which a tooth rubs before it bites, in up-milling; a quarter of a turn where the feed never gives a chip.

    Args:
        smallest_chip: Below which the edge rubs.
        feed_per_tooth: From tooth to tooth.

    Returns:
        Angle, from the wall.
    """
    angle: Real = np.arcsin(np.minimum(smallest_chip / feed_per_tooth, 1.0))
    return angle

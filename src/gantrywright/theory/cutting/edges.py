"""The engaged edge of a cutter as a stack of stretches: straight, helical, compression, ball nose, V bit.

A stretch has one radius, one helix, one slant against the spindle and one arc of contact. A plain end mill is one stretch, a compression cutter
two of opposite helix; a ball nose or a V bit is cut into slices.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, Number, Radian, Real
from gantrywright.theory.cutting.engagement import Way, engagement
from gantrywright.theory.cutting.forces import Coefficients, MeanForces, mean_forces

SLICES = 12
"""Stretches that a ball nose or a V bit is cut into; many more change mean forces by 1 %, and take 3 to 6 % off the peak of a light cut."""
STRAIGHT = 1e-4
"""Helix angle that stands for a straight flute: a quarter of a micrometre of lag on a 6 mm deep cut."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Part of the engaged edge."""

    height: Metre
    """Along the spindle."""
    diameter: Metre
    """Of the circle that the edge runs on."""
    lag: Real
    """Angle by which the edge falls behind for every metre up, rad/m; negative for a down-cut helix, never nothing."""
    start: Radian
    """Angle at which a tooth enters."""
    stop: Radian
    """Angle at which it leaves."""
    slant: Radian = np.pi / 2
    """From the tip's direction to the outward normal of the edge: a quarter of a turn on the side of a cylinder, less on a ball or cone."""
    hand: Number = 1.0
    """1 where the helix is the one that the axial coefficients are for, -1 where it is the opposite one."""


Edge = tuple[Stretch, ...]


@formula("lag = 2 tan(beta)/D", source="altintas-manufacturing-automation")
def lag(*, helix: Radian, diameter: Metre) -> Number:
    """Angle by which a helical edge falls behind for every metre up, rad/m."""
    steep: Real = np.where(np.abs(helix) < STRAIGHT, STRAIGHT, helix)
    return 2 * np.tan(steep) / diameter


def end_mill(*, depth: Metre, diameter: Metre, helix: Radian, start: Radian, stop: Radian) -> Edge:
    """Edge of a straight or helical cutter.

    Args:
        depth: Of cut, along the spindle.
        diameter: Of the cutter.
        helix: Positive lifts the chip (up-cut), negative pushes it down, 0 is straight.
        start: Angle at which a tooth enters.
        stop: Angle at which it leaves.

    Returns:
        One stretch.
    """
    return (Stretch(depth, diameter, lag(helix=helix, diameter=diameter), start, stop),)


def compression(*, depth: Metre, diameter: Metre, helix: Radian, up_cut: Metre, start: Radian, stop: Radian) -> Edge:
    """Edge of a cutter that lifts at its tip and pushes down above, so that both faces of a board stay whole.

    Args:
        depth: Of cut, along the spindle.
        diameter: Of the cutter.
        helix: Of the part at the tip, positive.
        up_cut: Height of the part at the tip. A cut that is not deeper meets nothing but that part.
        start: Angle at which a tooth enters.
        stop: Angle at which it leaves.

    Returns:
        Two stretches; the upper one has no height where the cut is shallow.
    """
    rate = lag(helix=helix, diameter=diameter)
    low = np.minimum(depth, up_cut)
    return (Stretch(low, diameter, rate, start, stop), Stretch(depth - low, diameter, -rate, start, stop, hand=-1.0))


@formula("D_eff = 2 sqrt(ap (D - ap)) for ap < D/2, else D", source="derived")
def ball_diameter(*, depth: Metre, diameter: Metre) -> Metre:
    """Diameter at the surface of the work of a ball nose: what its greatest cutting speed goes by.

    Args:
        depth: Of cut.
        diameter: Of the ball.

    Returns:
        Diameter.
    """
    deep: Real = np.clip(depth, 0.0, diameter / 2)
    wide: Real = 2 * np.sqrt(deep * (diameter - deep))
    return wide


@formula("D_eff = min(D, d_tip + 2 ap tan(theta/2))", source="derived")
def v_diameter(*, depth: Metre, diameter: Metre, tip: Metre, included_angle: Radian) -> Metre:
    """Diameter at the surface of the work of a V bit: the width of the groove.

    Args:
        depth: Of cut.
        diameter: Of the bit, where its flanks end.
        tip: Diameter of its flat; 0 for a sharp point.
        included_angle: Between the flanks.

    Returns:
        Diameter.

    Example:
        >>> round(float(v_diameter(depth=2e-3, diameter=12e-3, tip=0.0, included_angle=np.pi / 2)) * 1e3, 6)
        4.0
    """
    wide: Real = np.minimum(diameter, tip + 2 * depth * np.tan(included_angle / 2))
    return wide


def ball_nose(*, depth: Metre, diameter: Metre, helix: Radian, width: Metre, way: Way, slices: int = SLICES) -> Edge:
    """Edge of a ball nose: slices of equally long edge up to the depth of cut, then the cylinder above the ball.

    Args:
        depth: Of cut.
        diameter: Of the ball.
        helix: Of the edge on the cylinder; the lag for every metre up is the same on the ball.
        width: Of cut, from the outermost point at the surface of the work; the whole diameter there or more is a slot.
        way: Climb or conventional.
        slices: How many.

    Returns:
        Stretches from the tip up; the last is the cylinder, without height where the cut ends on the ball.
    """
    radius, rate = diameter / 2, lag(helix=helix, diameter=diameter)
    top = ball_diameter(depth=depth, diameter=diameter)
    deep: Real = np.minimum(depth, radius)
    slant: Real = np.arccos(1 - deep / radius)
    stretches = []
    for below in range(slices):
        low, middle, high = ((below + part) / slices * slant for part in (0.0, 0.5, 1.0))
        wide = diameter * np.sin(middle)
        start, stop = engagement(diameter=wide, width=_beside(wide, top, width), way=way)
        stretches.append(Stretch(radius * (np.cos(low) - np.cos(high)), wide, rate, start, stop, slant=middle))
    start, stop = engagement(diameter=diameter, width=width, way=way)
    return (*stretches, Stretch(depth - deep, diameter, rate, start, stop))


def v_bit(
    *, depth: Metre, diameter: Metre, tip: Metre, included_angle: Radian, width: Metre, way: Way, slices: int = SLICES
) -> Edge:
    """Edge of a V bit with straight flanks: slices of equal height up to the depth of cut.

    At a sharp tip nothing moves and the model tells of cutting only; the tip pushes more than is told here.

    Args:
        depth: Of cut, within the flanks.
        diameter: Of the bit, where its flanks end.
        tip: Diameter of its flat; 0 for a sharp point.
        included_angle: Between the flanks.
        width: Of cut, from the outermost point at the surface of the work; the whole diameter there or more is a groove.
        way: Climb or conventional.
        slices: How many.

    Returns:
        Stretches from the tip up.
    """
    top = v_diameter(depth=depth, diameter=diameter, tip=tip, included_angle=included_angle)
    stretches = []
    for share in (np.arange(slices) + 0.5) / slices:
        wide = v_diameter(depth=share * depth, diameter=diameter, tip=tip, included_angle=included_angle)
        start, stop = engagement(diameter=wide, width=_beside(wide, top, width), way=way)
        rate = lag(helix=0.0, diameter=diameter)
        stretches.append(Stretch(depth / slices, wide, rate, start, stop, slant=np.pi / 2 - included_angle / 2))
    return tuple(stretches)


def local(cut: Coefficients, stretch: Stretch) -> Coefficients:
    """Coefficients of a stretch in the directions of the spindle, per height: its normal and its meridian turned by its slant.

    On a cylinder they are those of the material. The chip is thinner and wider by the same factor, so that its area does not change; the edge
    is longer.
    """
    out, down = np.sin(stretch.slant), np.cos(stretch.slant)
    lift, lift_edge = stretch.hand * cut.axial_shear, stretch.hand * cut.axial_edge
    return Coefficients(
        shear=cut.shear,
        edge=cut.edge / out,
        radial_shear=out * cut.radial_shear + down * lift,
        radial_edge=cut.radial_edge + down / out * lift_edge,
        axial_shear=out * lift - down * cut.radial_shear,
        axial_edge=lift_edge - down / out * cut.radial_edge,
    )


@formula("sum over the stretches of the closed form", source="altintas-manufacturing-automation")
def mean_over(*, cut: Coefficients, edge: Sequence[Stretch], flutes: int, feed_per_tooth: Metre) -> MeanForces:
    """Mean forces of an edge over a turn; run-out is not in it.

    Args:
        cut: Coefficients of the material.
        edge: Stretches.
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth.

    Returns:
        Mean forces on the tool.
    """
    parts = [
        mean_forces(
            cut=local(cut, part), flutes=flutes, depth=part.height, feed_per_tooth=feed_per_tooth, diameter=part.diameter,
            start=part.start, stop=part.stop,
        )
        for part in edge
    ]  # fmt: skip
    return MeanForces(
        along_feed=sum(part.along_feed for part in parts),
        across=sum(part.across for part in parts),
        axial=sum(part.axial for part in parts),
        torque=sum(part.torque for part in parts),
    )


def _beside(wide: Metre, top: Metre, width: Metre) -> Metre:
    """Width of cut of a slice, the stock's face being the same flat for all slices."""
    beside: Real = np.clip((wide - top) / 2 + width, 0.0, wide)
    return beside

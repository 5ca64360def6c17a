"""Run-out: the cutter turns about an axis beside its own, so that no two teeth cut the same chip.

The radius of tooth j is R + e cos(lambda + 2 pi j/N), e being how far the axes are apart and lambda where, from tooth 0. An indicator on the shank
shows twice e. A chip reaches down to the deepest of all earlier passes, the one a whole turn ago among them.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, Number, Radian, Real


@formula("e = TIR/2", source="definition")
def from_reading(*, reading: Metre) -> Metre:
    """Eccentricity, from what an indicator shows between its lowest and highest.

    Args:
        reading: Whole travel of the indicator over a turn.

    Returns:
        Distance between the two axes.
    """
    return reading / 2


@formula("R_j - R = e cos(lambda + 2 pi j/N)", source="kline-devor-1983")
def radius_offsets(*, flutes: int, run_out: Metre, run_out_angle: Radian) -> Metre:
    """By how much each tooth turns on a larger circle than it should.

    Args:
        flutes: Teeth.
        run_out: Eccentricity.
        run_out_angle: Where it points, from tooth 0.

    Returns:
        Offsets, shape (..., teeth).
    """
    turned = np.asarray(run_out_angle)[..., None] + 2 * np.pi / flutes * np.arange(flutes)
    offsets: Real = np.asarray(run_out)[..., None] * np.cos(turned)
    return offsets


@formula("h_j = min over m = 1..N of m fz sin(phi) + R_j - R_(j-m)", source="kline-devor-1983")
def signed_chips(*, flutes: int, feed_per_tooth: Metre, run_out: Metre, run_out_angle: Radian, angles: Radian) -> Metre:
    """Depth of every tooth below the surface that it meets; negative where it passes above and cuts nothing.

    Args:
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth.
        run_out: Eccentricity.
        run_out_angle: Where it points, from tooth 0.
        angles: Of the tooth, clockwise from the left of the feed; shape (angles,), or (n, angles) where they are sampled.

    Returns:
        Depths, shape (..., teeth, angles).
    """
    offsets = np.asarray(radius_offsets(flutes=flutes, run_out=run_out, run_out_angle=run_out_angle))[..., None]
    advance = (np.asarray(feed_per_tooth)[..., None] * np.sin(angles))[..., None, :]
    depth: Real = flutes * advance + np.zeros_like(offsets)
    for before in range(1, flutes):
        depth = np.minimum(depth, before * advance + (offsets - np.roll(offsets, before, axis=-2)))
    return depth


@formula("h_j = max(0, min over m = 1..N of m fz s + R_j - R_(j-m)), s the greatest sin(phi) of the arc", source="kline-devor-1983")
def largest_chips(
    *, flutes: int, feed_per_tooth: Metre, run_out: Metre, run_out_angle: Radian, start: Radian, stop: Radian
) -> Metre:
    """Thickest chip of every tooth; nothing for a tooth that run-out keeps out of the work.

    Args:
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth.
        run_out: Eccentricity.
        run_out_angle: Where it points, from tooth 0.
        start: Angle at which a tooth enters.
        stop: Angle at which it leaves.

    Returns:
        Thickness, shape (..., teeth).

    Example:
        >>> chips = largest_chips(flutes=2, feed_per_tooth=50e-6, run_out=10e-6, run_out_angle=0.0, start=0.0, stop=np.pi)
        >>> [round(float(h) * 1e6) for h in chips]
        [70, 30]
    """
    thickest = np.clip(np.pi / 2, start, stop)
    depth = signed_chips(
        flutes=flutes, feed_per_tooth=feed_per_tooth, run_out=run_out, run_out_angle=run_out_angle,
        angles=np.asarray(thickest)[..., None],
    )  # fmt: skip
    thickness: Real = np.maximum(np.asarray(depth)[..., 0], 0.0)
    return thickness


@formula("sum of h_j > 0", source="derived")
def teeth_at_work(*, largest_chips: Metre) -> Number:
    """How many teeth cut at all.

    Args:
        largest_chips: Of every tooth, shape (..., teeth).

    Returns:
        Count, shape (...).
    """
    count: Real = np.sum(np.asarray(largest_chips) > 0, axis=-1)
    return count


@formula("o = max over j of R_j - R", source="derived")
def reach(*, flutes: int, run_out: Metre, run_out_angle: Radian) -> Metre:
    """How far beyond its nominal circle a cutter with run-out takes the wall; a slot gets twice that wider.

    Args:
        flutes: Teeth.
        run_out: Eccentricity.
        run_out_angle: Where it points, from tooth 0.

    Returns:
        Distance; negative for a single tooth on the short side.
    """
    furthest: Real = np.asarray(radius_offsets(flutes=flutes, run_out=run_out, run_out_angle=run_out_angle)).max(axis=-1)
    return furthest


@formula("y(x) = max over teeth of R_j - (x - j fz)^2/D; ridge = greatest y - least y", source="derived")
def wall_ridge(*, flutes: int, feed_per_tooth: Metre, diameter: Metre, run_out: Metre, run_out_angle: Radian) -> Metre:
    """Height of the tooth marks on a wall.

    Without run-out every tooth leaves its mark; a run-out of a micrometre is mostly enough for the longest tooth to leave all of them, a
    turn apart. Exact for shallow arcs: the lowest points lie where two arcs cross.

    Args:
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth.
        diameter: Of the cutter.
        run_out: Eccentricity.
        run_out_angle: Where it points, from tooth 0.

    Returns:
        Height from valley to ridge.
    """
    offsets = np.asarray(radius_offsets(flutes=flutes, run_out=run_out, run_out_angle=run_out_angle))
    feed, wide = (np.asarray(v)[..., None] for v in (feed_per_tooth, diameter))
    marks = np.arange(-flutes, 5 * flutes)
    radius = offsets[..., marks % flutes]
    crossings = []
    for apart in range(1, flutes + 1):
        first = np.arange(flutes, 2 * flutes)
        rise = offsets[..., first % flutes] - offsets[..., (first + apart) % flutes]
        crossings.append((first + apart / 2) * feed + rise * wide / (2 * apart * feed))
    places = np.concatenate(np.broadcast_arrays(*crossings), axis=-1)[..., None]
    wall = (radius[..., None, :] - (places - marks * feed[..., None]) ** 2 / wide[..., None]).max(axis=-1)
    inside = (places[..., 0] >= 0) & (places[..., 0] <= 3 * flutes * feed)  # elsewhere the longest tooth is nearer and lower
    ridge: Real = offsets.max(axis=-1) - np.where(inside, wall, np.inf).min(axis=-1)
    return ridge

"""Where a swinging cutter stands at the moment when it makes the wall: the error of a steady cut at every speed of the spindle.

In a steady cut every tooth finds what the one before it left at the same place, so that the chip is that of a stiff cutter and the cutter swings
as its own forces make it: orders of the turn times the give at their frequencies. Where an order of the teeth meets a mode the error grows and
changes its sign, right beside the speed at which most can be cut before it chatters. Nothing of this holds in a cut that chatters.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Radian, RadianPerSecond, Real
from gantrywright.theory.cutting.cycle import Cycle, Grain, force_cycle, rotation_angles
from gantrywright.theory.cutting.edges import Stretch, local
from gantrywright.theory.cutting.engagement import Way
from gantrywright.theory.cutting.forces import Coefficients
from gantrywright.theory.cutting.modes import FeedModes
from gantrywright.theory.cutting.run_out import radius_offsets
from gantrywright.theory.cutting.wall import making_angles, overcut, wall_heights

BEYOND = 6.0
"""Orders are taken up to this many times the frequency of a mode: what is left out is half a per cent of its give at rest."""
LEAST_ORDERS, MOST_ORDERS = 24, 1000
TRACE_ANGLES = 720
"""Places of a turn from which orders are taken where teeth differ."""
HEIGHTS = 5
"""Places over the height of a wall at which its error is told."""

Complex = NDArray[np.complex128]


@dataclass(frozen=True, slots=True)
class Orders:
    """Forces over a turn as a sum of orders: F(theta) = Re sum of values exp(i order theta), theta that of tooth 0 at the tip."""

    orders: Array
    """Of the turn, from 0 up, shape (k,)."""
    values: Complex
    """Along the feed and to its left, shape (..., 2, k)."""


@dataclass(frozen=True, slots=True)
class SurfaceError:
    """How far a wall is off over the speeds, positive into what should stay."""

    speeds: Array
    """Of the spindle, rad/s, shape (s,)."""
    heights: Array
    """Above the tip, m, shape (h,), or (n, h) where the depth is sampled."""
    error: Array
    """Shape (..., s, h)."""

    @property
    def most(self) -> Array:
        """Farthest into what should stay, shape (..., s)."""
        most: Array = self.error.max(axis=-1)
        return most

    @property
    def least(self) -> Array:
        """Farthest short of it, shape (..., s)."""
        least: Array = self.error.min(axis=-1)
        return least

    @property
    def worst(self) -> Array:
        """The larger of both, with its sign, shape (..., s)."""
        worst: Array = np.where(np.abs(self.most) >= np.abs(self.least), self.most, self.least)
        return worst


@formula("C_m = N/(2 pi) sum over stretches of int f exp(-i m phi) dphi int exp(-i m lag z) dz, m = k N", source="derived")
def tooth_orders(*, cut: Coefficients, edge: Sequence[Stretch], flutes: int, feed_per_tooth: Metre, count: int) -> Orders:
    """Orders of the forces on the tool of a cutter whose teeth are alike, exact.

    Args:
        cut: Coefficients.
        edge: Stretches of the engaged edge, from the tip up (`edges`).
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth.
        count: Orders of the teeth, besides the mean.
    """
    orders = flutes * np.arange(count + 1.0)
    total: Complex = np.zeros((2, count + 1), dtype=complex)
    foot: Real = 0.0
    for part in edge:
        own = local(cut, part)
        sheared = [np.asarray(k * feed_per_tooth)[..., None] for k in (own.shear, own.radial_shear)]
        edged = [np.asarray(k)[..., None] for k in (own.edge, own.radial_edge)]
        sine, cosine, square, product = _arc(part.start, part.stop, orders)
        along = -sheared[0] * product - edged[0] * cosine - sheared[1] * square - edged[1] * sine
        left = sheared[0] * square + edged[0] * sine - sheared[1] * product - edged[1] * cosine
        turned = np.asarray(part.lag * part.height)[..., None] * orders
        climbs = np.asarray(part.height)[..., None] * np.sinc(turned / (2 * np.pi))
        climbs = climbs * np.exp(-1j * (np.asarray(foot)[..., None] * orders + turned / 2))
        total = total + np.stack(np.broadcast_arrays(along * climbs, left * climbs), axis=-2)
        foot = foot + part.lag * part.height
    twice = np.where(orders == 0, 1.0, 2.0) * flutes / (2 * np.pi)
    return Orders(orders, total * twice)


@formula("C_m = 2/n sum F(theta) exp(-i m theta)", source="definition")
def trace_orders(*, cycle: Cycle) -> Orders:
    """Orders of forces that are told at even angles over a turn from 0: teeth may differ.

    Args:
        cycle: Forces over a turn.
    """
    forces = np.stack(np.broadcast_arrays(cycle.along_feed, cycle.across), axis=-2)
    values = np.fft.rfft(forces, axis=-1)[..., : forces.shape[-1] // 2] * (2 / forces.shape[-1])
    values[..., 0] /= 2
    return Orders(np.arange(values.shape[-1], dtype=float), values)


@formula(
    "y(theta) = Re sum over modes and orders of p_y p^T C_m exp(i m theta)/(w_r^2 - (m w)^2 + 2 i zeta_r w_r m w)", source="derived"
)
def swing_across(*, orders: Orders, modes: FeedModes, speeds: RadianPerSecond, angles: Radian) -> Array:
    """Motion of the cutter to the left of the feed by its modes, without what they leave out.

    Args:
        orders: Of the forces.
        modes: In the axes of the feed.
        speeds: Of the spindle, shape (s,).
        angles: Of tooth 0 at the tip, shape (a,), or (..., a).

    Returns:
        Shape (..., s, a).
    """
    speed, place = np.asarray(speeds, dtype=float), np.asarray(angles, dtype=float)
    turned = np.exp(1j * orders.orders[:, None] * place[..., None, :])
    found: Real = 0.0
    for mode in range(modes.squares.shape[-1]):
        own, ratio = modes.squares[..., mode], modes.damping[..., mode]
        shape = modes.shapes[..., mode]
        count = _needed(own, orders.orders, speed)
        swinging = orders.orders[:count] * speed[:, None]
        stirred = (shape[..., None] * orders.values[..., :count]).sum(axis=-2) * shape[..., 1, None]
        lag = (2 * ratio * np.sqrt(own))[..., None, None] * swinging
        answer = stirred[..., None, :] / (own[..., None, None] - swinging**2 + 1j * lag)
        found = found + (answer @ turned[..., :count, :]).real
    return np.asarray(found)


@formula("y = y_modes + [C_rest F]_y", source="derived")
def forced_motion(
    *, cut: Coefficients, edge: Sequence[Stretch], flutes: int, feed_per_tooth: Metre, modes: FeedModes, speeds: RadianPerSecond,
    angles: Radian, run_out: Metre | None = None, run_out_angle: Radian = 0.0, grain: Grain | None = None,
) -> Array:  # fmt: skip
    """Motion of the cutter to the left of the feed in a steady cut.

    Args:
        cut: Coefficients; along the fibres where the material has grain.
        edge: Stretches of the engaged edge, from the tip up (`edges`).
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth, the same at all speeds.
        modes: In the axes of the feed.
        speeds: Of the spindle, shape (s,).
        angles: Of tooth 0 at the tip, shape (a,), or (..., a).
        run_out: Eccentricity; None for a cutter whose teeth are alike.
        run_out_angle: Where it points, from tooth 0.
        grain: Of the material.

    Returns:
        Shape (..., s, a).
    """
    known = {"cut": cut, "edge": edge, "flutes": flutes, "feed_per_tooth": feed_per_tooth}
    off = {"run_out": 0.0 if run_out is None else run_out, "run_out_angle": run_out_angle, "grain": grain}
    if run_out is None and grain is None:
        orders = tooth_orders(**known, count=_count(modes, flutes, speeds))  # type: ignore[arg-type]
    else:
        orders = trace_orders(cycle=force_cycle(**known, **off, angles=rotation_angles(TRACE_ANGLES)))  # type: ignore[arg-type]
    now = force_cycle(**known, **off, angles=angles)  # type: ignore[arg-type]
    stiff = modes.residual[..., 1, 0, None] * now.along_feed + modes.residual[..., 1, 1, None] * now.across
    return np.asarray(swing_across(orders=orders, modes=modes, speeds=speeds, angles=angles) + stiff[..., None, :])


@formula("e(z) = s y(theta_z) + max(R_j) - R, s = +1 conventional, -1 climb", source="derived")
def surface_error(
    *, cut: Coefficients, edge: Sequence[Stretch], flutes: int, feed_per_tooth: Metre, modes: FeedModes, speeds: RadianPerSecond, way: Way,
    run_out: Metre | None = None, run_out_angle: Radian = 0.0, grain: Grain | None = None,
) -> SurfaceError:  # fmt: skip
    """Error of a wall that a swinging cutter leaves in a steady cut, at many speeds of the spindle.

    Args:
        cut: Coefficients; along the fibres where the material has grain.
        edge: Stretches of the engaged edge, from the tip up (`edges`).
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth, the same at all speeds.
        modes: In the axes of the feed.
        speeds: Of the spindle, shape (s,).
        way: Which wall: that of climb or of conventional milling.
        run_out: Eccentricity; None for a cutter whose teeth are alike.
        run_out_angle: Where it points, from tooth 0.
        grain: Of the material.

    Returns:
        Error at `HEIGHTS` heights.
    """
    heights = wall_heights(edge, HEIGHTS)
    longer = np.asarray(radius_offsets(flutes=flutes, run_out=1.0, run_out_angle=run_out_angle))
    angles = making_angles(edge=edge, way=way, heights=heights) + (2 * np.pi / flutes * longer.argmax(axis=-1))[..., None]
    motion = forced_motion(
        cut=cut, edge=edge, flutes=flutes, feed_per_tooth=feed_per_tooth, modes=modes, speeds=speeds, angles=angles, run_out=run_out,
        run_out_angle=run_out_angle, grain=grain,
    )  # fmt: skip
    reach = np.asarray((0.0 if run_out is None else run_out) * longer.max(axis=-1))[..., None, None]
    return SurfaceError(np.asarray(speeds), heights, overcut(way) * motion + reach)


def _arc(start: Radian, stop: Radian, orders: Array) -> tuple[Complex, ...]:
    """Integrals over the arc of sin, cos, sin^2 and sin cos, each times exp(-i m phi), shape (..., k)."""
    enters, leaves = np.asarray(start)[..., None], np.asarray(stop)[..., None]

    def power(p: int) -> Complex:
        """Of exp(i (p - m) phi)."""
        rate = p - orders
        safe = np.where(rate == 0, 1, rate)
        whole = (np.exp(1j * safe * leaves) - np.exp(1j * safe * enters)) / (1j * safe)
        integral: Complex = np.where(rate == 0, leaves - enters, whole)
        return integral

    one, up, down, up2, down2 = (power(p) for p in (0, 1, -1, 2, -2))
    return (up - down) / 2j, (up + down) / 2, one / 2 - (up2 + down2) / 4, (up2 - down2) / 4j


def _count(modes: FeedModes, flutes: int, speeds: RadianPerSecond) -> int:
    """Orders of the teeth that the quickest mode needs at the lowest speed."""
    quickest = float(np.sqrt(np.max(modes.squares, initial=0.0)))
    needed = BEYOND * quickest / (flutes * float(np.min(speeds)))
    return int(np.clip(np.ceil(needed), LEAST_ORDERS, MOST_ORDERS))


def _needed(squares: Array, orders: Array, speeds: Array) -> int:
    """How many of the orders a mode needs."""
    highest = BEYOND * float(np.sqrt(np.max(squares))) / float(speeds.min())
    return max(int(np.searchsorted(orders, highest)) + 1, min(LEAST_ORDERS, len(orders)))

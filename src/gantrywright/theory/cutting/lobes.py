"""Depth at which a cut starts to chatter, by the mean of the cutting stiffness over a turn: fast, and good from half immersion upwards.

A force on the tool of ap Kt N/(4 pi) [alpha] (r(t) - r(t - T)) closes a loop round the receptance [H]. With an eigenvalue mu of [alpha][H] at the
frequency w the loop is on the verge where (N ap Kt/(4 pi)) mu (1 - exp(-j w T)) = 1: the depth follows from the real part of mu alone, and the
delay from its phase. At 5 to 30 % down-milling the true limit can be a third of this one: `delay` is the reference there.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, TypeAlias

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Hertz, Metre, NewtonPerMetre, Number, Pascal, Radian, RadianPerSecond, Unit
from gantrywright.theory.cutting.modes import ComplexGive

HELD = 0.7
"""Share of the linear limit that is recommended: with forced vibration above the chip, cuts misbehave from 0.8 of it."""
SPEED_DOUBT = 0.04
"""By how much natural frequencies may be off, as a share, for a speed that is to be trusted."""
TRIES = 9
"""Frequencies within that band that are tried."""
AT_ONCE = 1 << 15
"""Crossings that are worked out together: few enough to stay in the cache."""
NOISE = 1e-12
"""Share of the greatest eigenvalue below which one is nothing."""
TINY = 1e-300
"""Instead of nothing, where a stretch has no length."""


Directional: TypeAlias = Annotated[Array, Unit("")]
"""A matrix along and across the feed, shape (..., 2, 2)."""


@dataclass(frozen=True, slots=True)
class LobeCurves:
    """What a receptance and a cut make of each other at each chatter frequency, for any speed, any number of teeth, any material."""

    frequencies: Array
    """Of chatter, Hz, shape (f,) or (..., f)."""
    values: ComplexGive
    """The two eigenvalues of [alpha][H], each followed through all frequencies, m/N, shape (..., 2, f); chatter where the real part is above 0."""

    @property
    def lag(self) -> Radian:
        """Phase from a wave to the next, 0 to 2 pi where there is chatter, shape (..., 2, f)."""
        return _lag(self.values)


@dataclass(frozen=True, slots=True)
class ChatterLimit:
    """Where a cut starts to chatter."""

    depth: Metre
    """Infinite where it never does."""
    frequency: Hertz
    """Of the chatter at that depth; nan where there is none."""


@formula(
    "a_xx = [cos 2p - 2 Kr p + Kr sin 2p]/2, a_xy = [-sin 2p - 2 p + Kr cos 2p]/2, "
    "a_yx = [-sin 2p + 2 p + Kr cos 2p]/2, a_yy = [-cos 2p - 2 Kr p - Kr sin 2p]/2, from entry to exit",
    source="altintas-budak-1995",
)
def directional_factors(*, start: Radian, stop: Radian, radial_ratio: Number) -> Directional:
    """How motion of the tool turns to force, summed over the arc of contact.

    Args:
        start: Angle at which a tooth enters.
        stop: Angle at which it leaves.
        radial_ratio: Radial over tangential shear coefficient.

    Returns:
        Shape (..., 2, 2): force along the feed and to its left, from motion along the feed and to its left.
    """
    return _antiderivative(stop, radial_ratio) - _antiderivative(start, radial_ratio)


def lobe_curves(*, frequencies: Array, receptance: ComplexGive, factors: Array) -> LobeCurves:
    """Both eigenvalues of the loop over frequency, each followed without a jump.

    Args:
        frequencies: Ascending, Hz, shape (f,) or (..., f); see `worth_scanning`.
        receptance: In axes of the feed, shape (..., f, 2, 2): directions of feed, samples.
        factors: Shape (2, 2) or (..., 2, 2) from `directional_factors`.
    """
    (xx, xy), (yx, yy) = (np.moveaxis(np.asarray(factors), -1, 0)[..., row, None] for row in (0, 1))
    h = receptance
    trace = xx * h[..., 0, 0] + xy * h[..., 1, 0] + yx * h[..., 0, 1] + yy * h[..., 1, 1]
    root = np.sqrt(trace**2 - (4 * (xx * yy - xy * yx)) * (h[..., 0, 0] * h[..., 1, 1] - h[..., 0, 1] * h[..., 1, 0]))
    real, imaginary = root.real, root.imag
    turns = real[..., 1:] * real[..., :-1] + imaginary[..., 1:] * imaginary[..., :-1] < 0
    root[..., 1:] *= np.where(np.logical_xor.accumulate(turns, axis=-1), -0.5, 0.5)
    root[..., :1] *= 0.5
    trace /= 2
    values = np.stack([trace + root, trace - root], axis=-2)
    size = values.real**2 + values.imag**2
    values[size < NOISE**2 * size.max(axis=(-1, -2), keepdims=True)] = 0.0  # what rounding leaves where only one direction moves
    return LobeCurves(frequencies, values)


@formula("a = 2 pi/(N Kt Re mu), least over both roots and all lobes with w/(N n) = eps + 2 pi k", source="altintas-budak-1995")
def zero_order_limit(
    *, curves: LobeCurves, shear: Pascal, flutes: int, speeds: RadianPerSecond, deepest: Metre = np.inf
) -> ChatterLimit:
    """Depth at which chatter starts at given speeds.

    A frequency that is a factor off is the same as a speed that is the factor lower: samples of it go into the speeds.

    Args:
        curves: Of shape (..., 2, f).
        shear: Tangential shear coefficient, one or shape (...).
        flutes: Teeth.
        speeds: Of the spindle, shape (n,), or (..., n).
        deepest: One number; limits that lie deeper need not be told and come out as infinite, which is quicker.

    Returns:
        Both of shape (..., n).
    """
    matters = 2 * np.pi / (flutes * float(np.max(shear)) * float(deepest))
    teeth = flutes * np.asarray(speeds, dtype=float) / (2 * np.pi)
    lead, count = np.broadcast_shapes(curves.values.shape[:-2], teeth.shape[:-1]), teeth.shape[-1]
    values = np.broadcast_to(curves.values, (*lead, *curves.values.shape[-2:])).reshape(-1, *curves.values.shape[-2:])
    frequencies = np.broadcast_to(curves.frequencies, (*lead, values.shape[-1])).reshape(len(values), -1)
    speeds = np.broadcast_to(teeth, (*lead, count)).reshape(len(values), count)
    most, frequency = np.empty(speeds.shape), np.empty(speeds.shape)
    step = max(1, AT_ONCE // (2 * values.shape[-1]))
    for some in (slice(at, at + step) for at in range(0, len(values), step)):
        on = _stretches(LobeCurves(frequencies[some], values[some]), matters)
        size = max(1, AT_ONCE // max(1, on.real.shape[0] * on.real.shape[-1]))
        for few in (slice(at, at + size) for at in range(0, count, size)):
            most[some, few], frequency[some, few] = _worst_crossing(on, speeds[some, few])
    most[most < matters] = 0.0
    most, frequency = most.reshape(*lead, count), frequency.reshape(*lead, count)
    per_depth = flutes * np.asarray(shear, dtype=float)[..., None] / (2 * np.pi)
    with np.errstate(divide="ignore"):
        depth = 1 / (per_depth * most)
    return ChatterLimit(depth, np.where(most > 0, frequency, np.nan))


@formula("a = 2 pi/(N Kt max Re mu)", source="altintas-budak-1995")
def least_limit(*, curves: LobeCurves, shear: Pascal, flutes: int) -> ChatterLimit:
    """Depth that no speed brings to chatter.

    Args:
        curves: Of shape (..., 2, f).
        shear: Tangential shear coefficient, one or shape (...).
        flutes: Teeth.

    Returns:
        Both of shape (...).
    """
    worst = curves.values.real.max(axis=-2)
    place = worst.argmax(axis=-1)[..., None]
    most = np.maximum(np.take_along_axis(worst, place, axis=-1)[..., 0], 0.0)
    frequency = np.take_along_axis(np.broadcast_to(curves.frequencies, worst.shape), place, axis=-1)[..., 0]
    with np.errstate(divide="ignore"):
        depth = 2 * np.pi / (flutes * np.asarray(shear) * most)
    return ChatterLimit(depth, np.where(most > 0, frequency, np.nan))


@formula("b = 2 k zeta (1 + zeta)/Ks", source="tlusty-tobias")
def single_point_limit(*, stiffness: NewtonPerMetre, damping: Number, cutting_stiffness: Pascal) -> Metre:
    """Width of cut of a tool with one edge and one mode that no speed brings to chatter.

    Args:
        stiffness: Of the mode, N/m.
        damping: Damping ratio.
        cutting_stiffness: Force along the mode per area of chip.
    """
    return 2 * stiffness * damping * (1 + damping) / cutting_stiffness


@formula("a = s a_lim", source="derived")
def recommended_depth(*, limit: Metre, share: Number = HELD) -> Metre:
    """Depth that keeps away from the limit far enough for forced vibration and loss of contact.

    Args:
        limit: Linear limit.
        share: Of it.
    """
    return limit * share


@formula("n = 2 pi f/(N k)", source="definition")
def speeds_of_best_hold(*, frequency: Hertz, flutes: int, waves: int) -> RadianPerSecond:
    """Speeds at which whole waves of a frequency stand between one tooth and the next, so that chips keep their thickness.

    Args:
        frequency: Of a mode, or of a chatter that was heard.
        flutes: Teeth.
        waves: Down to how many waves from tooth to tooth.

    Returns:
        Shape (waves,), or (..., waves), falling.
    """
    return 2 * np.pi * np.asarray(frequency)[..., None] / (flutes * np.arange(1, waves + 1))


def worst_limits(limits: Callable[[Array], Array], speeds: Array, *, doubt: float = SPEED_DOUBT) -> Array:
    """Least limit at each speed if all natural frequencies may be off by some share.

    Args:
        limits: Depths at speeds of shape (n,), as of `zero_order_limit` or `delay_limits`; leading axes are kept.
        speeds: Shape (n,).
        doubt: Share to either side.

    Returns:
        Shape (..., n).
    """
    factors = np.linspace(1 - doubt, 1 + doubt, TRIES)
    found = limits((speeds[:, None] / factors).ravel())
    least: Array = found.reshape(*found.shape[:-1], len(speeds), TRIES).min(axis=-1)
    return least


def _antiderivative(angle: Radian, ratio: Number) -> Array:
    twice = 2 * np.asarray(angle, dtype=float)
    sin, cos = np.sin(twice), np.cos(twice)
    rows = (
        (cos - ratio * twice + ratio * sin, -sin - twice + ratio * cos),
        (-sin + twice + ratio * cos, -cos - ratio * twice - ratio * sin),
    )
    return np.stack([np.stack(np.broadcast_arrays(*row), axis=-1) for row in rows], axis=-2) / 2


@dataclass(frozen=True, slots=True)
class _Stretches:
    """Straight stretches of the curves on which chatter is possible, from their worse end to the other; all of shape (..., 1, g)."""

    real: Array
    real_change: Array
    frequency: Array
    frequency_change: Array
    lag: Array
    lag_change: Array


def _lag(values: ComplexGive) -> Array:
    angle = np.arctan2(values.real, -values.imag)
    return 2 * np.where(angle < -np.pi / 2, angle + 2 * np.pi, angle)


def _stretches(curves: LobeCurves, matters: float) -> _Stretches:
    real, lag = curves.values.real, _lag(curves.values) / (2 * np.pi)
    frequency = np.broadcast_to(np.asarray(curves.frequencies)[..., None, :], lag.shape)
    rising = real[..., 1:] >= real[..., :-1]
    worse = np.where(rising, real[..., 1:], real[..., :-1])
    kept = (worse > matters).reshape(-1, 2 * worse.shape[-1]).any(axis=0)

    def ends(values: Array) -> tuple[Array, Array]:
        one, other = np.where(rising, values[..., 1:], values[..., :-1]), np.where(rising, values[..., :-1], values[..., 1:])
        flat = (part.reshape(*part.shape[:-2], 1, -1)[..., kept] for part in (one, other - one))
        return next(flat), next(flat)

    return _Stretches(*ends(real), *ends(frequency), *ends(lag))


def _worst_crossing(on: _Stretches, teeth: Array) -> tuple[Array, Array]:
    """Greatest real part where the waves between teeth, less the lag, are a whole number; and its frequency. Shapes (..., n)."""
    if not on.real.shape[-1]:
        return np.zeros(teeth.shape), np.zeros(teeth.shape)
    period = 1 / teeth[..., None]
    way = on.frequency_change * period - on.lag_change
    near = on.frequency * period - on.lag
    away = np.copysign(1.0, way)
    whole = np.ceil(near * away) - near * away  # from the worse end towards the other, to the first whole number
    share = whole / np.maximum(np.abs(way), TINY)
    value = np.where(share <= 1, on.real + share * on.real_change, 0.0)
    place = value.argmax(axis=-1)[..., None]
    at = np.take_along_axis(share, place, axis=-1)
    start, change = (
        np.take_along_axis(np.broadcast_to(part, share.shape), place, axis=-1) for part in (on.frequency, on.frequency_change)
    )
    worst = np.take_along_axis(value, place, axis=-1)
    return np.maximum(worst[..., 0], 0.0), (start + at * change)[..., 0]

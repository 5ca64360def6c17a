"""Process damping: a wavy wall rubs along the flank of the tooth and holds short waves down.

It goes with the cutting speed upside down, so it is nothing for a gantry that swings 100 mm waves into the wall and everything for a thin cutter that
would sing at 9 kHz: without it, ordinary cuts of small bits would be condemned.
"""

from typing import Annotated, TypeAlias

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Array,
    Hertz,
    Metre,
    MetrePerSecond,
    NewtonPerMetre,
    Number,
    Pascal,
    Radian,
    RadianPerSecond,
    Unit,
)
from gantrywright.theory.cutting.lobes import directional_factors, lobe_curves, zero_order_limit
from gantrywright.theory.cutting.modes import FeedModes, feed_receptance

DampingPerDepth: TypeAlias = Annotated[Array, Unit("N s/m2")]
PLOUGHING_LENGTH = 1.5e-4
"""Process damping coefficient over tangential shear coefficient, m (0.5e-4 .. 3e-4): 1e5 N/m in aluminium, 3e5 N/m in steel."""
TRIED = 32
"""Depths at which the limit with process damping is looked for."""


@formula("L = v/f", source="definition")
def wave_length(*, cutting_speed: MetrePerSecond, frequency: Hertz) -> Metre:
    """Length of the waves that a chattering tool leaves on the wall.

    Args:
        cutting_speed: Of the edge.
        frequency: Of the chatter.

    Example:
        >>> round(wave_length(cutting_speed=5.6549, frequency=600.0) * 1e3, 2)
        9.42
    """
    return cutting_speed / frequency


@formula("C = l Kt", source="common practice, no source")
def ploughing(*, shear: Pascal, length: Metre = PLOUGHING_LENGTH) -> NewtonPerMetre:
    """Process damping coefficient of a material of which only the cutting coefficient is known.

    Args:
        shear: Tangential shear coefficient.
        length: Ratio of the two.

    Returns:
        Force against the motion across the edge, per length of edge, per its speed over the cutting speed.
    """
    return length * shear


@formula("P = (N C/(2 pi v)) integral over the arc of n n^T, n = (sin p, cos p)", source="derived")
def mean_damping(
    *, coefficient: NewtonPerMetre, flutes: int, diameter: Metre, start: Radian, stop: Radian, speed: RadianPerSecond
) -> DampingPerDepth:
    """Damping that the flanks add, per depth of cut, mean over a turn.

    Args:
        coefficient: From `ploughing`.
        flutes: Teeth.
        diameter: Of the cutter.
        start: Angle at which a tooth enters.
        stop: Angle at which it leaves.
        speed: Of the spindle, one or shape (...).

    Returns:
        N s/m per m, along the feed and to its left, shape (..., 2, 2).
    """
    arc, sin = stop - start, (np.sin(2 * stop) - np.sin(2 * start)) / 2
    cross = -(np.cos(2 * stop) - np.cos(2 * start)) / 2
    size = flutes * coefficient / (2 * np.pi * speed * diameter / 2) / 2
    rows = ((size * (arc - sin), size * cross), (size * cross, size * (arc + sin)))
    return np.stack([np.stack(np.broadcast_arrays(*row), axis=-1) for row in rows], axis=-2)


@formula("zeta' = zeta + a phi^T P phi/(2 w_0)", source="derived")
def held_modes(*, modes: FeedModes, per_depth: DampingPerDepth, depth: Metre) -> FeedModes:
    """Modes with the damping that the flanks add at a depth; what it couples between modes is left out.

    Args:
        modes: Of shape (..., m).
        per_depth: From `mean_damping`, shape (..., 2, 2).
        depth: One, or shape (...).
    """
    more = np.einsum("...im,...ij,...jm->...m", modes.shapes, np.asarray(per_depth), modes.shapes)
    added = np.asarray(depth)[..., None] * more / (2 * np.sqrt(modes.squares))
    return FeedModes(modes.squares, modes.shapes, modes.damping + added, modes.residual)


@formula("first depth from below that reaches the zero-order limit of the modes damped at that depth", source="derived")
def held_limit(
    *, modes: FeedModes, frequencies: Array, coefficient: NewtonPerMetre, shear: Pascal, radial_ratio: Number,
    flutes: int, diameter: Metre, start: Radian, stop: Radian, speeds: Array, deepest: Metre,
) -> Metre:  # fmt: skip
    """Zero-order limit with process damping.

    Damping is the mean over a turn: where dozens of waves stand between teeth (thin cutters at low speed) it counts for too much, and only
    `delay`, which has it tooth by tooth, is to be believed.

    Args:
        modes: Of shape (..., m).
        frequencies: Of chatter that are looked at, Hz, shape (f,).
        coefficient: From `ploughing`, one or shape (...).
        shear: Tangential shear coefficient, one or shape (...).
        radial_ratio: Radial over tangential shear coefficient, one or shape (...).
        flutes: Teeth.
        diameter: Of the cutter, one number.
        start: Angle at which a tooth enters, one number.
        stop: Angle at which it leaves, one number.
        speeds: Of the spindle, shape (n,).
        deepest: Up to where it is looked for, one number.

    Returns:
        Shape (..., n); infinite where even the deepest cut is held.
    """
    coefficient, shear, ratio = (np.asarray(v, dtype=float)[..., None] for v in (coefficient, shear, radial_ratio))
    depths = np.geomspace(deepest / 500, deepest, TRIED)
    per_depth = mean_damping(coefficient=coefficient, flutes=flutes, diameter=diameter, start=start, stop=stop, speed=speeds)
    wide = FeedModes(*(getattr(modes, name)[(..., None, None, *axes)] for name, axes in _AXES.items()))
    held = held_modes(modes=wide, per_depth=per_depth[..., None, :, :], depth=depths)  # (..., n, d, m)
    factors = directional_factors(start=start, stop=stop, radial_ratio=ratio[..., None])
    curves = lobe_curves(frequencies=frequencies, receptance=feed_receptance(modes=held, frequencies=frequencies), factors=factors)
    limits = zero_order_limit(curves=curves, shear=shear[..., None], flutes=flutes, speeds=speeds[:, None, None])
    found = np.asarray(limits.depth)[..., 0]
    over = depths / found  # (..., n, d)
    first = (over >= 1).argmax(axis=-1)[..., None]
    before = np.maximum(first - 1, 0)
    high, low = np.take_along_axis(over, first, axis=-1), np.take_along_axis(over, before, axis=-1)
    share = np.clip((1 - low) / np.where(high > low, high - low, 1.0), 0.0, 1.0)
    limit = (depths[before] + share * (depths[first] - depths[before]))[..., 0]
    lone = np.take_along_axis(found, np.zeros_like(first), axis=-1)[..., 0]
    return np.where((over >= 1).any(axis=-1), np.where(first[..., 0] == 0, lone, limit), np.inf)


_AXES = {
    "squares": (slice(None),), "shapes": (slice(None), slice(None)), "damping": (slice(None),), "residual": (slice(None), slice(None))
}  # fmt: skip

"""Geometry of the engaged edges at every angle of a turn, without any coefficient: how much edge cuts, where, how thick.

Along a helix height is angle: what a tooth does between two heights is an integral over the angles that it spans. The arc of contact is cut into
cells, and a rotation angle takes of every cell the part that the edge lies in: one product of what is in the cells with how they are taken.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Radian, Real
from gantrywright.theory.cutting.edges import Stretch
from gantrywright.theory.cutting.grain import across_share
from gantrywright.theory.cutting.run_out import signed_chips

CELLS = 120
"""Parts of the arc of contact in which a chip is taken as even."""
CELLS_OF_A_SLICE = 40
"""The same for an edge of many stretches, whose unevenness is lost in their sum."""


@dataclass(frozen=True, slots=True)
class EdgeSums:
    """What the coefficients are multiplied with, for one stretch of the edge; each shaped (..., angles)."""

    edge: Array
    """Engaged length, m."""
    edge_sin: Array
    edge_cos: Array
    chip: Array
    """Chip area, m2."""
    chip_sin: Array
    chip_cos: Array


@dataclass(frozen=True, slots=True)
class StretchSums:
    """Of one stretch."""

    stretch: Stretch
    whole: EdgeSums
    across_grain: EdgeSums | None
    """Weighted by how far the edge cuts across the fibres; none where the material has no grain."""


@formula("integral over z of engaged edge, chip and their components, all teeth", source="derived")
def edge_sums(
    *,
    edge: Sequence[Stretch],
    flutes: int,
    feed_per_tooth: Metre,
    run_out: Metre,
    run_out_angle: Radian,
    angles: Radian,
    grain_angle: Radian | None = None,
) -> tuple[StretchSums, ...]:
    """Geometry of the engaged edges of every stretch.

    Args:
        edge: Stretches from the tip up.
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth.
        run_out: Eccentricity; 0 for none.
        run_out_angle: Where it points, from tooth 0.
        angles: Of tooth 0 at the tip, clockwise from the left of the feed; shape (angles,), or (n, angles) where they are sampled.
        grain_angle: From the feed to the grain, counter-clockwise; None for a material without grain.

    Returns:
        Sums of every stretch.
    """
    found = []
    foot: Real = 0.0
    cells = CELLS if len(edge) <= 2 else CELLS_OF_A_SLICE
    for part in edge:
        nodes = _column(part.start) + _column(part.stop - part.start) * (np.arange(cells + 1) / cells)
        middle = (nodes[..., 1:] + nodes[..., :-1]) / 2
        depths = signed_chips(
            flutes=flutes, feed_per_tooth=feed_per_tooth, run_out=run_out, run_out_angle=run_out_angle, angles=nodes
        )
        edge_in, chip_in = _cells(np.asarray(depths), np.diff(nodes))
        top = foot + part.lag * part.height
        taken = _taken(part, foot, top, flutes, np.asarray(angles), cells)
        whole = _sums(edge_in, chip_in, middle, taken)
        across = None
        if grain_angle is not None:
            share = np.asarray(across_share(angle=middle, grain_angle=_column(grain_angle)))[..., None, :]
            across = _sums(edge_in * share, chip_in * share, middle, taken)
        found.append(StretchSums(part, whole, across))
        foot = top
    return tuple(found)


def _cells(depths: Array, arcs: Array) -> tuple[Array, Array]:
    """Angle over which each tooth cuts in each cell, and its chip integrated over that; both (..., teeth, cells)."""
    low, high = depths[..., :-1], depths[..., 1:]
    change = np.abs(high - low)
    share = np.where(change > 0, np.maximum(low, high) / np.where(change > 0, change, 1.0), low > 0)
    edge: Array = np.clip(share, 0.0, 1.0) * arcs[..., None, :]
    chip: Array = (np.maximum(low, 0.0) + np.maximum(high, 0.0)) / 2 * edge
    return edge, chip


def _taken(part: Stretch, foot: Real, top: Real, flutes: int, angles: Array, cells: int) -> Array:
    """Height of edge that lies in each cell of each tooth, for every radian of the cell; shape (..., teeth x cells, angles)."""
    tips = angles[..., None, :] - 2 * np.pi / flutes * np.arange(flutes)[:, None]
    both = _filled(part, tips - _column(foot)[..., None], cells) - _filled(part, tips - _column(top)[..., None], cells)
    taken: Array = both.reshape(*both.shape[:-3], flutes * cells, both.shape[-1]) / _column(part.lag)[..., None]
    return taken


def _filled(part: Stretch, place: Array, cells: int) -> Array:
    """How often each cell has been passed on the way to a place, parts of it included; shape (..., teeth, cells, angles)."""
    turns = np.floor(place / (2 * np.pi))
    arc = np.maximum(part.stop - part.start, 1e-12)
    along = (place - 2 * np.pi * turns - _column(part.start)[..., None]) * (cells / _column(arc)[..., None])
    passed = along[..., None, :] - np.arange(cells)[:, None]
    np.clip(passed, 0.0, 1.0, out=passed)
    passed += turns[..., None, :]
    return passed


def _sums(edge: Array, chip: Array, middle: Array, taken: Array) -> EdgeSums:
    sine, cosine = np.sin(middle)[..., None, :], np.cos(middle)[..., None, :]
    rows = np.stack([edge, edge * sine, edge * cosine, chip, chip * sine, chip * cosine], axis=-3)
    rows = rows.reshape(*rows.shape[:-2], -1)
    if taken.ndim == 2:  # one product for all samples is much quicker than one a sample
        found = (rows.reshape(-1, rows.shape[-1]) @ taken).reshape(*rows.shape[:-1], -1)
    else:
        found = rows @ taken
    return EdgeSums(*np.moveaxis(found, -2, 0))


def _column(value: Real) -> Array:
    return np.asarray(value, dtype=float)[..., None]

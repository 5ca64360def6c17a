"""Geometry of the engaged edges at every angle of a turn, without any coefficient: how much edge cuts, where, how thick.

Along a helix height is angle: what a tooth does between two heights is an integral over the angles that it spans. The arc of contact is cut into
cells in which everything is a straight line over the angle; the integral up to a place is that of the cells before it and of a part of its own.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Radian, Real
from gantrywright.theory.cutting.edges import Stretch
from gantrywright.theory.cutting.grain import across_share
from gantrywright.theory.cutting.run_out import signed_chips

CELLS = 72
"""Parts of the arc of contact; the error of a mean is 0.02 %."""
CELLS_OF_A_SLICE = 32
"""The same for each of many stretches."""


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
        depths = signed_chips(
            flutes=flutes, feed_per_tooth=feed_per_tooth, run_out=run_out, run_out_angle=run_out_angle, angles=nodes
        )
        top = foot + part.lag * part.height
        heights = _Heights(part, foot, top, flutes, np.asarray(angles), cells)
        across = None
        if grain_angle is not None:
            across = heights.sums(np.asarray(depths), nodes, across_share(angle=nodes, grain_angle=_column(grain_angle)))
        found.append(StretchSums(part, heights.sums(np.asarray(depths), nodes, 1.0), across))
        foot = top
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Heights:
    """Between which places of the arc the edge of each tooth lies, for every rotation angle."""

    part: Stretch
    foot: Real
    top: Real
    """Lag at the lower and the upper end, rad."""
    flutes: int
    angles: Array
    cells: int

    def sums(self, depths: Array, nodes: Array, weight: Real) -> EdgeSums:
        """Of all teeth.

        Args:
            depths: Of each tooth below the surface, shape (..., teeth, nodes).
            nodes: Angles between the cells, shape (..., nodes).
            weight: At the nodes.
        """
        values = _values(depths, nodes, weight)
        places = [
            [self.angles - 2 * np.pi / self.flutes * tooth - _column(end) for end in (self.foot, self.top)]
            for tooth in range(self.flutes)
        ]
        common = all(place.ndim == 1 for both in places for place in both) and np.ndim(self._arc) == 0
        found = self._by_product(values, places) if common and values.ndim > 3 else self._by_place(values, places)
        height = _column((self.part.stop - self.part.start) / (self.cells * self.part.lag))[..., None]
        return EdgeSums(*np.moveaxis(found * height, -2, 0))

    @property
    def _arc(self) -> Real:
        return np.maximum(self.part.stop - self.part.start, 1e-12)

    def _along(self, place: Array) -> tuple[Array, Array]:
        """Whole turns, and the place in the arc counted in cells."""
        turns = np.floor(place / (2 * np.pi))
        along = (place - 2 * np.pi * turns - _column(self.part.start)) * (self.cells / _column(self._arc))
        return turns, np.clip(along, 0.0, self.cells)

    def _by_place(self, values: Array, places: list[list[Array]]) -> Array:
        """Differences of the integral between the two ends of each tooth; shape (..., 6, angles)."""
        mean, rise = (values[..., 1:] + values[..., :-1]) / 2, np.diff(values)
        table = np.zeros_like(values)
        np.cumsum(mean, axis=-1, out=table[..., 1:])
        total: Real = 0.0
        for tooth, both in enumerate(places):
            until, even, slope = (array[..., tooth, :] for array in (table, mean, rise))
            for place, sign in zip(both, (1.0, -1.0), strict=True):
                turns, along = self._along(place)
                cell = np.minimum(along.astype(int), self.cells - 1)
                into = along - cell
                before = _take(until, cell) + turns[..., None, :] * until[..., -1:]
                part = into[..., None, :] * (_take(even, cell) + (into[..., None, :] - 1) / 2 * _take(slope, cell))
                total = total + sign * (before + part)
        return np.asarray(total)

    def _by_product(self, values: Array, places: list[list[Array]]) -> Array:
        """The same where the places are common to all samples: one product for all of them, several times quicker."""
        taken = np.concatenate([self._passed(low) - self._passed(high) for low, high in places])
        rows = values.reshape(*values.shape[:-2], -1)
        product: Array = rows.reshape(-1, rows.shape[-1]) @ taken
        return product.reshape(*rows.shape[:-1], -1)

    def _passed(self, place: Array) -> Array:
        """What the value of each node counts for in the integral up to a place; shape (nodes, angles)."""
        turns, along = self._along(place)
        into = np.clip(along - np.arange(self.cells)[:, None], 0.0, 1.0)
        mean, rise = into + turns, into * (into - 1) / 2
        counts = np.zeros((self.cells + 1, place.size))
        counts[:-1] += mean / 2 - rise
        counts[1:] += mean / 2 + rise
        return counts


def _values(depths: Array, nodes: Array, weight: Real) -> Array:
    """Edge and chip and their components at the nodes; shape (..., 6, teeth, nodes)."""
    weight, sine, cosine = (np.asarray(v)[..., None, :] for v in (np.ones_like(nodes) * weight, np.sin(nodes), np.cos(nodes)))
    cut = _cutting(depths)
    around = np.concatenate([cut[..., :1], (cut[..., 1:] + cut[..., :-1]) / 2, cut[..., -1:]], axis=-1)
    edge, chip = np.broadcast_arrays(around * weight, np.maximum(depths, 0.0) * weight)
    values = np.empty((*edge.shape[:-2], 6, *edge.shape[-2:]))
    for first, what in ((0, edge), (3, chip)):
        values[..., first, :, :] = what
        np.multiply(what, sine, out=values[..., first + 1, :, :])
        np.multiply(what, cosine, out=values[..., first + 2, :, :])
    return values


def _cutting(depths: Array) -> Array:
    """Part of each cell in which a tooth cuts; shape (..., teeth, cells)."""
    low, high = depths[..., :-1], depths[..., 1:]
    change = np.abs(high - low)
    share = np.where(change > 0, np.maximum(low, high) / np.where(change > 0, change, 1.0), low > 0)
    return np.clip(share, 0.0, 1.0)


def _take(array: Array, index: NDArray[np.intp]) -> Array:
    """Entries of the last axis of (..., 6, cells); the index is common to all samples, (angles,), or one a sample, (n, angles)."""
    if index.ndim == 1:
        return np.take(array, index, axis=-1)
    if array.ndim == 2:
        return np.moveaxis(array[:, index], 1, 0)
    return np.take_along_axis(array, index[:, None, :], axis=-1)


def _column(value: Real) -> Array:
    return np.asarray(value, dtype=float)[..., None]

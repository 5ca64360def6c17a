"""Samples of uncertain inputs, and what the results say of them.

Latin hypercube: every input is cut into as many slices of equal weight as there are samples, each slice is met exactly once, and
which slice meets which is shuffled. The shuffle of an input hangs on its own path and the seed alone, so that one uncertain value
more does not move the samples of the others and two versions of a machine are compared on the same draws.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from statistics import NormalDist
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.errors import OutOfRange
from gantrywright.base.samples import ranks
from gantrywright.base.spread import Spread
from gantrywright.base.units import Array, Number

SPREAD_EDGE = NormalDist().inv_cdf(0.95)
"""Standard normal deviate at the upper edge of a spread, 1.645."""


def draw(spreads: Mapping[str, Spread], count: int, seed: int = 1) -> dict[str, Array]:
    """Samples of uncertain inputs, all together.

    Args:
        spreads: The uncertain inputs by path.
        count: Number of samples.
        seed: Another seed gives another shuffle.

    Returns:
        Samples by path, each of shape (count,); a choice in doubt gives indices into its words.

    Source:
        mckay-1979: x = F^-1((rank + 1/2)/n).

    Example:
        >>> samples = draw({"bed.mass": Spread(8.0, 10.0, 14.0)}, 1000)["bed.mass"]
        >>> [round(float(q), 1) for q in np.quantile(samples, (0.05, 0.5, 0.95))]
        [8.0, 10.0, 14.0]
    """
    if count < 2:
        raise OutOfRange("count", count, "", "2 or more", "fewer samples than two have no spread")
    deviates = _deviates(count)
    drawn = {}
    for path, spread in spreads.items():
        order = np.random.default_rng((seed, crc32(path.encode()))).permutation(count)
        drawn[path] = _words(spread, order) if spread.shape == "choice" else value_at(spread, deviates[order])
    return drawn


def value_at(spread: Spread, deviate: Array) -> Array:
    """Value of a spread at standard normal deviates.

    x = m (h/m)^(z/1.645) above the median, m (l/m)^(-z/1.645) below; linear in z where the low end is not positive or the value was
    measured. A band that starts at or above zero never gives a negative value.

    Args:
        spread: A band or a measured value, not a choice.
        deviate: Standard normal deviates, any shape.

    Returns:
        Values in the unit of the spread, same shape.
    """
    share = deviate / SPREAD_EDGE
    edge = np.where(share > 0, spread.high, spread.low)
    if spread.shape == "band" and spread.low > 0:
        ratio: Array = spread.typical * (edge / spread.typical) ** np.abs(share)
        return ratio
    linear: Array = spread.typical + (edge - spread.typical) * np.abs(share)
    return np.maximum(linear, 0.0) if spread.low >= 0 else linear


def first_order_shares(samples: Mapping[str, Array], output: Array, bins: int = 16) -> dict[str, Number]:
    """Share of an output's variance that each input explains alone.

    Args:
        samples: Inputs by path, shape (n_samples,).
        output: Shape (n_samples,).
        bins: Slices of each input; several samples must fall into each.

    Returns:
        Shares by path, from 0 to 1. What is missing to 1 in their sum comes from inputs acting together, and from noise of about
        bins / n_samples.

    Source:
        saltelli-2008: S = Var(E[y | x])/Var(y), over bins of equal count, their bias taken off (omega squared).
    """
    return Sliced.of(samples, bins).shares(output)


@dataclass(frozen=True, slots=True)
class Sliced:
    """Samples of all inputs cut into slices, made once and asked for every output."""

    names: tuple[str, ...]
    slice_of: NDArray[np.intp]
    """Slice of every sample of every input, counted on from input to input: shape (inputs, n)."""
    owner: NDArray[np.intp]
    """Input that each slice belongs to, shape (slices,)."""

    @classmethod
    def of(cls, samples: Mapping[str, Array], bins: int = 16) -> "Sliced":
        """Cut every input into slices of equal count, or into its own values where those are few.

        Args:
            samples: Inputs by path, shape (n_samples,).
            bins: Slices of each input.
        """
        if not samples:
            return cls((), np.zeros((0, 0), dtype=np.intp), np.zeros(0, dtype=np.intp))
        values = np.stack(list(samples.values()))
        place = ranks(values)
        ordered = np.sort(values, axis=1)
        level = np.cumsum(np.diff(ordered, axis=1, prepend=ordered[:, :1]) != 0, axis=1)
        few = level[:, -1:] < bins
        group = np.where(few, np.take_along_axis(level, place, axis=1), place * bins // values.shape[1])
        counts = group.max(axis=1) + 1
        first = np.cumsum(counts) - counts
        return cls(tuple(samples), group + first[:, None], np.repeat(np.arange(len(counts)), counts))

    def shares(self, output: Array) -> dict[str, Number]:
        """Share of an output's variance by input; see `first_order_shares`."""
        inputs, size = self.slice_of.shape
        number = np.bincount(self.slice_of.ravel())
        mean = np.bincount(self.slice_of.ravel(), np.tile(output, inputs)) / np.maximum(number, 1)
        spread = float(np.sum((output - output.mean()) ** 2))
        between = np.bincount(self.owner, number * (mean - output.mean()) ** 2, minlength=inputs)
        slices = np.bincount(self.owner, minlength=inputs)
        noise = (spread - between) / np.maximum(size - slices, 1)
        told = np.clip((between - (slices - 1) * noise) / np.maximum(spread + noise, np.finfo(float).tiny), 0.0, 1.0)
        told = np.where((slices > 1) & (spread > 0), told, 0.0)
        return dict(zip(self.names, told.tolist(), strict=True))


def _words(spread: Spread, order: NDArray[np.int64]) -> Array:
    return np.asarray(order * len(spread.choices) // order.size, dtype=float)


@cache
def _deviates(count: int) -> Array:
    normal = NormalDist()
    deviates = np.array([normal.inv_cdf((rank + 0.5) / count) for rank in range(count)])
    deviates.flags.writeable = False
    return deviates

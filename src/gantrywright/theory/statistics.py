"""Samples of uncertain inputs, and what the results say of them.

Latin hypercube: every input is cut into as many slices of equal weight as there are samples, each slice is met exactly once, and
which slice meets which is shuffled. The shuffle of an input hangs on its own path and the seed alone, so that one uncertain value
more does not move the samples of the others and two versions of a machine are compared on the same draws.
"""

from collections.abc import Mapping
from functools import cache
from statistics import NormalDist
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.errors import OutOfRange
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
    spread = float(np.sum((output - output.mean()) ** 2))
    return {path: _share(values, output, spread, bins) for path, values in samples.items()}


def _share(values: Array, output: Array, spread: float, bins: int) -> float:
    levels = np.unique(values)
    if spread == 0 or levels.size < 2:
        return 0.0
    if levels.size <= bins:
        group = np.searchsorted(levels, values)
    else:
        group = np.argsort(np.argsort(values)) * bins // values.size
    number = np.bincount(group)
    between = float(np.sum(number * (np.bincount(group, output) / number - output.mean()) ** 2))
    noise = (spread - between) / (output.size - number.size)
    return float(np.clip((between - (number.size - 1) * noise) / (spread + noise), 0.0, 1.0))


def _words(spread: Spread, order: NDArray[np.int64]) -> Array:
    return np.asarray(order * len(spread.choices) // order.size, dtype=float)


@cache
def _deviates(count: int) -> Array:
    normal = NormalDist()
    deviates = np.array([normal.inv_cdf((rank + 0.5) / count) for rank in range(count)])
    deviates.flags.writeable = False
    return deviates

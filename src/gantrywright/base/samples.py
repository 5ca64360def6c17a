"""Small helpers for values that may be one number or one number a sample."""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from functools import reduce
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.units import Array, Real

Record = TypeVar("Record", bound=Any)


def typical(value: Real) -> float:
    """The number itself, or the median of its samples; for words and order only, never for a result that spreads."""
    if not isinstance(value, np.ndarray):
        return float(value)
    if value.ndim != 1 or value.size == 0:
        return float(np.median(value))
    ordered = np.sort(value)
    return float((ordered[(value.size - 1) // 2] + ordered[value.size // 2]) / 2)


def ends(values: Array) -> tuple[Array, Array]:
    """The 5 % and the 95 % points of samples on the last axis, linear between samples.

    Example:
        >>> [round(float(end), 9) for end in ends(np.linspace(0.0, 2.0, 101))]
        [0.1, 1.9]
    """
    ordered = np.sort(values, axis=-1)
    return _point(ordered, 0.05), _point(ordered, 0.95)


def _point(ordered: Array, share: float) -> Array:
    place = share * (ordered.shape[-1] - 1)
    first = int(place)
    after = min(first + 1, ordered.shape[-1] - 1)
    told: Array = ordered[..., first] + (place - first) * (ordered[..., after] - ordered[..., first])
    return told


@dataclass(frozen=True, slots=True)
class Ranked:
    """Samples of all inputs by rank, made once and asked for every output."""

    names: tuple[str, ...]
    order: Array
    """Rank of every sample among those of its input, shape (inputs, n)."""

    def leading(self, output: Array) -> str:
        """Name of the input whose ranks go most with those of an output of shape (n,); empty where nothing varies."""
        if not self.names or np.ptp(output) == 0:
            return ""
        target = ranks(output).astype(float)
        target -= target.mean()
        return self.names[int(np.argmax((self.order @ target) ** 2))]


def ranked(samples: Mapping[str, Array]) -> Ranked:
    """Ranks of samples by name, each of shape (n,)."""
    if not samples:
        return Ranked((), np.zeros((0, 0)))
    return Ranked(tuple(samples), ranks(np.stack(list(samples.values()))).astype(float))


def ranks(values: Array) -> NDArray[np.intp]:
    """Rank of every value on the last axis, from 0; equal values by their place.

    Example:
        >>> ranks(np.array([3.0, 1.0, 2.0])).tolist()
        [2, 0, 1]
    """
    order = np.argsort(values, axis=-1, kind="stable")
    found = np.empty_like(order)
    np.put_along_axis(found, order, np.broadcast_to(np.arange(values.shape[-1]), values.shape), axis=-1)
    return found


def plain(value: Any) -> Real:
    """A number as a float, samples as an array: what a record holds after arithmetic with arrays of no axis.

    Example:
        >>> plain(np.array(2)), plain([1, 2]).tolist()
        (2.0, [1.0, 2.0])
    """
    array = np.asarray(value, dtype=float)
    return float(array) if array.ndim == 0 else array


def along_grid(value: Real) -> Real:
    """The value ready to meet a grid on a last axis: samples become a column, one number stays as it is.

    Example:
        >>> (along_grid(np.array([1.0, 2.0])) * np.array([1.0, 10.0, 100.0])).shape
        (2, 3)
    """
    array = np.asarray(value)
    return array[..., None] if array.ndim else value


def columns(record: Record) -> Record:
    """A frozen record whose samples all became columns."""
    values = ((field.name, getattr(record, field.name)) for field in fields(record))
    sampled = {name: along_grid(value) for name, value in values if isinstance(value, np.ndarray)}
    changed: Record = replace(record, **sampled) if sampled else record
    return changed


def least(*values: Real) -> Real:
    """Elementwise least of several values."""
    return reduce(np.minimum, values)


def greatest(*values: Real) -> Real:
    """Elementwise greatest of several values."""
    return reduce(np.maximum, values)

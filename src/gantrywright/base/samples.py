"""Small helpers for values that may be one number or one number a sample."""

from dataclasses import fields, replace
from functools import reduce
from typing import Any, TypeVar

import numpy as np

from gantrywright.base.units import Real

Record = TypeVar("Record", bound=Any)


def typical(value: Real) -> float:
    """The number itself, or the median of its samples; for words and order only, never for a result that spreads."""
    return float(np.median(value)) if isinstance(value, np.ndarray) else float(value)


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

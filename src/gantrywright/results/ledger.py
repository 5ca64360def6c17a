"""The ledger of figures: every number that a user may open to its formula, inputs, units and source."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np

from gantrywright.base.formula import stamp_of, units_of
from gantrywright.base.samples import ends

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class Named:
    """A value that is handed to a figure together with the path it came from (a path of the machine file or of a figure)."""

    path: str
    value: Any
    unit: str = ""
    """Where the path is no figure and the function says none; of a value of the file it is known anyway."""
    note: str = ""
    """What it is, in a few words, where no path says it: a constant with its source, a place that geometry gave."""


@dataclass(frozen=True, slots=True)
class Input:
    """One input of a figure."""

    name: str
    value: Any
    unit: str
    path: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """One number of the study with its working."""

    path: str
    value: Any
    unit: str
    formula: str
    source: str
    inputs: tuple[Input, ...] = ()
    title: str = ""


class Ledger:
    """Gathers figures while a study runs. The only thing in the house that grows."""

    __slots__ = ("_figures",)

    def __init__(self, earlier: "Ledger | None" = None) -> None:
        """An empty ledger, or one that holds the figures of an earlier one until they are written anew."""
        self._figures: dict[str, Figure] = dict(earlier._figures) if earlier is not None else {}

    def figure(self, path: str, function: Callable[..., Value], /, **inputs: Any) -> Value:
        """Call a stamped theory function and write the call down.

        Inputs are values or `Named` values; the function gets the plain ones.

        Example:
            speed = ledger.figure("axis.x.drive.main.whirl_speed", whirl_speed, root_diameter=Named(p, d), ...)
        """
        plain = {name: given.value if isinstance(given, Named) else given for name, given in inputs.items()}
        result = function(**plain)
        units = units_of(function)
        listed = tuple(
            Input(name, plain[name], units.get(name, ""), given.path, given.note)
            if isinstance(given, Named)
            else Input(name, plain[name], units.get(name, ""))
            for name, given in inputs.items()
        )
        stamp = stamp_of(function)
        title = (function.__doc__ or "").strip().split("\n")[0].rstrip(".")
        self._figures[path] = Figure(path, result, units["return"], stamp.text, stamp.source, listed, title)
        return result

    def note(
        self,
        path: str,
        value: Value,
        *,
        unit: str,
        formula: str,
        source: str = "derived",
        title: str = "",
        **inputs: Any,
    ) -> Value:
        """Write down a number that no single theory function gives (a sum, a least of several); returns it."""
        listed = tuple(
            Input(name, given.value, given.unit or self._unit(given.path), given.path, given.note)
            if isinstance(given, Named)
            else Input(name, given, "")
            for name, given in inputs.items()
        )
        self._figures[path] = Figure(path, value, unit, formula, source, listed, title)
        return value

    def _unit(self, path: str) -> str:
        known = self._figures.get(path)
        return known.unit if known is not None else ""

    def named(self, path: str) -> Named:
        """An earlier figure as an input of a later one; raises ``KeyError`` where there is none."""
        return Named(path, self._figures[path].value)

    def link(self, path: str, value: Any, unit: str = "", note: str = "") -> Named:
        """A value that another discipline handed on, as an input: it names the figure only where it is that figure's very value."""
        known = self._figures.get(path)
        if known is not None and (known.value is value or _same(known.value, value)):
            return Named(path, value, known.unit, note)
        return Named("", value, unit, note)

    def __getitem__(self, path: str) -> Figure:
        return self._figures[path]

    def __contains__(self, path: str) -> bool:
        return path in self._figures

    def __iter__(self) -> Iterator[Figure]:
        return iter(self._figures.values())

    def __len__(self) -> int:
        return len(self._figures)


def _same(first: Any, second: Any) -> bool:
    """Whether two plain numbers are equal; arrays are the same only where they are one object."""
    return isinstance(first, float | int) and isinstance(second, float | int) and first == second


def band(value: Any) -> tuple[float, float] | None:
    """The 5 % and 95 % points of a sampled value; None where it is one number, or not all are numbers."""
    array = np.asarray(value)
    if array.dtype.kind not in "fi" or array.ndim != 1 or array.size < 2 or not np.all(np.isfinite(array)):
        return None
    low, high = ends(array)
    return float(low), float(high)

"""The stamp that a theory function carries: its formula as text and its source.

The stamp is what lets a face open any figure: formula, inputs by name with their units (from the annotations), source.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from inspect import signature
from typing import Annotated, Any, TypeVar, get_args, get_origin, get_type_hints

from gantrywright.base.units import Unit

Function = TypeVar("Function", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True)
class Stamp:
    """What is printed when the working of a figure is opened."""

    text: str
    source: str


def formula(text: str, *, source: str) -> Callable[[Function], Function]:
    """Mark a theory function with the formula it computes and the id of its source.

    Args:
        text: The formula in the symbols of the trade, one line.
        source: Id in ``data/sources.toml``, or "derived", "common practice, no source", "definition".
    """

    def stamp(function: Function) -> Function:
        function.__stamp__ = Stamp(text, source)  # type: ignore[attr-defined]
        return function

    return stamp


def stamp_of(function: Callable[..., Any]) -> Stamp:
    """The stamp of a function; a function without one is a mistake of ours and raises ``AttributeError``."""
    stamp: Stamp = function.__stamp__  # type: ignore[attr-defined]
    return stamp


@cache
def units_of(function: Callable[..., Any]) -> dict[str, str]:
    """Unit symbol of every parameter, and of the result under ``"return"``; empty where it has none."""
    hints = get_type_hints(function, include_extras=True)
    return {name: _unit(hints.get(name)) for name in (*signature(function).parameters, "return")}


def _unit(hint: Any) -> str:
    if get_origin(hint) is Annotated:
        return next((extra.symbol for extra in get_args(hint)[1:] if isinstance(extra, Unit)), "")
    return next((unit for unit in (_unit(part) for part in get_args(hint)) if unit), "")

"""Values of a machine and where they came from, in words."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from pathlib import PurePath
from typing import Any

import numpy as np

from gantrywright.base.quantities import show, show_band
from gantrywright.base.sources import spell_out
from gantrywright.base.spread import Origin, Spread, Stated
from gantrywright.base.values import Bolts, PhaseCurrent, Rating

LONGEST = 8
"""Parts of a list that are told."""


def value_in_words(value: Any, unit: str, system: str) -> str:
    """A value of any kind for people."""
    if value is None:
        return "unknown"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Rating):
        return f"{show(float(value.force), 'N', system)}{_reference(value, system)}"
    if isinstance(value, PhaseCurrent):
        return f"{show(float(value.value), 'A', system)} {value.convention}"
    if isinstance(value, Bolts):
        return f"{value.count} x {value.thread}"
    if isinstance(value, list | tuple):
        told = [value_in_words(each, unit, system) for each in value[:LONGEST]]
        return ", ".join(told) + (" ..." if len(value) > LONGEST else "")
    if is_dataclass(value) and not isinstance(value, type):
        return ", ".join(f"{field.name} {getattr(value, field.name):.4g}" for field in fields(value))
    array = np.asarray(value)
    if array.dtype.kind not in "fiu":
        return str(value)
    return show(float(array), unit, system) if array.ndim == 0 else value_in_words(array.tolist(), unit, system)


def _reference(rating: Rating, system: str) -> str:
    if rating.basis == "distance":
        return f" at {show(float(rating.reference), 'm', system)}"
    return f" at {rating.reference:g} rev" if rating.basis == "turns" else ""


def band_in_words(spread: Spread | None, unit: str, system: str) -> str:
    """``540 N (500..900)``, the words of a choice in doubt, or nothing."""
    if spread is None:
        return ""
    if spread.shape == "choice":
        return " or ".join(spread.choices)
    return show_band(spread.low, spread.typical, spread.high, unit, system, digits=4)


def origin_in_words(stated: Stated, known: Mapping[str, Stated], system: str) -> str:
    """The whole chain: what it is, what it was before, what it was taken from.

    Example:
        ``540 N (measured 2026-06-02, phone), was 700 N (500..900) (file long_bed.toml:112)``
    """
    first = stated.origin
    if first.kind == "derived" and not first.text:
        return _derived(stated, known, system)
    links = [f"{written(stated) or value_in_words(stated.value, stated.unit, system)} ({_kind(first)})"]
    links += [f"was {origin.text or 'another'} ({_kind(origin)})" for origin in _before(first)]
    return ", ".join(links)


def written(stated: Stated) -> str:
    """A value as it was written; a table of estimates has its units in its head, so they are put back."""
    spread = stated.spread
    if stated.origin.kind == "default" and stated.origin.path and spread is not None and stated.unit:
        return show_band(spread.low, spread.typical, spread.high, stated.unit)
    return stated.origin.text


def _derived(stated: Stated, known: Mapping[str, Stated], system: str) -> str:
    note = stated.origin.note or "derived"
    other = known.get(stated.origin.path) if stated.origin.path else None
    if other is None or other.path == stated.path:
        return note
    return f"{note}: {other.path} is {origin_in_words(other, known, system)}"


def _before(origin: Origin) -> Iterator[Origin]:
    over = origin.over
    while over is not None:
        yield over
        over = over.over


def _kind(origin: Origin) -> str:
    place = f"{PurePath(origin.file).name}:{origin.line}" if origin.file and origin.line else ""
    return {
        "file": f"file {place}",
        "each": f"of each, file {place}",
        "mirror": f"as {origin.path}, mirrored, file {place}",
        "recipe": f"made by the recipe, file {place}",
        "stock": f"of the stock piece, {place}",
        "row": f"row {origin.path} of {place}",
        "default": "default" + (f", {origin.path}" if origin.path else ""),
        "measured": f"measured {origin.note}, file {place}" if place else f"measured {origin.note}",
        "derived": origin.note or "derived",
    }[origin.kind]


def source_in_words(origin: Origin) -> str:
    """Who says so: the builder's file, a measurement, or a source."""
    if origin.source:
        return spell_out(origin.source)
    return {"measured": "own measurement", "derived": "derived", "stock": "the shop file"}.get(origin.kind, "the machine file")


def with_band(value: float, low: float | None, high: float | None, unit: str, system: str, hint: str = "") -> str:
    """``10.9 m/min (10.7..11.1)``; without the band where it is too narrow to be seen."""
    if low is None or high is None or show(low, unit, system, hint=hint) == show(high, unit, system, hint=hint):
        return show(value, unit, system, hint=hint)
    return show_band(low, value, high, unit, system, hint=hint)

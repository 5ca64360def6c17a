"""Uncertain values and where a value came from."""

from dataclasses import dataclass
from typing import Any, Literal


@dataclass(frozen=True, slots=True)
class Spread:
    """A value that is known only within a band, at its 5 %, 50 % and 95 % points.

    ``band``: two halves, each log-normal where ``low > 0``, else normal. ``normal``: measured, symmetric. ``choice``: one of
    several words with equal weight; the three numbers are then indices into ``choices``.
    """

    low: float
    typical: float
    high: float
    shape: Literal["band", "normal", "choice"] = "band"
    choices: tuple[str, ...] = ()
    placed: bool = False
    """The value moves parts, so that it is tried one at a time instead of being sampled with the others."""


OriginKind = Literal["file", "each", "mirror", "recipe", "stock", "row", "default", "measured", "derived"]


@dataclass(frozen=True, slots=True)
class Origin:
    """Where one value of the machine came from, and what it replaced."""

    kind: OriginKind
    file: str = ""
    line: int = 0
    path: str = ""
    source: str = ""
    """Id in ``data/sources.toml``, or ``"common practice, no source"``, or ``"from memory"``."""
    text: str = ""
    """The value as it was written."""
    note: str = ""
    over: "Origin | None" = None


@dataclass(frozen=True, slots=True)
class Stated:
    """One value of a machine: what it is, where it stands, where it came from."""

    path: str
    """The full path that it stands at; short and inherited paths lead here."""
    value: Any
    """Typical, in SI; None where it was written as unknown."""
    origin: Origin
    spread: Spread | None = None
    unit: str = ""
    """SI symbol; empty for words and plain numbers."""
    help: str = ""
    """What the key means, in a sentence."""

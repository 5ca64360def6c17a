"""What a check says of one subject, before the spread has been looked at.

The numbers of a verdict are `Real`: from a typical machine they are floats; from a sampled machine they are arrays, one value a
sample. `judge` turns the pair into a status.
"""

from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Literal

import numpy as np

from gantrywright.base.samples import plain
from gantrywright.base.units import Real


class Status(StrEnum):
    """Worst last."""

    OK = "ok"
    WATCH = "watch"
    UNKNOWN = "unknown"
    BROKEN = "broken"
    FAIL = "fail"


@dataclass(frozen=True, slots=True)
class Change:
    """A change of the machine file that may mend a finding; the study evaluates the machine again with it."""

    words: str
    """What is done, as a builder would say it: "screw 20 x 10 instead of 16 x 5"."""
    edits: tuple[tuple[str, str], ...]
    """Path in the machine file and the new text of its value."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a check measured on one subject."""

    subject: str
    """Dotted path in the machine file, perhaps followed by " (which of several)"; never depends on a number."""
    value: Real | None
    """None only when it is unknown."""
    limit: Real | None
    unit: str
    margin: Real | None
    """Distance to the limit over the limit; negative fails."""
    watch: float = 0.0
    """Margins between 0 and this are to be watched even where nothing is uncertain."""
    missing: str = ""
    """What must be known before there is a verdict; not empty means unknown."""
    note: str = ""
    """One sentence with what the numbers alone do not say, for instance the worst place."""
    figure: str = ""
    """Path of the figure that opens the working."""
    source: str = ""
    remedy: str = ""
    changes: tuple[Change, ...] = field(default=())
    what: str = ""
    """What the value is, in one or two words, where title and unit do not say it: "overlap", "distance from a resonance"."""
    kind: Literal["ceiling", "floor", ""] = ""
    """Which side of the limit passes; empty where margin is not made of value and limit alone."""


def ceiling(
    subject: str, *, value: Real, limit: Real, unit: str, watch: float = 0.0, note: str = "", figure: str = "",
    source: str = "", remedy: str = "", changes: tuple[Change, ...] = (), what: str = "",
) -> Verdict:  # fmt: skip
    """Verdict on a value that must not exceed a limit: margin = 1 - value/limit."""
    margin = 1 - np.divide(value, limit) if np.all(np.asarray(limit) != 0) else np.asarray(limit) - np.asarray(value)
    return Verdict(subject, value, limit, unit, plain(margin), watch, "", note, figure, source, remedy, changes, what, "ceiling")


def floor(
    subject: str, *, value: Real, limit: Real, unit: str, watch: float = 0.0, note: str = "", figure: str = "",
    source: str = "", remedy: str = "", changes: tuple[Change, ...] = (), what: str = "",
) -> Verdict:  # fmt: skip
    """Verdict on a value that must reach a limit: margin = value/limit - 1."""
    margin = np.divide(value, limit) - 1 if np.all(np.asarray(limit) != 0) else np.asarray(value) - np.asarray(limit)
    return Verdict(subject, value, limit, unit, plain(margin), watch, "", note, figure, source, remedy, changes, what, "floor")


def unknown(subject: str, *, missing: str, unit: str = "", limit: Real | None = None, note: str = "") -> Verdict:
    """Verdict that cannot be given; ``missing`` names what must be known."""
    return Verdict(subject, None, limit, unit, None, missing=missing, note=note)


def holds(subject: str, *, true: bool, note: str, source: str = "", remedy: str = "", changes: tuple[Change, ...] = ()) -> Verdict:
    """Verdict on a fact that has no number; margin 1 where it holds and -1 where it does not."""
    return Verdict(subject, float(true), 1.0, "", 1.0 if true else -1.0, note=note, source=source, remedy=remedy, changes=changes)


def cautioned(verdict: Verdict) -> Verdict:
    """A caution only: never worse than to be watched, and its note says so first."""
    if verdict.margin is None:
        return verdict
    margin = plain(np.maximum(verdict.margin, 0.0))
    return replace(verdict, margin=margin, watch=max(verdict.watch, 1e-9), note=f"caution: {verdict.note}")

"""The register of checks: one decorated function each."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from gantrywright.base.errors import GantrywrightError
from gantrywright.findings.verdict import Verdict

Judge = Callable[[Any, Any], Iterable[Verdict]]
"""Takes the machine and the results; yields one verdict a subject."""

ID = re.compile(r"^(CUT|STR|GDE|DRV|MOT|ELE|GEO|FAB|COM)-\d{3}$")


@dataclass(frozen=True, slots=True)
class Check:
    """One question that is asked of every machine."""

    id: str
    title: str
    why: str
    source: str
    remedy: str
    judge: Judge
    structural: bool = False
    """Where it fails, there is no such machine as the structure is worked out of: its numbers are told with that finding beside them."""
    simulated: bool = False
    """It speaks only after the promise was tested in the time domain."""


def check(
    id: str, *, title: str, why: str, source: str, remedy: str, structural: bool = False, simulated: bool = False
) -> Callable[[Judge], Check]:
    """Make a check of a function ``(machine, results) -> verdicts``.

    Args:
        id: Discipline prefix and three digits, hundreds by topic, never used again.
        title: What is true when the check passes.
        why: What happens to the builder where it does not.
        source: Source id of the limit, "of each limit", or "common practice, no source".
        remedy: What mends it, in general words.
        structural: Whether a machine that fails it cannot be built as its structure is worked out.
        simulated: Whether it speaks only after the promise was tested in the time domain.
    """
    if not ID.match(id):
        raise GantrywrightError(f"check id {id!r} is not PREFIX-NNN")

    def make(judge: Judge) -> Check:
        return Check(id, title, why, source, remedy, judge, structural, simulated)

    return make


def checks_in(module: object) -> tuple[Check, ...]:
    """The checks that a module defines, by id."""
    return tuple(sorted((value for value in vars(module).values() if isinstance(value, Check)), key=lambda c: c.id))

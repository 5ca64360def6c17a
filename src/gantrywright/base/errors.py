"""Every error that a user may meet.

``GantrywrightError`` is the one base that a face catches; each error has a built-in for a second base, so that a library user
can catch that. ``Problem`` is not an exception: the reader of a machine file gathers problems and reports them all at once.
"""

from collections.abc import Iterable
from dataclasses import dataclass


class GantrywrightError(Exception):
    """Base of all errors that this project raises on purpose."""


class OutOfRange(GantrywrightError, ValueError):
    """A number lies outside what a formula or part allows."""

    def __init__(self, name: str, value: object, unit: str, allowed: str, why: str) -> None:
        super().__init__(f"{name} = {value} {unit} is outside {allowed}: {why}".replace("  ", " "))


class UnreadableText(GantrywrightError, ValueError):
    """A text that cannot be read as the quantity that was wanted; says what was read and what to write."""


class NotFound(GantrywrightError, LookupError):
    """A name that no table or file knows; lists the nearest."""


class Unwritable(GantrywrightError, OSError):
    """A file could not be written; what was there before is untouched."""


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing in a file that must be mended before there is a machine."""

    file: str
    line: int
    path: str
    message: str
    """What was read, what is allowed and what to do, in one or more sentences."""

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        return f"{place} {self.path}: {self.message}" if self.path else f"{place}: {self.message}"


class FileProblems(GantrywrightError, ValueError):
    """All problems of the files that make up one machine."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(problems))
        super().__init__("\n".join(str(problem) for problem in self.problems))

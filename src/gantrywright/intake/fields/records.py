"""What the faces are told of the file as it may be edited: groups of fields, what may be added, the stages of a design."""

from dataclasses import dataclass

Edit = tuple[str, str | None]
"""Path and the text to write; None takes the line away."""


@dataclass(frozen=True, slots=True)
class Field:
    """One key of the file with the value in force."""

    path: str
    label: str
    help: str = ""
    kind: str = "text"
    """quantity, choice, part, flag, text, name, point, size, list, date, count."""
    unit: str = ""
    """Kind of quantity, such as ``length``; empty for words."""
    text: str = ""
    """As written in the file; empty where the file is silent."""
    effective: str = ""
    """The value in force, in the units of the machine."""
    other: str = ""
    """The same value in the other system of units."""
    origin: str = ""
    band: str = ""
    choices: tuple[str, ...] = ()
    part_kind: str = ""
    editable: bool = True
    why_not: str = ""
    example: str = ""
    low: str = ""
    high: str = ""
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Addable:
    """Something that may be added here, and the edits that add it."""

    words: str
    edits: tuple[Edit, ...]


@dataclass(frozen=True, slots=True)
class FieldGroup:
    """One table of the file."""

    path: str
    title: str
    help: str = ""
    fields: tuple[Field, ...] = ()
    groups: tuple[str, ...] = ()
    """Paths of the tables below it."""
    can_add: tuple[Addable, ...] = ()
    can_remove: bool = False


@dataclass(frozen=True, slots=True)
class PartChoice:
    """One row of the parts tables, or one thing of the machine."""

    name: str
    title: str
    numbers: tuple[tuple[str, str], ...]
    """Column and text."""
    source: str


@dataclass(frozen=True, slots=True)
class Stage:
    """One step of a design: which tables belong to it."""

    id: str
    title: str
    words: str
    groups: tuple[tuple[str, str], ...] = ()
    """Path and title."""

"""One row of a parts table, and the record that it makes."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from types import MappingProxyType
from typing import Any, get_type_hints

from gantrywright.base.errors import GantrywrightError, NotFound
from gantrywright.base.names import nearest_sentence
from gantrywright.base.quantities import choice, parse
from gantrywright.base.spread import Spread
from gantrywright.catalog.columns import Column, columns_of
from gantrywright.catalog.kinds import KINDS, Part

TEXTS = frozenset({"text", "flag"})


@dataclass(frozen=True, slots=True)
class Cell:
    """One value of a row."""

    text: str
    """As it reads with its unit: ``13.7 (11..15) kN at 100 km``."""
    value: Any
    """In SI, as an `Entry` of the machine tree holds it."""
    spread: Spread | None = None
    file: str = ""
    line: int = 0
    source: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One part of the tables. Empty cells are not among its cells."""

    kind: str
    id: str
    cells: Mapping[str, Cell]
    file: str
    line: int
    own: bool = False
    """From the user's own tables."""

    def text(self, name: str) -> str:
        """Text of a cell, empty where the cell is."""
        return self.cells[name].text if name in self.cells else ""

    @property
    def title(self) -> str:
        """Name for people."""
        return self.text("title")

    @property
    def source(self) -> str:
        """Source id of its figures, or plain words."""
        return self.text("source")

    @property
    def basis(self) -> str:
        """How its figures were had."""
        return self.text("basis")


def read_cell(column: Column, text: str, unit: str | None = None) -> tuple[Any, Spread | None]:
    """Value and spread of a text that a column holds.

    Args:
        column: The column.
        text: Not empty.
        unit: The unit in the header.

    Raises:
        UnreadableText: Says what was read and what to write.
    """
    if column.kind == "text":
        return text, None
    if column.kind == "flag":
        return choice(text, ("true", "false"))[0] == "true", None
    if "/" in column.kind:
        return choice(text, column.kind.split("/"))
    read = parse(text, column.kind, unit)
    return read.value, read.spread


@cache
def defaults_of(kind: str) -> Mapping[str, Cell]:
    """What a field is taken to be where neither row nor file says it."""
    found = {}
    for name, column in columns_of(KINDS[kind]).items():
        if column.default:
            value, spread = read_cell(column, column.default)
            found[name] = Cell(column.default, value, spread, source=column.source)
    return MappingProxyType(found)


def make_record(kind: str, values: Mapping[str, Any]) -> Part:
    """The record of a part from its values.

    Args:
        kind: Kind of part.
        values: Field to value in SI (a float or an array over samples), or to anything that has such a ``value``: a cell, an entry of
            the machine tree. ``None`` is unknown. Fields that are missing are unknown too; nothing is filled in.

    Raises:
        NotFound: There is no such kind, or the kind has no such field.
        GantrywrightError: A field that the kind cannot do without is missing.

    Example:
        >>> make_record("rail", {"id": "rail-20", "size": 0.02}).size
        0.02
    """
    record = _record(kind)
    known = _texts(kind)
    for name in values:
        if name not in known:
            raise NotFound(f"{kind} has no field {name!r}{nearest_sentence(name, known)}")
    missing = [name for name, column in columns_of(record).items() if column.required and name not in values]
    if missing:
        raise GantrywrightError(f"{kind} {_plain(values.get('id', ''))} lacks {', '.join(missing)}".replace("  ", " "))
    return record(**{name: _fill(_plain(value), known[name]) for name, value in values.items()})


def record_of(row: Row, *, with_defaults: bool = True) -> Part:
    """The record of a row of the tables, at typical values."""
    cells = {**defaults_of(row.kind), **row.cells} if with_defaults else row.cells
    return make_record(row.kind, {"id": row.id, **cells})


def _record(kind: str) -> type[Part]:
    if kind not in KINDS:
        raise NotFound(f"no kind of part {kind!r}{nearest_sentence(kind, KINDS)}")
    return KINDS[kind]


@cache
def _texts(kind: str) -> dict[str, bool]:
    """Every field of a record, and whether it is a plain text, which is empty where it is unknown."""
    hints = get_type_hints(KINDS[kind])
    return {field.name: hints[field.name] is str for field in fields(KINDS[kind])}


def _fill(value: Any, is_text: bool) -> Any:
    return "" if value is None and is_text else value


def _plain(value: Any) -> Any:
    return value.value if hasattr(value, "value") and (hasattr(value, "origin") or isinstance(value, Cell)) else value

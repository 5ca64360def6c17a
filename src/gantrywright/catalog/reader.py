"""A parts table as text to its rows: fast to index, read cell by cell when a part is wanted, checked as a whole on demand."""

import csv
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from types import MappingProxyType
from typing import Any

from gantrywright.base.errors import FileProblems, Problem, UnreadableText
from gantrywright.base.names import nearest_sentence
from gantrywright.base.quantities import SCALARS
from gantrywright.base.quantities.kinds import factor_of
from gantrywright.base.sources import PLAIN, sources
from gantrywright.base.values import PhaseCurrent, Rating
from gantrywright.catalog.columns import ABOVE_ZERO, Column, columns_of
from gantrywright.catalog.kinds import KINDS
from gantrywright.catalog.rows import Cell, Row, read_cell

HEAD = ("id", "title", "source", "basis")
"""Filled in every row."""
ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9./-]*$")
HEADER = re.compile(r"([a-z][a-z0-9_]*)(?: \[(.+)\])?$")
REFERENCE = "_reference"
_SIGNED = frozenset({"angle", "temperature", "tempdiff", "expansion", "money"})
_SIGNED_FIELDS = frozenset({"shear_ratio", "edge_ratio", "across_shear_ratio", "across_edge_ratio"})
"""Numbers that may be below zero: wood may pull a cutter in."""

Tell = Callable[[int, str, str], None]
"""Takes line, name of row and column, message."""


@dataclass(frozen=True, slots=True)
class Field:
    """One column as its header says it."""

    name: str
    column: Column | None
    """None for the id and for the reference of a rating."""
    unit: str | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """One file, its cells still text."""

    kind: str
    file: str
    own: bool
    header: tuple[str, ...]
    header_line: int
    lines: tuple[tuple[int, tuple[str, ...]], ...]
    index: dict[str, int]
    """Id to place in ``lines``; of an id that stands twice, the first."""


def index_table(kind: str, text: str, file: str, *, own: bool = False) -> Table:
    """Split a table into cells and index its ids; nothing is judged yet."""
    rows = list(_split(text))
    line, header = rows[0] if rows else (1, ())
    index: dict[str, int] = {}
    for place, (_, cells) in enumerate(rows[1:]):
        index.setdefault(cells[0], place)
    return Table(kind, file, own, header, line, tuple(rows[1:]), index)


def read_row(table: Table, id: str) -> Row:
    """The row of an id that the table has.

    Raises:
        FileProblems: A cell of the row, or a heading of the table, cannot be read.
    """
    problems: list[Problem] = []
    tell = _teller(table, problems)
    line, cells = table.lines[table.index[id]]
    row = _row(table, read_header(table, tell), line, cells, tell)
    if problems:
        raise FileProblems(problems)
    return row


def problems_of(table: Table) -> tuple[Problem, ...]:
    """Everything that is wrong in a table."""
    problems: list[Problem] = []
    tell = _teller(table, problems)
    if not table.header:
        tell(1, "", f"the table is empty; its first line names its columns: {', '.join(HEAD)} and fields of {table.kind}")
        return tuple(problems)
    for mark, name in ((";", "semicolons"), ("\t", "tabs")):
        if len(table.header) == 1 and mark in table.header[0]:
            tell(table.header_line, "", f"the cells are parted by {name}; save the table with commas between its cells")
            return tuple(problems)
    fields = read_header(table, tell)
    if problems:  # the rows would only tell the same again
        return tuple(problems)
    seen: dict[str, int] = {}
    for line, cells in table.lines:
        id = cells[0]
        if not ID.match(id):
            tell(
                line,
                "",
                f"id {id!r}: an id has letters, digits, hyphens, points and slashes only, and begins with a letter or a digit",
            )
        if id in seen:
            tell(line, id, f"the id stands already in line {seen[id]}; give one of the two another name")
        seen.setdefault(id, line)
        row = _row(table, fields, line, cells, tell)
        _judge_source(row, tell)
    return tuple(problems)


def read_header(table: Table, tell: Tell) -> tuple[Field, ...]:
    """The columns that the header names."""
    columns = columns_of(KINDS[table.kind])
    fields = tuple(_field(heading, columns, table, tell) for heading in table.header)
    names = [field.name for field in fields]
    if tuple(names[: len(HEAD)]) != HEAD:
        tell(table.header_line, "", f"the first columns are {', '.join(HEAD)}, found {', '.join(names[: len(HEAD)])}")
    for name in sorted({name for name in names if names.count(name) > 1}):
        tell(table.header_line, name, "the column stands twice")
    for name, column in columns.items():
        if column.required and name not in names:
            tell(
                table.header_line,
                name,
                f"every {table.kind} has it, and the table has no such column; add {_heading(name, column)!r}",
            )
    for name in names:
        if name.endswith(REFERENCE) and name.removesuffix(REFERENCE) not in names:
            tell(table.header_line, name, f"the table has no column {name.removesuffix(REFERENCE)!r} that it could refer to")
    return fields


def _field(heading: str, columns: dict[str, Column], table: Table, tell: Tell) -> Field:
    found = HEADER.match(heading.strip())
    name, unit = (found[1], found[2]) if found else (heading, None)
    line = table.header_line
    if name == "id":
        return Field(name, None)
    rating = columns.get(name.removesuffix(REFERENCE)) if name.endswith(REFERENCE) else None
    if rating is not None and rating.kind == "rating":
        return Field(name, None)
    column = columns.get(name)
    if column is None:
        near = nearest_sentence(name, columns)
        tell(line, name, f"{table.kind} has no column {heading!r}{near}; it has {', '.join(columns)}")
        return Field(name, None)
    measure = _unit_kind(column.kind)
    if unit is None and measure in SCALARS and measure not in {"number", "count", "money"} and column.kind not in _SAY_THEIR_UNIT:
        tell(line, name, f"the heading lacks its unit; write {_heading(name, column)!r}")
    elif unit is not None and (measure not in SCALARS or factor_of(measure, unit) is None):
        allowed = ", ".join(known for known in SCALARS[measure].units if known) if measure in SCALARS else "none"
        tell(line, name, f"the heading has the unit {unit!r}; a column of kind {column.kind} takes {allowed}")
    return Field(name, column, unit)


_SAY_THEIR_UNIT = frozenset({"rating", "static-rating", "phase-current"})
"""Kinds whose cells may say the whole."""
_UNIT_KINDS = {"rating": "force", "static-rating": "force", "phase-current": "current", "size2": "length", "size3": "length"}


def _unit_kind(kind: str) -> str:
    return _UNIT_KINDS.get(kind, kind)


def _heading(name: str, column: Column) -> str:
    unit = next(iter(SCALARS[_unit_kind(column.kind)].units), "") if _unit_kind(column.kind) in SCALARS else ""
    return f"{name} [{'mm' if unit == 'm' else unit}]" if unit else name


def _row(table: Table, fields: tuple[Field, ...], line: int, cells: tuple[str, ...], tell: Tell) -> Row:
    id = cells[0]
    if len(cells) != len(fields):
        tell(line, id, _wrong_count(len(cells), len(fields)))
    by_name = {field.name: text for field, text in zip(fields, cells, strict=False)}
    found = {}
    for field in fields:
        if field.column is None or field.name not in by_name:  # a cell that is missing is told with its row
            continue
        text = by_name[field.name]
        if text:
            reference = by_name.get(field.name + REFERENCE, "")
            cell = _cell(table, field, line, text, reference, partial(tell, line, f"{id}.{field.name}"))
            if cell is not None:
                found[field.name] = cell
        elif field.column.required or field.name in HEAD:
            tell(line, f"{id}.{field.name}", "the cell is empty, and every row needs it")
    return Row(table.kind, id, MappingProxyType(found), table.file, line, table.own)


def _wrong_count(found: int, wanted: int) -> str:
    read = f"the row has {found} cells and the header {wanted}"
    if found < wanted:
        missing = wanted - found
        lost = f"{missing} cell{'s are' if missing > 1 else ' is'} missing"
        return f"{read}: {lost}; a cell that is not known stays empty between its commas"
    return f"{read}: {found - wanted} too many; a cell that holds a comma stands in quotes"


def _cell(table: Table, field: Field, line: int, text: str, reference: str, tell: Callable[[str], None]) -> Cell | None:
    assert field.column is not None
    whole = f"{text} at {reference}" if reference else text
    try:
        value, spread = read_cell(field.column, whole, field.unit)
    except UnreadableText as wrong:
        tell(str(wrong))
        return None
    if wrong_size := _out_of_range(field, value, spread.low if spread else None):
        tell(f"{text!r}: {wrong_size}")
        return None
    return Cell(_with_unit(whole, text, field.unit), value, spread, table.file, line)


def _out_of_range(field: Field, value: Any, low: float | None) -> str:
    assert field.column is not None
    kind = field.column.kind
    number = value.force if isinstance(value, Rating) else value.value if isinstance(value, PhaseCurrent) else value
    if isinstance(number, bool) or not isinstance(number, int | float):
        return ""
    least = min(number, low) if low is not None else number
    if field.column.is_positive and (number <= 0 or least < 0):
        return f"a value of kind {kind} is above zero" if kind in ABOVE_ZERO else f"{field.name} is above zero"
    if kind not in _SIGNED and field.name not in _SIGNED_FIELDS and least < 0:
        return f"a value of kind {kind} is not below zero"
    if field.column.most is not None and number > field.column.most:
        return f"{field.name} is {field.column.most:g} at most"
    return ""


def _with_unit(whole: str, text: str, unit: str | None) -> str:
    """The text with the header's unit put where a machine file has it."""
    if unit is None or not re.fullmatch(r"[-+.\d /ex]+(?:\(.*\)|\+-.*)?", text):
        return whole
    head, band = re.match(r"([^(+]*?)\s*((?:\(|\+-).*)?$", text).groups()  # type: ignore[union-attr]
    rest = whole.removeprefix(text)
    return f"{head} {unit}{f' {band}' if band else ''}{rest}"


def _judge_source(row: Row, tell: Tell) -> None:
    first = row.source.split(",")[0].strip()
    known = row.own or row.source in PLAIN or first in sources()
    if row.source and not known:
        tell(row.line, f"{row.id}.source", f"no source {row.source!r} in the register{nearest_sentence(first, sources())}")


def _teller(table: Table, problems: list[Problem]) -> Tell:
    def tell(line: int, place: str, message: str) -> None:
        problems.append(Problem(table.file, line, place, message))

    return tell


def _split(text: str) -> Iterator[tuple[int, tuple[str, ...]]]:
    reader = csv.reader("" if line.startswith("#") else line for line in text.removeprefix("\ufeff").splitlines())
    for cells in reader:
        if any(cells):
            yield reader.line_num, tuple([cell.strip() for cell in cells])

"""A machine file as text: read with the line of every key, revised in memory."""

import tomllib
from collections.abc import Iterable, Mapping
from copy import deepcopy
from dataclasses import dataclass, field, replace
from itertools import pairwise
from pathlib import Path
from typing import Any, TypeAlias

from gantrywright.base.errors import FileProblems, Problem
from gantrywright.intake.components import with_component
from gantrywright.intake.lines import lines_of
from gantrywright.intake.syntax import explained

FORMAT = 1
"""The newest format that this program reads."""

Edits: TypeAlias = Iterable[tuple[str, str | None]]
"""Path and new text of each value; None takes it out."""


@dataclass(frozen=True, slots=True)
class Document:
    """One file as it was read."""

    path: Path
    text: str
    tree: dict[str, Any]
    lines: Mapping[str, int] = field(default_factory=dict)
    """Line of every table and key by dotted path."""

    def line(self, path: str) -> int:
        """Line of a path, or of the nearest table above it that is written; 0 where nothing is."""
        while path:
            if path in self.lines:
                return self.lines[path]
            path = path.rpartition(".")[0]
        return 0


def read_document(path: Path | str) -> Document:
    """Read a machine file.

    Raises:
        FileProblems: It is not there, not UTF-8, not TOML, or of a format that this program does not know.
    """
    document = read_toml(Path(path))
    check_format(document)
    return document


def check_format(document: Document) -> None:
    """Raise `FileProblems` where the format is missing or not one that this program knows."""
    path = document.path
    found = document.tree.get("format")
    if found is None:
        raise _problem(path, 1, "format", f"missing; write 'format = {FORMAT}' as the first line")
    if not isinstance(found, int) or isinstance(found, bool) or found < 1:
        raise _problem(path, document.line("format"), "format", f"{found!r} is no format; this program writes format {FORMAT}")
    if found > FORMAT:
        words = f"this file has format {found}, this program reads up to format {FORMAT}; a newer program is needed"
        raise _problem(path, document.line("format"), "format", words)


def read_toml(path: Path) -> Document:
    """Read any TOML file, with lines."""
    try:
        raw = path.read_bytes()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _problem(path, 0, "", f"cannot be read: {reason}") from error
    return parse_toml(raw, path)


def parse_toml(raw: bytes, path: Path) -> Document:
    """Parse the bytes of a TOML file; ``path`` only names it."""
    try:
        text = raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise _problem(path, line, "", "is not UTF-8 text; save it as UTF-8") from error
    try:
        tree = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        line, words = explained(str(error), text)
        raise _problem(path, line, "", words) from error
    except RecursionError as error:
        raise _problem(path, 0, "", "is not TOML that can be read: tables or lists lie too deep in each other") from error
    return Document(path, text, tree, lines_of(text))


def _problem(path: Path, line: int, key: str, message: str) -> FileProblems:
    return FileProblems([Problem(str(path), line, key, message)])


def revise(document: Document, edits: Edits) -> Document:
    """The document with other values, in memory only; texts and lines stay those of the file.

    An inherited value becomes a key of the part's own table; a part that is named by text alone becomes a table where one of its
    fields is set; ``.x``, ``.y``, ``.z`` set one component of a point. The number after the last item of a list writes one more.
    """
    tree = deepcopy(document.tree)
    for path, text in edits:
        put(tree, path.split("."), text)
    return replace(document, tree=tree)


def put(tree: dict[str, Any], keys: list[str], value: Any) -> None:
    """Set a value in a plain tree, making the tables on the way; None takes it out."""
    table: Any = tree
    for key, following in pairwise(list(keys)):
        if isinstance(table, list) and key == str(len(table) + 1) and value is not None:
            table.append({})
        below = table[index_of(key)] if isinstance(table, list) else table.get(key)
        if isinstance(below, str):
            if following in ("x", "y", "z") and following == keys[-1]:
                value = with_component(below, following, str(value))
                keys = keys[: keys.index(key) + 1]
                break
            below = opened(key, below)
            table[key] = below
        elif below is None:
            below = table[key] = {}
        table = below
    last = keys[-1]
    if isinstance(table, list):
        _put_item(table, index_of(last), value)
    elif value is None:
        table.pop(last, None)
    else:
        table[last] = value


def _put_item(items: list[Any], at: int, value: Any) -> None:
    if value is None:
        del items[at]
    elif at == len(items):
        items.append(value)
    else:
        items[at] = value


def index_of(number: str) -> int:
    """Index of an item by its number, counted from 1.

    Raises:
        LookupError: There is none before the first.
    """
    if int(number) < 1:
        raise LookupError(number)
    return int(number) - 1


def item(items: list[Any], number: str) -> Any:
    """An item of a list by its number, counted from 1; None where there is none."""
    return items[int(number) - 1] if number.isdecimal() and 0 < int(number) <= len(items) else None


def opened(key: str, text: str) -> dict[str, Any]:
    """A text that is short for a table, as that table: a part by its name, or bolts as "8 x M8"."""
    if key == "bolts":
        count, _, thread = text.partition("x")
        return {"count": int(count), "thread": thread.strip()}
    return {"part": text}

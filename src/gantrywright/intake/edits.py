"""Edits of a file on disk: only the text of the value changes; written beside, read again, compared, then put in place."""

import re
import tomllib
from copy import deepcopy
from datetime import date
from pathlib import Path
from typing import Any

from gantrywright.base.errors import FileProblems, Problem
from gantrywright.base.files import write_whole
from gantrywright.intake.components import with_component
from gantrywright.intake.document import Document, Edits, index_of, item, opened, put, read_toml
from gantrywright.intake.literal import literal
from gantrywright.intake.spans import Pair, Section, Value, sections_of

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+\Z")
_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def write_edits(path: Path | str, edits: Edits) -> None:
    """Set values in a machine file or shop file; comments, order and everything else stay as they are.

    An inherited value becomes a key of the part's own table. Parts tables are never written.

    Args:
        path: The file.
        edits: Path and new text of each value; None takes it out. A number, flag or date that stands there, or ``true`` and ``false``,
            is written without quotes.

    Raises:
        FileProblems: The file cannot be read, or the edit cannot be made; nothing is written then.
        Unwritable: The disk refused; the file is as it was.
    """
    path = Path(path)
    write_whole(path, edited_text(read_toml(path), edits))


def edited_text(document: Document, edits: Edits) -> str:
    """The text of a file with other values; comments, order and everything else stay.

    Args:
        document: The file as it was read.
        edits: As of `write_edits`.

    Raises:
        FileProblems: The edit cannot be made.
    """
    wanted = [(place, typed_as(document.tree, place, text)) for place, text in edits]
    intended = deepcopy(document.tree)
    text = document.text
    try:
        for place, value in wanted:
            put(intended, place.split("."), value)
            text = edited(text, tuple(place.split(".")), value)
        right = _kept(tomllib.loads(text)) == _kept(intended)
    except (LookupError, ValueError, TypeError, AttributeError):  # a path through a value, past the end of a list ...
        right = False
    if not right:
        places = ", ".join(place for place, _ in wanted)
        raise FileProblems(
            [
                Problem(
                    str(document.path), document.line(places.split(",")[0]), places, "this edit cannot be made; nothing was written"
                )
            ]
        )
    return text


def _kept(tree: Any) -> Any:
    """A tree without empty tables: with its last table the header above it goes, too, which may never have been written."""
    if not isinstance(tree, dict):
        return tree
    made = {key: _kept(below) for key, below in tree.items()}
    return {key: below for key, below in made.items() if below != {}}


def typed_as(tree: dict[str, Any], path: str, text: str | None) -> Any:
    """A text as the kind of TOML value that stands at a path now; where nothing stands there, as what its key wants."""
    old: Any = tree
    for key in path.split("."):
        old = old.get(key) if isinstance(old, dict) else item(old, key) if isinstance(old, list) else None
    if text in ("true", "false") and not isinstance(old, str):
        return text == "true"
    if text is None or isinstance(old, str):
        return text
    if not isinstance(old, bool | int | float | date):
        return literal(path, text)
    try:
        return tomllib.loads(f"value = {text}")["value"]
    except tomllib.TOMLDecodeError:
        return text


def edited(text: str, path: tuple[str, ...], value: Any) -> str:
    """The text with another value at a path; None takes it out.

    Example:
        >>> edited('[bed]  # steel\\nmiddle = "660 mm"  # taped\\n', ("bed", "middle"), "661 mm")
        '[bed]  # steel\\nmiddle = "661 mm"  # taped\\n'
    """
    sections = sections_of(text)
    for section in sections:
        for pair in section.pairs:
            full = (*section.path, *pair.key)
            if not section.many and path[: len(full)] == full:
                return _within_pair(text, pair, path[len(full) :], value)
    if value is None:
        return _without_tables(text, sections, path)
    return _inserted(text, sections, path, value)


# ---- within a value


def _within_pair(text: str, pair: Pair, rest: tuple[str, ...], value: Any) -> str:
    if not rest and value is None:
        return text[: _line_start(text, pair.start)] + text[pair.stop :]
    return _within(text, pair.value, rest, value, pair.key[-1])


def _within(text: str, place: Value, rest: tuple[str, ...], value: Any, name: str) -> str:
    """Change what stands below the value of the key ``name``."""
    if not rest:
        return text[: place.start] + written(value) + text[place.stop :]
    if place.kind == "list":
        return _within_list(text, place, rest, value)
    if place.kind == "table":
        return _within_table(text, place, rest, value)
    old = tomllib.loads(f"value = {text[place.start : place.stop]}")["value"]
    if not isinstance(old, str):
        raise LookupError(rest[0])
    if len(rest) == 1 and rest[0] in ("x", "y", "z"):
        new = written(with_component(old, rest[0], str(value)))
    else:
        fields = {key: written(own) for key, own in opened(name, old).items()}
        if value is not None:
            fields[dotted(rest)] = written(value)
        new = "{ " + ", ".join(f"{key} = {own}" for key, own in fields.items()) + " }"
    return text[: place.start] + new + text[place.stop :]


def _within_list(text: str, listed: Value, rest: tuple[str, ...], value: Any) -> str:
    """Change an item, take it out, or write one behind the last."""
    at, items = index_of(rest[0]), listed.items
    if at == len(items) and value is not None:
        new = written(value) if len(rest) == 1 else "{ " + f"{dotted(rest[1:])} = {written(value)}" + " }"
        end = items[-1].stop if items else listed.start + 1
        return f"{text[:end]}{', ' if items else ''}{new}{text[end:]}"
    if value is not None or len(rest) > 1:
        return _within(text, items[at], rest[1:], value, rest[0])
    if at + 1 < len(items):
        return text[: items[at].start] + text[items[at + 1].start :]
    return text[: items[at - 1].stop if at else items[at].start] + text[items[at].stop :]


def _within_table(text: str, table: Value, rest: tuple[str, ...], value: Any) -> str:
    for index, pair in enumerate(table.pairs):
        if rest[: len(pair.key)] != pair.key:
            continue
        below = rest[len(pair.key) :]
        if below or value is not None:
            return _within(text, pair.value, below, value, pair.key[-1])
        if index + 1 < len(table.pairs):
            return text[: pair.start] + text[table.pairs[index + 1].start :]
        start = table.pairs[index - 1].value.stop if index else pair.start
        return text[:start] + text[pair.value.stop :]
    if value is None:
        return text
    new = f"{dotted(rest)} = {written(value)}"
    if not table.pairs:
        return text[: table.start] + "{ " + new + " }" + text[table.stop :]
    end = table.pairs[-1].value.stop
    return text[:end] + ", " + new + text[end:]


# ---- new keys


def _inserted(text: str, sections: list[Section], path: tuple[str, ...], value: Any) -> str:
    """A key that is not there yet: under the nearest header after its last key, or under a new header among its relatives."""
    if len(path) == 1:
        return _line(text, sections[0].end, path, value)
    headers = [section for section in sections[1:] if not section.many]
    deepest = max((len(section.path) for section in headers if path[: len(section.path)] == section.path), default=0)
    related = max((len(_shared(section.path, path[:-1])) for section in headers), default=0)
    if deepest and deepest >= related:
        named = next(section for section in headers if section.path == path[:deepest])
        return _line(text, named.end, path[deepest:], value)
    end = len(text)
    if related:
        end = [section for section in headers if len(_shared(section.path, path[:-1])) == related][-1].end
    joint = "" if not text[:end] else "\n" if text[end - 1] == "\n" else "\n\n"
    return f"{text[:end]}{joint}[{dotted(path[:-1])}]\n{dotted(path[-1:])} = {written(value)}\n{text[end:]}"


def _line(text: str, position: int, key: tuple[str, ...], value: Any) -> str:
    new = f"{dotted(key)} = {written(value)}\n"
    if position and text[position - 1] != "\n":
        new = "\n" + new
    return text[:position] + new + text[position:]


def _without_tables(text: str, sections: list[Section], path: tuple[str, ...]) -> str:
    """Take out a whole table: its headers with their keys, and dotted keys that lead into it."""
    spans = []
    for index, section in enumerate(sections):
        if section.path[: len(path)] == path and section.path:
            following = sections[index + 1].start if index + 1 < len(sections) else len(text)
            spans.append((_line_start(text, section.start), min(_line_start(text, following), max(section.end, section.body))))
            continue
        for pair in section.pairs:
            if (*section.path, *pair.key)[: len(path)] == path:
                spans.append((_line_start(text, pair.start), pair.stop))
    for start, stop in reversed(spans):
        text = text[:start] + text[stop:]
    return text


def _shared(one: tuple[str, ...], other: tuple[str, ...]) -> tuple[str, ...]:
    count = 0
    while count < min(len(one), len(other)) and one[count] == other[count]:
        count += 1
    return one[:count]


def _line_start(text: str, position: int) -> int:
    return text.rfind("\n", 0, position) + 1


# ---- TOML text


def dotted(keys: tuple[str, ...]) -> str:
    """Keys as they are written: bare where they can be."""
    return ".".join(key if _BARE_KEY.match(key) else written(key) for key in keys)


def written(value: Any) -> str:
    """A value as TOML text; a text with quotes in it stands in single quotes, as builders write inches."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        if '"' in value and not re.search(r"['\x00-\x1f\x7f]", value):
            return f"'{value}'"
        return '"' + "".join(_ESCAPES.get(c, c if c.isprintable() or c > "\x9f" else f"\\u{ord(c):04x}") for c in value) + '"'
    if isinstance(value, list):
        return "[" + ", ".join(written(item) for item in value) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{dotted((key,))} = {written(item)}" for key, item in value.items()) + " }" if value else "{}"
    return str(value)

"""Where every key and value of a TOML text stands, to edit the text and nothing else in it.

The text has been read by ``tomllib`` before, so it is known to be valid.
"""

import re
from dataclasses import dataclass, field

from gantrywright.intake.lines import BLANK, after_value, read_key

_STRING = re.compile(r'"""(?:[^\\]|\\.)*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'', re.DOTALL)
_BARE = re.compile(r"[^,\]}\n#]+")


@dataclass(frozen=True, slots=True)
class Value:
    """A value: its text is ``text[start:stop]``."""

    start: int
    stop: int
    kind: str
    """table, list or plain."""
    pairs: "tuple[Pair, ...]" = ()
    """Of an inline table."""
    items: "tuple[Value, ...]" = ()
    """Of a list."""


@dataclass(frozen=True, slots=True)
class Pair:
    """A key and its value."""

    key: tuple[str, ...]
    start: int
    """Where the key starts."""
    value: Value
    stop: int
    """Of a line of its own: where the next line starts."""


@dataclass(slots=True)
class Section:
    """A header with the keys below it; the first section of a file has none."""

    path: tuple[str, ...]
    start: int
    """Where the header starts."""
    body: int
    """Where its first key may stand: the start of the line after the header."""
    pairs: list[Pair] = field(default_factory=list)
    many: bool = False

    @property
    def end(self) -> int:
        """Where a new key goes: after the last one."""
        return self.pairs[-1].stop if self.pairs else self.body


def sections_of(text: str) -> list[Section]:
    """All sections of a text, in its order."""
    sections = [Section((), 0, 0)]
    position = 0
    while True:
        blank = BLANK.match(text, position)
        assert blank is not None  # it matches an empty text
        position = blank.end()
        if position >= len(text):
            return sections
        if text[position] == "[":
            many = text.startswith("[[", position)
            path, after = read_key(text, position + (2 if many else 1))
            body = after_value(text, after)
            sections.append(Section(tuple(path), position, body, many=many))
            position = body
        else:
            key, after = read_key(text, position)
            value = read_span(text, after + 1)
            stop = after_value(text, after + 1)
            sections[-1].pairs.append(Pair(tuple(key), position, value, stop))
            if len(sections) == 1 and len(sections[0].pairs) == 1:
                sections[0].start = sections[0].body = position
            position = stop


def read_span(text: str, position: int) -> Value:
    """The value that starts at a position, blanks before it skipped."""
    position = _inner(text, position)
    first = text[position]
    if first == "{":
        return _table(text, position)
    if first == "[":
        return _list(text, position)
    found = _STRING.match(text, position) or _BARE.match(text, position)
    assert found is not None  # tomllib has read it
    stop = position + len(found.group().rstrip())
    return Value(position, stop, "plain")


def _table(text: str, start: int) -> Value:
    pairs = []
    position = _inner(text, start + 1)
    while text[position] != "}":
        key, after = read_key(text, position)
        value = read_span(text, after + 1)
        pairs.append(Pair(tuple(key), position, value, value.stop))
        position = _inner(text, value.stop)
        if text[position] == ",":
            position = _inner(text, position + 1)
    return Value(start, position + 1, "table", pairs=tuple(pairs))


def _list(text: str, start: int) -> Value:
    items = []
    position = _inner(text, start + 1)
    while text[position] != "]":
        value = read_span(text, position)
        items.append(value)
        position = _inner(text, value.stop)
        if text[position] == ",":
            position = _inner(text, position + 1)
    return Value(start, position + 1, "list", items=tuple(items))


def _inner(text: str, position: int) -> int:
    """Past blanks, line ends and comments."""
    blank = BLANK.match(text, position)
    assert blank is not None  # it matches an empty text
    return blank.end()

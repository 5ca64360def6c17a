"""On which line each key of a TOML text stands; the standard reader does not say.

The text has been read by ``tomllib`` before, so it is known to be valid. Keys within an inline table have the line of its key unless
the table or list runs over several lines.
"""

import re
from typing import TypeAlias

Lines: TypeAlias = dict[str, int]

BLANK = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_KEY = re.compile(r'[ \t]*(?:([A-Za-z0-9_-]+)|"((?:[^"\\\n]|\\.)*)"|\'([^\'\n]*)\')[ \t]*')
_TOKEN = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'|#[^\n]*|[\[\]{}\n]',
    re.DOTALL,
)
_PLAIN = re.compile(r'[ \t]*(?:"(?!")(?:[^"\\\n]|\\.)*"|\'(?!\')[^\'\n]*\'|[^"\'\[{#\n]+)[ \t\r]*(?:#[^\n]*)?(?:\n|$)')


def lines_of(text: str) -> Lines:
    """Line of every table and key by dotted path; of a table that occurs in several headers, the first.

    Example:
        >>> lines_of('format = 1\\n[bed.member]\\nbeam.from = "0"\\n')
        {'format': 1, 'bed': 2, 'bed.member': 2, 'bed.member.beam': 3, 'bed.member.beam.from': 3}
    """
    lines: Lines = {}
    prefix: list[str] = []
    position, line = 0, 1
    end = len(text)
    while True:
        blank = BLANK.match(text, position)
        assert blank is not None  # it matches an empty text
        line += text.count("\n", position, blank.end())
        position = blank.end()
        if position >= end:
            return lines
        if text[position] == "[":
            many = text.startswith("[[", position)
            prefix, position = read_key(text, position + (2 if many else 1))
            if many:
                prefix.append(str(_counted(lines, ".".join(prefix))))
            _note(lines, [], prefix, line)
            position += 2 if many else 1
        else:
            key, position = read_key(text, position)
            _note(lines, prefix, key, line)
            position += 1  # the equals sign
            after = after_value(text, position)
            line += text.count("\n", position, after)
            position = after


def read_key(text: str, position: int) -> tuple[list[str], int]:
    """The dotted key that starts at a position, and where it ends, blanks after it included."""
    parts = []
    while True:
        found = _KEY.match(text, position)
        assert found is not None  # tomllib has read it
        bare, basic, literal = found.groups()
        parts.append(bare if bare is not None else basic if basic is not None else literal)
        position = found.end()
        if text[position : position + 1] != ".":
            return parts, position
        position += 1


def _note(lines: Lines, prefix: list[str], key: list[str], line: int) -> None:
    path = ".".join(prefix)
    for part in key:
        path = f"{path}.{part}" if path else part
        lines.setdefault(path, line)


def _counted(lines: Lines, path: str) -> int:
    number = 1
    while f"{path}.{number}" in lines:
        number += 1
    return number


def after_value(text: str, position: int) -> int:
    """Where the line after a value starts."""
    plain = _PLAIN.match(text, position)
    if plain is not None:
        return plain.end()
    depth = 0
    for found in _TOKEN.finditer(text, position):
        token = found.group()
        if token in "[{":
            depth += 1
        elif token in "]}":
            depth -= 1
        elif token == "\n" and depth == 0:
            return found.end()
    return len(text)

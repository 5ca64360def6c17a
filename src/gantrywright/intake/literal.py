"""Texts of edits that stand in a file without quotes, where nothing stands yet that says so: dates, counts, lists, empty tables."""

import re
import tomllib
from collections.abc import Iterator
from functools import cache
from typing import Any

from gantrywright.intake.grammar import ROOT
from gantrywright.intake.grammar.recipes import BODY_TABLES
from gantrywright.intake.grammar.shape import Table

_DATE = re.compile(r"\d{4}-\d\d-\d\d\Z")
_COUNT = re.compile(r"(0|[1-9]\d{0,8})\Z")


def literal(path: str, text: str) -> Any:
    """The value that a text means at a path where nothing stands: a date, a count or a list where the key's name wants one, else the text.

    Example:
        >>> literal("measured.sag.on", "2026-03-07"), literal("machine.revision", "2026-03-07")
        (datetime.date(2026, 3, 7), '2026-03-07')
    """
    name = path.rpartition(".")[2]
    if text == "{}":
        return {}
    dates, counts, lists = _names()
    if (name in dates and _DATE.match(text)) or (name in counts and _COUNT.match(text)) or (name in lists and text.startswith("[")):
        try:
            return tomllib.loads(f"value = {text}")["value"]
        except ValueError:
            return text
    return text


@cache
def _names() -> tuple[frozenset[str], frozenset[str], frozenset[str]]:
    """Names of all keys that hold a date, that hold nothing but counts, and of all keys and tables that hold a list."""
    dates: set[str] = set()
    counts: set[str] = set()
    others: set[str] = set()
    lists: set[str] = set()
    for table in _tables([ROOT, *BODY_TABLES.values()]):
        dates |= {key.name for key in table.key_map.values() if key.kind in ("date", "fitted")}
        counts |= {key.name for key in table.key_map.values() if key.kind == "count"}
        others |= {key.name for key in table.key_map.values() if key.kind != "count"}
        lists |= {key.name for key in table.key_map.values() if key.item_kind}
        lists |= {sub.name for sub in table.sub_map.values() if sub.many == "list"}
    return frozenset(dates), frozenset(counts - others), frozenset(lists)


def _tables(found: list[Table]) -> Iterator[Table]:
    seen: set[int] = set()
    while found:
        table = found.pop()
        if id(table) not in seen:
            seen.add(id(table))
            yield table
            found.extend(sub.table for sub in table.sub_map.values())

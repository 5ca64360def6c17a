"""Which keys a table lacks, by the rules of its definition."""

import re
from collections.abc import Iterator, Mapping
from typing import Any

from gantrywright.intake.grammar.shape import Table
from gantrywright.intake.layers import FAILED, Node
from gantrywright.intake.tree import Entry

_RULE = re.compile(r"(unless|if|with) ([\w|]+)(?:(=|>)(.+))?\Z")
_SILENT: Any = object()
"""A value that failed or is unknown: no rule that hangs on it is applied."""


def missing(table: Table, node: Node, entries: Mapping[str, Entry]) -> Iterator[str]:
    """A sentence for what is missing, and one for a fact that is given twice."""
    lacks = [item.name for item in table.needs if item.name not in node and needed(item.need, node, entries)]
    if table.either:
        given, groups = _groups(table, node)
        if len(given) > 1:
            yield f"gives both {' and '.join(given)}; keep one of the two"
        elif not given:
            lacks.append(" or ".join(" and ".join(group) for group in groups))
        else:
            lacks.extend(key for group in groups if _any(group, node) for key in group if key not in node)
    if lacks:
        yield f"lacks {', '.join(lacks)}"


def needed(need: str, node: Node, entries: Mapping[str, Entry]) -> bool:
    """Whether a need applies here.

    Args:
        need: ``!``, ``unless KEY`` or ``unless KEY|KEY``, ``with TABLE``, ``if KEY=WORD|WORD`` or ``if KEY>NUMBER``.
        node: What is written.
        entries: With the defaults.
    """
    if need == "!":
        return True
    found = _RULE.match(need)
    if found is None:
        raise ValueError(f"rule {need!r} is not known")
    word, name, sign, wanted = found.groups()
    if word == "with":
        return bool(node.get(name))
    if word == "unless" and "|" in name:
        return all(needed(f"unless {each}", node, entries) for each in name.split("|"))
    value = _value(name, node, entries)
    if value is _SILENT:
        return False
    if word == "unless":
        return value in (None, False)
    if sign == ">":
        return value is not None and bool(value > float(wanted))
    return value in wanted.split("|")


def _value(name: str, node: Node, entries: Mapping[str, Entry]) -> Any:
    """None where the key is not there."""
    leaf = node.get(name, entries.get(name))
    if isinstance(leaf, Entry):
        return _SILENT if leaf.value is FAILED or leaf.value is None else leaf.value
    return None if leaf is None else True


def _groups(table: Table, node: Node) -> tuple[list[str], list[list[str]]]:
    """The groups that are given, by the keys found; and the keys that each group must have."""
    given = []
    for group in table.either:
        found = [key.rstrip("?") for key in group if key.rstrip("?") in node]
        if found:
            given.append("/".join(found))
    return given, [[key for key in group if not key.endswith("?")] for group in table.either]


def _any(group: list[str], node: Node) -> bool:
    return any(key in node for key in group)

"""Layers of tables whose values are already typed: later wins, key by key.

Values are read before they are layered, so that a written text is read once and told once, and a mirror can turn a point instead of a
text.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

from gantrywright.base.spread import Origin, OriginKind
from gantrywright.intake.grammar.shape import Key, Table
from gantrywright.intake.tree import Entry

FAILED: Any = object()
"""Value of an entry that could not be read: told already, so whatever hangs on it stays silent."""


class Node(dict[str, Any]):
    """One table: entries and nodes by key.

    ``whole``: it was written as a text or a list and replaces what lies below it instead of merging with it.
    """

    __slots__ = ("listed", "whole")

    def __init__(self, items: Mapping[str, Any] = {}, *, whole: bool = False, listed: bool = False) -> None:
        super().__init__(items)
        self.whole = whole
        self.listed = listed

    def value(self, key: str, default: Any = None) -> Any:
        """The plain value of an entry; ``default`` where there is none or it could not be read."""
        entry = self.get(key)
        return entry.value if isinstance(entry, Entry) and entry.value is not FAILED else default

    def node(self, key: str) -> "Node | None":
        """The table under a key."""
        found = self.get(key)
        return found if isinstance(found, Node) else None


def merged(base: Node | None, over: Node) -> Node:
    """``over`` laid on ``base``; neither is changed."""
    if base is None or over.whole:
        return over
    result = Node(base, whole=base.whole, listed=base.listed)
    for key, new in over.items():
        old = result.get(key)
        if old is None:
            result[key] = new
        elif isinstance(new, Node):
            result[key] = merged(old, new) if isinstance(old, Node) else new
        else:
            result[key] = on_top(new, old) if isinstance(old, Entry) else new
    return result


def on_top(new: Entry, old: Entry) -> Entry:
    """An entry that remembers what it replaced."""
    o = new.origin
    return Entry(new.value, Origin(o.kind, o.file, o.line, o.path, o.source, o.text, o.note, old.origin), new.spread)


# ---- copies: mirrored, repeated

_SWAP = {"left": "right", "right": "left", "-x": "+x", "+x": "-x"}
_WORD = re.compile(r"(?<![A-Za-z0-9_])(left|right|[+-]x)(?![A-Za-z0-9_])")
_SIDE = re.compile(r"(?<![A-Za-z0-9_])(left|right)(?![A-Za-z0-9_])")


def exchanged(text: str) -> str:
    """Left and right exchanged as whole words between hyphens, dots, blanks or @.

    Example:
        >>> exchanged("gantry.upright-left@right")
        'gantry.upright-right@left'
    """
    return _SIDE.sub(lambda found: _SWAP[found.group()], text)


def exchanged_direction(text: str) -> str:
    """The same for direction words, ``+x`` and ``-x`` included."""
    return _WORD.sub(lambda found: _SWAP[found.group()], text)


@dataclass(frozen=True, slots=True)
class Mirror:
    """A mirror plane and what must be known to turn values at it."""

    middle: float
    """The plane x = middle in the measures of the body."""
    turn: Literal["", "along", "across"] = "across"
    """Which coordinate of a face runs along x, if one does."""


def mirrored(node: Node, table: Table, mirror: Mirror, path: str) -> Node:
    """A table copied across the mirror plane.

    Args:
        node: The table.
        table: Its definition.
        mirror: The plane.
        path: Of the table that is copied, for the origins.
    """
    mirror = Mirror(mirror.middle, _turn(node, table, mirror))
    result = Node(whole=node.whole, listed=node.listed)
    for name, leaf in node.items():
        if isinstance(leaf, Entry):
            result[name] = _mirrored_entry(leaf, table.key_map.get(name), mirror, f"{path}.{name}")
            continue
        sub = table.sub_map.get(name)
        if sub is None:  # a part: nothing of it has a side
            result[name] = relabelled(leaf, "mirror")
        elif sub.many:
            copies = Node(whole=leaf.whole, listed=leaf.listed)
            for child, below in leaf.items():
                copies[child] = mirrored(below, sub.table, mirror, f"{path}.{name}.{child}")
            result[name] = copies
        else:
            result[name] = mirrored(leaf, sub.table, mirror, f"{path}.{name}")
    if mirror.turn == "along" and table.name == "holes":
        _turn_row(result)
    return result


def _turn(node: Node, table: Table, mirror: Mirror) -> Literal["", "along", "across"]:
    """Which coordinate of the faces of this part runs along x: of plates that do not look along x the first, of bars the second."""
    if table.name == "plate":
        normal = node.value("normal")
        return "" if normal is not None and abs(normal[0]) > 0.7 else "along"
    if table.name == "member":
        start, stop = node.value("from"), node.value("to")
        if start is not None and stop is not None:
            run = [abs(b - a) for a, b in zip(start, stop, strict=True)]
            return "" if run[0] == max(run) else "across"
    if "face" in table.key_map and node.value("face") in ("left", "right", "outer", "inner", "+x", "-x"):
        return ""
    return mirror.turn


def _mirrored_entry(entry: Entry, key: Key | None, mirror: Mirror, path: str) -> Entry:
    value = entry.value
    if key is not None and value is not None and value is not FAILED:
        value = _mirrored_value(value, key, mirror)
    origin = Origin(
        "mirror", entry.origin.file, entry.origin.line, entry.origin.path or path, entry.origin.source, entry.origin.text
    )
    return Entry(value, origin, entry.spread)


def _mirrored_value(value: Any, key: Key, mirror: Mirror) -> Any:
    if isinstance(value, tuple) and key.item_kind:
        return tuple(_mirrored_value(item, key.item, mirror) for item in value)
    if key.kind in ("ref", "words"):
        return exchanged(value)
    if key.kind == "face":
        return exchanged_direction(value)
    if key.mirror == "place":
        return (2 * mirror.middle - value[0], *value[1:])
    if key.mirror == "vector":
        return (-value[0] + 0.0, *value[1:])
    if key.mirror == "across" and mirror.turn:
        if not isinstance(value, tuple):
            return -value + 0.0 if mirror.turn == "across" else value
        first, second = value
        return (-first + 0.0, second) if mirror.turn == "along" else (first, -second + 0.0)
    return value


def _turn_row(holes: Node) -> None:
    """A row that counts from the middle of a plate starts at its other end."""
    first, pitch, count = holes.value("first"), holes.value("pitch", 0.0), holes.value("count", 1)
    if first is not None and pitch is not None and count is not None:
        entry = holes["first"]
        holes["first"] = Entry(-(first + pitch * (count - 1)) + 0.0, entry.origin, entry.spread)


def shifted(node: Node, table: Table, step: tuple[float, ...], times: int) -> Node:
    """A table with every place moved by so many steps."""
    result = Node(node, whole=node.whole)
    result.pop("repeat", None)
    if times == 0:
        return result
    for name, leaf in node.items():
        key = table.key_map.get(name)
        if isinstance(leaf, Entry) and key is not None and key.mirror == "place" and isinstance(leaf.value, tuple):
            moved = tuple(place + times * by for place, by in zip(leaf.value, step, strict=True))
            result[name] = Entry(moved, replace(leaf.origin, note=f"moved by {times} steps"), leaf.spread)
    return result


def relabelled(node: Node, kind: OriginKind) -> Node:
    """The same table with origins of another kind."""
    result = Node(whole=node.whole, listed=node.listed)
    for key, leaf in node.items():
        if isinstance(leaf, Entry):
            o = leaf.origin
            result[key] = Entry(leaf.value, Origin(kind, o.file, o.line, o.path, o.source, o.text, o.note, o.over), leaf.spread)
        else:
            result[key] = relabelled(leaf, kind)
    return result

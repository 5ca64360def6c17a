"""Reads what is written into typed tables: every value once, every unknown name told at its own line."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from gantrywright.base.errors import UnreadableText
from gantrywright.base.names import nearest, nearest_sentence
from gantrywright.base.spread import Origin, OriginKind, Spread
from gantrywright.base.values import PhaseCurrent, Rating
from gantrywright.intake.document import Document
from gantrywright.intake.grammar.parts import part_table
from gantrywright.intake.grammar.shape import Key, Sub, Table
from gantrywright.intake.layers import FAILED, Node
from gantrywright.intake.tree import Branch, Entry
from gantrywright.intake.trouble import Trouble
from gantrywright.intake.values import Computed, most_in_words, read_with_unit, wanted

NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]*\Z")


class Typist:
    """Types the tables of one document."""

    def __init__(self, document: Document, trouble: Trouble) -> None:
        self._document = document
        self._trouble = trouble
        self.file = str(document.path)
        self.convert: Callable[[float, str], float] | None = None
        """Brings a sum of money to the machine's currency; without one it stays as written."""

    def problem(self, path: str, message: str) -> None:
        """Note a problem at a written path."""
        self._trouble.add(self.file, self._document.line(path), path, message)

    def table(self, table: Table, raw: Any, path: str, kind: OriginKind = "file") -> Node:
        """A written table, typed.

        Args:
            table: Its definition.
            raw: As tomllib gave it.
            path: Where it was written.
            kind: What the origins of its values are called.
        """
        node = Node()
        if not isinstance(raw, Mapping):
            self.problem(path, f"wants a table with keys, found {shown(raw)}")
            return node
        for name, below in raw.items():
            place = f"{path}.{name}" if path else name
            key = table.key_map.get(name)
            if key is not None:
                node[name] = self.key(key, below, place, kind)
                continue
            sub = table.sub_map.get(name)
            if sub is not None:
                node[name] = self.sub(sub, below, place, kind)
            elif table.free:
                node[name] = self.key(Key(name, table.free, "", positive=True), below, place, kind)
            else:
                self.unknown(name, table.names, place, below, table.elsewhere.get(name, ""))
                for meant in nearest(name, table.names, 1):  # what was meant is not reported as missing too
                    meant_at = f"{path}.{meant}" if path else meant
                    node.setdefault(meant, Entry(FAILED, Origin(kind, self.file, self.line(place), meant_at)))
        return node

    def unknown(self, name: str, known: Iterable[str], path: str, raw: Any, elsewhere: str = "") -> None:
        """Tell of a key or table that the place does not have; ``elsewhere`` says where it belongs."""
        word = "table" if isinstance(raw, Mapping) else "key"
        where = f"; {elsewhere}" if elsewhere else nearest_sentence(name, known)
        self.problem(path, f"no {word} '{name}' here{where}")

    def sub(self, sub: Sub, raw: Any, path: str, kind: OriginKind = "file") -> Node:
        """What stands under the name of a sub-table: one table, tables by name, or a list of tables."""
        if sub.many == "names":
            return self.collection(raw, path, lambda below, place, origin: self.table(sub.table, below, place, origin), kind)
        if sub.many == "list":
            return self._listed(sub.table, raw, path, kind)
        if sub.short and isinstance(raw, str):
            return self._short(sub, raw, path, kind)
        return self.table(sub.table, raw, path, kind)

    def collection(self, raw: Any, path: str, read: Callable[[Any, str, OriginKind], Node], kind: OriginKind = "file") -> Node:
        """Tables keyed by name, ``each`` among them."""
        node = Node()
        if not isinstance(raw, Mapping):
            self.problem(path, f"wants tables by name, found {shown(raw)}")
            return node
        for name, below in raw.items():
            place = f"{path}.{name}"
            if not NAME.match(name):
                self.problem(place, f"'{name}' is no name: names have letters, digits and hyphens")
            elif not isinstance(below, Mapping):
                self.problem(place, f"wants a table, found {shown(below)}; keys for all of them go into {path}.each")
            else:
                node[name] = read(below, place, "each" if name == "each" and kind == "file" else kind)
        return node

    def _listed(self, table: Table, raw: Any, path: str, kind: OriginKind) -> Node:
        node = Node(whole=True, listed=True)
        if not isinstance(raw, list):
            self.problem(path, f"wants a list of tables, found {shown(raw)}")
            return node
        for number, below in enumerate(raw, 1):
            node[str(number)] = self.table(table, below, f"{path}.{number}", kind)
        return node

    def _short(self, sub: Sub, raw: str, path: str, kind: OriginKind) -> Node:
        entry = self.key(Key(sub.name, sub.short, sub.help), raw, path, kind)
        if entry.value is FAILED or entry.value is None:
            return Node({"thread": entry, "count": entry}, whole=True)
        bolts = entry.value
        return Node({"count": Entry(bolts.count, entry.origin), "thread": Entry(bolts.thread, entry.origin)}, whole=True)

    def key(self, key: Key, raw: Any, path: str, kind: OriginKind = "file") -> Any:
        """One value: an entry, or a node for a part."""
        if key.part_kind:
            return self._part(key, raw, path, kind)
        if isinstance(raw, Entry):
            return raw
        line = self._document.line(path)
        if isinstance(raw, Computed):
            return Entry(raw.value, Origin(kind, self.file, line, path, text=raw.note))
        try:
            value, spread, unit = read_with_unit(key, raw)
            if self.convert is not None and value is not None and key.kind == "money":
                factor = self.convert(1.0, unit)
                value, spread = value * factor, _scaled(spread, factor)
        except UnreadableText as error:
            self._trouble.add(self.file, line, path, str(error))
            return Entry(FAILED, Origin(kind, self.file, line, path))
        if value is not None and key.least is not None:
            wrong = _out_of_range(key, value, spread)
            if wrong:
                self._trouble.add(self.file, line, path, wrong)
                return Entry(FAILED, Origin(kind, self.file, line, path))
        if value is None and key.is_firm:
            usual = f"; left out, it is taken as {key.default}" if key.default else ""
            self._trouble.add(
                self.file, line, path, f"cannot be unknown: there is no machine without it; write {wanted(key)}{usual}"
            )
            return Entry(FAILED, Origin(kind, self.file, line, path))
        return Entry(value, Origin(kind, self.file, line, path, text=str(raw)), spread)

    def line(self, path: str) -> int:
        """Line of a written path."""
        return self._document.line(path)

    def _part(self, key: Key, raw: Any, path: str, kind: OriginKind) -> Node:
        if isinstance(raw, Branch):
            lost = not raw.entries and not raw.branches  # told where it was written
            return Node({"part": Entry(FAILED, Origin(kind, self.file, raw.line, raw.path))}, whole=True) if lost else node_of(raw)
        if isinstance(raw, Entry):
            return Node({"part": raw}, whole=True)
        table = part_table(key.part_kind)
        if isinstance(raw, Mapping):
            return self.table(table, raw, path, kind)
        return Node({"part": self.key(table.key_map["part"], raw, path, kind)}, whole=True)


def _out_of_range(key: Key, value: Any, spread: Spread | None) -> str:
    """A sentence for a value that cannot be meant, such as a negative length."""
    amount = value.force if isinstance(value, Rating) else value.value if isinstance(value, PhaseCurrent) else value
    numbers = amount if isinstance(amount, tuple) else (amount,) if spread is None else (amount, spread.low)
    if not numbers or not all(isinstance(number, float | int) for number in numbers):
        return ""
    allowed = f"write {wanted(key)} {'greater than 0' if key.is_positive else 'from 0 on'}"
    if key.most is not None:
        allowed += f", {most_in_words(key)} at most"
    if min(numbers) < 0:
        return f"cannot be negative; {allowed}"
    if key.is_positive and min(numbers) == 0:
        return f"cannot be zero; {allowed}"
    if key.most is not None and max(numbers) > key.most:
        return f"cannot be more than {most_in_words(key)}; {allowed}"
    return ""


def _scaled(spread: Spread | None, factor: float) -> Spread | None:
    if spread is None:
        return None
    return replace(spread, low=spread.low * factor, typical=spread.typical * factor, high=spread.high * factor)


def node_of(branch: Branch) -> Node:
    """A finished branch as a table that can be layered again; it replaces what lies below."""
    return Node({**branch.entries, **{name: node_of(sub) for name, sub in branch.branches.items()}}, whole=True)


def shown(raw: Any) -> str:
    """A raw value for a sentence, cut short."""
    text = repr(raw) if isinstance(raw, str) else str(raw)
    return text if len(text) <= 60 else f"{text[:57]}..."

"""What recipes became, as TOML that a builder could paste in place of them."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from gantrywright.base.errors import FileProblems
from gantrywright.base.quantities import about, write
from gantrywright.intake.document import Document
from gantrywright.intake.grammar.axis import BLOCKS, DRIVE, RAIL
from gantrywright.intake.grammar.bodies import BODY_SUBS, COLLECTIONS
from gantrywright.intake.grammar.parts import part_table
from gantrywright.intake.grammar.recipes import BODY
from gantrywright.intake.grammar.shape import Key, Table
from gantrywright.intake.placing.builder import Builder
from gantrywright.intake.placing.world import Placed
from gantrywright.intake.reading import Reading
from gantrywright.intake.resolve import place
from gantrywright.intake.tree import Branch, Entry
from gantrywright.model.frame import DIRECTIONS

WORDS = frozenset({"text", "words", "ref", "face"})
PLACES = frozenset({"length", "point", "pair", "size2", "size3"})
BELOW = frozenset({"row", "default", "stock"})
"""Origins of values that come back by themselves when the tables are pasted."""
SLIDE_PARTS = ("slide-base", "saddle")


def expanded_text(document: Document) -> str:
    """Every body with all its parts listed: ``each``, ``mirror``, ``repeat`` and recipes followed.

    A bought slide stays a slide; what it made is shown as a remark.

    Raises:
        FileProblems: The file must be mended first.
    """
    reading = Reading(document)
    if reading.problems or not reading.links():
        raise FileProblems(reading.problems)
    builder = place(reading, {})
    if reading.problems:
        raise FileProblems(reading.problems)
    machine = reading.branch("machine")
    writer = Writer("in" if machine is not None and machine.get("show") == "inch" else "mm")
    return "\n".join(_text(builder, writer)).strip() + "\n"


def _text(builder: Builder, writer: "Writer") -> Iterator[str]:
    for link in builder.world.links:
        body = builder.world.bodies[link.body]
        recipe = builder.reading.recipe(body.name)
        origin = f"what the recipe {recipe.get('recipe')} made" if recipe is not None else "listed in the file"
        yield f"# ---- {body.name}: {origin}"
        yield from writer.body(body)
        yield ""
    for name, setting in builder.settings.items():
        if setting.slide is not None:
            yield f"# ---- axis.{name}: what its slide made; it stays a slide, whose mass is that of its row"
            yield from (f"# {line}" for line in writer.axis(setting.branch))
            yield ""


class Writer:
    """Writes branches in the grammar of the file."""

    def __init__(self, unit: str) -> None:
        """Take the unit of lengths: mm or in."""
        self._unit = unit
        self._metres = 1e-3 if unit == "mm" else 0.0254

    def body(self, body: Placed) -> Iterator[str]:
        """All tables of one body."""
        yield f"[{body.name}]"
        if body.middle is not None and body.branch.get("middle") is None:
            yield f"middle = {_quoted(self._length(body.middle))}"
        for key in BODY.keys:
            entry = body.branch.entries.get(key.name)
            if key.name != "recipe" and entry is not None and entry.origin.kind not in BELOW:
                yield f"{key.name} = {self._value(key, entry)}"
        for sub in BODY_SUBS:
            if sub.name not in COLLECTIONS and (branch := body.branch.sub(sub.name)) is not None:
                yield from self._table(sub.table, branch, f"{body.name}.{sub.name}")
        for group in COLLECTIONS:
            table = next(sub.table for sub in BODY_SUBS if sub.name == group)
            for name, branch in body.branch.children(group):
                lines = self._table(table, branch, f"{body.name}.{group}.{name}")
                yield from (f"# {line}" for line in lines) if group == "plate" and name in SLIDE_PARTS else lines

    def axis(self, branch: Branch) -> Iterator[str]:
        """Rails, blocks and drives of an axis."""
        for group, table in (("rail", RAIL), ("drive", DRIVE)):
            for name, below in branch.children(group):
                yield from self._table(table, below, f"{branch.path}.{group}.{name}")
        blocks = branch.sub("blocks")
        if blocks is not None:
            yield from self._table(BLOCKS, blocks, f"{branch.path}.blocks")

    def _table(self, table: Table, branch: Branch, path: str) -> Iterator[str]:
        lines = list(self._keys(table, branch))
        tables: list[str] = []
        for sub in table.sub_map.values():
            below = branch.sub(sub.name)
            if below is None:
                continue
            if sub.many == "list":
                items = [self._inline(sub.table, item) for item in below.branches.values()]
                lines.append(f"{sub.name} = [{', '.join(items)}]")
            elif sub.many == "names":
                for name, item in below.branches.items():
                    tables.extend(self._table(sub.table, item, f"{path}.{sub.name}.{name}"))
            elif list(self._keys(sub.table, below)) or below.branches:
                lines.append(f"{sub.name} = {self._inline(sub.table, below)}")
        yield f"[{path}]"
        yield from lines
        yield from tables

    def _inline(self, table: Table, branch: Branch) -> str:
        parts = list(self._keys(table, branch))
        for sub in table.sub_map.values():
            below = branch.sub(sub.name)
            if below is not None and not sub.many:
                parts.append(f"{sub.name} = {self._inline(sub.table, below)}")
        return "{ " + ", ".join(parts) + " }" if parts else "{}"

    def _keys(self, table: Table, branch: Branch) -> Iterator[str]:
        for name, key in table.key_map.items():
            if name in ("mirror", "remove"):
                continue
            entry, part = branch.entries.get(name), branch.sub(name)
            if entry is not None and entry.origin.kind not in BELOW:
                yield f"{name} = {self._value(key, entry)}"
            elif part is not None and key.part_kind:
                yield f"{name} = {self._part(key, part)}"

    def _part(self, key: Key, branch: Branch) -> str:
        kind = key.part_kind if key.part_kind != "drive" else str(branch.get("kind") or "")
        table = part_table(kind or "drive")
        fields = [
            f"{name} = {self._value(table.key_map[name], entry)}"
            for name, entry in branch.entries.items()
            if name not in ("part", "kind") and name in table.key_map and entry.origin.kind not in BELOW
        ]
        named = branch.get("part")
        if not fields:
            return _quoted(str(named))
        return "{ " + ", ".join(([f"part = {_quoted(str(named))}"] if named else []) + fields) + " }"

    # ---- values

    def _value(self, key: Key, entry: Entry) -> str:
        value, text = entry.value, entry.origin.text
        if value is None:
            return '"unknown"'
        if isinstance(value, bool):
            return str(value).lower()
        if isinstance(value, date):
            return value.isoformat()
        if key.kind == "count":
            return str(value)
        if key.item_kind:
            return "[" + ", ".join(self._value(key.item, Entry(item, entry.origin)) for item in value) + "]"
        if isinstance(value, str):
            return _quoted(value)
        turned = entry.origin.kind == "mirror" or bool(entry.origin.note)
        if text and (not turned or not (key.mirror or key.kind in WORDS)) and not text.startswith("["):
            return _quoted(text)
        return _quoted(self._computed(key, value))

    def _computed(self, key: Key, value: Any) -> str:
        if key.kind == "direction":
            return next(
                (word for word, vector in DIRECTIONS.items() if vector == value), ", ".join(f"{part:.9g}" for part in value)
            )
        if key.kind in PLACES:
            if not isinstance(value, tuple):
                return self._length(value)
            numbers = [self._number(part) for part in value]
            return (" x " if key.kind.startswith("size") else ", ").join(numbers) + f" {self._unit}"
        if key.kind == "number":
            return f"{value:.12g}"
        return write(float(value), about(key.kind).si, key.kind)

    def _length(self, value: float) -> str:
        return f"{self._number(value)} {self._unit}"

    def _number(self, value: float) -> str:
        text = f"{value / self._metres:.7f}".rstrip("0").rstrip(".")
        return "0" if text in ("-0", "") else text


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'

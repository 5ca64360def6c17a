"""From layered tables to branches: stock and parts rows below, measurements on top, defaults, samples, and what is missing."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any

from gantrywright.base.names import nearest, nearest_sentence
from gantrywright.base.spread import Origin, Spread
from gantrywright.intake.grammar.parts import part_table
from gantrywright.intake.grammar.shape import Key, Sub, Table
from gantrywright.intake.layers import FAILED, Mirror, Node, on_top
from gantrywright.intake.measure import Measurements
from gantrywright.intake.needs import missing
from gantrywright.intake.rows import Rows
from gantrywright.intake.siblings import Siblings, Tell
from gantrywright.intake.stock import Shop
from gantrywright.intake.tree import Branch, Entry
from gantrywright.intake.values import default_of, sampled

if TYPE_CHECKING:
    from gantrywright.base.units import Array
    from gantrywright.catalog import kinds


NEVER_UNKNOWN: dict[str, tuple[str, ...]] = {
    "section": ("shape",),
    "block": ("size", "height"),
    "slide": ("travel", "block"),
    "ball-screw": ("diameter", "root", "lead"),
    "lead-screw": ("diameter", "root", "lead"),
    "pinion": ("module", "teeth"),
    "pulley": ("pitch", "teeth"),
}
"""Kinds of parts without which nothing can be placed or moved, and what an unknown one must bring at least."""


def no_mirror() -> Mirror:
    """Where nothing has a place, any plane will do."""
    return Mirror(0.0)


class Finisher:
    """Makes branches and gathers the spreads of their values."""

    def __init__(
        self, *, rows: Rows, shop: Shop, measurements: Measurements, samples: Mapping[str, "Array"], tell: Tell,
        line: Callable[[str], int], known: Mapping[str, Sequence[str] | None],
    ) -> None:  # fmt: skip
        """Take the layers that are not in the tables themselves."""
        self._rows = rows
        self._shop = shop
        self._measurements = measurements
        self._samples = samples
        self._tell = tell
        self._line = line
        self._known = known
        self._materials: dict[str, Any] = {}
        self._told: set[str] = set()
        """Materials that no table has, told where they were written."""
        self.rows: dict[str, Branch] = {}
        """Every material that was asked for, as ``material.NAME``."""
        self.spreads: dict[str, Spread] = {}

    def table(
        self,
        table: Table,
        node: Node,
        path: str,
        *,
        hint: Callable[[], str] = str,
        mirror: Callable[[], Mirror] = no_mirror,
        takes: bool = True,
    ) -> Branch:
        """One table with everything below it.

        Args:
            table: Its definition.
            node: Its values, layered.
            path: Where it stands.
            hint: Gives what is added to the sentence that tells what is missing.
            mirror: Plane for collections below it.
            takes: A stock piece that it names is taken from the shop.
        """
        if table.thing and "stock" in node:
            node = self._with_stock(table, node, path, takes)
        entries: dict[str, Entry] = {}
        branches: dict[str, Branch] = {}
        for name, leaf in node.items():
            if isinstance(leaf, Entry):
                if leaf.value is not FAILED:
                    entries[name] = leaf
                elif leaf.origin.path != f"{path}.{name}":
                    self._rows.inherit(leaf.origin, f"{path}.{name}")
                continue
            key = table.key_map.get(name)
            if key is not None:
                branches[name] = self.part(key, leaf, f"{path}.{name}", node)
            elif name in table.sub_map:
                below = self._sub(table.sub_map[name], leaf, f"{path}.{name}", mirror, takes)
                if below is not None:
                    branches[name] = below
        for key in table.defaults:
            if key.name not in node:
                entries[key.name] = default_of(key)
        for sub in table.subs:
            if sub.always and sub.name not in node:
                branches[sub.name] = self.table(sub.table, Node(), f"{path}.{sub.name}" if path else sub.name)
        self._measured(table.key_map, entries, path)
        self._refer(table, entries, path)
        for sentence in missing(table, node, entries):
            self._tell(path, f"{sentence}{hint()}")
        self._sample(table.key_map, entries, path)
        return Branch(path, self._line(path), entries, branches)

    def _sub(self, sub: Sub, node: Node, path: str, mirror: Callable[[], Mirror], takes: bool) -> Branch | None:
        if sub.many == "names":
            children = Siblings(sub.table, node, None, path, mirror, self._tell).expanded()
            return Branch(
                path,
                self._line(path),
                {},
                {name: self.table(sub.table, below, f"{path}.{name}", takes=takes) for name, below in children.items()},
            )
        if sub.many == "list":
            below = {name: self.table(sub.table, leaf, f"{path}.{name}", takes=takes) for name, leaf in node.items()}
            return Branch(path, self._line(path), {}, below)
        branch = self.table(sub.table, node, path, mirror=mirror, takes=takes)
        return None if sub.name == "repeat" else branch

    def group(
        self, table: Table, nodes: Mapping[str, Node], path: str, *, made: Sequence[str] = (), recipe: str = "",
        mirror: Callable[[], Mirror] = no_mirror,
    ) -> Branch:  # fmt: skip
        """A collection whose tables are layered already.

        Args:
            table: Definition of one of them.
            nodes: By name.
            path: Of the collection.
            made: Names that a recipe made: one that is near may have been meant where a table is not whole.
            recipe: What made them.
            mirror: Plane for collections below.
        """
        found = {}
        for name, node in nodes.items():
            found[name] = self.table(
                table,
                node,
                f"{path}.{name}",
                hint=partial(_near_made, name, made, recipe),
                mirror=mirror,
            )
        return Branch(path, self._line(path), {}, found)

    # ---- parts

    def part(self, key: Key, node: Node, path: str, owner: Node) -> Branch:
        """A part used under a key: its row, the fields given here, measurements."""
        kind = key.part_kind if key.part_kind != "drive" else owner.value("kind", "")
        table = part_table(kind or "drive")
        if "stock" in node:
            node = self._with_stock(table, node, path, True)
        named = node.get("part")
        entries: dict[str, Entry] = {}
        if isinstance(named, Entry) and named.value is FAILED:
            return Branch(path, self._line(path))
        if kind and not (named is not None and named.value is None):
            row = self._rows.row(kind, named.value if named is not None else "")
            if row is None and named is not None:
                self._tell_written(
                    named, path, f"no {kind} '{named.value}' in the parts tables{self._rows.near(kind, named.value)}"
                )
                return Branch(path, self._line(path))
            entries = dict(row or {})
        for name, leaf in node.items():
            if not isinstance(leaf, Entry):
                continue
            if name not in table.key_map:
                self._tell_written(leaf, f"{path}.{name}", f"a {kind} has no field '{name}'{nearest_sentence(name, table.names)}")
            elif leaf.value is not FAILED:
                old = entries.get(name)
                entries[name] = leaf if old is None or old is leaf else on_top(leaf, old)
        if named is not None and named.value is None and kind in NEVER_UNKNOWN:
            lacks = [name for name in NEVER_UNKNOWN[kind] if name not in entries and name not in node]
            if lacks:
                can = f"the name of a {kind}, or a table with its {', '.join(lacks)}"
                self._tell_written(named, path, f"cannot be unknown: there is no machine without it; write {can}")
                return Branch(path, self._line(path))
        if kind:
            entries["kind"] = Entry(kind, Origin("derived"))
            if named is None:
                self._whole(kind, entries, node, path)
        self._measured(table.key_map, entries, path)
        self._sample(table.key_map, entries, path)
        return Branch(path, self._line(path), entries)

    def _whole(self, kind: str, entries: Mapping[str, Entry], node: Node, path: str) -> None:
        """A part without a name must bring what its kind needs."""
        lacks = [name for name in self._rows.required(kind) if name not in entries and name not in node]
        if lacks:
            self._tell(path, f"lacks part (the name of a {kind}), or its {', '.join(lacks)}")

    # ---- layers

    def _with_stock(self, table: Table, node: Node, path: str, takes: bool) -> Node:
        """What the stock piece says lies under what is written."""
        entry = node["stock"]
        if not isinstance(entry, Entry) or entry.value in (None, FAILED, ""):
            return node
        piece = self._shop.piece(entry.value)
        if piece is None:
            if not self._shop.lost:
                self._tell_written(entry, f"{path}.stock", self._shop.no_piece(entry.value))
            could = [key.name for key in table.key_map.values() if key.stock] + [table.carries] * bool(table.carries)
            return Node({**{name: Entry(FAILED, entry.origin) for name in could}, **node}, whole=node.whole)
        result = Node(whole=node.whole)
        fields = piece.fields
        for key in table.key_map.values():
            if key.stock and key.name in fields:
                result[key.name] = fields[key.name]
        if table.is_part:
            result.update(piece.of_part)
            if "part" in fields:
                result["part"] = fields["part"]
        result["owned"] = Entry(True, Origin("stock", piece.file, piece.line, piece.path))
        if table.carries and table.carries not in node and "part" in fields:
            result[table.carries] = Node({"part": fields["part"]}, whole=True)
        for name, leaf in node.items():
            below = result.get(name)
            result[name] = on_top(leaf, below) if isinstance(leaf, Entry) and isinstance(below, Entry) else leaf
        if table.carries and piece.of_part:
            carried = result.node(table.carries)
            if carried is not None:
                result[table.carries] = Node({**piece.of_part, **carried}, whole=True)
        if takes:
            self._shop.take(piece, path, result)
        return result

    def _measured(self, keys: Mapping[str, Key], entries: dict[str, Entry], path: str) -> None:
        for name, found in self._measurements.under(path):
            name, _, component = name.partition(".")
            key = keys.get(name)
            if key is None or key.part_kind:
                continue
            entry = self._measurements.laid_on(found, key, component, entries.get(name))
            if entry is not None:
                entries[name] = entry
                if component and entry.spread is not None:
                    self.spreads[f"{path}.{name}.{component}"] = entry.spread
                    entries[name] = Entry(entry.value, entry.origin)

    def _sample(self, keys: Mapping[str, Key], entries: dict[str, Entry], path: str) -> None:
        for name, entry in entries.items():
            spread = entry.spread
            if spread is None:
                continue
            place = f"{path}.{name}" if path else name
            geometry = name in keys and keys[name].is_geometry
            self.spreads[place] = replace(spread, placed=True) if geometry and not spread.placed else spread
            if not geometry and place in self._samples:
                entries[name] = Entry(sampled(entry, self._samples[place]), entry.origin, spread)

    # ---- names

    def _refer(self, table: Table, entries: Mapping[str, Entry], path: str) -> None:
        """Names of supplies, outlets, materials ... must be there."""
        for key in table.referring:
            entry = entries.get(key.name)
            if entry is None or not isinstance(entry.value, str):
                continue
            if key.names == "material":
                if self._rows.row("material", entry.value) is None and not (
                    entry.origin.kind == "recipe" and entry.value in self._told
                ):
                    self._told.add(entry.value)
                    self._tell_written(entry, f"{path}.{key.name}", self._no_material(entry.value))
                continue
            known = self._known[key.names]
            if known is not None and entry.value not in known:
                sentence = f"no {key.names} '{entry.value}' in this file{nearest_sentence(entry.value, known)}"
                self._tell_written(entry, f"{path}.{key.name}", sentence)

    def material(self, name: str, where: str) -> "kinds.Material | None":
        """A material by name; None after telling that there is none. Its spreads stand under ``material.NAME``."""
        if name not in self._materials:
            row = self._rows.row("material", name)
            if row is None:
                if name not in self._told:
                    self._tell(where, self._no_material(name))
                return None
            if not row:
                return None  # a row of the file's own of which the faults are told
            entries = dict(row)
            self._measured(part_table("material").key_map, entries, f"material.{name}")
            self._sample(part_table("material").key_map, entries, f"material.{name}")
            self.rows[name] = Branch(f"material.{name}", 0, entries)
            self._materials[name] = self._rows.record("material", name, entries)
        found: kinds.Material = self._materials[name]
        return found

    def _no_material(self, name: str) -> str:
        return f"no material '{name}' in the parts tables{self._rows.near('material', name)}"

    def _tell_written(self, entry: Any, path: str, message: str) -> None:
        """Tell a problem at the line where the value was written, naming who inherits it."""
        self._rows.trouble_at(entry.origin, path, message)


def _near_made(name: str, made: Sequence[str], recipe: str) -> str:
    """End of a sentence: what a recipe made that may have been meant."""
    near = nearest(name, made) if name not in made else ()
    return f"; the {recipe} made {', '.join(near)}" if near else ""

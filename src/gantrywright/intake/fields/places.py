"""Which table of the grammar a path leads to, be it of the file, of a piece that is drawn or of a part that a recipe made."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from gantrywright.base.errors import NotFound
from gantrywright.base.names import nearest_sentence
from gantrywright.catalog.tables import Catalog
from gantrywright.intake.chain import body_names
from gantrywright.intake.document import Document, item, opened
from gantrywright.intake.grammar import CHAIN_LINK, ROOT
from gantrywright.intake.grammar.bodies import COLLECTIONS
from gantrywright.intake.grammar.parts import part_table, row_table
from gantrywright.intake.grammar.recipes import BODY_TABLES, RECIPES, UNCLEAR_BODY, makes
from gantrywright.intake.grammar.shape import Key, Sub, Table

Raw = Mapping[str, Any]

_NUMBERED = re.compile(r"(.+)-(\d+)\Z")
_LAYER = re.compile(r"layer-(\d+)\Z")
SINGULAR = {"feet": "foot", "uprights": "upright"}
"""Tables of recipes whose parts are called by the singular."""
UNLISTED = "not-listed"
"""What is drawn of a body that was weighed: the mass that its listed parts lack."""
NOTHING: Raw = {}


@dataclass(frozen=True, slots=True)
class Place:
    """One table of the file, or one key in it."""

    path: str
    """Of the table, in full."""
    table: Table
    shape: Literal["table", "names", "list", "part", "row"] = "table"
    """``names`` and ``list`` are collections of such tables; ``part`` is used under a key; ``row`` is one of the parts tables."""
    key: Key | None = None
    """The key that the path names; of a part the key that it is used under."""
    sub: Sub | None = None
    """How the table stands in the one above it."""
    note: str = ""
    """Why the path that was asked for leads here, in a sentence."""
    own: str = ""
    """Table that the piece may get for itself."""
    field: bool = False
    """The path names the key, not the table."""


class Places:
    """Finds the tables of one document."""

    def __init__(self, document: Document) -> None:
        self.tree = document.tree
        machine = table_of(self.tree.get("machine"))
        self.bodies = body_names(str(machine.get("layout", "")), table_of(self.tree.get("chain")))

    def find(self, path: str) -> Place:
        """The place of a path.

        Raises:
            NotFound: There is nothing of that name; says what is near.
        """
        parts = [part for part in path.partition("@")[0].partition(" ")[0].split(".") if part]
        if not parts:
            return Place("", ROOT)
        first = parts[0]
        if first in self.bodies:
            return self._in_body(parts)
        if first == "part":
            return self._own_row(parts)
        if first == "material" and len(parts) > 1:
            return self._in_table(Place(f"material.{parts[1]}", part_table("material"), "row"), parts, 2)
        if first == "chain" and len(parts) > 1 and parts[1] not in ROOT.sub_map["chain"].table.key_map:
            return self._in_table(Place(f"chain.{parts[1]}", CHAIN_LINK), parts, 2)
        if first not in ROOT.sub_map and first not in ROOT.key_map:
            raise NotFound(f"nothing is called '{first}'{nearest_sentence(first, [*ROOT.sub_map, *self.bodies])}")
        return self._in_table(Place("", ROOT), parts, 0)

    def raw(self, path: str) -> Any:
        """What is written at a path; None where nothing is. A text that is short for a table is opened."""
        return raw_at(self.tree, path)

    # ---- bodies

    def body_table(self, body: str) -> Table:
        """The table of a body with the keys of its recipe."""
        name = table_of(self.tree.get(body)).get("recipe", "")
        return BODY_TABLES.get(name, UNCLEAR_BODY) if isinstance(name, str) else UNCLEAR_BODY

    def _in_body(self, parts: list[str]) -> Place:
        body, table = parts[0], self.body_table(parts[0])
        here = Place(body, table)
        if len(parts) > 1 and parts[1] in COLLECTIONS and self._is_part(table, parts):
            return self._made(here, str(self.raw(f"{body}.recipe")), parts)
        if len(parts) == 1 or parts[1] in table.names:
            return self._in_table(here, parts, 1)
        return self._short(here, parts)

    def _is_part(self, table: Table, parts: list[str]) -> bool:
        """Whether the name of a collection is meant as that of a part that the recipe made: ``carriage.plate``."""
        if not makes(str(self.raw(f"{parts[0]}.recipe") or ""), parts[1]):
            return False
        if len(parts) == 2:
            return True
        return parts[2] in table.sub_map[parts[1]].table.names and parts[2] not in table_of(self.raw(".".join(parts[:2])))

    def _short(self, body: Place, parts: list[str]) -> Place:
        """A part of a body by its name alone: written, a copy, made by the recipe, made by a slide."""
        name, raw = parts[1], table_of(self.tree.get(body.path))
        for group in COLLECTIONS:
            if name in table_of(raw.get(group)):
                return self._in_table(body, [parts[0], group, *parts[1:]], 1)
        stem = _NUMBERED.match(name)
        for group in COLLECTIONS:
            if stem and stem[1] in table_of(raw.get(group)):
                return self._in_table(body, [parts[0], group, *parts[1:]], 1)
        recipe = str(raw.get("recipe", ""))
        if makes(recipe, name):
            return self._made(body, recipe, parts)
        if name == UNLISTED:
            return self._weighed(parts)
        slide = self._slide()
        if slide:
            note = f"The bought slide makes {words(name)}: its part decides what it is like."
            return Place(slide, self.find(slide).table, sub=self.find(slide).sub, note=note)
        known = [*body.table.names, *(own for group in COLLECTIONS for own in table_of(raw.get(group)))]
        raise NotFound(f"nothing is called '{'.'.join(parts[:2])}'{nearest_sentence(name, known)}")

    def _made(self, body: Place, recipe: str, parts: list[str]) -> Place:
        name = parts[1]
        group = "foot" if name.startswith("foot-") else "plate" if _is_plate(recipe, name) else "member"
        own = f"{body.path}.{group}.{name}"
        if len(parts) > 2:
            return self._in_table(Place(own, body.table.sub_map[group].table, sub=body.table.sub_map[group]), parts, 2)
        decides = next((sub for sub in RECIPES[recipe].subs if _stem(sub.name) == _stem_of(name)), None)
        note = f"The recipe {recipe} makes {words(name)} from these keys; an edit here changes all parts that they make."
        if decides is None:
            return Place(body.path, body.table, note=note, own=own)
        return Place(f"{body.path}.{decides.name}", decides.table, sub=decides, note=note, own=own)

    def _weighed(self, parts: list[str]) -> Place:
        """What a scale showed beyond the listed parts of a body."""
        for name, raw in table_of(self.tree.get("measured")).items():
            if table_of(raw).get("observe") == "mass" and str(table_of(raw).get("of")).partition(".")[0] == parts[0]:
                found = self.find(f"measured.{name}")
                return Place(found.path, found.table, sub=found.sub, note="What the scale showed less the listed parts.")
        raise NotFound(f"nothing of '{parts[0]}' was weighed")

    def _slide(self) -> str:
        axes = table_of(self.tree.get("axis"))
        return next((f"axis.{name}.slide" for name, axis in axes.items() if "slide" in table_of(axis)), "")

    # ---- tables

    def _in_table(self, here: Place, parts: list[str], at: int) -> Place:
        """``parts[at]`` stands in the table ``here``."""
        if at >= len(parts) or (here.shape == "part" and parts[at] == "kind") or parts[at].endswith("-half"):
            return here  # the kind of a part is no key; the halves of a cable chain are drawn one by one
        name = parts[at]
        below = f"{here.path}.{name}" if here.path else name
        key = here.table.key_map.get(name)
        sub = here.table.sub_map.get(name) or self._spoken_layer(here.table, name)
        if sub is not None and key is None:
            layer = _LAYER.match(name)
            if layer:
                return self._in_table(Place(f"{here.path}.{sub.name}.{layer[1]}", sub.table, sub=sub), parts, at + 1)
            return self._below(Place(f"{here.path}.{sub.name}" if here.path else sub.name, sub.table, sub=sub), parts, at + 1)
        if key is None and here.table.free:
            key = Key(name, here.table.free, "")
        if key is None:
            raise NotFound(f"no key '{name}' in '{here.path}'{nearest_sentence(name, here.table.names)}")
        if key.part_kind:
            used = Place(below, self.part_table(key, here.path), "part", key, here.sub)
            return self._in_table(used, parts, at + 1)
        if key.item_kind and at + 2 == len(parts) and raw_at(self.tree, f"{below}.{parts[-1]}") is not None:
            return Place(here.path, here.table, here.shape, key.item, here.sub, here.note, here.own, field=True)
        if at + 1 < len(parts):
            if key.kind != "point" or parts[at + 1 :] not in (["x"], ["y"], ["z"]):
                raise NotFound(f"'{below}' is a value, it has no '{parts[at + 1]}'")
            key = Key(parts[-1], "length", key.help, placed=True, signed=True)
        return Place(here.path, here.table, here.shape, key, here.sub, here.note, here.own, field=True)

    def part_table(self, key: Key, owner: str) -> Table:
        """What may stand in a part; of a drive by its kind."""
        if key.part_kind != "drive":
            return part_table(key.part_kind)
        kind = self.raw(f"{owner}.kind") or self.raw(f"{owner.rpartition('.')[0]}.each.kind")
        return part_table(kind if isinstance(kind, str) and kind in ("ball-screw", "lead-screw", "rack", "belt") else "drive")

    def _below(self, group: Place, parts: list[str], at: int) -> Place:
        sub = group.sub
        assert sub is not None  # the caller found it by its sub
        if not sub.many:
            return self._in_table(group, parts, at)
        if at >= len(parts):
            return Place(group.path, sub.table, sub.many, sub=sub)
        name = parts[at]
        here = Place(f"{group.path}.{name}", sub.table, sub=sub)
        if sub.many == "list" or name == "each" or self.raw(here.path) is not None or at + 1 < len(parts):
            return self._in_table(here, parts, at + 1)
        return self._unwritten(group, name, here)

    def _unwritten(self, group: Place, name: str, here: Place) -> Place:
        """A named table that nobody wrote."""
        above = group.path.split(".")
        if above[0] == "axis" and above[2:] == ["block"]:
            blocks = f"axis.{above[1]}.blocks"
            note = "All blocks of the axis share these keys; an edit here changes all of them."
            return Place(blocks, ROOT.sub_map["axis"].table.sub_map["blocks"].table, note=note, own=here.path)
        stem = _NUMBERED.match(name)
        if stem and self.raw(f"{group.path}.{stem[1]}") is not None:
            note = f"One of the copies of {words(stem[1])}; an edit here changes all of them."
            return Place(f"{group.path}.{stem[1]}", here.table, sub=here.sub, note=note, own=here.path)
        if above[0] == "axis" and self.raw(f"axis.{above[1]}.slide") is not None:
            slide = self.find(f"axis.{above[1]}.slide")
            return Place(slide.path, slide.table, sub=slide.sub, note=f"The bought slide makes {words(name)}.", own=here.path)
        if above[0] in self.bodies and makes(str(self.raw(f"{above[0]}.recipe") or ""), name):
            return here
        known = table_of(self.raw(group.path))
        raise NotFound(f"nothing is called '{here.path}'{nearest_sentence(name, known)}")

    def _spoken_layer(self, table: Table, name: str) -> Sub | None:
        """Layers of a table top as the drawing calls them."""
        if _LAYER.match(name):
            return table.sub_map.get("layers")
        return table.sub_map.get("skins") if name.startswith("skin-") else None

    def _own_row(self, parts: list[str]) -> Place:
        if len(parts) == 1:
            return Place("part", row_table("material"), "names", sub=Sub("part", row_table("material"), "Own parts", "names"))
        raw, like = table_of(raw_at(self.tree, f"part.{parts[1]}")), parts[1]
        seen = {like}
        while "kind" not in raw and isinstance(raw.get("like"), str) and raw["like"] not in seen:
            like = raw["like"]
            seen.add(like)
            raw = table_of(raw_at(self.tree, f"part.{like}"))
        kind = raw.get("kind") or next(iter(Catalog().kinds_of(like)), None)
        table = row_table(kind) if isinstance(kind, str) and kind in KINDS_OF_ROWS else row_table("material")
        return self._in_table(Place(f"part.{parts[1]}", table, sub=Sub("part", table, "Own parts", "names")), parts, 2)


def _kinds() -> frozenset[str]:
    from gantrywright.catalog.kinds import KINDS

    return frozenset(KINDS)


KINDS_OF_ROWS = _kinds()


def asks(sub: Sub) -> bool:
    """Whether a table cannot be written by one key alone: others are needed beside it."""
    return any(item.need == "!" for item in sub.table.needs) or bool(sub.table.either)


def table_of(found: Any) -> Raw:
    """A raw table, empty where there is none."""
    return found if isinstance(found, Mapping) else NOTHING


def raw_at(tree: Any, path: str) -> Any:
    """What is written at a path; None where nothing is."""
    found = tree
    previous = ""
    for key in path.split("."):
        if isinstance(found, str):
            try:
                found = opened(previous, found)
            except ValueError:
                return None
        if isinstance(found, list):
            found = item(found, key)
        else:
            found = found.get(key) if isinstance(found, Mapping) else None
        if found is None:
            return None
        previous = key
    return found


def words(name: str) -> str:
    """A name of the file as words."""
    return name.replace("-", " ").replace("_", " ").strip()


def _stem(sub: str) -> str:
    return SINGULAR.get(sub, sub)


def _stem_of(name: str) -> str:
    return name.partition("-")[0]


def _is_plate(recipe: str, name: str) -> bool:
    return name == "plate" or (recipe == "beam-on-uprights" and name.startswith("upright"))

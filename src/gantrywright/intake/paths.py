"""Dotted paths of a machine file: what stands there, and on which line."""

import re
from collections.abc import Mapping, Sequence
from typing import Any

from gantrywright.base.names import nearest_sentence
from gantrywright.intake.document import Document
from gantrywright.intake.grammar import ROOT
from gantrywright.intake.grammar.bodies import COLLECTIONS
from gantrywright.intake.grammar.parts import part_table
from gantrywright.intake.grammar.recipes import BODY_TABLES, UNCLEAR_BODY, makes
from gantrywright.intake.grammar.shape import Key, Sub, Table

_NUMBERED = re.compile(r"(.+)-\d+\Z")


class Paths:
    """Finds paths in one document."""

    def __init__(self, document: Document, bodies: Sequence[str]) -> None:
        """Take the document and the names of its bodies."""
        self._document = document
        self._bodies = bodies

    # ---- lines

    def line(self, path: str) -> int:
        """Line of a path in full or short form, or of the nearest table above it that is written; 0 where nothing is."""
        lines = self._document.lines
        found = lines.get(path)
        if found is not None:
            return found
        parts = path.split("@")[0].split(" ")[0].split(".")
        if len(parts) > 1 and parts[0] in self._bodies and parts[1] not in COLLECTIONS:
            for group in COLLECTIONS:
                if f"{parts[0]}.{group}" in lines and self._written([parts[0], group, parts[1]]):
                    return self.line(".".join([parts[0], group, *parts[1:]]))
        if len(parts) > 2 and parts[1] in COLLECTIONS and not self._written(parts[:3]) and f"{parts[0]}.{parts[2]}" in lines:
            return lines[f"{parts[0]}.{parts[2]}"]  # the recipe's own table of what it made
        while parts:
            found = lines.get(".".join(parts))
            if found is not None:
                return found
            numbered = _NUMBERED.match(parts[-1])
            if parts[0] == "axis" and parts[2:] == ["block"]:
                parts = [*parts[:2], "blocks"]  # what all blocks of the axis share
            else:
                parts = [*parts[:-1], numbered[1]] if numbered else parts[:-1]
        return 0

    def _written(self, parts: list[str]) -> bool:
        name = _NUMBERED.match(parts[-1])
        path = ".".join(parts)
        return path in self._document.lines or (name is not None and ".".join([*parts[:-1], name[1]]) in self._document.lines)

    # ---- what stands there

    def find(self, path: str) -> Key | str | None:
        """The key at a path.

        Returns:
            The key; None where only a recipe can tell; a sentence where there is nothing of that name.
        """
        parts = path.split(".")
        first = parts[0]
        if first == "material" and len(parts) == 3:
            return self._in_table(part_table("material"), {}, parts, 2)
        if first in self._bodies:
            raw = self._document.tree.get(first)
            raw = raw if isinstance(raw, Mapping) else {}
            recipe = raw.get("recipe", "")
            table = BODY_TABLES.get(recipe, UNCLEAR_BODY) if isinstance(recipe, str) else UNCLEAR_BODY
            return self._in_body(table, raw, str(recipe), parts)
        if first not in ROOT.sub_map:
            return f"nothing is called '{first}'{nearest_sentence(first, [*ROOT.sub_map, *self._bodies])}"
        return self._below(ROOT.sub_map[first], self._document.tree.get(first), parts, 1)

    def _in_body(self, table: Table, raw: Mapping[str, Any], recipe: str, parts: list[str]) -> Key | str | None:
        if len(parts) > 2 and parts[1] in COLLECTIONS:
            if self._stands(raw.get(parts[1]), parts[2]):
                return self._below(table.sub_map[parts[1]], raw.get(parts[1]), parts, 2)
            if makes(recipe, parts[2]):
                return self._in_table(table.sub_map[parts[1]].table, {}, parts, 3)
        if len(parts) > 1 and parts[1] not in table.names:
            for group in COLLECTIONS:
                if self._stands(raw.get(group), parts[1]):
                    return self._below(table.sub_map[group], raw.get(group), parts, 1)
            if makes(recipe, parts[1]):
                return None
            known = [*table.names, *(name for group in COLLECTIONS for name in _mapping(raw.get(group)) if name != "each")]
            return f"nothing is called '{'.'.join(parts[:2])}'{nearest_sentence(parts[1], known)}"
        return self._in_table(table, raw, parts, 1)

    def _stands(self, raw: Any, name: str) -> bool:
        """Whether a collection has a table of that name, as such or as a copy."""
        group = _mapping(raw)
        numbered = _NUMBERED.match(name)
        return name in group or (numbered is not None and numbered[1] in group)

    def _below(self, sub: Sub, raw: Any, parts: list[str], at: int) -> Key | str | None:
        """``parts[at]`` is what stands under a sub-table."""
        if not sub.many:
            return self._in_table(sub.table, _mapping(raw), parts, at)
        if at >= len(parts):
            return f"'{'.'.join(parts)}' is a collection, not a value"
        name = parts[at]
        if sub.many == "list":
            return self._in_table(sub.table, {}, parts, at + 1)
        if not self._stands(raw, name) and not self._may_be_made(parts[:at]):
            known = [other for other in _mapping(raw) if other != "each"]
            return f"nothing is called '{'.'.join(parts[: at + 1])}'{nearest_sentence(name, known)}"
        return self._in_table(sub.table, _mapping(_mapping(raw).get(name)), parts, at + 1)

    def _may_be_made(self, parts: list[str]) -> bool:
        """A slide makes rails and drives, blocks are made by their rails."""
        if len(parts) != 3 or parts[0] != "axis":
            return False
        axis = _mapping(_mapping(self._document.tree.get("axis")).get(parts[1]))
        return parts[2] == "block" or "slide" in axis

    def _in_table(self, table: Table, raw: Mapping[str, Any], parts: list[str], at: int) -> Key | str | None:
        if at >= len(parts):
            return f"'{'.'.join(parts)}' is a table, not a value"
        name = parts[at]
        sub = table.sub_map.get(name)
        if sub is not None:
            return self._below(sub, raw.get(name), parts, at + 1)
        key = table.key_map.get(name)
        if key is None:
            return f"no key '{name}' in '{'.'.join(parts[:at])}'{nearest_sentence(name, table.names)}"
        if key.part_kind and at + 1 < len(parts):
            return self._in_table(part_table(key.part_kind), {}, parts, at + 1)
        if at + 2 == len(parts) and key.kind == "point" and parts[-1] in ("x", "y", "z"):
            return Key(parts[-1], "length", key.help, placed=True, signed=True)
        if at + 1 < len(parts):
            return f"'{'.'.join(parts[: at + 1])}' is a value, it has no '{parts[at + 1]}'"
        return key


def _mapping(found: Any) -> Mapping[str, Any]:
    return found if isinstance(found, Mapping) else {}

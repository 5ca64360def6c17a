"""The JSON schema of machine file and shop file (draft 2020-12), made from the grammar, for the completion and checks of editors.

It knows what one file's text can tell. Layers (``each``, ``mirror``, recipes, stock) may supply what a table of a collection leaves
out, so keys are required only where nothing can.
"""

import re
from collections.abc import Iterable
from typing import Any, TypeAlias

from gantrywright.base.quantities import SCALARS
from gantrywright.intake.grammar import CHAIN_LINK, ROOT
from gantrywright.intake.grammar.parts import part_table, row_table
from gantrywright.intake.grammar.recipes import RECIPES, UNCLEAR_BODY, Recipe
from gantrywright.intake.grammar.shape import Key, Sub, Table
from gantrywright.intake.grammar.shop import SHOP_FILE, STOCK
from gantrywright.intake.typed import NAME
from gantrywright.intake.values import DIRECTIONS, FACES

Schema: TypeAlias = dict[str, Any]

DRAFT = "https://json-schema.org/draft/2020-12/schema"
_NUMBER = r"[-+]?\.?[0-9][0-9 ./eE+-]*"
_TOLERANCE = r"(\s*(\(.*\)|\+-.*))?"
_OTHER = r".*[^\x00-\x7F].*"
"""A text with characters beyond ASCII (a micro sign, a fraction): the reader knows them, the pattern lets them pass."""
_NAME = NAME.pattern.replace(r"\Z", "$")


def schema() -> Schema:
    """Schema of a machine file."""
    maker = _Maker()
    root = maker.body_of(ROOT)
    root["properties"]["part"] = maker.named(maker.row())
    root["properties"]["chain"]["additionalProperties"] = maker.reference(CHAIN_LINK)
    root["properties"]["measured"] = maker.sub(ROOT.sub_map["measured"])
    root["additionalProperties"] = maker.bodies()
    return {"$schema": DRAFT, "title": "Machine file of gantrywright", **root, "$defs": maker.definitions}


def shop_schema() -> Schema:
    """Schema of a shop file."""
    maker = _Maker()
    root = maker.body_of(SHOP_FILE)
    stock = root["properties"]["stock"]
    stock["additionalProperties"] = {**maker.body_of(STOCK), "additionalProperties": True, "required": ["part"]}
    return {"$schema": DRAFT, "title": "Shop file of gantrywright", **root, "$defs": maker.definitions}


class _Maker:
    """Makes schemas; every table becomes one definition."""

    def __init__(self) -> None:
        self.definitions: dict[str, Schema] = {}

    def reference(self, table: Table) -> Schema:
        """A reference to the definition of a table."""
        name = re.sub(r"[^a-z0-9]+", "-", table.name.lower())
        if name not in self.definitions:
            self.definitions[name] = {}  # holds the place while the table refers to itself
            self.definitions[name] = self.body_of(table)
        return {"$ref": f"#/$defs/{name}"}

    def body_of(self, table: Table, *, required: bool = False) -> Schema:
        """The schema of a table itself."""
        properties = {key.name: self.key(key) for key in table.key_map.values()}
        properties |= {sub.name: self.sub(sub) for sub in table.sub_map.values()}
        made: Schema = {"type": "object", "properties": properties, "additionalProperties": False}
        if table.free:
            made["additionalProperties"] = self.key(Key("", table.free, "", positive=True))
        if table.help:
            made["description"] = table.help
        if table is ROOT or table is SHOP_FILE or required:
            made["required"] = [item.name for item in table.needs if item.need == "!"]
        return made

    def sub(self, sub: Sub) -> Schema:
        """What may stand under a sub-table's name."""
        if sub.many == "names":
            return {**self.named(self.reference(sub.table)), "description": sub.help}
        if sub.many == "list":
            return {"type": "array", "items": self.reference(sub.table), "description": sub.help}
        below = self.reference(sub.table)
        if sub.table.name in _ALONE:
            below = self.body_of(sub.table, required=True)
        if sub.short:
            return {"anyOf": [self.key(Key(sub.name, sub.short, "")), below], "description": sub.help}
        return {**below, "description": sub.help}

    def named(self, table: Schema) -> Schema:
        """Tables by name."""
        return {"type": "object", "propertyNames": {"pattern": f"^{_NAME}"}, "additionalProperties": table}

    def bodies(self) -> Schema:
        """A body; each recipe asks for its own keys."""
        made = self.body_of(UNCLEAR_BODY)
        made["allOf"] = [
            {
                "if": {"properties": {"recipe": {"const": recipe.name}}, "required": ["recipe"]},
                "then": {"required": _asked(recipe)},
            }
            for recipe in RECIPES.values()
        ]
        self.definitions["body"] = made
        return {"$ref": "#/$defs/body"}

    def row(self) -> Schema:
        """``[part.NAME]``: of each kind its own fields."""
        from gantrywright.catalog.kinds import KINDS

        branches = []
        for kind in KINDS:
            self.definitions[f"part-row-{kind}"] = self.body_of(row_table(kind))
            branches.append(
                {
                    "if": {"properties": {"kind": {"const": kind}}, "required": ["kind"]},
                    "then": {"$ref": f"#/$defs/part-row-{kind}"},
                }
            )
        self.definitions["part-row"] = {
            "type": "object",
            "allOf": branches,
        }
        return {"$ref": "#/$defs/part-row"}

    def key(self, key: Key) -> Schema:
        """The schema of a value."""
        made = self._kind(key)
        words = [key.help]
        if key.default:
            made["default"] = {"true": True, "false": False}.get(key.default, key.default)
            words.append(f"Left out: {key.default} ({key.source}).")
        elif key.otherwise:
            words.append(f"Left out: {key.otherwise}.")
        text = " ".join(word if word.endswith(".") else f"{word}." for word in words if word)
        return {**made, "description": text} if text else made

    def _kind(self, key: Key) -> Schema:
        kind = key.kind
        if key.item_kind:
            return {"type": "array", "items": self._kind(key.item)}
        if key.part_kind:
            return {"anyOf": [{"type": "string", "minLength": 1}, self.reference(part_table(key.part_kind))]}
        if key.choices:
            return _choice(key.choices)
        if kind == "flag":
            return {"type": "boolean"}
        if kind == "count":
            return {"anyOf": [{"type": "integer", **_limits(key)}, {"type": "string", "pattern": r"^\s*[0-9][0-9 ]*\s*$"}]}
        if kind == "number":
            return {"anyOf": [{"type": "number", **_limits(key)}, _quantity("number")]}
        if kind in SCALARS:
            return _quantity(kind, firm=key.is_firm)
        if kind == "fitted":
            return {"anyOf": [{"type": "boolean"}, {"not": {"type": ["number", "array", "object", "null"]}}]}
        if kind == "date":
            return {"not": {"type": ["number", "array", "object", "boolean", "null"]}}
        return {"type": "string", "minLength": 1, **_PATTERNS.get(kind, {})}


_ALONE = frozenset({"machine", "purpose", "tool"})
"""Tables that no layer can complete."""

_DIRECTION = "|".join(re.escape(word).replace(r"\-", "-") for word in DIRECTIONS)
_ENDS = r"[^,x×]*[A-Za-zµ\"'”″′]\s*"
"""The last part of a point or size, which carries the unit."""
_PATTERNS: dict[str, Schema] = {
    "point": {"pattern": rf"^[^,]+,\s[^,]+,\s{_ENDS}$"},
    "pose": {"pattern": r"^[^,]+,\s[^,]+,\s[^,]+$"},
    "pair": {"pattern": rf"^[^,]+,\s{_ENDS}$"},
    "size2": {"pattern": rf"^[^x×]+[x×]{_ENDS}$"},
    "size3": {"pattern": rf"^[^x×]+[x×][^x×]+[x×]{_ENDS}$"},
    "range": {"pattern": r"^.+(\.\.|…).+$"},
    "bolts": {"pattern": r"^\s*[0-9]+ ?[x×] ?\S.*$"},
    "rating": {"pattern": r"^\s*(unknown|[-+]?\.?[0-9].*)$"},
    "phase-current": {"pattern": r"^\s*(unknown|.*A (peak|rms).*)$"},
    "direction": {"pattern": rf"^({_DIRECTION}|[^,]+,\s[^,]+,\s[^,]+)$"},
    "face": {"pattern": rf"^({'|'.join(re.escape(word) for word in FACES)}|[^,]+,\s[^,]+,\s[^,]+)$".replace(r"\-", "-")},
}


def _limits(key: Key) -> Schema:
    """What a bare number may be; of a text with a unit only the reader can tell."""
    made: Schema = {}
    if key.least is not None:
        made["exclusiveMinimum" if key.is_positive else "minimum"] = 0
    if key.most is not None:
        made["maximum"] = key.most
    return made


def _choice(words: tuple[str, ...]) -> Schema:
    one = "|".join(re.escape(word).replace(r"\-", "-") for word in words)
    return {"anyOf": [{"enum": list(words)}, {"type": "string", "pattern": f"^(({one})( or ({one}))+|unknown)$"}]}


def _quantity(kind: str, *, firm: bool = False) -> Schema:
    """A number with a unit of the kind, perhaps with a band."""
    about = SCALARS[kind]
    if kind == "money":
        unit = r"[A-Z]{3}(/[a-z0-9]+)?"
    elif kind == "number":
        unit = "%?"
    else:
        unit = f"({'|'.join(_unit(name) for name in _longest_first((*about.units, *about.also)))})"
    value = rf"({_NUMBER}\s*{unit}\s*)" + ("+" if kind == "length" else "")
    return {
        "type": "string",
        "pattern": rf"^\s*({'' if firm else 'unknown|'}{value}{_TOLERANCE}|{_OTHER})\s*$",
        "examples": list(about.examples),
    }


def _unit(name: str) -> str:
    """A unit for a pattern; blanks between its factors may be left out or be hyphens."""
    return re.sub(r"([.^$*+?()\[\]{}|\\/])", r"\\\1", name).replace(" ", "[ *-]?")


def _longest_first(names: Iterable[str]) -> list[str]:
    return sorted(set(names), key=len, reverse=True)


def _asked(recipe: Recipe) -> list[str]:
    """Keys of a recipe that must be written; a stock piece may bring some."""
    keys = [key.name for key in recipe.keys if key.need == "!" and not key.stock]
    return keys + [sub.name for sub in recipe.subs if sub.need == "!"]

"""One key of the grammar as a field."""

from gantrywright.base.quantities import SCALARS, show
from gantrywright.base.spread import Stated
from gantrywright.intake.fields.force import INHERITED, Force
from gantrywright.intake.fields.naming import leads
from gantrywright.intake.fields.places import Place, asks, table_of
from gantrywright.intake.fields.records import Field
from gantrywright.intake.fields.texts import as_written, band, other_system, said
from gantrywright.intake.fields.words import called, capital, label
from gantrywright.intake.grammar.shape import Key
from gantrywright.intake.values import DIRECTIONS, FACES, most_in_words

COMPOUND = {
    "point": ("40, 0, 780 mm", "1.5, 0, 30 in"), "pair": ("0, -20 mm", "0, -3/4 in"), "size2": ("1160 x 1900 mm", "46 x 75 in"),
    "size3": ("260 x 570 x 20 mm", "10 x 22 x 3/4 in"), "range": ("2080..2240 mm", "82..88 in"), "pose": ("half, half, full", "half, half, full"),
    "rating": ("13.7 kN at 100 km", "3000 lbf at 100 km"), "static-rating": ("25 kN", "5600 lbf"), "phase-current": ("4.2 A rms", "4.2 A rms"),
    "quantity": ("12.7 mm", "1/2 in"), "bolts": ("8 x M8", "6 x 1/4-20"), "date": ("2026-03-07", "2026-03-07"),
    "fitted": ("2026-03-07", "2026-03-07"), "direction": ("back", "back"), "face": ("top", "top"), "count": ("4", "4"),
}  # fmt: skip
"""Examples in metric and in inches of what is no single quantity."""
NAMED = {
    "": "bed.left-side",
    "parts": "bed.left-side",
    "beside": "axis.x.rail.upper",
    "thing": "bed.left-side",
    "holes": "bed.left-side.holes.row",
}
"""Examples of what a name leads to."""
POINTS = frozenset({"point", "pair", "pose"})
SIZES = frozenset({"size2", "size3"})
SHOWN = frozenset({*COMPOUND, *SCALARS}) - {"date", "fitted", "direction", "face", "count", "bolts", "number", "quantity"}
"""Kinds that read differently in the other system."""


def field_of(force: Force, place: Place, key: Key) -> Field:
    """The field of a key in a table."""
    path = _path(force, place, key)
    raw = force.raw(path)
    text = as_written(raw)
    found = force.value(place, key)
    like = found.origin.text if found is not None else ""
    effective = said(found.value, key, force.system, like=like, currency=force.currency) if found is not None else ""
    other = _other(force, found, key, like) if effective else ""
    why_not = _why_not(force, place, key)
    choices = choices_for(force, key)
    part_kind = _part_kind(force, place, key)
    return Field(
        path, capital(label(key.name)), _help(key), "part" if part_kind else _kind(key, choices), key.kind if key.kind in SCALARS else "", text, effective,
        other if other != effective else "", force.origin(found, place, key),
        band(found.spread, key, force.system, like=like) if found is not None else "", choices, part_kind, not why_not, why_not,
        example(key, force.system), _low(key, force.system), most_in_words(key, force.system),
        _needed(force, place, key, found, silent=text == ""),
    )  # fmt: skip


def items_of(force: Force, place: Place, key: Key) -> tuple[Field, ...]:
    """A field for each name of a list that is written: each is chosen by itself."""
    path = f"{place.path}.{key.name}"
    raw = force.raw(path)
    if not leads(key) or not key.item_kind or not isinstance(raw, list):
        return ()
    line = force.document.line(path)
    return tuple(
        Field(
            f"{path}.{number}", f"{capital(label(key.name))}, {number} of {len(raw)}", _help(key), "name", text=str(text),
            effective=str(text), origin=f"line {line} of the file", example=example(key.item, force.system), needed=bool(key.need),
        )
        for number, text in enumerate(raw, 1)
    )  # fmt: skip


def _path(force: Force, place: Place, key: Key) -> str:
    """Where an edit goes: of a part that has fields of its own, or inherits some, its name alone is replaced."""
    path = f"{place.path}.{key.name}" if place.path else key.name
    if not key.part_kind:
        return path
    raw = force.raw(path)
    if isinstance(raw, str):
        return path
    inherits = force.machine is not None and raw is None and f"{path}.part" in force.machine.stated
    return f"{path}.part" if raw is not None or inherits else path


def _other(force: Force, found: Stated | None, key: Key, like: str) -> str:
    if found is None or found.value is None or (key.item.kind if key.item_kind else key.kind) not in SHOWN:
        return ""
    return said(found.value, key, other_system(force.system), like=like, currency=force.currency)


def _kind(key: Key, choices: tuple[str, ...]) -> str:
    if choices:
        return "choice"
    if leads(key) and not key.item_kind:
        return "name"
    if key.item_kind:
        return "list"
    if key.kind in ("flag", "date", "count"):
        return key.kind
    if key.kind in POINTS:
        return "point"
    if key.kind in SIZES:
        return "size"
    return "text" if key.kind in ("text", "words", "ref", "fitted", "direction", "face", "bolts") else "quantity"


def choices_for(force: Force, key: Key) -> tuple[str, ...]:
    """The words that may stand here: of a choice, of a face, or the names of what the file has."""
    if key.choices:
        return key.choices
    if key.kind == "face":
        return FACES
    if key.kind == "direction":
        return tuple(word for word in DIRECTIONS if word not in ("x", "y", "z"))
    if key.names in ("supply", "outlet"):
        return tuple(name for name in table_of(force.raw("supply" if key.names == "supply" else "site.outlet")) if name != "each")
    if key.names == "drive":
        axes = table_of(force.raw("axis"))
        return tuple(
            f"axis.{axis}.drive.{name}" for axis in axes for name in table_of(table_of(axes[axis]).get("drive")) if name != "each"
        )
    return ()


def _part_kind(force: Force, place: Place, key: Key) -> str:
    if key.names == "material":
        return "material"
    sub = place.sub
    if place.shape == "table" and sub is not None and not sub.many and not sub.always and asks(sub) and not force.has(place.path):
        return f"nothing is written of the {called(sub.name)} yet: add it first"
    if place.shape == "part" and key.name == "part":
        return place.table.name.removeprefix("part ")
    if key.part_kind != "drive":
        return key.part_kind
    return force.places.part_table(key, place.path).name.removeprefix("part ")


def _why_not(force: Force, place: Place, key: Key) -> str:
    if place.shape == "row":
        return "a row of the parts tables: write a row [part.NAME] with like, or name another one"
    if (
        place.shape == "part"
        and key.name != "part"
        and place.key is not None
        and not place.key.need
        and not _is_named(force, place)
    ):
        return f"no {label(place.key.name)} is named here yet: choose its part first"
    return ""


def _is_named(force: Force, place: Place) -> bool:
    """Whether the part is written, or inherited from one that is."""
    if force.raw(place.path) is not None:
        return True
    found = force.machine.stated.get(f"{place.path}.part") if force.machine is not None else None
    return found is not None and found.origin.kind != "default"


def _help(key: Key) -> str:
    words = [key.help]
    if key.default:
        words.append(f"left out: {key.default} ({key.source})")
    elif key.otherwise:
        words.append(f"left out: {key.otherwise}")
    return ". ".join(capital(word.rstrip(".")) for word in words if word) + "." if any(words) else ""


def example(key: Key, system: str) -> str:
    """A text that a key would take; empty where only the machine can tell."""
    inch = system == "inch"
    if key.item_kind:
        return f'["{example(key.item, system) or "bed.left"}"]'
    if key.kind in COMPOUND:
        return COMPOUND[key.kind][inch]
    if key.kind in SCALARS:
        return SCALARS[key.kind].examples[-1 if inch else 0]
    if key.choices:
        return key.choices[0]
    return "true" if key.kind == "flag" else NAMED.get(key.leads, "") if key.kind == "ref" and not key.names else ""


def _low(key: Key, system: str) -> str:
    if key.least is None:
        return ""
    zero = show(0.0, key.kind, system) if key.kind in SCALARS and key.kind != "money" else "0"
    return f"{zero}, not 0 itself" if key.is_positive else zero


def _needed(force: Force, place: Place, key: Key, found: Stated | None, *, silent: bool) -> bool:
    """Whether the machine lacks something where this is left out."""
    if "each" in place.path.split(".") or not (needs(force, place, key.need) or _of_either(force, place, key)):
        return False
    if silent:
        return found is None and force.raw(f"{place.path}.{key.name}") is None
    under = found.origin.over if found is not None else None
    return under is None or under.kind not in INHERITED


def needs(force: Force, place: Place, need: str) -> bool:
    """Whether a rule of need applies in a table, by what is written or taken there."""
    if need in ("", "!"):
        return need == "!"
    word, _, rest = need.partition(" ")
    name = rest.partition("=")[0].partition(">")[0]
    if word == "with":
        return bool(force.raw(f"{place.path}.{name}"))
    if word == "unless" and "|" in rest:
        return all(needs(force, place, f"unless {each}") for each in rest.split("|"))
    key = place.table.key_map.get(name)
    found = force.value(place, key) if key is not None else None
    value = found.value if found is not None else True if force.raw(f"{place.path}.{name}") is not None else None
    if word == "unless":
        return value in (None, False)
    if ">" in rest:
        return isinstance(value, int | float) and value > float(rest.partition(">")[2])
    return value in rest.partition("=")[2].split("|")


def _of_either(force: Force, place: Place, key: Key) -> bool:
    """Whether the key belongs to the group of keys that is in use."""
    for group in place.table.either:
        known = [name.rstrip("?") for name in group]
        if key.name in group and any(force.raw(f"{place.path}.{name}") is not None for name in known):
            return True
    return False

"""One table of the file as a group of fields."""

from collections.abc import Iterator

from gantrywright.intake.fields.adding import addables
from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.one import field_of, items_of, needs
from gantrywright.intake.fields.places import Place, asks, table_of, words
from gantrywright.intake.fields.records import FieldGroup
from gantrywright.intake.fields.words import title
from gantrywright.intake.grammar.bodies import BODY_KEYS
from gantrywright.intake.grammar.joints import JOINTS_OF_A_KIND
from gantrywright.intake.grammar.recipes import RECIPES
from gantrywright.intake.grammar.shape import Key, Sub

RARE = ("mirror", "remove", "source", "basis")
"""Keys that are shown only where they are written."""
UNSHOWN = ("format",)


def group_of(force: Force, asked: str) -> FieldGroup:
    """The fields of the table that a path leads to.

    Raises:
        NotFound: It leads nowhere.
    """
    place = force.places.find(asked)
    below = force.below(place.path)
    named = title(place.path)
    if place.shape in ("names", "list"):
        return FieldGroup(place.path, named, _help(force, place), (), tuple(_children(force, place)), addables(force, place), False)
    fields = tuple(field for key in _keys(force, place) for field in items_of(force, place, key) or (field_of(force, place, key),))
    return FieldGroup(
        place.path,
        named,
        _help(force, place),
        fields,
        tuple(_groups(force, place, below)),
        addables(force, place),
        _can_go(force, place),
    )


def _collection(force: Force, place: Place) -> str:
    """What a collection holds, by name: ``Rails of X: upper, lower.``"""
    assert place.sub is not None  # a collection is found by its sub
    parts = place.path.split(".")
    head = place.sub.help.removesuffix("by name").rstrip(", ")
    if parts[0] == "axis" and len(parts) > 2:
        head = f"{head} of {parts[1].upper()}"
    raw = force.raw(place.path)
    names = [words(name) for name in table_of(raw) if name != "each"]
    held = f"{len(raw)} of them" if isinstance(raw, list) else ", ".join(names) or "none yet"
    shared = "; what they share stands in one table for all" if "each" in table_of(raw) else ""
    more = place.table.help if place.path != "part" else ""
    more = "" if more.startswith("One ") and not {";", ":"} & set(more) else f" {more}"
    return f"{head}: {held}{shared}.{more}".strip()


def _help(force: Force, place: Place) -> str:
    if place.shape in ("names", "list"):
        return _collection(force, place)
    name = place.path.rpartition(".")[2]
    if name == "each" and place.sub is not None and place.sub.many:
        return "What all of them share; a key that one of them has of its own goes before."
    if name == "skins" and place.sub is not None:
        return f"{place.sub.help}."
    if place.shape == "part" and place.key is not None:
        said = f"{place.key.help}; what is left out is that of its row in the parts tables."
    else:
        said = place.table.help
    recipe = RECIPES.get(str(force.raw(f"{place.path}.recipe"))) if place.path in force.places.bodies else None
    if recipe is not None:
        said = recipe.help
    return f"{place.note} {said}".strip()


def _keys(force: Force, place: Place) -> Iterator[Key]:
    """Own keys first, those of any body after those of its recipe, then those of everything that is owned or bought."""
    own = sorted((key for key in place.table.keys if key.name not in UNSHOWN), key=lambda key: key in BODY_KEYS)
    rest = [key for name, key in place.table.key_map.items() if key not in place.table.keys]
    for key in (*own, *rest):
        if key.name not in RARE or force.raw(f"{place.path}.{key.name}") is not None:
            yield key


def _groups(force: Force, place: Place, below: tuple[str, ...]) -> Iterator[str]:
    """Tables below a table: parts that are named or taken, tables that are there or may be written at once."""
    start = f"{place.path}." if place.path else ""
    stated = {path[len(start) :].partition(".")[0] for path in below}
    for key in place.table.key_map.values():
        if key.part_kind and (force.raw(f"{start}{key.name}") is not None or key.name in stated):
            yield f"{start}{key.name}"
    if place.path == "":
        yield from force.places.bodies
    for sub in place.table.sub_map.values():
        path = f"{start}{sub.name}"
        if sub.name in place.table.key_map:
            continue
        if sub.many:
            yield from _children(force, Place(path, sub.table, sub.many, sub=sub))
        elif _is_open(force, sub, path) or (sub.name in stated and sub.name != "repeat" and force.has(path)):
            yield path
    if place.own and force.raw(place.own) is not None:
        yield place.own
    raw = force.raw(place.path)
    named = raw if isinstance(raw, str) else table_of(raw).get("part")
    if place.shape == "part" and isinstance(named, str) and force.raw(f"part.{named}") is not None:
        yield f"part.{named}"


def _is_open(force: Force, sub: Sub, path: str) -> bool:
    """Whether the table stands there, or may be written by writing any one of its keys."""
    if sub.always or sub.need or force.raw(path) is not None:
        return True
    return not asks(sub) and (sub.table is not JOINTS_OF_A_KIND or bool(force.below(path)))


def _children(force: Force, place: Place) -> Iterator[str]:
    """Tables of a collection, those for all of them first; made ones only where nothing else says that they are there."""
    raw = force.raw(place.path)
    if isinstance(raw, list):
        yield from (f"{place.path}.{number}" for number in range(1, len(raw) + 1))
        return
    names = list(table_of(raw))
    for name in sorted(names, key=lambda name: name != "each"):
        yield f"{place.path}.{name}"


def _can_go(force: Force, place: Place) -> bool:
    """Whether the table may be taken out of the file."""
    if place.note or force.raw(place.path) is None or place.shape == "row":
        return False
    if place.shape == "part":
        assert place.key is not None  # every part is used under a key
        owner = place.path.rpartition(".")[0]
        return not needs(force, Place(owner, force.places.find(owner).table), place.key.need)
    if place.sub is None or (place.path.startswith("axis.") and place.path.count(".") == 1):
        return False  # a body of the chain, or the axis that moves one
    return bool(place.sub.many) or not place.sub.need

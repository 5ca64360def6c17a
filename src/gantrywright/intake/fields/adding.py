"""What may be added to a table of the file, and the edits that add it.

Every table of the grammar that is a collection, or that may be left out, can be added. What is written first is a copy of one that
is there, or seeds that make a machine: they are there to be changed.
"""

from collections.abc import Iterator

from gantrywright.intake.fields import ownrows, seeds, slides
from gantrywright.intake.fields.copies import copies
from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.layouts import other_layouts
from gantrywright.intake.fields.places import Place, asks
from gantrywright.intake.fields.places import words as spoken
from gantrywright.intake.fields.records import Addable, Edit
from gantrywright.intake.fields.second import drives
from gantrywright.intake.fields.words import called
from gantrywright.intake.grammar.shape import Sub

NOT_HERE = frozenset({"repeat", "slide", "axis", "block"})
"""Tables that change what others mean: each has a way of its own; a single block gets its table where it is picked."""


def addables(force: Force, place: Place) -> tuple[Addable, ...]:
    """Everything that may be added here."""
    if place.shape == "row":
        return ()
    return tuple(found for found in _all(force, place) if found.edits)


def _all(force: Force, place: Place) -> Iterator[Addable]:
    if place.own and force.raw(place.own) is None:
        yield from _alone(force, place.own)
    if place.shape == "part":
        yield from ownrows.described_here(force, place)
    if place.path == "part":
        yield from ownrows.of_any_kind(force)
        return
    if place.shape in ("names", "list"):
        assert place.sub is not None  # a collection is found by its sub
        if seeds.belongs(force, place.path):
            yield from _more(force, place.path, place.sub)
        return
    if place.path == "machine":
        yield from other_layouts(force)
        yield from slides.one_more(force)
    if _is_axis(place):
        yield from slides.instead(force, place.path.partition(".")[2])
    yield from copies(force, place)
    if place.sub is not None and not place.sub.many and _may_be_added(force, place.sub, place.path):
        yield Addable(called(place.sub.name), seeds.table(force, place.table, place.path))
        return
    for sub in place.table.sub_map.values():
        path = f"{place.path}.{sub.name}" if place.path else sub.name
        if sub.name in NOT_HERE or not seeds.belongs(force, path):
            continue
        if sub.many:
            yield from _more(force, path, sub)
        elif _may_be_added(force, sub, path):
            yield Addable(called(sub.name), seeds.table(force, sub.table, path))


def _is_axis(place: Place) -> bool:
    return (
        place.path.startswith("axis.")
        and place.path.count(".") == 1
        and place.shape == "table"
        and not place.path.endswith(".each")
    )


def _may_be_added(force: Force, sub: Sub, path: str) -> bool:
    """A table that asks for something, and that nothing has written or made."""
    return asks(sub) and not sub.always and not force.has(path)


def _more(force: Force, path: str, sub: Sub) -> Iterator[Addable]:
    """One more of a collection."""
    if sub.name == "drive":
        yield from drives(force, path)
        return
    name = called(sub.name)
    yield Addable(_one(name, more=bool(force.raw(path))), seeds.one_more(force, path, sub))


def _one(name: str, *, more: bool) -> str:
    """``a bar``, ``an opening``, ``another bar``, ``more holes``: one of what is called in the plural is a set."""
    if name.endswith("s"):
        return f"more {name}" if more else name
    return f"another {name}" if more else f"{'an' if name[0] in 'aeio' else 'a'} {name}"


def _alone(force: Force, own: str) -> Iterator[Addable]:
    """A table for one part that shares its keys with others: it starts with what it takes already."""
    name = spoken(own.rpartition(".")[2])
    place = force.places.find(f"{own}.note")
    for key in ("preload", "section", "material", "part", "mass"):
        if key not in place.table.key_map:
            continue
        found = force.value(Place(own, place.table), place.table.key_map[key])
        if found is not None and isinstance(found.value, str):
            edit: Edit = (f"{own}.{key}", found.value)
            yield Addable(f"a table for {name} alone", (edit,))
            break
    if not own.startswith("axis."):
        yield Addable(f"leave {name} out", ((f"{own}.remove", "true"),))

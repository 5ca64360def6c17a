"""Names of what a machine has: what a key that leads to a part, a body, a rail ... may say, each with the words of it."""

import re
from collections.abc import Iterator

from gantrywright.base.errors import NotFound
from gantrywright.base.names import nearest_sentence
from gantrywright.base.quantities import show
from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.places import Place, table_of
from gantrywright.intake.fields.records import PartChoice
from gantrywright.intake.fields.standing import short
from gantrywright.intake.fields.words import called, title
from gantrywright.intake.grammar.recipes import makes
from gantrywright.intake.grammar.shape import Key
from gantrywright.model.bodies import Solid

HOLDS = frozenset({"member", "plate"})
"""Kinds of solids that something can be screwed to."""
_COPY = re.compile(r"(.+)-\d+\Z")
_END = re.compile(r"@.*\Z")
_HOLES = re.compile(r"(.+\.holes\.[^.]+)\..+")
WHERE = {
    "": "of the machine", "parts": "of the machine", "beside": "of the machine", "body": "of the chain", "axis": "of the file",
    "holes": "of the file", "thing": "of the machine", "sibling": "beside it",
}  # fmt: skip
ENDS = ("tool", "work", "cabinet", "spindle", "controller")
"""Things that the file has without a name of their own."""


def leads(key: Key | None) -> bool:
    """Whether a key, or one item of it, is the name of something in the machine."""
    return key is not None and not key.names and ("ref" in (key.kind, key.item_kind) or bool(key.leads))


def names_at(force: Force, place: Place, key: Key) -> tuple[PartChoice, ...]:
    """Everything that may be named under a key, in the order of the machine."""
    found = {
        "": _parts, "parts": _parts_and_groups, "beside": _rails_and_parts, "body": _bodies, "axis": _axes, "holes": _holes,
        "thing": _things, "sibling": _siblings,
    }[key.leads]  # fmt: skip
    return tuple(PartChoice(name, words, numbers, WHERE[key.leads]) for name, words, numbers in found(force, place))


Row = tuple[str, str, tuple[tuple[str, str], ...]]
"""Name, words, and what is told of it."""


def _solids(force: Force) -> Iterator[Solid]:
    if force.machine is not None:
        yield from (solid for solid in force.machine.solids if solid.kind in HOLDS)


def _parts(force: Force, place: Place) -> Iterator[Row]:
    """Bars, plates and table tops; the part itself is none of them."""
    own = short(place.path)
    for body in force.places.bodies:
        if own != f"{body}.top" and force.raw(f"{body}.top") is not None:
            yield f"{body}.top", title(f"{body}.top"), (("kind", "table top"), ("body", body))
    for solid in _solids(force):
        name = short(solid.path)
        if name != own and not own.startswith(f"{name}."):
            yield name, _words(name), _told(force, solid)


def _parts_and_groups(force: Force, place: Place) -> Iterator[Row]:
    """The same, and before them all copies of one name together."""
    copies: dict[str, list[Solid]] = {}
    for solid in _solids(force):
        stem = _COPY.match(short(solid.path))
        if stem:
            copies.setdefault(stem[1], []).append(solid)
    for name, solids in copies.items():
        if len(solids) > 1:
            yield name, f"{_words(name)}: all {len(solids)}", _told(force, solids[0])
    yield from _parts(force, place)


def _rails_and_parts(force: Force, place: Place) -> Iterator[Row]:
    parts = place.path.split(".")
    axis = next((axis for axis in force.machine.axes if axis.name == parts[1]), None) if force.machine is not None else None
    for rail in axis.rails if axis is not None else ():
        yield rail.path, title(rail.path), (("kind", "rail"), ("body", rail.body))
    yield from _parts(force, place)


def _bodies(force: Force, place: Place) -> Iterator[Row]:
    links = {link.body: link for link in force.machine.links} if force.machine is not None else {}
    for body in force.places.bodies:
        link = links.get(body)
        how = (
            f"moved along {link.axis.upper()}"
            if link is not None and link.axis
            else "stands"
            if link is not None and not link.on
            else ""
        )
        yield body, title(body), (("how it moves", how),)


def _axes(force: Force, place: Place) -> Iterator[Row]:
    for axis in table_of(force.raw("axis")):
        if axis != "each":
            yield axis, title(f"axis.{axis}"), ()


def _holes(force: Force, place: Place) -> Iterator[Row]:
    seen: set[str] = set()
    for path in force.paths:
        found = _HOLES.match(path)
        name = short(found[1]) if found else ""
        if found and name not in seen and found[1].split(".")[0] in force.places.bodies:
            seen.add(name)
            part, _, holes = name.partition(".holes.")
            yield name, f"{_words(part)}: holes {holes.replace('-', ' ')}", ()


def _things(force: Force, place: Place) -> Iterator[Row]:
    for name in ENDS:
        if name in ("tool", "work") or force.raw(name) is not None:
            yield name, called(name) if name != "tool" else "the cutter's tip", ()
    yield from _bodies(force, place)
    yield from _parts(force, place)
    for axis, words, told in _axes(force, place):
        yield f"axis.{axis}", words, told
        for group in ("rail", "drive"):
            for name in table_of(force.raw(f"axis.{axis}.{group}")):
                if name != "each":
                    path = f"axis.{axis}.{group}.{name}"
                    yield path, title(path), ()
                    if group == "drive":
                        yield f"{path}.motor", title(f"{path}.motor"), ()


def _siblings(force: Force, place: Place) -> Iterator[Row]:
    """Tables beside this one that are no copy of it."""
    above, _, own = place.path.rpartition(".")
    for name in {**dict.fromkeys(_made(force, above)), **dict.fromkeys(table_of(force.raw(above)))}:
        copy = _COPY.match(name)
        if name not in ("each", own) and (copy is None or copy[1] != own) and force.raw(f"{above}.{name}.mirror") != own:
            yield name, title(f"{above}.{name}"), ()


def _made(force: Force, above: str) -> Iterator[str]:
    start = f"{above}."
    for path in force.below(above):
        yield path.removeprefix(start).partition(".")[0]


def _words(name: str) -> str:
    body, _, rest = name.partition(".")
    return title(f"{body}.member.{rest}") if rest and rest != "top" else title(name)


def _told(force: Force, solid: Solid) -> tuple[tuple[str, str], ...]:
    size = " x ".join(show(side, "m", force.system) for side in solid.size)
    return (("kind", "bar" if solid.kind == "member" else solid.kind), ("body", solid.body), ("size", size))


# ---- a name that is not there


def not_found(force: Force, place: Place, key: Key, name: str) -> str:
    """What is wrong with a name, without a machine; empty where something may be called so."""
    if key.leads == "holes":
        return _no_holes(force, name)
    if key.leads in ("body", "axis", "sibling"):
        known = [row[0] for row in {"body": _bodies, "axis": _axes, "sibling": _siblings}[key.leads](force, place)]
        what = {"body": "body", "axis": "axis"}.get(key.leads, place.path.rpartition(".")[0].replace(".", " "))
        near = f"{nearest_sentence(name, known)}; there {'are' if len(known) != 1 else 'is'} {', '.join(known) or 'none'}"
        stem = _COPY.match(name)
        if key.leads == "sibling" and (
            (stem and stem[1] in known) or makes(str(force.raw(f"{place.path.partition('.')[0]}.recipe") or ""), name)
        ):
            return ""
        return "" if name in known else f"no {what} '{name}'{near}"
    if key.leads == "thing" and name in ENDS:
        return ""
    if key.leads == "beside" and "." not in name:
        return ""  # a rail of this axis by its own name
    return _leads_nowhere(force, name, key.leads in ("thing", "beside"))


def _leads_nowhere(force: Force, name: str, anything: bool) -> str:
    plain = _END.sub("", name)
    first, bodies = plain.partition(".")[0], force.places.bodies
    if not anything and first not in bodies:
        return f"no part '{name}': there is no body '{first}'{nearest_sentence(first, bodies)}; bodies are {', '.join(bodies)}"
    if not anything and "." not in plain:
        return f"'{name}' is a body; name one of its parts, as in {plain}.NAME"
    try:
        force.places.find(plain)
    except NotFound as error:
        return "" if _is_there(force, f"{plain}-1") else str(error)
    return ""


def _is_there(force: Force, name: str) -> bool:
    try:
        force.places.find(name)
    except NotFound:
        return False
    return True


def _no_holes(force: Force, name: str) -> str:
    part, found, holes = name.partition(".holes.")
    if not found:
        return f"'{name}' names no holes; write PART.holes.NAME"
    try:
        place = force.places.find(part)
    except NotFound as error:
        return str(error)
    known = list(table_of(force.raw(f"{place.path}.holes")))
    above = place.path.rpartition(".")[0]
    taken_over = place.note or force.raw(f"{place.path}.mirror") is not None or force.raw(f"{above}.each.holes") is not None
    return "" if holes in known or taken_over else f"{part} has no holes '{holes}'{nearest_sentence(holes, known)}"

"""What a new table starts with: a copy of one that is there, or values that make a machine and are there to be changed."""

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from typing import Any

from gantrywright.catalog.tables import packaged
from gantrywright.intake.edits import written
from gantrywright.intake.fields import standing
from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.places import table_of
from gantrywright.intake.fields.records import Edit
from gantrywright.intake.grammar.recipes import makes
from gantrywright.intake.grammar.shape import Key, Sub, Table

Values = dict[str, str]
NAMES = {"member": "bar", "item": "added-part", "measured": "reading", "outlet": "outlet", "load": "load"}
"""What new tables are called, where the name of their collection will not do."""
COPIED_NOT = frozenset({"mirror", "remove", "repeat", "share", "stock", "label", "note"})
"""Keys that belong to one part and not to its copy."""
AFRESH = ("member", "measured")
"""Tables that are no copy of one that is there: their keys hang on each other."""
PLAIN = {
    "length": ("100 mm", "4 in"), "point": ("0, 0, 0 mm", "0, 0, 0 in"), "pair": ("0, 0 mm", "0, 0 in"), "size2": ("100 x 100 mm", "4 x 4 in"),
    "size3": ("100 x 100 x 10 mm", "4 x 4 x 3/8 in"), "mass": ("1 kg", "2 lb"), "force": ("100 N", "20 lbf"), "speed": ("1 m/min", "40 in/min"),
    "turn-speed": ("12 000 rpm", "12 000 rpm"), "voltage": ("230 V", "120 V"), "current": ("16 A", "15 A"), "power": ("500 W", "500 W"),
    "number": ("1", "1"), "count": ("1", "1"), "flag": ("true", "true"), "face": ("top", "top"), "direction": ("top", "top"),
    "text": ("new", "new"), "stiffness": ("50 N/um", "300 000 lbf/in"),
}  # fmt: skip
"""A value of each kind in metric and in inches."""


def one_more(force: Force, path: str, sub: Sub) -> tuple[Edit, ...]:
    """The edits that write one more table of a collection."""
    raw = force.raw(path)
    if sub.many == "list":
        return _item(force, path, sub, raw if isinstance(raw, list) else [])
    new = f"{path}.{new_name(force, path, sub.name)}"
    values = {} if sub.table.name in AFRESH else _copy(table_of(raw))
    values |= _special(force, path, sub.table, values)
    values = {**_needed(force, sub.table, new, values), **values}
    return tuple((f"{new}.{key}", text) for key, text in values.items())


def table(force: Force, wanted: Table, path: str) -> tuple[Edit, ...]:
    """The edits that write a table that may be left out."""
    values = _special(force, path, wanted, {})
    values = {**_needed(force, wanted, path, values), **values}
    return tuple((f"{path}.{key}", text) for key, text in values.items())


def belongs(force: Force, path: str) -> bool:
    """Whether a table makes sense where it would stand."""
    name = path.rpartition(".")[2]
    above, machine = path.split("."), force.machine
    if name == "counterweight":
        return standing.along(force, above[1]) == "z"
    if name == "top":
        return machine is not None and above[0] == machine.work_body
    if name == "foot":
        return machine is not None and bool(machine.links) and above[0] == machine.links[0].body
    if name in ("rail", "drive"):
        return force.raw(f"axis.{above[1]}.slide") is None
    return name not in ("pattern", "mount")


def new_name(force: Force, path: str, collection: str) -> str:
    """A name that nothing has, neither written nor made."""
    base = NAMES.get(collection, collection)
    body = path.partition(".")[0]
    recipe = str(force.raw(f"{body}.recipe") or "") if body in force.places.bodies else ""
    taken = {name.removeprefix(f"{path}.").partition(".")[0] for name in force.below(path)} | set(table_of(force.raw(path)))
    if body in force.places.bodies:
        taken |= {name.split(".")[2] for name in force.below(body) if name.count(".") > 2}
    candidates = [f"new-{base}", *(f"new-{base}-{letter}" for letter in "bcdefghijklmnopqrstuvwxyz")]
    return next(name for name in candidates if name not in taken and not makes(recipe, name))


# ---- copies


def _copy(group: Mapping[str, Any]) -> Values:
    """The keys of the last table of a collection that is no mirror image, as texts."""
    last = next((raw for name, raw in reversed(list(group.items())) if name != "each" and "mirror" not in table_of(raw)), None)
    return {key: text for key, text in leaves(table_of(last)) if key.partition(".")[0] not in COPIED_NOT}


def leaves(raw: Mapping[str, Any], path: str = "") -> Iterator[tuple[str, str]]:
    """Every value of a raw table with its dotted key, as the text of an edit."""
    for key, value in raw.items():
        if isinstance(value, Mapping):
            yield from leaves(value, f"{path}{key}.")
        else:
            yield f"{path}{key}", value if isinstance(value, str) else written(value)


def _item(force: Force, path: str, sub: Sub, raw: list[Any]) -> tuple[Edit, ...]:
    """One more item of a list of tables; a list that is not there yet is written whole."""
    values = dict(leaves(table_of(raw[-1]))) if raw else {}
    values = {key: text for key, text in values.items() if key not in COPIED_NOT}
    values = {**_needed(force, sub.table, path, values), **values}
    if sub.table.name == "layer" and not raw:
        values |= {"material": "mdf", "thickness": "19 mm" if force.system == "metric" else "3/4 in"}
    if raw:
        return tuple((f"{path}.{len(raw) + 1}.{key}", text) for key, text in values.items())
    return ((path, written([values])),)


# ---- seeds


def _needed(force: Force, wanted: Table, path: str, have: Mapping[str, str]) -> Values:
    """A value for every key that is always needed and not there yet, nor shared by all of its collection."""
    found: Values = {}
    given = {key.partition(".")[0] for key in have} | set(table_of(force.raw(f"{path.rpartition('.')[0]}.each")))
    for item in wanted.needs:
        if item.need != "!" or item.name in given:
            continue
        if isinstance(item, Sub):
            if item.many == "list":
                found[item.name] = written([_needed(force, item.table, f"{path}.{item.name}", {})])
            elif not item.many:
                below = table(force, item.table, f"{path}.{item.name}")
                found |= {edit[0].removeprefix(f"{path}."): str(edit[1]) for edit in below}
            continue
        found[item.name] = _seed(force, item)
    return found


def _seed(force: Force, key: Key) -> str:
    if key.part_kind:
        return first_part(force, key.part_kind)
    if key.names in ("supply", "outlet"):
        known = [name for name in table_of(force.raw("supply" if key.names == "supply" else "site.outlet")) if name != "each"]
        return known[0] if known else "wall"
    if key.names == "instrument":
        return "rule"
    if key.names == "material":
        return "al-6082" if force.system == "metric" else "al-6061"
    if key.choices:
        return key.choices[0]
    if key.kind == "ref":
        return standing.first_part(force)
    if key.kind == "date":
        return date.today().isoformat()
    return PLAIN.get(key.kind, ("1", "1"))[force.system == "inch"]


def first_part(force: Force, kind: str) -> str:
    """The name of a part of a kind: one that the machine has already, else the first of the tables."""
    kind = "ball-screw" if kind == "drive" else kind
    known = packaged(kind).index
    used = (force.machine.stated[path].value for path in force.paths if path.endswith(".part")) if force.machine is not None else ()
    return next((name for name in used if name in known), next(iter(known), ""))


def _special(force: Force, path: str, wanted: Table, values: Values) -> Values:
    """What no key's own kind can tell, by the name of the table."""
    made = _SPECIAL.get(wanted.name)
    return made(force, path, values) if made is not None else {}


def _rail(force: Force, path: str, values: Values) -> Values:
    return {"across": standing.between(force, path, "across")}


def _bar(force: Force, path: str, values: Values) -> Values:
    return standing.bar(force, path.partition(".")[0])


def _lump(force: Force, path: str, values: Values) -> Values:
    return {"at": standing.middle(force, path.partition(".")[0])}


def _sheet(force: Force, path: str, values: Values) -> Values:
    return {"normal": "top", "at": standing.middle(force, path.partition(".")[0])}


def _foot(force: Force, path: str, values: Values) -> Values:
    return standing.foot(force, path.partition(".")[0])


def _joint(force: Force, path: str, values: Values) -> Values:
    pair = standing.unnamed_pair(force)
    return {"between": written(list(pair)), "kind": "bolted"} if pair else {}


def _measured(force: Force, path: str, values: Values) -> Values:
    """A reading of the lowest tone that takes no part until the builder says so."""
    return {
        "observe": "frequency",
        "value": "20 Hz",
        "along": "right",
        "with": "phone",
        "on": date.today().isoformat(),
        "use": "false",
    }


def _hold(force: Force, path: str, values: Values) -> Values:
    return {"kind": "clamps", "count": "4", "force": "300 N" if force.system == "metric" else "70 lbf"}


def _job(force: Force, path: str, values: Values) -> Values:
    inch = force.system == "inch"
    usual = {
        "material": "plywood-birch",
        "width": "1/16 in" if inch else "2 mm",
        "depth": "1/16 in" if inch else "2 mm",
        "speed": "18 000 rpm",
    }
    return {} if values else usual


def _home(force: Force, path: str, values: Values) -> Values:
    return {"at": "least", "sensor": first_part(force, "sensor")}


def _reduction(force: Force, path: str, values: Values) -> Values:
    return {"kind": "belt", "ratio": "2"}


def _work(force: Force, path: str, values: Values) -> Values:
    return standing.half_the_work(force)


def _cabinet(force: Force, path: str, values: Values) -> Values:
    return {"size": "300 x 200 x 400 mm" if force.system == "metric" else "12 x 8 x 16 in", "at": standing.beside(force)}


def _top(force: Force, path: str, values: Values) -> Values:
    return {"on": standing.largest(force, path.partition(".")[0])}


def _bolts(force: Force, path: str, values: Values) -> Values:
    return {"thread": "M8" if force.system == "metric" else "5/16-18", "count": "4"}


def _holes(force: Force, path: str, values: Values) -> Values:
    inch = force.system == "inch"
    return {
        "face": standing.face(force, path), "pattern": "row", "first": "0 mm", "pitch": "1 in" if inch else "25 mm", "count": "2",
        "across": "0 mm", "size": "1/4 in" if inch else "6 mm",
    }  # fmt: skip


def _chain(force: Force, path: str, values: Values) -> Values:
    return standing.cable_chain(force, path.split(".")[1])


def _cable(force: Force, path: str, values: Values) -> Values:
    return {"from": "cabinet", "to": "spindle"}


def _mount(force: Force, path: str, values: Values) -> Values:
    inch = force.system == "inch"
    body = force.machine.tool_body if force.machine is not None else "head"
    return {
        "on": standing.largest(force, body), "face": "front", "stand_off": "2 in" if inch else "50 mm", "length": "3 in" if inch else "80 mm",
        "nose_below": "3 in" if inch else "80 mm",
    }  # fmt: skip


_SPECIAL: dict[str, Callable[[Force, str, Values], Values]] = {
    "rail": _rail, "member": _bar, "item": _lump, "plate": _sheet, "foot": _foot, "joint": _joint, "measured": _measured, "hold_down": _hold,
    "job": _job, "home": _home, "reduction": _reduction, "work": _work, "cabinet": _cabinet, "top": _top, "bolts": _bolts, "holes": _holes,
    "cable_chain": _chain, "cable": _cable, "mount": _mount,
}  # fmt: skip

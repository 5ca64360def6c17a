"""Where something new may stand, by what stands there already: in the measures of its body, as a text of the file."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.places import table_of
from gantrywright.intake.fields.texts import said
from gantrywright.intake.grammar.shape import Key

POINT, LENGTH, SIZE = Key("at", "point", ""), Key("across", "length", ""), Key("size", "size3", "")
Vector = tuple[float, float, float]
ASIDE = 0.025
"""From the only one that there is to a new one, m."""


def along(force: Force, axis: str) -> str:
    """x, y or z: along which an axis runs."""
    return str(force.raw(f"axis.{axis}.along") or axis[:1])


def point(force: Force, at: Sequence[float]) -> str:
    """A place as text."""
    return said(tuple(at), POINT, force.system)


def parts_of(force: Force, body: str, *groups: str) -> Iterator[str]:
    """Full paths of the placed parts of a body."""
    seen: set[str] = set()
    for group in groups or ("member", "plate"):
        start = f"{body}.{group}."
        for path in force.below(f"{body}.{group}"):
            name = path.removeprefix(start).partition(".")[0]
            if name not in seen:
                seen.add(name)
                yield f"{start}{name}"


def first_part(force: Force) -> str:
    """Some part of the machine that others can be screwed to."""
    for body in force.places.bodies:
        for path in parts_of(force, body):
            return short(path)
    return force.places.bodies[0] if force.places.bodies else ""


def short(path: str) -> str:
    """A part of a body without the word of its collection."""
    body, _, rest = path.partition(".")
    return f"{body}.{rest.partition('.')[2]}" if rest.partition(".")[2] else path


def largest(force: Force, body: str) -> str:
    """The heaviest bar or plate of a body."""
    if force.machine is None:
        return first_part(force)
    solids = [solid for solid in force.machine.solids if solid.body == body and solid.kind in ("member", "plate")]
    solids.sort(key=lambda solid: -float(solid.mass or 0.0))
    return solids[0].path if solids else first_part(force)


def middle(force: Force, body: str) -> str:
    """The middle of the first part of a body that says where it is."""
    for path in parts_of(force, body):
        at = _value(force, f"{path}.at")
        if at is not None:
            return point(force, at)
        ends = _ends(force, path)
        if ends is not None:
            return point(force, [(a + b) / 2 for a, b in zip(*ends, strict=True)])
    return point(force, (0.0, 0.0, 0.0))


def bar(force: Force, body: str) -> dict[str, str]:
    """A bar half-way between two like ones of a body that lie side by side; of a body without such a pair, one of its own."""
    known = [(path, ends) for path in parts_of(force, body, "member") if (ends := _ends(force, path)) is not None]
    for (path, one), (_, other) in combinations(known, 2):
        shift = [b - a for a, b in zip(one[0], other[0], strict=True)]
        run = [b - a for a, b in zip(*one, strict=True)]
        if (
            abs(run[2]) < max(map(abs, run))
            and _like(one, other, shift)
            and not _held(known, [a + s / 2 for a, s in zip(one[0], shift, strict=True)])
        ):
            made = {
                name: point(force, [a + s / 2 for a, s in zip(end, shift, strict=True)])
                for name, end in zip(("from", "to"), one, strict=True)
            }
            section = force.machine.stated.get(f"{path}.section.part") if force.machine is not None else None
            return {**made, **({"section": str(section.value)} if section is not None else {})}
    inch = force.system == "inch"
    return {"from": "0, 0, 0 in" if inch else "0, 0, 0 mm", "to": "8, 0, 0 in" if inch else "200, 0, 0 mm"}


def foot(force: Force, body: str) -> dict[str, str]:
    """Half-way between two feet of a body, under its largest part."""
    known = [at for path in parts_of(force, body, "foot") if (at := _value(force, f"{path}.at")) is not None]
    if len(known) > 1:
        place = point(force, [(a + b) / 2 for a, b in zip(known[0], known[1], strict=True)])
    else:
        place = middle(force, body)
    return {"at": place, "on": largest(force, body)}


def between(force: Force, path: str, key: str) -> str:
    """A length half-way between the two least ones that a collection has."""
    found: set[float] = set()
    for name in force.below(path):
        value = force.machine.stated[name].value if force.machine is not None and name.endswith(f".{key}") else None
        if isinstance(value, float):
            found.add(value)
    first, *rest = sorted(found) or [0.0]
    return said((first + rest[0]) / 2 if rest else first + ASIDE, LENGTH, force.system)


def face(force: Force, path: str) -> str:
    """A face that holes of a part may be on: of a plate one square to it."""
    owner = path.rpartition(".")[0]
    normal = _value(force, f"{owner}.normal")
    if normal is None:
        return "top"
    return ("right", "back", "top")[max(range(3), key=lambda axis: abs(normal[axis]))]


def unnamed_pair(force: Force) -> tuple[str, str] | None:
    """Two parts that touch and whose joint has no name."""
    if force.machine is None:
        return None
    for joint in force.machine.joints:
        if not joint.path.startswith("joint."):
            return joint.a, joint.b
    return None


def half_the_work(force: Force) -> dict[str, str]:
    """A piece of half the largest one, in the middle."""
    if force.machine is None:
        return {}
    size = force.machine.purpose.work_area
    return {"size": said(tuple(part / 2 for part in size), SIZE, force.system), "at": point(force, (size[0] / 4, size[1] / 4, 0.0))}


def beside(force: Force) -> str:
    """Clear of the ground body, to its right."""
    if force.machine is None:
        return point(force, (1.0, 0.0, 0.0))
    ground = force.machine.links[0].body
    ends = [
        abs(part)
        for path in parts_of(force, ground)
        for at in (_value(force, f"{path}.at"), *(_ends(force, path) or ()))
        if at
        for part in at[:1]
    ]
    return point(force, (max(ends, default=0.5) + 0.3, 0.0, -0.3))


def cable_chain(force: Force, axis: str) -> dict[str, str]:
    """A chain from the middle of what carries the axis to the middle of what it moves."""
    if force.machine is None:
        return {}
    link = next((link for link in force.machine.links if link.axis == axis), None)
    if link is None:
        return {}
    return {"on": largest(force, link.on), "fixed_at": middle(force, link.on), "moving_at": middle(force, link.body)}


def rails_apart(force: Force, axis: str) -> float:
    """Distance of the outer rails of an axis across it, m; 0 where it is not known."""
    if force.machine is None or axis not in table_of(force.raw("axis")):
        return 0.0
    centres = [solid.centre[0] for solid in force.machine.solids if solid.kind == "rail" and solid.path.startswith(f"axis.{axis}.")]
    return max(centres) - min(centres) if centres else 0.0


def _value(force: Force, path: str) -> Vector | None:
    found = force.machine.stated.get(path) if force.machine is not None else None
    return found.value if found is not None and isinstance(found.value, tuple) and len(found.value) == len("xyz") else None


def _ends(force: Force, path: str) -> tuple[Vector, Vector] | None:
    start, stop = _value(force, f"{path}.from"), _value(force, f"{path}.to")
    return (start, stop) if start is not None and stop is not None else None


def _like(one: tuple[Vector, Vector], other: tuple[Vector, Vector], shift: Sequence[float]) -> bool:
    """Whether the second bar is the first one moved, at its own height, by more than a hand."""
    same = all(abs(b - a - s) < 1e-6 for a, b, s in zip(one[1], other[1], shift, strict=True))
    return same and abs(shift[2]) < 1e-6 and max(map(abs, shift)) > 0.2


def _held(known: Sequence[tuple[str, tuple[Vector, Vector]]], start: Sequence[float]) -> bool:
    """Whether a bar starts there already."""
    return any(max(abs(a - b) for a, b in zip(ends[0], start, strict=True)) < 0.05 for _, ends in known)

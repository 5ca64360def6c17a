"""Bolts of a joint: their size, their places, and what they clamp."""

from functools import cache
from math import ceil, hypot, log

from gantrywright.base.errors import NotFound
from gantrywright.base.units import Pascal
from gantrywright.intake.placing.contacts import Contact
from gantrywright.intake.placing.touching import ROW
from gantrywright.intake.placing.world import World
from gantrywright.model.bodies import Member, Section, Solid
from gantrywright.model.frame import Vector, add, along, dot, scale, subtract

HEAD, HOLE = 1.6, 1.1
"""Diameter that a socket cap head presses on, and of its hole, over the nominal size; common practice, no source."""
USUAL = 0.008
"""Bolt of a joint of which the file tells no bolts, m; our choice."""
CORE_SHARE = 0.2
"""Screw in the core of a T-slot profile over the module: M8 in 40 mm; common practice, no source."""
SLOT_FLOOR = 0.25
"""What a screw clamps of a T-slot profile over the module: the floor of its slot; our choice."""
EDGE = 2.0
"""From bolt to edge over the nominal size; common practice, no source."""
NARROW, ROW_WIDTH = 0.050, 0.100
"""A face narrower than this takes one row of bolts; a long one, where they already stand in a row, even up to this: m; our choice."""

Grip = tuple[float, Pascal]
"""Clamped length, and the modulus of what is clamped."""


def nominal(world: World, thread: str) -> float:
    """Diameter of a thread by its name; that of the usual bolt where the name is empty or unknown."""
    if not thread:
        return USUAL
    try:
        return float(world.reading.catalog.find("thread", thread).cells["diameter"].value)
    except NotFound:
        return USUAL


def member_of(world: World, solid: Solid) -> Member | None:
    """The bar that a box stands for."""
    return world.bodies[solid.body].members.get(solid.path)


def modulus_of(world: World, solid: Solid) -> Pascal | None:
    """Elastic modulus of a part; None where it is unknown."""
    body = world.bodies[solid.body]
    part = (
        body.members.get(solid.path) or body.plates.get(solid.path) or next((s for s in body.sheets if s.path == solid.path), None)
    )
    return part.material.modulus if part is not None else None


@cache
def module_of(section: Section) -> float:
    """Module of a T-slot profile by the distance of its cores."""
    if len(section.cores) < 2:
        return min(section.width, section.height)
    first, *others = section.cores
    return min(hypot(x - first[0], y - first[1]) for x, y in others)


def wall_of(world: World, solid: Solid) -> float | None:
    """Thickness of the wall of a tube; None for anything else."""
    body = world.bodies[solid.body]
    member, table = body.members.get(solid.path), body.branches.get(solid.path)
    if member is None or table is None or member.section.shape != "tube":
        return None
    section = table.sub("section")
    return section.get("wall") if section is not None else None


def grip(world: World, contact: Contact, into: str, size: float) -> Grip | None:
    """What one screw clamps; None where a modulus is unknown.

    Args:
        world: For sections and materials.
        contact: The joint.
        into: What the screws go into.
        size: Their nominal size.
    """
    pieces = []
    for solid in contact.solids:
        modulus = modulus_of(world, solid)
        if solid.kind == "item":
            continue
        if modulus is None:
            return None
        thick = 2 * size if contact.by_end(solid) else thickness(world, solid, contact.normal)
        pieces.append((contact.by_end(solid), thick, modulus))
    through = [piece for piece in pieces if not piece[0]] or pieces
    if into in ("tapped", "insert") and len(through) > 1:
        through = [min(through, key=lambda piece: piece[1])]
    if not through:
        return None
    long = sum(thick for _, thick, _ in through)
    return long, long / sum(thick / modulus for _, thick, modulus in through)


def thickness(world: World, solid: Solid, normal: Vector) -> float:
    """Metal of a part that a screw along the normal goes through: of a tube its wall, of a T-slot profile the floor of its slot, m."""
    wall = wall_of(world, solid)
    if wall is not None:
        return wall
    member = member_of(world, solid)
    if member is not None and member.section.shape == "tslot":
        return SLOT_FLOOR * module_of(member.section)
    return sum(abs(dot(axis, normal)) * extent for axis, extent in zip(solid.axes, solid.size, strict=True))


# ---- places


def core_places(world: World, contact: Contact, count: int) -> tuple[Vector, ...]:
    """Cores of the profile whose end touches that lie in the contact, the outermost first; as many as there are bolts (0: all)."""
    for solid in contact.solids:
        member = member_of(world, solid)
        if member is None or not contact.by_end(solid):
            continue
        found = []
        for across, up in member.section.cores:
            offset = subtract(
                add(scale(member.width_axis, across), scale(member.height_axis, up)), subtract(contact.middle, solid.centre)
            )
            flat = (dot(offset, contact.frame[1]), dot(offset, contact.frame[2]))
            if abs(flat[0]) < contact.size[0] / 2 and abs(flat[1]) < contact.size[1] / 2:
                found.append(flat)
        found.sort(key=lambda flat: -(flat[0] ** 2 + flat[1] ** 2))
        return tuple(on_face(contact, flat) for flat in found[: count or None])
    return ()


def core_size(world: World, contact: Contact) -> float:
    """Nominal size of the usual screw in the cores of the profile whose end touches."""
    for solid in contact.solids:
        member = member_of(world, solid)
        if member is not None and contact.by_end(solid) and member.section.cores:
            return CORE_SHARE * module_of(member.section)
    return USUAL


def grid_places(contact: Contact, count: int, size: float) -> tuple[Vector, ...]:
    """A grid of bolts spread over the contact."""
    return tuple(on_face(contact, flat) for flat in grid(count, *contact.size, EDGE * size))


def on_face(contact: Contact, flat: tuple[float, float]) -> Vector:
    """A point of the face from its places along a and b."""
    _, a, b = contact.frame
    return along(along(contact.middle, a, flat[0]), b, flat[1])


def flat_place(contact: Contact, point: Vector) -> tuple[float, float]:
    """Places along a and b of a point."""
    offset = subtract(point, contact.middle)
    return dot(offset, contact.frame[1]), dot(offset, contact.frame[2])


@cache
def grid(count: int, long: float, wide: float, edge: float) -> tuple[tuple[float, float], ...]:
    """Places of a number of bolts on a rectangle; one too few for full rows leaves out the last."""
    best = min(range(1, count + 1), key=lambda rows: (_unevenness(count, rows, long, wide), -rows))
    lines = ceil(count / best)
    places = [(a, b) for a in _spread(best, long, edge) for b in _spread(lines, wide, edge)]
    return tuple(places[:count])


def _unevenness(count: int, rows: int, long: float, wide: float) -> float:
    lines = ceil(count / rows)
    thin = (rows == 1 and long > NARROW) or (lines == 1 and wide > NARROW)
    empty = rows * lines - count
    return round(abs(log(rows / lines * wide / long)) + empty + (2.0 if thin and count > 2 else 0.0), 9)


def _spread(count: int, extent: float, edge: float) -> list[float]:
    half = max(extent / 2 - edge, extent / 4)
    return [0.0] if count == 1 else [half * (2 * number / (count - 1) - 1) for number in range(count)]


def usual_count(extent: float, narrow: float) -> int:
    """Bolts in a row over an extent, where the file tells none: one over a narrow face, else two or as many as the usual pitch wants."""
    return 1 if extent < narrow else max(2, ceil(extent / ROW - 1e-9))

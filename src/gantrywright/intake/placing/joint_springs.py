"""How far a joint gives where the file does not say: estimated from its kind, its face and its bolts, for one of its points."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import inf

from gantrywright.base.units import Pascal
from gantrywright.intake.placing.contacts import Contact
from gantrywright.intake.placing.fasteners import (
    EDGE,
    HEAD,
    HOLE,
    NARROW,
    ROW_WIDTH,
    core_size,
    flat_place,
    grid,
    grip,
    member_of,
    module_of,
    modulus_of,
    nominal,
    usual_count,
    wall_of,
)
from gantrywright.intake.placing.world import World
from gantrywright.model.bodies import OUTSIDE, Solid
from gantrywright.model.frame import Vector, cross, dot, length, scale, subtract, unit
from gantrywright.theory.joint_stiffness import (
    FACE_SHARE,
    Springs,
    bolt_group,
    bonded_springs,
    bracket_springs,
    cone_stiffness,
    pressed_diameter,
    screwed_springs,
    seat_springs,
    springs_in_series,
)
from gantrywright.theory.tube_joints import beyond_range, known_range, open_end_share, turned_springs, wall_springs

NEAR_END = 0.9
"""An open end of a chord that leaves less than this of its wall is told."""
WIDER: float = 1.3
"""Factor by which a weld may be off where the branch is wider than its chord: how its side walls end is not known; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Making:
    """How a joint is made."""

    kind: str
    faces: str = "as-found"
    thread: str = ""
    bolts: int = 0
    """0: the file tells none."""
    into: str = "nut"
    brackets: int = 1
    points: int = 1
    """Points that share the contact, in a row along its longer extent."""
    places: tuple[Vector, ...] = ()
    """Of its bolts; one of each point where there are as many."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """Springs of one point of a joint, and in words what they were taken for."""

    springs: Springs | None
    """None where the modulus of a material is unknown."""
    note: str
    beyond: float = 1.0
    """How far it lies outside what is known, as the factor by which it may be off on top of the band of its kind; 1: within it."""


def estimate(world: World, contact: Contact, made: Making) -> Estimate:
    """The springs of one point of a joint in its own frame."""
    if made.kind == "welded":
        return _welded(world, contact, made)
    size = _cell(contact, made.points)
    if made.kind == "glued":
        return _on_walls(world, contact, made, _bonded(round(size[0], 6), round(size[1], 6)), "glue line over the face")
    if made.kind == "screwed":
        return _screwed(contact, size, made)
    if made.kind == "bracket":
        return _bracket(world, contact, made)
    return _bolted(world, contact, made, size)


def _cell(contact: Contact, points: int) -> tuple[float, float]:
    """The part of the contact that one point stands for."""
    long, wide = contact.size
    return (long / points, wide) if long >= wide else (long, wide / points)


# ---- screws


def _bolted(world: World, contact: Contact, made: Making, size: tuple[float, float]) -> Estimate:
    thick = (
        nominal(world, made.thread)
        if made.thread
        else core_size(world, contact)
        if made.kind == "end-tapped"
        else nominal(world, "")
    )
    clamped = grip(world, contact, made.into, thick)
    if clamped is None:
        return Estimate(None, "modulus of what the screws clamp is unknown")
    places, share = _places_of_a_point(contact, made, size, thick)
    faces = made.kind if made.kind in FACE_SHARE else made.faces
    group = _group(round(clamped[0], 7), places, thick, FACE_SHARE[faces])
    words = (
        f"{made.bolts or len(places) * made.points} screws of {thick * 1e3:.3g} mm through {clamped[0] * 1e3:.3g} mm, faces {faces}"
    )
    if not made.bolts:
        words += " (the file tells no bolts: what is usual was taken)"
    return _on_walls(world, contact, made, _scaled(group, clamped[1] * share), words)


def _places_of_a_point(
    contact: Contact, made: Making, size: tuple[float, float], thick: float
) -> tuple[tuple[tuple[float, float], ...], float]:
    """Places of the screws of one point from its middle, and a factor where they are not a whole number."""
    if made.points == 1 and made.places:
        return tuple(_rounded(flat_place(contact, place)) for place in made.places), 1.0
    if made.places and len(made.places) == made.points:
        return ((0.0, 0.0),), 1.0
    wanted = made.bolts / made.points if made.bolts else float(_usual(contact, made))
    count = max(round(wanted), 1)
    return grid(count, round(size[0], 6), round(size[1], 6), EDGE * thick), wanted / count


def _usual(contact: Contact, made: Making) -> int:
    """Screws of one point where the file tells none: of a row, those across it."""
    long, wide = contact.size
    if made.points > 1:
        return usual_count(min(long, wide), ROW_WIDTH)
    return usual_count(long, NARROW) * usual_count(wide, NARROW)


def _rounded(flat: tuple[float, float]) -> tuple[float, float]:
    return round(flat[0], 6) + 0.0, round(flat[1], 6) + 0.0


@cache
def _group(long: float, places: tuple[tuple[float, float], ...], thick: float, share: float) -> Springs:
    """Springs of a group of screws for a modulus of 1."""
    head, hole = HEAD * thick, HOLE * thick
    clamped = cone_stiffness(head_bearing=head, hole=hole, length=long, elastic_modulus=1.0)
    pressed = pressed_diameter(head_bearing=head, length=long)
    return _plain(bolt_group(clamped=clamped, places=places, pressed=pressed, hole=hole, share=share))


def _screwed(contact: Contact, size: tuple[float, float], made: Making) -> Estimate:
    count = made.bolts / made.points if made.bolts else float(_usual(contact, made))
    words = f"{round(count * made.points)} wood screws"
    found = _screws(round(count, 6), round(size[0], 6), round(size[1], 6))
    return Estimate(found, words if made.bolts else f"{words} (the file tells none: what is usual was taken)")


@cache
def _screws(count: float, long: float, wide: float) -> Springs:
    return _plain(screwed_springs(count=count, along_a=long, along_b=wide))


# ---- brackets and glue


def _bracket(world: World, contact: Contact, made: Making) -> Estimate:
    profiles = [member for solid in contact.solids if (member := member_of(world, solid)) is not None]
    slotted = next((member for member in profiles if member.section.shape == "tslot"), None)
    module = module_of(slotted.section) if slotted is not None else 0.040
    chord = next((solid for solid in contact.solids if not contact.by_end(solid)), contact.b)
    share = round(_squared_cosine(_in_face(contact, chord), contact.frame[1]), 6)
    found = _brackets(made.brackets, round(module, 6), share)
    return Estimate(_scaled(found, 1 / made.points), f"{made.brackets} x bracket with two slot nuts, {module * 1e3:.3g} mm module")


@cache
def _brackets(count: int, module: float, share: float) -> Springs:
    return _plain(bracket_springs(count=count, module=module, in_plane_about_b=share))


@cache
def _bonded(long: float, wide: float) -> Springs:
    return _plain(bonded_springs(along_a=long, along_b=wide))


# ---- welds


def _welded(world: World, contact: Contact, made: Making) -> Estimate:
    """Walls of the tubes that are touched on a side; where there are none, the metal round the foot."""
    walls = _walls(world, contact, made.points)
    if walls is None:
        return Estimate(None, "modulus of a tube is unknown")
    return _joined(walls) if walls else _seat(world, contact, made)


def _on_walls(world: World, contact: Contact, made: Making, springs: Springs, words: str) -> Estimate:
    """What holds the two together, in a row with the walls of the tubes that it is held to."""
    walls = _walls(world, contact, made.points)
    if walls is None:
        return Estimate(None, "modulus of a tube is unknown")
    return _joined([Estimate(springs, words), *walls])


def _joined(parts: Sequence[Estimate]) -> Estimate:
    springs = [part.springs for part in parts if part.springs is not None]
    return Estimate(
        springs_in_series(parts=springs) if len(springs) > 1 else springs[0],
        "; ".join(part.note for part in parts),
        max(part.beyond for part in parts),
    )


def _walls(world: World, contact: Contact, points: int) -> list[Estimate] | None:
    """Walls of the tubes that are touched on a side; None where a modulus is unknown."""
    found = []
    for solid in contact.solids:
        wall = wall_of(world, solid)
        if wall is None or contact.by_end(solid):
            continue
        modulus = modulus_of(world, solid)
        if modulus is None:
            return None
        other = contact.b if solid is contact.a else contact.a
        tube = other if points == 1 and contact.by_end(other) and wall_of(world, other) is not None else None
        found.append(_wall(world, contact, solid, tube, wall, modulus, points))
    return found


def _wall(
    world: World, contact: Contact, solid: Solid, branch: Solid | None, wall: float, modulus: Pascal, points: int
) -> Estimate:
    """Springs of a tube's wall in the frame of the joint; with the tube whose end stands on it, if one does."""
    chord = _in_face(contact, solid)
    side = cross(contact.normal, chord)
    width = _wide(solid, side)
    reach, across = contact.extent(chord), min(contact.extent(side), width)
    foot = max(_wide(branch, side), across) if branch is not None else across
    piece = reach / points / width if points > 1 else 1.0
    to_end = solid.size[0] / 2 - abs(dot(subtract(contact.middle, solid.centre), solid.axes[0])) if points == 1 else inf
    found = _wall_springs(
        round(width, 6), round(wall, 6), round(reach, 6), round(foot, 6), round(min(piece, 1.0), 6), round(to_end, 6),
        round(_squared_cosine(chord, contact.frame[1]), 6),
    )  # fmt: skip
    thin, beta = round(width / wall, 6), round(across / width, 6)
    said = [f"wall of {solid.path}, width over wall {thin:.3g}, branch over chord {foot / width:.2g}"]
    if open_end_share(to_end=max(to_end, 0.0), width=width, wall=wall) < NEAR_END:
        said.append(f"open end of it {world.said(to_end)} away")
    beyond = float(beyond_range(slenderness=thin, width_ratio=beta))
    if beyond > 1:
        said.append(_outside(thin, beta))
    if foot > width * (1 + 1e-6):
        said.append(f"branch wider than its chord, {OUTSIDE}: its side walls hang on those that cross it")
        beyond = max(beyond, WIDER)
    return Estimate(_scaled(found, modulus), ", ".join(said), beyond)


def _wide(solid: Solid, side: Vector) -> float:
    """Size of a bar's section along a direction."""
    return abs(dot(solid.axes[1], side)) * solid.size[1] + abs(dot(solid.axes[2], side)) * solid.size[2]


def _outside(thin: float, beta: float) -> str:
    """Where a joint lies against what is known."""
    (thickest, thinnest), (least, _) = known_range()
    told = []
    if not thickest <= thin <= thinnest:
        told.append(f"wall {OUTSIDE}, W/t {thin:.3g} against {thickest:.3g}..{thinnest:.3g}")
    if beta < least:
        told.append(f"branch {OUTSIDE}, {beta:.2g} of the chord's width against {least:.2g}..1")
    return ", ".join(told)


@cache
def _wall_springs(width: float, wall: float, reach: float, across: float, share: float, to_end: float, cosine: float) -> Springs:
    found = wall_springs(
        elastic_modulus=1.0, width=width, wall=wall, along=reach, across=across, share=share, to_end=max(to_end, 0.0)
    )
    return _plain(turned_springs(springs=found, share=cosine))


def _seat(world: World, contact: Contact, made: Making) -> Estimate:
    moduli = [modulus for solid in contact.solids if (modulus := modulus_of(world, solid)) is not None]
    if not moduli:
        return Estimate(None, "modulus of what is welded is unknown")
    size = _cell(contact, made.points)
    found = _seats(round(size[0], 6), round(size[1], 6))
    parts: Sequence[Springs] = [_scaled(found, modulus) for modulus in moduli]
    return Estimate(springs_in_series(parts=parts), "foot on thick metal")


@cache
def _seats(long: float, wide: float) -> Springs:
    return _plain(seat_springs(elastic_modulus=1.0, along_a=long, along_b=wide))


# ---- helpers


def _in_face(contact: Contact, solid: Solid) -> Vector:
    """Axis of a part laid into the face."""
    axis = solid.axes[0]
    flat = subtract(axis, scale(contact.normal, dot(axis, contact.normal)))
    return unit(flat) if length(flat) > 1e-6 else contact.frame[1]


def _squared_cosine(one: Vector, two: Vector) -> float:
    return dot(one, two) ** 2


def _scaled(springs: Springs, factor: Pascal) -> Springs:
    n, a, b, rn, ra, rb = springs
    return (n * factor, a * factor, b * factor, rn * factor, ra * factor, rb * factor)


def _plain(springs: Springs) -> Springs:
    return tuple(float(spring) for spring in springs)  # type: ignore[return-value]

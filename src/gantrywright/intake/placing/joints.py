"""Joints: those that are named, and those of parts that touch."""

from dataclasses import replace
from typing import Any

import numpy as np

from gantrywright.intake.geometry.frames import face_axes, left_over
from gantrywright.intake.placing.bolting import bolting
from gantrywright.intake.placing.contacts import Contact, contact_between, contact_of
from gantrywright.intake.placing.doubts import Doubts
from gantrywright.intake.placing.face_friction import face_friction
from gantrywright.intake.placing.fasteners import core_places, flat_place, grid_places, nominal, on_face
from gantrywright.intake.placing.holes import pattern_points, patterns
from gantrywright.intake.placing.joint_doubts import Factors, factors, shared_table
from gantrywright.intake.placing.joint_springs import Estimate, Making, estimate
from gantrywright.intake.placing.touching import ROW, SEAM, Patch, along_patch
from gantrywright.intake.placing.world import END, World
from gantrywright.intake.tree import Branch
from gantrywright.model.bodies import Bolting, Joint, JointStiffness, Member, Solid
from gantrywright.model.frame import Vector, add, along, scale, subtract, unit

SEAMS = ("welded", "glued", "bedded")
SPRINGS = ("n", "a", "b", "rn", "ra", "rb")
BOX = ("skin", "webs")
SCREWED = ("bolted", "end-tapped")
"""Kinds whose clamp force is known."""
WOOD_DENSITY = 1000.0
"""A material lighter than this is screwed, kg/m3; common practice, no source."""


def joint_of_patch(world: World, doubts: Doubts, patch: Patch, named: tuple[str, Branch] | None) -> Joint:
    """The joint of two parts that touch."""
    a, b = patch.a, patch.b
    branch = named[1] if named is not None else None if _of_one_box(a, b) else _manner(world, a, b)
    kind = str((branch.get("kind") if branch is not None else None) or usual_kind(world, a, b))
    contact = contact_of(patch)
    holes = _through_holes(world, branch, patch)
    row = (contact.middle,) if contact.is_end else along_patch(patch, SEAM if kind in SEAMS else ROW)
    path = named[0] if named is not None else " + ".join(sorted((a.path, b.path)))
    return _joint(world, doubts, path, contact, kind, holes or row, branch, own=named is not None, holes=holes)


def joint_by_name(world: World, doubts: Doubts, path: str, branch: Branch) -> Joint:
    """A named joint of two parts that do not share a face square to the machine."""
    first, second = (str(word) for word in branch["between"])
    a, b = world.solid_named(first, f"{branch.path}.between"), world.solid_named(second, f"{branch.path}.between")
    at = _end_of(world, a, first) or _end_of(world, b, second)
    contact = contact_between(_in_ground(world, a), _in_ground(world, b), at)
    kind = str(branch.get("kind") or usual_kind(world, a, b))
    return _joint(world, doubts, path, contact, kind, (contact.middle,), branch, own=True)


def _joint(
    world: World, doubts: Doubts, path: str, contact: Contact, kind: str, points: tuple[Vector, ...], branch: Branch | None, *, own: bool,
    holes: tuple[Vector, ...] = (),
) -> Joint:  # fmt: skip
    bolts = branch.sub("bolts") if branch is not None else None
    count = len(holes) or (int(bolts.get("count") or 0) if bolts is not None else 0)
    thread = str(bolts.get("thread") or "") if bolts is not None else ""
    places = holes or _bolt_places(world, contact, kind, bolts, count, branch if own else None)
    made = Making(
        kind, faces=str(_of(branch, "faces", "as-found")), thread=thread, bolts=count, points=len(points), places=places,
        into=str(bolts.get("into") or "nut") if bolts is not None else "nut", brackets=int(_of(branch, "count", 1)),
    )  # fmt: skip
    friction = _of(branch, "friction", None)
    if count and kind != "none":
        wood = any(_is_wood(world, solid) for solid in contact.solids)
        table = shared_table(world, kind, contact.solids)
        friction = face_friction(doubts, table, kind=kind, faces=made.faces, wood=wood, own=branch)
    if kind == "none":
        found, shared = Estimate(None, ""), Factors(1.0, 0.0)
    else:
        found = estimate(world, contact, made)
        shared = factors(world, doubts, kind, branch, contact.solids, beyond=found.beyond)
    return Joint(
        path=path, a=contact.a.path, b=contact.b.path, kind=kind, points=points, normal=contact.normal, bolts=count, thread=thread,
        faces=made.faces, friction=friction, times=shared.times, count=made.brackets,
        stiffness=_stiffness(branch, found, shared), bolt_class=str(bolts.get("class") or "8.8") if bolts is not None else "8.8",
        frame=contact.frame, patch=contact.patch, bolt_points=places if count else (), loss=shared.loss, note=found.note,
        bolting=bolting(world, doubts, contact, kind, bolts, nominal(world, thread)) if count and kind in SCREWED else Bolting(),
    )  # fmt: skip


def _stiffness(branch: Branch | None, found: Estimate, shared: Factors) -> JointStiffness:
    """Springs of the file where it gives them, else those of the estimate."""
    given = branch.sub("stiffness") if branch is not None else None
    springs = dict.fromkeys(SPRINGS) if found.springs is None else dict(zip(SPRINGS, found.springs, strict=True))
    values = {}
    for name, spring in springs.items():
        written = given.get(name) if given is not None else None
        values[name] = written if written is not None else spring * shared.times * shared.stray if spring is not None else None
    return JointStiffness(**values)


def _in_ground(world: World, solid: Solid) -> Solid:
    return replace(solid, centre=world.in_ground(solid.body, solid.centre))


def _of(branch: Branch | None, key: str, usual: Any) -> Any:
    found = branch.get(key) if branch is not None else None
    return usual if found is None else found


def _manner(world: World, a: Solid, b: Solid) -> Branch | None:
    """How a joint is made that nobody names: of the parts, of the top, of the body."""
    for solid in (a, b):
        own = world.bodies[solid.body].branches.get(solid.path)
        manner = own.sub("joint") if own is not None else None
        if manner is not None:
            return manner
    for solid in (a, b):
        if solid.kind == "layer":
            top = world.bodies[solid.body].branch.sub("top")
            return top.sub("joint") if top is not None else None
    if a.body == b.body:
        return world.bodies[a.body].branch.sub("joint")
    return None


def usual_kind(world: World, a: Solid, b: Solid) -> str:
    """Kind of joint by the pair."""
    if _of_one_box(a, b):
        return "glued"
    members = [world.bodies[solid.body].members.get(solid.path) for solid in (a, b)]
    shapes = [member.section.shape if member is not None else "" for member in members]
    if any(_is_wood(world, solid) for solid in (a, b)):
        return "screwed"
    if shapes == ["tube", "tube"]:
        return "welded"
    if shapes == ["tslot", "tslot"]:
        return "bracket"
    if sorted(solid.kind for solid in (a, b)) == ["member", "plate"]:
        return "end-tapped"
    return "bolted"


def _of_one_box(a: Solid, b: Solid) -> bool:
    """Whether both are sheets of one torsion box, which is glued however it is held down."""
    return a.kind == b.kind == "layer" and all(solid.path.rpartition(".")[2].startswith(BOX) for solid in (a, b))


def _is_wood(world: World, solid: Solid) -> bool:
    body = world.bodies[solid.body]
    if solid.kind == "layer":
        return True
    part = body.members.get(solid.path) or body.plates.get(solid.path)
    density = part.material.density if part is not None else None
    return density is not None and float(np.mean(density)) < WOOD_DENSITY


def _through_holes(world: World, branch: Branch | None, patch: Patch) -> tuple[Vector, ...]:
    """Places of the bolts where existing holes are named."""
    bolts = branch.sub("bolts") if branch is not None else None
    reference = str(bolts.get("use") or "") if bolts is not None else ""
    if bolts is None or not reference:
        return ()
    part, _, name = reference.partition(".holes.")
    solid = world.solid_named(part, f"{bolts.path}.use")
    member = world.bodies[solid.body].members.get(solid.path)
    table = world.bodies[solid.body].branches.get(solid.path)
    if member is None or table is None:
        return ()
    holes = next((pattern for pattern in patterns(table, world.problem) if pattern.name == name), None)
    if holes is None:
        raise world.problem(f"{bolts.path}.use", f"{solid.path} has no holes '{name}'")
    every = max(int(bolts.get("every") or 1), 1)
    line = bar_points(member, tuple(along for along, _ in holes.points[::every]))
    found = []
    for point in line:
        ground = world.in_ground(solid.body, point)
        flat = [patch.middle[k] if patch.size[k] < 1e-9 else ground[k] for k in range(3)]
        if all(abs(flat[k] - patch.middle[k]) <= patch.size[k] / 2 + 1e-6 for k in range(3)):
            found.append((flat[0], flat[1], flat[2]))
    return tuple(found)


def _bolt_places(
    world: World, contact: Contact, kind: str, bolts: Branch | None, count: int, named: Branch | None
) -> tuple[Vector, ...]:
    """Places of the bolts: a pattern, the cores of the profile whose end touches, else a grid in the contact.

    Cores are taken even where the file tells no bolts: where else could an end be tapped.
    """
    pattern = bolts.sub("pattern") if bolts is not None else None
    if pattern is not None and named is not None:
        return _pattern_places(world, contact, pattern, str(named["between"][0]))
    if kind == "end-tapped":
        cores = core_places(world, contact, count)
        if cores and len(cores) >= count:
            return cores
    return grid_places(contact, count, nominal(world, str(bolts["thread"]))) if bolts is not None and count else ()


def _pattern_places(world: World, contact: Contact, pattern: Branch, part: str) -> tuple[Vector, ...]:
    """A pattern on a face of the first of the two parts, laid onto the face that they share."""
    solid = world.solid_named(part, f"{pattern.path}.face")
    side = world.face(solid, pattern.get("face"), f"{pattern.path}.face")
    if solid.kind == "member":
        x = solid.axes[0]
        first, second, start = x, left_over(x, side.normal), along(side.middle, x, -solid.size[0] / 2)
    else:
        (first, second), start = face_axes(side.normal), side.middle
    origin = world.in_ground(solid.body, start)
    return tuple(
        on_face(contact, flat_place(contact, add(origin, add(scale(first, one), scale(second, two)))))
        for one, two in pattern_points(pattern, world.problem)
    )


def bar_points(member: Member, distances: tuple[float, ...]) -> tuple[Vector, ...]:
    """Points on a bar's axis at distances from its ``from`` end, in its own measures."""
    x = unit(subtract(member.stop, member.start))
    return tuple(along(member.start, x, distance) for distance in distances)


def _end_of(world: World, solid: Solid, reference: str) -> Vector | None:
    """The end of a bar that a reference names after @, in the measures of the ground body."""
    found = END.search(reference)
    member = world.bodies[solid.body].members.get(solid.path)
    if found is None or member is None:
        return None
    word = found.group(1)
    if word in ("from", "to"):
        end = member.start if word == "from" else member.stop
    else:
        wanted = {"left": (0, -1), "right": (0, 1), "front": (1, -1), "back": (1, 1), "bottom": (2, -1), "top": (2, 1)}[word]
        end = max((member.start, member.stop), key=lambda point: point[wanted[0]] * wanted[1])
    return world.in_ground(solid.body, end)

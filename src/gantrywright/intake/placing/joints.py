"""Joints: those that are named, and those of parts that touch."""

from typing import Any

import numpy as np

from gantrywright.intake.placing.holes import patterns
from gantrywright.intake.placing.touching import Patch, along_patch
from gantrywright.intake.placing.world import END, World
from gantrywright.intake.tree import Branch
from gantrywright.model.bodies import Joint, JointStiffness, Member, Solid
from gantrywright.model.frame import Vector, along, dot, middle, subtract, unit

ROW, SEAM = 0.150, 0.050
"""Points of a long joint: bolted every 150 mm, welded or glued every 50 mm; our choice."""
SEAMS = ("welded", "glued", "bedded")
WOOD_DENSITY = 1000.0
"""A material lighter than this is screwed, kg/m3; common practice, no source."""


def joint_of_patch(world: World, patch: Patch, named: tuple[str, Branch] | None) -> Joint:
    """The joint of two parts that touch."""
    a, b = patch.a, patch.b
    branch = named[1] if named is not None else _manner(world, a, b)
    kind = (branch.get("kind") if branch is not None else None) or usual_kind(world, a, b)
    points = _bolt_points(world, branch, patch) or along_patch(patch, SEAM if kind in SEAMS else ROW)
    path = named[0] if named is not None else " + ".join(sorted((a.path, b.path)))
    return _joint(path, a.path, b.path, str(kind), points, patch.normal, branch)


def joint_by_name(world: World, path: str, branch: Branch) -> Joint:
    """A named joint of two parts that do not share a face square to the machine."""
    first, second = (str(word) for word in branch["between"])
    a, b = world.solid_named(first, f"{branch.path}.between"), world.solid_named(second, f"{branch.path}.between")
    at = _end_of(world, a, first) or _end_of(world, b, second) or _nearest(world, a, b)
    away = subtract(world.in_ground(b.body, b.centre), at)
    normal = unit(away) if dot(away, away) > 1e-12 else (0.0, 0.0, 1.0)
    return _joint(path, a.path, b.path, str(branch.get("kind") or usual_kind(world, a, b)), (at,), normal, branch)


def _joint(path: str, a: str, b: str, kind: str, points: tuple[Vector, ...], normal: Vector, branch: Branch | None) -> Joint:
    bolts = branch.sub("bolts") if branch is not None else None
    springs = branch.sub("stiffness") if branch is not None else None
    return Joint(
        path=path, a=a, b=b, kind=kind, points=points, normal=normal, bolts=int(bolts.get("count") or 0) if bolts is not None else 0,
        thread=str(bolts.get("thread") or "") if bolts is not None else "", faces=str(_of(branch, "faces", "as-found")),
        friction=_of(branch, "friction", None), times=_of(branch, "times", 1.0), count=int(_of(branch, "count", 1)),
        stiffness=JointStiffness(**{key: springs.get(key) for key in ("n", "a", "b", "rn", "ra", "rb")}) if springs else JointStiffness(),
        bolt_class=str(bolts.get("class") or "8.8") if bolts is not None else "8.8",
    )  # fmt: skip


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


def _is_wood(world: World, solid: Solid) -> bool:
    body = world.bodies[solid.body]
    if solid.kind == "layer":
        return True
    part = body.members.get(solid.path) or body.plates.get(solid.path)
    density = part.material.density if part is not None else None
    return density is not None and float(np.mean(density)) < WOOD_DENSITY


def _bolt_points(world: World, branch: Branch | None, patch: Patch) -> tuple[Vector, ...]:
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


def _nearest(world: World, a: Solid, b: Solid) -> Vector:
    """Between the middles of two parts that share no face."""
    return middle(world.in_ground(a.body, a.centre), world.in_ground(b.body, b.centre))

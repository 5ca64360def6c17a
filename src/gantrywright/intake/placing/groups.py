"""Joints of every rigid group, and what looks wrong in it."""

import itertools
from collections.abc import Iterator
from dataclasses import replace

from gantrywright.intake.placing.doubts import Doubts
from gantrywright.intake.placing.joints import joint_by_name, joint_of_patch
from gantrywright.intake.placing.touching import Patch, is_square, pieces, touching
from gantrywright.intake.placing.world import Unplaced, World
from gantrywright.intake.tree import Branch
from gantrywright.model.bodies import Joint, Solid
from gantrywright.model.frame import add

PARTS = ("member", "plate", "layer", "item")
"""Kinds of solids that are joined where they touch."""


def joined(world: World, named: list[tuple[str, Branch]], doubts: Doubts) -> list[Joint]:
    """All joints, in the measures of the ground body.

    Args:
        world: Takes what looks wrong.
        named: Named joints by path.
        doubts: Takes what their stiffness is uncertain by.
    """
    by_pair = _by_pair(world, named)
    found: list[Joint] = []
    patched: set[frozenset[str]] = set()
    for group in rigid_groups(world):
        solids = [_in_ground(world, solid) for name in group for solid in world.bodies[name].solids.values() if solid.kind in PARTS]
        patches, overlaps = touching(solids)
        for a, b, depth in overlaps:
            world.stray.append((a.path, f"goes {world.said(depth)} into {b.path}"))
        for patch in patches:
            pair = frozenset((patch.a.path, patch.b.path))
            joint = _of_patch(world, doubts, patch, by_pair.get(pair))
            if joint is not None and pair not in patched:
                patched.add(pair)
                found.append(joint)
    for pair, (path, branch) in by_pair.items():
        if pair not in patched:
            try:
                found.append(joint_by_name(world, doubts, path, branch))
            except Unplaced:
                world.unplaced.append(branch.path)
    _loose_parts(world, found)
    return [joint for joint in found if joint.kind != "none"]


def rigid_groups(world: World) -> list[list[str]]:
    """Bodies that are bolted together."""
    groups: dict[str, list[str]] = {}
    leader: dict[str, str] = {}
    for link in world.links:
        if link.body not in world.bodies:
            continue
        leader[link.body] = leader[link.on] if link.on in leader and not link.axis else link.body
        groups.setdefault(leader[link.body], []).append(link.body)
    return list(groups.values())


def _in_ground(world: World, solid: Solid) -> Solid:
    return replace(solid, centre=add(solid.centre, world.bodies[solid.body].origin))


def _by_pair(world: World, named: list[tuple[str, Branch]]) -> dict[frozenset[str], tuple[str, Branch]]:
    found: dict[frozenset[str], tuple[str, Branch]] = {}
    for path, branch in named:
        between = branch.get("between") or ()
        if len(between) != 2:
            world.problem(f"{branch.path}.between", f"names {len(between)} parts; a joint is between two")
            continue
        try:
            pair = frozenset(world.solid_named(str(word), f"{branch.path}.between").path for word in between)
        except Unplaced:
            world.unplaced.append(branch.path)
            continue
        if pair in found:
            world.problem(branch.path, f"joins the same two parts as {found[pair][0]}; keep one of the two")
        found[pair] = (path, branch)
    return found


def _of_patch(world: World, doubts: Doubts, patch: Patch, named: tuple[str, Branch] | None) -> Joint | None:
    if named is None and all(solid.kind == "item" for solid in (patch.a, patch.b)):
        return None
    try:
        return joint_of_patch(world, doubts, patch, named)
    except Unplaced:
        world.unplaced.append(patch.a.path)
        return None


def _loose_parts(world: World, joints: list[Joint]) -> None:
    """Parts that hang on nothing else of their rigid group."""
    pairs = [(joint.a, joint.b) for joint in joints]
    for group in rigid_groups(world):
        solids = [s for name in group for s in world.bodies[name].solids.values() if s.kind in ("member", "plate", "layer")]
        for path in _apart(solids, [*pairs, *_through_guides(world, group)]):
            world.stray.append((path, "touches nothing of its body; join it by name in [joint], or move it" + _slant(solids, path)))


def _apart(solids: list[Solid], pairs: list[tuple[str, str]]) -> Iterator[str]:
    found = pieces([solid.path for solid in solids], pairs)
    for piece in found[1:]:
        yield min(piece)


def _through_guides(world: World, group: list[str]) -> Iterator[tuple[str, str]]:
    """Parts that only the blocks of one guide hold together count as one piece."""
    for axis in world.axes.values():
        held = [block.on for block in axis.blocks if block.body in group and block.on]
        yield from itertools.pairwise(held)


def _slant(solids: list[Solid], path: str) -> str:
    solid = next(solid for solid in solids if solid.path == path)
    return "" if is_square(solid) else " (a slanted part is joined by name only)"

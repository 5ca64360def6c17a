"""References that place nothing but must still lead somewhere: seats, grips, holes to be met, ends of cables, what was measured."""

from collections.abc import Iterator, Sequence

from gantrywright.base.names import nearest_sentence
from gantrywright.intake.grammar import ROOT
from gantrywright.intake.placing.world import Unplaced, World
from gantrywright.intake.tree import Branch


def check_axis(world: World, axis: Branch) -> None:
    """Tell every reference of an axis that leads nowhere."""
    for where, reference in _parts(axis):
        try:
            world.solids_named(reference, where)
        except Unplaced:
            world.unplaced.append(where)
    for where, reference in _holes(axis):
        _check_holes(world, where, reference)


THINGS = ("tool", "work", "cabinet", "spindle", "controller")
"""Things that a file has without a name of their own."""


def check_loose(world: World, axes: Sequence[Branch]) -> None:
    """Tell every reference of a cable, a measurement, a lump or a counterweight that leads nowhere.

    Args:
        world: The bodies, all placed.
        axes: Tables of the axes that could be placed.
    """
    for where, reference in (*_loose(world), *_counterweights(axes)):
        first, _, rest = reference.partition(".")
        known = [link.body for link in world.links]
        if first in known:
            if rest and first in world.bodies:
                _try(world, reference, where)
        elif first == "axis":
            _check_in_axis(world, where, reference)
        elif reference not in THINGS and (first not in ROOT.sub_map or world.reading.branch(first) is None):
            world.problem(where, f"nothing is called '{reference}'{nearest_sentence(first, [*known, *THINGS, 'axis'])}")

    spindle = world.reading.branch("spindle")
    mount = spindle.sub("mount") if spindle is not None else None
    bolts = mount.sub("bolts") if mount is not None else None
    if bolts is not None and bolts.get("use"):
        _check_holes(world, f"{bolts.path}.use", str(bolts["use"]))


def _loose(world: World) -> Iterator[tuple[str, str]]:
    for group, keys in (("measured", ("of", "between")), ("cable", ("from", "to"))):
        found = world.reading.branch(group)
        for branch in found.branches.values() if found is not None else ():
            for key in keys:
                named = branch.get(key) or ()
                for reference in (named,) if isinstance(named, str) else named:
                    yield f"{branch.path}.{key}", str(reference)
    for body in world.bodies.values():
        for _, branch in body.branch.children("item"):
            if branch.get("on"):
                yield f"{branch.path}.on", str(branch["on"])


def _counterweights(axes: Sequence[Branch]) -> Iterator[tuple[str, str]]:
    for axis in axes:
        weight = axis.sub("counterweight")
        if weight is not None and weight.get("on"):
            yield f"{weight.path}.on", str(weight["on"])


def _try(world: World, reference: str, where: str) -> None:
    try:
        world.solids_named(reference, where)
    except Unplaced:
        world.unplaced.append(where)


def _check_in_axis(world: World, where: str, reference: str) -> None:
    """A reference to an axis, or to a rail, block or drive of it."""
    _, name, *rest = [*reference.split("."), ""]
    axes = [link.axis for link in world.links if link.axis]
    if name not in axes:
        world.problem(where, f"no axis '{name}'{nearest_sentence(name, axes)}; axes are {', '.join(axes)}")
        return
    axis = world.axes.get(name)
    if axis is None:  # it could not be placed: told already
        return
    known = [*(rail.path for rail in axis.rails), *(block.path for block in axis.blocks), *(drive.path for drive in axis.drives)]
    if len(rest) > 1 and rest[0] in ("rail", "block", "drive") and ".".join(["axis", name, *rest[:2]]) not in known:
        world.problem(where, f"nothing is called '{reference}'{nearest_sentence(reference, known)}")


def _parts(axis: Branch) -> Iterator[tuple[str, str]]:
    for _, drive in axis.children("drive"):
        if drive.get("grip_on"):
            yield f"{drive.path}.grip_on", str(drive["grip_on"])
        for seat in drive.get("seats") or ():
            yield f"{drive.path}.seats", str(seat)


def _holes(axis: Branch) -> Iterator[tuple[str, str]]:
    tables = [branch for _, branch in axis.children("rail")]
    blocks = axis.sub("blocks")
    for table in [*tables, blocks] if blocks is not None else tables:
        fix = table.sub("fix")
        if fix is not None and fix.get("holes"):
            yield f"{fix.path}.holes", str(fix["holes"])


def _check_holes(world: World, where: str, reference: str) -> None:
    part, found, name = reference.partition(".holes.")
    if not found:
        world.problem(where, f"'{reference}' names no holes; write PART.holes.NAME")
        return
    try:
        solid = world.solid_named(part, where)
    except Unplaced:
        world.unplaced.append(where)
        return
    branch = world.bodies[solid.body].branches.get(solid.path)
    known = [name for name, _ in branch.children("holes")] if branch is not None else []
    if name not in known:
        world.problem(where, f"{solid.path} has no holes '{name}'{nearest_sentence(name, known)}")

"""References that place nothing but must still lead somewhere: seats, grips, holes to be met."""

from collections.abc import Iterator

from gantrywright.base.names import nearest_sentence
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

"""What a change weighs and costs more: the machine before it against the machine after it."""

from gantrywright.base.samples import typical
from gantrywright.model.bodies import Solid
from gantrywright.model.machine import Machine

MOVED = ("spacing", "across", "stick_out")
"""Keys whose change buys nothing: a part is set in another place."""
WEIGHS = ("size", "section", "fill", "wall", "thickness", "height", "part")
"""Keys whose change cannot leave the mass as it is, unless a body was weighed whole and its parts are not known one by one."""
SAME = 1e-6
"""Masses closer than this part of each other, or this much, kg, are one."""


def masses(before: Machine, after: Machine, edits: tuple[tuple[str, str], ...]) -> tuple[float | None, float | None]:
    """More mass, whole and moving; None where the mass of what changes is not known."""
    unknown = {solid.path for solid in before.solids if solid.mass is None} ^ {
        solid.path for solid in after.solids if solid.mass is None
    }
    if unknown:
        return None, None
    whole = _mass(after, _bodies(after)) - _mass(before, _bodies(before))
    moving = _mass(after, _moving(after)) - _mass(before, _moving(before))
    if abs(whole) < SAME and any(path.rpartition(".")[2] in WEIGHS for path, _ in edits):
        return None, None
    return _clean(whole), _clean(moving)


def _mass(machine: Machine, bodies: frozenset[str]) -> float:
    return sum(typical(solid.mass) for solid in machine.solids if solid.mass is not None and solid.body in bodies)


def _clean(mass: float) -> float:
    return 0.0 if abs(mass) < SAME else mass


def _bodies(machine: Machine) -> frozenset[str]:
    return frozenset(body.name for body in machine.bodies)


def _moving(machine: Machine) -> frozenset[str]:
    return frozenset(name for axis in machine.axes for name in machine.above(axis.moving))


def cost_of(before: Machine, after: Machine, edits: tuple[tuple[str, str], ...]) -> tuple[float | None, bool]:
    """What a change costs, and whether that is an estimate.

    A part that is replaced costs its new price, less the old one where it is not had yet. A written price is that of the old part: the
    new one is taken to cost as much a kilogram. What is owned, filled or treated has no such price: unknown.
    """
    keys = {path.rpartition(".")[2] for path, _ in edits}
    if keys <= set(MOVED):
        return 0.0, False
    if "fill" in keys:
        return None, False
    old = {solid.path: solid for solid in before.solids}
    total, estimated, replaced = 0.0, False, False
    for solid in after.solids:
        known = old.get(solid.path)
        if known is not None and _alike(known, solid):
            continue
        replaced = True
        if known is not None and _comes_with(solid.path, old, after):
            continue
        price = _price(known, solid)
        if price is None:
            return None, False
        total += price
        estimated = estimated or price != 0
    return (total, estimated) if replaced else (None, False)


def _comes_with(path: str, old: dict[str, Solid], after: Machine) -> bool:
    """Whether it is priced as one with a part that is replaced too: the nut with its screw."""
    new = {solid.path: solid for solid in after.solids}
    above = path.rpartition(".")[0]
    while above:
        if above in old and above in new and old[above].use.price is not None:
            return not _alike(old[above], new[above])
        above = above.rpartition(".")[0]
    return False


def _alike(old: Solid, new: Solid) -> bool:
    """Whether it is the same piece."""
    if old.use.part != new.use.part:
        return False
    if old.mass is None or new.mass is None:
        return old.mass is new.mass
    return abs(typical(new.mass) - typical(old.mass)) <= SAME * abs(typical(old.mass))


def _price(old: Solid | None, new: Solid) -> float | None:
    """What one changed part costs."""
    if old is None:
        return None if new.use.owned or new.use.price is None else typical(new.use.price)
    if old.use.part == new.use.part and old.mass is not None and new.mass is not None and typical(new.mass) < typical(old.mass):
        return 0.0  # the same, cut shorter
    if old.use.price is None or new.use.price is None or not old.mass or not new.mass:
        return None
    was, written = typical(old.use.price), typical(new.use.price)
    if written == was and typical(new.mass) <= typical(old.mass):
        return None  # another part of no more mass: its price is not told by mass
    price = written if written != was else was * typical(new.mass) / typical(old.mass)
    had = old.use.owned or old.use.state != "idea"
    return price if had else price - was

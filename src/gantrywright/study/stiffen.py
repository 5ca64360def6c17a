"""Stiffen this first: every buildable change is tried on the structure, with what it gains, weighs and costs.

A change is tried at the place where the machine is softest (along an axis: where it is softest along that axis), and again there: that
another place may then be the softest is not looked at.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from gantrywright.base.errors import GantrywrightError
from gantrywright.base.samples import typical
from gantrywright.disciplines.structure.analyse import tip_at
from gantrywright.disciplines.structure.change_places import Proposal
from gantrywright.disciplines.structure.changes import proposals
from gantrywright.disciplines.structure.loose import loose_part
from gantrywright.findings import Change
from gantrywright.model.bodies import Solid
from gantrywright.model.machine import Machine
from gantrywright.results.structure import LETTERS, Tip
from gantrywright.study.remedies import done_already
from gantrywright.study.softest import softest_along
from gantrywright.study.study import Again, Study
from gantrywright.theory.frames.groups import LooseGroup
from gantrywright.theory.frames.solver import Unheld

MOVED = ("spacing", "across", "stick_out")
"""Keys whose change buys nothing: a part is set in another place."""
WEIGHS = ("size", "section", "fill", "wall", "thickness", "height", "part")
"""Keys whose change cannot leave the mass as it is, unless a body was weighed whole and its parts are not known one by one."""
SAME = 1e-6
"""Masses closer than this part of each other, or this much, kg, are one."""
STEPS = 3
"""Changes that are put together at most."""
TRIED = 6
"""Of the changes that gain most, so many are tried at each step of putting together."""
WORTH = 0.005
"""A change that takes less than this part of the give is not worth being put together with others."""


@dataclass(frozen=True, slots=True)
class Gain:
    """What a change, or several together, brings."""

    words: str
    edits: tuple[tuple[str, str], ...]
    groups: tuple[str, ...]
    """Parts that it is about, as in the shares."""
    share: float
    """What these hold of the give now. A change of parts that all of the load runs through, and that moves nothing, gains no more."""
    stiffness: tuple[float, float, float]
    """Along X, Y, Z after it, N/m."""
    least: float
    """In the softest direction after it, N/m."""
    gain: float
    """Part of the give in the asked direction that it takes away; negative makes it worse."""
    mass: float | None
    """More mass of the whole machine, kg; None is unknown."""
    moving: float | None
    """Part of that on what moves."""
    cost: float | None
    """In the machine's currency; None is unknown."""
    estimated: bool
    """The cost is taken to grow with the mass of the part."""
    notes: tuple[str, ...]

    @property
    def per_kilogram(self) -> float | None:
        """Gain per more mass; None where it adds none."""
        return self.gain / self.mass if self.mass is not None and self.mass > 0 else None

    @property
    def per_money(self) -> float | None:
        """Gain per money; None where it costs nothing or the cost is unknown."""
        return self.gain / self.cost if self.cost is not None and self.cost > 0 else None


@dataclass(frozen=True, slots=True)
class Refused:
    """A change that cannot be made like this."""

    words: str
    reason: str
    share: float
    """What the parts that it is about hold of the give: what such a change may win at most."""


@dataclass(frozen=True, slots=True)
class Stiffening:
    """What can be done about the give."""

    along: str
    """x, y, z; empty for the softest direction."""
    before: Tip
    gains: tuple[Gain, ...]
    """Most gain first."""
    refused: tuple[Refused, ...]
    """Those that hold most of the give first."""
    together: Gain | None
    """The best of the first changes put together step by step; None where no two are worth it."""

    def by(self, order: str) -> tuple[Gain, ...]:
        """Gains in another order: ``gain``, ``kilogram`` or ``money``; what costs or weighs nothing first, what is unknown last."""
        if order == "gain":
            return self.gains
        return tuple(sorted(self.gains, key=_rank_by_mass if order == "kilogram" else _rank_by_money))


def _rank_by_mass(gain: Gain) -> tuple[int, float]:
    if gain.mass is None or gain.gain <= 0:
        return (2, -gain.gain)
    return (0, -gain.gain) if gain.mass <= 0 else (1, -gain.gain / gain.mass)


def _rank_by_money(gain: Gain) -> tuple[int, float]:
    if gain.cost is None or gain.gain <= 0:
        return (2, -gain.gain)
    return (0, -gain.gain) if gain.cost <= 0 else (1, -gain.gain / gain.cost)


def stiffen(study: Study, again: Again, along: str = "") -> Stiffening | None:
    """Try every change at the softest place, or where the asked direction is softest.

    Args:
        study: Of typical values.
        again: Resolves the file again with edits.
        along: x, y or z: the direction that gains are counted in; empty for the softest one.

    Returns:
        None where the machine has no structure to look at.
    """
    before = _place(study, along)
    if before is None:
        return None
    trial = _Trial(study.machine, again, before, along)
    gains: list[Gain] = []
    refused: list[Refused] = []
    for proposal in proposals(study.machine, before):
        found = trial.one(proposal)
        if isinstance(found, Gain):
            gains.append(found)
        else:
            refused.append(found)
    gains.sort(key=lambda gain: -gain.gain)
    refused.sort(key=lambda each: -each.share)
    return Stiffening(along, before, tuple(gains), tuple(refused), trial.together(gains))


def _place(study: Study, along: str) -> Tip | None:
    """The tip at the softest place of all, or at that of one direction."""
    found = study.results.structure
    if found.worst is None or not along:
        return found.worst
    soft = next((place for place in softest_along(found) if place.along == along), None)
    return found.worst if soft is None or soft.pose == found.worst.pose else tip_at(study.machine, soft.pose)


@dataclass(frozen=True, slots=True)
class _Trial:
    """One machine, at one place, in one direction."""

    machine: Machine
    again: Again
    before: Tip
    along: str

    def one(self, proposal: Proposal) -> Gain | Refused:
        """A change, or the first of the other ways to it that can be made; where none can, the first tells why."""
        first = self.of((proposal,))
        if isinstance(first, Gain):
            return first
        for change in proposal.otherwise:
            found = self.of((Proposal(change, proposal.groups),))
            if isinstance(found, Gain):
                return found
        return first

    def of(self, chosen: tuple[Proposal, ...]) -> Gain | Refused:
        """One change, or several together."""
        words = ", ".join(proposal.change.words for proposal in chosen)
        edits = tuple(dict(edit for proposal in chosen for edit in proposal.change.edits).items())
        groups = tuple(dict.fromkeys(group for proposal in chosen for group in proposal.groups))
        share = self._share(groups)
        found = self._tried(edits)
        if isinstance(found, str):
            return Refused(words, found, share)
        after, tip = found
        mass, moving = _masses(self.machine, after, edits)
        cost, estimated = _cost(self.machine, after, edits)
        stiffness = (typical(tip.stiffness[0]), typical(tip.stiffness[1]), typical(tip.stiffness[2]))
        notes = tuple(f"changes {place}, which is already {state}" for place, state in done_already(self.machine, edits))
        return Gain(
            words, edits, groups, share, stiffness, typical(tip.least), 1 - self._give(tip) / self._give(self.before),
            mass, moving, cost, estimated, notes,
        )  # fmt: skip

    def _tried(self, edits: tuple[tuple[str, str], ...]) -> tuple[Machine, Tip] | str:
        """The machine with some edits and its tip, or why there is none."""
        try:
            after = self.again({}, edits)
        except GantrywrightError as error:
            return str(error).splitlines()[0]
        trouble = _in_the_way(self.machine, after)
        if trouble:
            return trouble
        try:
            tip = tip_at(after, self.before.pose)
        except (Unheld, LooseGroup) as error:
            part = loose_part(after, self.before.pose) or getattr(error, "what", "a part")
            return f"{part} then hangs loose: none of its joints, blocks or drives resists one of its motions"
        return (after, tip) if tip is not None else "no structure is left"

    def together(self, gains: list[Gain]) -> Gain | None:
        """Put changes together step by step, each time the one that then gains most."""
        best: Gain | None = None
        chosen: tuple[Proposal, ...] = ()
        for _ in range(STEPS):
            taken = {path for proposal in chosen for path, _ in proposal.change.edits}
            parts = {group for proposal in chosen for group in proposal.groups}
            left = [g for g in gains if g.gain >= WORTH and not taken & {path for path, _ in g.edits} and not parts & set(g.groups)]
            tried = [((*chosen, _proposal(gain)), self.of((*chosen, _proposal(gain)))) for gain in left[:TRIED]]
            found = [(more, gain) for more, gain in tried if isinstance(gain, Gain)]
            if not found:
                break
            more, gain = max(found, key=lambda pair: pair[1].gain)
            if best is not None and gain.gain < best.gain + WORTH:
                break
            chosen, best = more, gain
        return best if len(chosen) > 1 else None

    def _give(self, tip: Tip) -> float:
        stiffness = tip.stiffness[LETTERS.index(self.along)] if self.along else tip.least
        return 1 / typical(stiffness)

    def _share(self, groups: Iterable[str]) -> float:
        k = LETTERS.index(self.along) if self.along else None
        held = [share for share in self.before.shares if share.group in groups]
        return sum(typical(share.weakest if k is None else share.along[k]) for share in held)


def _proposal(gain: Gain) -> Proposal:
    return Proposal(Change(gain.words, gain.edits), gain.groups)


def _in_the_way(before: Machine, after: Machine) -> str:
    """What keeps a change from being made alone: a part that then runs into another, or no longer touches one."""
    stray = [pair for pair in after.stray if pair not in before.stray]
    if stray:
        return f"{stray[0][0]} {stray[0][1]}"
    held = {frozenset((joint.a, joint.b)) for joint in after.joints}
    lost = [joint for joint in before.joints if frozenset((joint.a, joint.b)) not in held]
    return f"{lost[0].a} then no longer touches {lost[0].b}: other parts must move too" if lost else ""


def _masses(before: Machine, after: Machine, edits: tuple[tuple[str, str], ...]) -> tuple[float | None, float | None]:
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


def _cost(before: Machine, after: Machine, edits: tuple[tuple[str, str], ...]) -> tuple[float | None, bool]:
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


def exported(found: Stiffening | None, machine: Machine) -> dict[str, Any]:
    """All of it as plain data; SI units, stable keys."""
    if found is None:
        return {"along": "", "pose": {}, "before": None, "gains": [], "refused": [], "together": None, "currency": machine.currency}
    before = {letter: typical(value) for letter, value in zip(LETTERS, found.before.stiffness, strict=True)}
    return {
        "along": found.along, "pose": dict(found.before.pose), "before": {**before, "least": typical(found.before.least)},
        "gains": [_exported(gain) for gain in found.gains],
        "refused": [{"words": each.words, "reason": each.reason, "share": each.share} for each in found.refused],
        "together": None if found.together is None else _exported(found.together), "currency": machine.currency,
    }  # fmt: skip


def _exported(gain: Gain) -> dict[str, Any]:
    return {
        "words": gain.words, "edits": [list(edit) for edit in gain.edits], "groups": list(gain.groups), "share": gain.share,
        "stiffness": dict(zip(LETTERS, gain.stiffness, strict=True)), "least": gain.least, "gain": gain.gain, "mass": gain.mass,
        "moving": gain.moving, "cost": gain.cost, "cost_estimated": gain.estimated, "per_kilogram": gain.per_kilogram,
        "per_money": gain.per_money, "notes": list(gain.notes),
    }  # fmt: skip

"""Stiffen this first: every buildable change is tried on the structure, with what it gains, weighs and costs.

A change is tried at the place where the machine is softest (along an axis: where it is softest along that axis), and again there: that
another place may then be the softest is looked at only where the bearers of the table move.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from gantrywright.base.errors import GantrywrightError
from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.disciplines.structure.analyse import grid_of, tip_at
from gantrywright.disciplines.structure.change_places import Proposal
from gantrywright.disciplines.structure.changes import proposals
from gantrywright.disciplines.structure.loose import why_loose
from gantrywright.findings import Change
from gantrywright.model.machine import Machine
from gantrywright.results.structure import LETTERS, Tip
from gantrywright.study.burden import cost_of, masses
from gantrywright.study.priced import outdated_prices
from gantrywright.study.remedies import done_already
from gantrywright.study.softest import softest_pose
from gantrywright.study.study import Again, Study
from gantrywright.theory.frames.solver import Unheld

BEARERS = ("cross_members",)
"""Keys that move what the table lies on: the place that was softest between two bearers may then lie on one."""
STEPS = 3
"""Changes that are put together at most."""
TRIED = 6
"""Of the changes that gain most, so many are tried at each step of putting together."""
WORTH = 0.005
"""A change that takes less than this part of the give is not worth being put together with others."""
ESTIMATED = "a part's written price is taken to grow with its mass; screws, adapters and work are not in it."
"""What an estimated cost is, on every face."""


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
    pose = softest_pose(found.grid, along)
    return tip_at(study.machine, pose) if pose and pose != found.worst.pose else found.worst


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
        mass, moving = masses(self.machine, after, edits)
        cost, estimated = cost_of(self.machine, after, edits)
        stiffness = (typical(tip.stiffness[0]), typical(tip.stiffness[1]), typical(tip.stiffness[2]))
        notes = [f"changes {place}, which is already {state}" for place, state in done_already(self.machine, edits)]
        notes.extend(outdated_prices(self.machine, edits))
        if tip.pose != self.before.pose:
            notes.append(f"told where it is softest then: {place_in_words(tip.pose, self.machine.show)}")
        return Gain(
            words, edits, groups, share, stiffness, typical(tip.least), 1 - self._give(tip) / self._give(self.before),
            mass, moving, cost, estimated, tuple(notes),
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
            tip = self._tip(after, edits)
        except Unheld as error:
            return why_loose(after, self.before.pose) or str(error)
        return (after, tip) if tip is not None else why_loose(after, self.before.pose)

    def _tip(self, after: Machine, edits: tuple[tuple[str, str], ...]) -> Tip | None:
        """At the same place; where bearers of the table move, at the place that is then softest if that gives more."""
        here = tip_at(after, self.before.pose)
        if here is None or not any(path.rpartition(".")[2] in BEARERS for path, _ in edits):
            return here
        pose = softest_pose(grid_of(after), self.along)
        there = tip_at(after, pose) if pose else None
        return here if there is None or self._give(there) < self._give(here) else there

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


def place_in_words(pose: Mapping[str, float], system: str) -> str:
    """``X 0 mm, Y 583 mm, Z 100 mm``."""
    return ", ".join(f"{name.upper()} {show(place, 'm', system)}" for name, place in sorted(pose.items()))


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

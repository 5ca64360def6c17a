"""What a builder can change so that the machine gives less at the tool: real edits of the machine file for every part that gives."""

from collections.abc import Iterator

from gantrywright.base.samples import typical
from gantrywright.disciplines.structure.change_axes import block_changes, drive_changes, foot_changes, tool_changes
from gantrywright.disciplines.structure.change_bodies import joint_changes, member_changes, plate_changes, top_changes
from gantrywright.disciplines.structure.change_places import Proposal
from gantrywright.findings import Change
from gantrywright.model.machine import Machine
from gantrywright.results.structure import Tip

GIVES = 0.02
"""Parts that hold less of the give than this, along X, Y, Z and in the softest direction, are left as they are."""
OF_THE_TOOL = ("tool", "collet", "spindle", "bearing")
"""Kinds that a shorter tool helps."""


def changes(machine: Machine, tip: Tip) -> tuple[Change, ...]:
    """Changes that may make the machine stiffer at the tool.

    Args:
        machine: Typical.
        tip: What holds how much of the give, at the place of interest.
    """
    return tuple(proposal.change for proposal in proposals(machine, tip))


def proposals(machine: Machine, tip: Tip) -> tuple[Proposal, ...]:
    """The same with the groups of parts that each change is about; those that give most first."""
    made: dict[tuple[tuple[str, str], ...], Proposal] = {}
    for group, kind in _soft(tip):
        for change, *otherwise in _of_group(machine, group, kind):
            known = made.get(change.edits)
            groups = (*known.groups, group) if known is not None else (group,)
            made[change.edits] = Proposal(change if known is None else known.change, groups, tuple(otherwise))
    return tuple(made.values())


def _soft(tip: Tip) -> list[tuple[str, str]]:
    """Groups that give enough, with their kind, largest first."""
    held: dict[str, list[float]] = {}
    kinds: dict[str, str] = {}
    for share in tip.shares:
        kinds.setdefault(share.group, share.kind)
        found = held.setdefault(share.group, [0.0] * 4)
        for k, part in enumerate((*share.along, share.weakest)):
            found[k] += typical(part)
    ordered = sorted(held, key=lambda group: -max(held[group]))
    return [(group, kinds[group]) for group in ordered if max(held[group]) >= GIVES]


def _of_group(machine: Machine, group: str, kind: str) -> Iterator[tuple[Change, ...]]:
    """Changes of one group of parts, each with other ways to the same."""
    for plate in machine.plates:
        if plate.path == group:
            yield from plate_changes(machine, plate)
    for change in _plainly(machine, group, kind):
        yield (change,)


def _plainly(machine: Machine, group: str, kind: str) -> Iterator[Change]:
    if kind in OF_THE_TOOL:
        yield from tool_changes(machine)
    elif kind in ("sheet", "top"):
        yield from top_changes(machine, group)
    elif kind == "block":
        axis = machine.axis(group.split(".")[1])
        yield from block_changes(machine, axis)
    elif kind == "drive":
        for axis in machine.axes:
            for fit in axis.drives:
                if fit.path == group:
                    yield from drive_changes(axis, fit)
    else:
        yield from _of_part(machine, group)


def _of_part(machine: Machine, path: str) -> Iterator[Change]:
    for member in machine.members:
        if member.path == path:
            yield from member_changes(machine, member)
    for joint in machine.joints:
        if joint.path == path:
            yield from joint_changes(machine, joint)
    for foot in machine.feet:
        if foot.path == path:
            yield from foot_changes(machine, foot)

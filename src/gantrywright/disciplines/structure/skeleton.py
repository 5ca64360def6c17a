"""From the placed machine to its skeleton: nothing is drawn twice, everything is read from what stands there."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from gantrywright.disciplines.structure.bars import Lacking, box_bar, member_bar, plate_bar
from gantrywright.disciplines.structure.carriers import Carriers
from gantrywright.disciplines.structure.joined import Joined, adrift, carried_along
from gantrywright.disciplines.structure.lumps import lumps_of, weighed
from gantrywright.disciplines.structure.rest import rest_of
from gantrywright.disciplines.structure.shared_motor import shared_motor
from gantrywright.disciplines.structure.spindle import spindle_bars, spindle_gaps
from gantrywright.disciplines.structure.ties import LOSS_DRIVE, block_tie, drive_ties, foot_tie, joint_ties
from gantrywright.model.bodies import OUTSIDE, Foot, Member, Plate
from gantrywright.model.drive_chain import drive_chain
from gantrywright.model.frame import Vector
from gantrywright.model.machine import Machine, movements
from gantrywright.theory.frames.skeleton import Bar, Lump, Motion, Skeleton, Tie

USUAL_FOOT = (50e6, 17e6)
"""Upright and sideways stiffness of a foot where the machine has none, N/m: steel on concrete, common practice, no source."""


@dataclass(slots=True)
class Built:
    """A skeleton, or what is lacking for one."""

    skeleton: Skeleton | None = None
    lacking: tuple[str, ...] = ()
    """Paths of values without which there is no skeleton."""
    notes: dict[str, str] = field(default_factory=dict)
    """What was left out or guessed, by part."""
    adrift: Mapping[str, str] = field(default_factory=dict)
    """Parts between tool and ground that are joined to nothing, with what each carries."""


def skeleton_of(machine: Machine) -> Built:
    """The skeleton of a machine, typical or sampled."""
    notes: dict[str, str] = {}
    bars, lacking = _bars(machine)
    if lacking or not bars:
        return Built(None, tuple(lacking) or ("members and plates: the machine has none",), notes)
    carriers = Carriers(bars, machine.solids)
    missing: list[str] = []
    screws: list[Bar] = []
    ties = list(_ties(machine, carriers, screws, notes, missing))
    rest = rest_of(machine, carriers)
    if rest is None:
        missing.append(f"{machine.work_body}: no bar that the work lies on")
    lumps = list(lumps_of(machine, carriers, rest))
    spindle = spindle_bars(machine, len(bars) + len(screws), carriers.hold)
    if spindle is None:
        missing.extend(spindle_gaps(machine) or ("spindle.mount.on",))
    if missing or rest is None or spindle is None:
        return Built(None, tuple(missing), notes)
    notes |= spindle.notes
    ties += spindle.ties
    bars = [*bars, *screws, *spindle.bars]
    joined = Joined(len(bars), ties)
    loose = adrift(machine, bars, joined, (spindle.tip.bar, *rest.bars))
    if loose.lacking:
        return Built(None, loose.lacking, notes, loose.parts)
    kept = carried_along(bars, joined, notes)
    bars, lumps = weighed(bars, [*lumps, *spindle.lumps])
    skeleton = Skeleton(
        bars=tuple(bars), ties=(*ties, *kept), lumps=tuple(lumps), tip=spindle.tip, rest=rest, motions=_motions(machine), notes=notes
    )  # fmt: skip
    return Built(skeleton, (), notes)


def _bars(machine: Machine) -> tuple[list[Bar], list[str]]:
    solids = {solid.path: solid for solid in machine.solids}
    found: list[Bar] = []
    lacking: list[str] = []
    parts: tuple[Member | Plate, ...] = (*machine.members, *machine.plates)
    for part in parts:
        try:
            solid = solids[part.path]
            found.append(member_bar(part, solid) if isinstance(part, Member) else plate_bar(part, solid))
        except Lacking as error:
            lacking.append(str(error))
    for body in machine.bodies:
        layers = [layer for layer in machine.layers if layer.body == body.name]
        skins = [layer for layer in layers if layer.kind == "skin"]
        webs = [layer for layer in layers if layer.kind == "webs"]
        if skins and webs:
            masses = [solids[layer.path].mass for layer in (*skins, *webs)]
            try:
                found.append(box_bar(skins, webs[0], sum((m for m in masses if m is not None), 0.0)))
            except Lacking as error:
                lacking.append(str(error))
    return found, lacking


def _ties(machine: Machine, carriers: Carriers, screws: list[Bar], notes: dict[str, str], missing: list[str]) -> Iterator[Tie]:
    """All ties but those of the spindle; screws that are bars of their own come to ``screws``, numbered after the carriers."""
    boxed = {layer.path: f"{layer.body}.top" for layer in machine.layers if f"{layer.body}.top" in carriers.number}
    for joint in machine.joints:
        if OUTSIDE in joint.note:
            notes[joint.path] = f"({joint.kind}): {joint.note}; its band is widened"
        yield from joint_ties(joint, carriers, boxed)
    yield from _feet(machine, carriers, notes)
    for axis in machine.axes:
        rails = {rail.path: rail for rail in axis.rails}
        for block in axis.blocks:
            tie = block_tie(axis, block, rails[block.rail], carriers)
            if tie is None:
                missing.append(f"{block.path}: no bar on one of its sides")
            else:
                yield tie
        shared = shared_motor(axis, carriers, len(carriers.bars) + len(screws), LOSS_DRIVE)
        if shared is not None:
            screws.extend(shared.bars)
            yield from shared.ties
        for fit in axis.drives:
            held, own = drive_ties(axis, fit, carriers, len(carriers.bars) + len(screws), shared)
            screws.extend(own)
            if not held:
                missing.append("; ".join(drive_chain(axis, fit).missing) or f"{fit.path}: no bar on one of its sides")
            yield from held


def _feet(machine: Machine, carriers: Carriers, notes: dict[str, str]) -> Iterator[Tie]:
    ground = machine.links[0].body
    found = [tie for foot in machine.feet if (tie := foot_tie(foot, foot.path.split(".")[0], carriers)) is not None]
    if not found:
        notes[ground] = "no feet are listed: it is taken to stand on four at the corners of its lowest parts"
        for number, at in enumerate(_corners(machine, ground)):
            foot = Foot(f"{ground}.foot-{number + 1}", at, "", *USUAL_FOOT, machine.solids[0].use)
            tie = foot_tie(foot, ground, carriers)
            if tie is not None:
                found.append(tie)
    yield from found


def _corners(machine: Machine, ground: str) -> Iterator[Vector]:
    """Corners of the box round the ground body, at its lowest level."""
    solids = [solid for solid in machine.solids if solid.body == ground and solid.kind in ("member", "plate")]
    low = [min(s.centre[k] - _half(s.axes, s.size, k) for s in solids) for k in range(3)]
    high = [max(s.centre[k] + _half(s.axes, s.size, k) for s in solids) for k in range(3)]
    for x in (low[0], high[0]):
        for y in (low[1], high[1]):
            yield (x, y, low[2])


def _half(axes: tuple[Vector, Vector, Vector], size: Vector, k: int) -> float:
    return sum(abs(axis[k]) * extent for axis, extent in zip(axes, size, strict=True)) / 2


def _motions(machine: Machine) -> tuple[Motion, ...]:
    """Axes from the ground outwards, those on the work's side first."""
    steps = movements(machine)
    order = {link.axis: number for number, link in enumerate(machine.links) if link.axis}
    axes = sorted(enumerate(machine.axes), key=lambda pair: (pair[1].sign > 0, order.get(pair[1].name, 0)))
    return tuple(
        Motion(axis.name, axis.travel, axis.drawn, {body: moved[k] for body, moved in steps.items() if any(moved[k])})
        for k, axis in axes
    )


__all__ = ["Built", "Lump", "skeleton_of"]

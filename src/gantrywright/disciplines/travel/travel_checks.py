"""GEO-1xx and GEO-2xx: travel that the metal gives, reach, room under the gantry, cable chains."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from gantrywright.base.quantities.proposing import beside, propose
from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.disciplines.travel.analyse import SIDES
from gantrywright.disciplines.travel.distance import block_length, grip_rooms, rooms, travel_by_screw
from gantrywright.disciplines.travel.meeting import UPRIGHT
from gantrywright.findings import Change, Verdict, check, floor, holds, unknown
from gantrywright.model.axis import Axis
from gantrywright.model.frame import dot, length, scale, subtract
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.ledger import Ledger
from gantrywright.results.travel import AxisTravel

STEPS = 5
"""More length is proposed in so many of the usual steps at once."""
INTO_SPOILBOARD = 0.0005
"""What a through cut goes into a spoilboard, m; common practice, no source."""


@check(
    "GEO-101",
    title="Rails and screws are long enough for the travel that is wanted",
    why="An axis that runs out of rail or thread hits its blocks or nut against the ends, or never reaches the edge of the work.",
    source="definition",
    remedy="Longer rails or screw, blocks closer together, shorter blocks, or less travel.",
    structural=True,
)
def long_enough(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis in machine.axes:
        far = results.travel.axes[axis.name]
        lacking = _lacking(axis, far)
        if far.gives is None or (lacking and far.gives >= axis.travel):
            yield unknown(axis.path, missing=lacking or f"{axis.path}.rail and {axis.path}.drive", unit="m", limit=axis.travel)
            continue
        other = "screw" if far.binds == "rails" else "rails"
        value = far.by_screw if far.binds == "rails" else far.by_rails
        beside = "" if value is None else f" The {other} would give {show(value, 'm', machine.show)}."
        yield floor(
            axis.path, value=far.gives, limit=axis.travel, unit="m", what="travel", figure=f"{axis.path}.travel_possible",
            note=f"The {'rails bind' if far.binds == 'rails' else 'screw ' + far.binds + ' binds'}; stops taken off.{beside}",
            changes=_long_enough(machine, axis, far) if far.gives < axis.travel else (),
        )  # fmt: skip


@check(
    "GEO-102",
    title="Blocks stay on their rails, with room for the stops, at both ends of the travel",
    why="A block that runs off its rail spills its balls, and is ruined.",
    source="definition",
    remedy="Move the rails or the blocks along, lengthen the rails, or take travel away.",
    structural=True,
)
def blocks_stay_on(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis in machine.axes:
        found = rooms(axis)
        if not axis.blocks or axis.slide:
            continue
        if not found:
            yield unknown(axis.path, missing=f"length of the blocks: {axis.path}.blocks.part.length", unit="m", limit=axis.stops)
            continue
        worst = min(found, key=lambda room: room.least)
        end = "near" if worst.near <= worst.far else "far"
        spare = sum((worst.near, worst.far)) / 2
        note = f"At the {end} end of the travel, {worst.rail}; in the middle there would be {show(spare, 'm', machine.show)} at each end."
        yield floor(axis.path, value=worst.least, limit=axis.stops, unit="m", what="room", note=note, figure=f"{axis.path}.rail_room",
                    changes=(*_shifted(machine, axis, worst.near, worst.far, spare), *_longer_rails(machine, axis, 2 * (axis.stops - spare))))  # fmt: skip


@check(
    "GEO-103",
    title="Nuts, pinions and clamps stay on their screw, rack or belt over the whole travel",
    why="A nut that runs off its screw loses its balls and drops what it holds.",
    source="definition",
    remedy="Move the long piece or the grip along, or lengthen it.",
    structural=True,
)
def grips_stay_on(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis in machine.axes:
        for path, near, far in grip_rooms(axis):
            note = f"Room at the {'first' if near <= far else 'second'} end; half of what grips there and the stop must fit in."
            fit = next(fit for fit in axis.drives if fit.path == path)
            nut = fit.drive.parts.nut
            half = 0.0 if nut is None or nut.length is None else typical(nut.length) / 2
            room = min(near, far) - half
            yield floor(path, value=room, limit=axis.stops, unit="m", what="room", note=note,
                        changes=_longer_screws(machine, axis, 2 * (axis.stops - room)))  # fmt: skip


@check(
    "GEO-201",
    title="The cutter reaches every side of the work area",
    why="A strip along the edge cannot be cut, and nobody notices before the first large job.",
    source="definition",
    remedy="More travel, or move the table, the spindle or the axis' middle towards that side.",
)
def reaches_the_sides(machine: Machine, results: Results) -> Iterator[Verdict]:
    for i, letter in enumerate("xy"):
        gaps = (machine.table.least[i] - machine.reach.least[i], machine.reach.most[i] - machine.table.most[i])
        for side, gap in zip(SIDES[i], gaps, strict=True):
            size = machine.table.size[i]
            reach = size + min(gap, 0.0)
            note = f"{_beyond(machine, gap)} at the {side}."
            changes = _more_travel(machine, letter, gaps) if gap < 0 else ()
            yield floor(
                f"purpose.work_area ({side})",
                value=reach,
                limit=size,
                unit="m",
                what="reach",
                note=note,
                figure=f"reach.{letter}",
                changes=changes,
            )


@check(
    "GEO-202",
    title="The cutter comes down to the table and up to the wanted height",
    why="A cutter that hangs above the table cannot part a sheet; one that cannot rise hits clamps on its way.",
    source="definition",
    remedy="Move the spindle in its mount, the Z rails or the beam; take a longer or shorter cutter; or more Z travel.",
)
def reaches_down_and_up(machine: Machine, results: Results) -> Iterator[Verdict]:
    height = machine.table.size[2]
    down, up = machine.table.least[2] - machine.reach.least[2], machine.reach.most[2] - machine.table.most[2]
    stick_out = "" if machine.tool is None else f", with this cutter {show(typical(machine.tool.stick_out), 'm', machine.show)} out"
    note = f"{_beyond(machine, down, 'the table')} downwards{stick_out}; a through cut wants {show(INTO_SPOILBOARD, 'm', machine.show)} into a spoilboard."
    yield floor("purpose.work_area (bottom)", value=height + min(down, 0.0), limit=height, unit="m", what="reach", note=note, figure="reach.z",
                changes=_lower(machine, down))  # fmt: skip
    note = f"{_beyond(machine, up, 'the wanted height')} upwards{stick_out}."
    yield floor("purpose.work_area (top)", value=height + min(up, 0.0), limit=height, unit="m", what="reach", note=note, figure="reach.z",
                changes=_more_travel(machine, "z", (down, up)) if up < 0 else ())  # fmt: skip


@check(
    "GEO-203",
    title="Work of the wanted height passes under the gantry",
    why="Thicker work does not fit through, whatever the Z axis can do.",
    source="definition",
    remedy="Raise the beam, lower the table, or want less height.",
)
def passes_under(machine: Machine, results: Results) -> Iterator[Verdict]:
    height = machine.table.size[2]
    if results.travel.daylight is None:
        yield unknown("purpose.work_area (height)", missing="parts that pass over the table", unit="m", limit=height)
        return
    lowest = next(given.value for given in results.ledger["daylight"].inputs if given.name == "lowest")
    yield floor("purpose.work_area (height)", value=results.travel.daylight, limit=height, unit="m", what="room", figure="daylight",
                note=f"Lowest is {lowest}. What the Z axis carries is taken as lifted.")  # fmt: skip


@check(
    "GEO-204",
    title="Cable chains have the room that their bend radius needs",
    why="Bent tighter than their radius, chains break and cables in them soon after.",
    source="definition",
    remedy="Move one end of the chain away from the other, or take a chain of smaller radius and thinner cables.",
)
def chains_have_room(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis in machine.axes:
        chain = axis.cable_chain
        if chain is None:
            continue
        subject = f"{axis.path}.cable_chain"
        least = chain.part.radius
        radius = least if chain.radius is None else chain.radius
        if radius is None or least is None:
            yield unknown(subject, missing=f"bend radius of the chain: {subject}.part.radius", unit="m")
            continue
        apart = subtract(chain.moving_at, chain.fixed_at)
        across = length(subtract(apart, scale(axis.direction, dot(apart, axis.direction))))
        note = f"Distance of the two ends across the axis; a bend takes twice the radius of {show(typical(radius), 'm', machine.show)}."
        yield floor(
            f"{subject} (room)", value=across, limit=2 * typical(np.maximum(radius, least)), unit="m", what="room", note=note
        )
        yield floor(
            f"{subject} (radius)",
            value=radius,
            limit=least,
            unit="m",
            what="bend radius",
            note="Radius it is laid with against the least of the part.",
        )


@check(
    "GEO-302",
    title="Parts were placed as they can be built",
    why="Parts that stand in each other or touch nothing are drawn, weighed and cut all the same, and no longer fit in the shop.",
    source="definition",
    remedy="Correct the place or the length that the note names.",
    structural=True,
)
def placed_well(machine: Machine, results: Results) -> Iterator[Verdict]:
    seen: dict[str, int] = {}
    adrift = results.structure.adrift
    for subject, words in machine.stray:
        seen[subject] = seen.get(subject, 0) + 1
        name = subject if seen[subject] == 1 else f"{subject} ({seen[subject]})"
        verdict = holds(name, true=False, note=f"{words[:1].upper()}{words[1:]}.")
        if subject not in adrift:
            # the machine stands and can be judged: to be looked at, not a failure by itself
            verdict = replace(verdict, margin=0.0, watch=1e-9)
        yield verdict
    for part, words in adrift.items():
        if part not in seen:
            yield holds(part, true=False, note=f"It {words or 'carries other parts'} and is joined to nothing.")
    if not machine.stray and not adrift:
        yield holds("machine", true=True, note="Nothing stands in another part of its body, and nothing hangs in the air.")


def _lacking(axis: Axis, far: AxisTravel) -> str:
    parts = []
    if far.by_rails is None and not axis.slide:
        known = axis.blocks and block_length(axis) is None
        parts.append(
            f"length of the blocks: {axis.path}.blocks.part.length" if known else f"{axis.path}.rail and {axis.path}.blocks"
        )
    screw = travel_by_screw(axis, Ledger())[2]
    return ", ".join([*parts, *([screw] if screw else [])])


def _long_enough(machine: Machine, axis: Axis, far: AxisTravel) -> tuple[Change, ...]:
    """Longer rails and screws, together where both are too short."""
    rails = () if far.by_rails is None else _longer_rails(machine, axis, axis.travel - far.by_rails)
    screws = () if far.by_screw is None else _longer_screws(machine, axis, axis.travel - far.by_screw)
    if not rails or not screws:
        return (*rails, *screws)
    words = f"{rails[0].words} and {screws[0].words}"
    return (Change(words, (*rails[0].edits, *screws[0].edits)),)


def _longer_rails(machine: Machine, axis: Axis, lacking: float) -> tuple[Change, ...]:
    if lacking <= 0:
        return ()
    more = _rounded(machine, lacking)
    edits = tuple((f"{rail.path}.length", propose(rail.length + more, "length", machine.show, "up")) for rail in axis.rails)
    return (Change(f"rails of {axis.name} {show(more, 'm', machine.show)} longer", edits),)


def _longer_screws(machine: Machine, axis: Axis, lacking: float) -> tuple[Change, ...]:
    """Only of drives whose length stands in the file: those told by their two ends are moved by hand."""
    if lacking <= 0 or not all(f"{fit.path}.length" in machine.origins for fit in axis.drives):
        return ()
    more = _rounded(machine, lacking)
    edits = tuple((f"{fit.path}.length", propose(fit.free_length + more, "length", machine.show, "up")) for fit in axis.drives)
    return (Change(f"screws or belts of {axis.name} {show(more, 'm', machine.show)} longer", edits),)


def _rounded(machine: Machine, more: float) -> float:
    """A little more, m, so that it is a round number for the builder."""
    step = 0.05 * 0.0254 if machine.show == "inch" else 0.001
    return float(np.ceil(more / (STEPS * step) - 1e-6)) * STEPS * step


def _shifted(machine: Machine, axis: Axis, near: float, far: float, spare: float) -> tuple[Change, ...]:
    if min(near, far) >= axis.stops or spare < axis.stops or axis.rails_ride:
        return ()
    offset = axis.offset + (far - near) / 2 * (1 if axis.sign > 0 else -1)
    place = show(offset, "m", hint="in" if machine.show == "inch" else "mm", digits=5)
    return (Change(f"blocks of {axis.name} in the middle of their rails", ((f"{axis.path}.offset", place),)),)


def _more_travel(machine: Machine, letter: str, gaps: tuple[float, float]) -> tuple[Change, ...]:
    """Travel that covers both sides; what stands in the middle stays there, so the worse side counts twice."""
    axis = next((axis for axis in machine.axes if axis.name == letter), None)
    if axis is None or axis.slide:
        return ()
    more = _rounded(machine, 2 * max(-min(gaps), 0.0))
    new = propose(axis.travel + more, "length", machine.show, "up")
    old = beside(axis.travel, new, "length", machine.show)
    return (Change(f"travel of {letter} {new} instead of {old}", ((f"{axis.path}.travel", new),)),)


def _lower(machine: Machine, down: float) -> tuple[Change, ...]:
    tool = machine.tool
    if down >= 0 or tool is None or not any(axis.rise > UPRIGHT for axis in machine.axes):
        return ()
    needed = typical(tool.stick_out) - down
    if tool.cutter.length is None or needed > 0.7 * typical(tool.cutter.length):
        return ()
    new = propose(needed, "length", machine.show, "up")
    return (Change(f"cutter {new} out of the collet", (("tool.stick_out", new),)),)


def _beyond(machine: Machine, gap: float, what: str = "the work area") -> str:
    return f"{show(abs(gap), 'm', machine.show)} {'short of' if gap < 0 else 'beyond'} {what}"

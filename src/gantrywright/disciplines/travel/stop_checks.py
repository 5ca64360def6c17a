"""GEO-3xx and GEO-4xx: parts that meet, stops, energy, and what pushes on hands."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from gantrywright.base.quantities.proposing import beside, propose
from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.disciplines.travel.meeting import DEEP
from gantrywright.findings import Change, Verdict, ceiling, check, holds, unknown
from gantrywright.model.axis import Axis
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.travel import AxisTravel

MOST = 20
"""Clashes told one by one."""
MORE = 1.1
"""Bumpers are proposed so much longer than just enough."""
LESS = 1.4
"""Currents are proposed so much below what is just enough: how far a stalled motor and an end bearing spread."""
WORTH_WHILE = 0.95
LEAST_CURRENT = 0.3
"""A driver is not set below this part of its present current."""
HAND = 140.0
"""Quasi-static force on hand and fingers, N (iso-ts-15066)."""


@check(
    "GEO-301",
    title="Nothing that moves runs into anything else, anywhere in the travels",
    why="Two parts in one place stop the axis, lose steps, and bend what is weaker.",
    source="gottschalk-1996",
    remedy="Move or shorten one of the two, or take travel away at that end.",
    structural=True,
)
def nothing_meets(machine: Machine, results: Results) -> Iterator[Verdict]:
    found = results.travel.meetings
    for meeting in found[:MOST]:
        at = ", ".join(f"{letter} {show(q, 'm', machine.show)}" for letter, q in zip("xyz", meeting.pose, strict=True))
        note = f"Deepest at {at} of the travels. Parts are taken as boxes and cylinders, cut-outs are not seen."
        yield ceiling(f"{meeting.a} (against {meeting.b})", value=meeting.overlap, limit=DEEP, unit="m", what="overlap", note=note)
    if len(found) > MOST:
        yield holds("machine", true=False, note=f"{len(found) - MOST} more pairs of parts meet.")
    elif not found:
        yield holds("machine", true=True, note="All parts of different moving groups against each other, over the whole travels.")


@check(
    "GEO-401",
    title="A bumper between travel and stop can take a run-away",
    why="After a lost step, a wrong zero or a bad file an axis meets its stop at full speed while the motors go on pushing.",
    source="derived",
    remedy="More room for longer bumpers (stops), less rapid speed, or less motor current; and a limit switch before the stop.",
)
def bumper_fits(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Force at the end of a bumper that fills the room, against what the weakest part of the drives bears."""
    for axis in machine.axes:
        far = results.travel.axes[axis.name]
        if (
            far.bumper_force is None
            or far.bumper_stroke is None
            or far.stop_energy is None
            or far.stop_force is None
            or far.weakest_force is None
        ):
            yield unknown(axis.path, missing=_lacking(axis, far, results.motion.axes[axis.name].missing), unit="N")
            continue
        endless = not np.isfinite(typical(far.bumper_stroke))
        needs = f"a bumper needs {show(typical(far.bumper_stroke), 'm', machine.show)} of the {show(axis.stops, 'm', machine.show)} there are"
        note = (
            f"{typical(far.stop_energy):.2g} J with motors pushing {show(typical(far.stop_force), 'N', machine.show)}; weakest:"
            f" {far.weakest}; "
            + ("the push alone is more than that bears: no bumper helps, lower the motor current." if endless else f"{needs}.")
        )
        room = _bumpers(machine, axis, typical(far.bumper_stroke))
        left = far.weakest_force - (far.bumper_force - far.stop_force)
        yield ceiling(axis.path, value=far.bumper_force, limit=far.weakest_force, unit="N", what="force", note=note, figure=f"{axis.path}.bumper_force",
                      changes=(*room, *_less_current(axis, left / far.stop_force)))  # fmt: skip


@check(
    "GEO-402",
    title="Stalled motors cannot push harder than the drives bear",
    why="When an axis is blocked, motors push until they lose step or the driver trips: every time, screw, nut and coupling take it.",
    source="derived",
    remedy="Less motor current, a larger lead, or a stronger part where the note says it is weakest.",
)
def drives_bear_a_stall(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis in machine.axes:
        far = results.travel.axes[axis.name]
        if far.stop_force is None or far.weakest_force is None:
            yield unknown(axis.path, missing=_lacking(axis, far, results.motion.axes[axis.name].missing), unit="N")
        else:
            yield ceiling(axis.path, value=far.stop_force, limit=far.weakest_force, unit="N", what="thrust", note=f"Weakest: {far.weakest}.",
                          figure=f"{axis.path}.stop_force", changes=_less_current(axis, far.weakest_force / far.stop_force))  # fmt: skip


@check(
    "GEO-403",
    title="An axis does not push harder than a hand bears",
    why="A moving axis crushes fingers between gantry, frame and work long before any switch or driver notices.",
    source="iso-ts-15066",
    remedy="Keep hands out while it is powered: covers over gaps, an emergency stop in reach, a distance to what moves.",
)
def hands(machine: Machine, results: Results) -> Iterator[Verdict]:
    for axis in machine.axes:
        force = results.travel.axes[axis.name].stop_force
        if force is None:
            yield unknown(
                axis.path, missing=results.motion.axes[axis.name].missing or "thrust of the stalled motors", unit="N", limit=HAND
            )
            continue
        verdict = ceiling(axis.path, value=force, limit=HAND, unit="N", what="thrust", figure=f"{axis.path}.stop_force",
                          note=f"Caution: a hand bears {show(HAND, 'N', machine.show)}; this is {typical(force) / HAND:.1f} times that.")  # fmt: skip
        # a caution to heed, for which no part has to change: to be watched, never a failure of the machine
        margin = np.maximum(np.asarray(verdict.margin, dtype=float), 0.0)
        yield replace(verdict, margin=margin if margin.ndim else float(margin), watch=1e-9)


def _bumpers(machine: Machine, axis: Axis, stroke: float) -> tuple[Change, ...]:
    """Longer bumpers, where they help."""
    if not np.isfinite(stroke) or stroke <= axis.stops:
        return ()
    new = propose(stroke * MORE, "length", machine.show, "up")
    return (
        Change(f"bumpers of {new} instead of {beside(axis.stops, new, 'length', machine.show)}", ((f"{axis.path}.stops", new),)),
    )


def _less_current(axis: Axis, share: Real) -> tuple[Change, ...]:
    """Drivers set lower: what a stepper pushes when it stalls goes with its current."""
    part = typical(share) / LESS
    drivers = [
        fit.driver for fit in axis.drives if fit.motor is not None and fit.motor.part.type != "servo" and fit.driver is not None
    ]
    if not LEAST_CURRENT <= part < WORTH_WHILE or not drivers:
        return ()
    currents = [(driver.path, typical(driver.current.peak)) for driver in drivers if driver.current is not None]
    if len(currents) < len(drivers):
        return ()
    edits = tuple((f"{path}.current", f"{part * peak:.1f} A peak") for path, peak in currents)
    return (Change(f"driver current {part * currents[0][1]:.1f} A peak instead of {currents[0][1]:.1f} A peak", edits),)


def _lacking(axis: Axis, far: AxisTravel, missing: str) -> str:
    parts = [
        words
        for words, value in (
            (_keys(axis, "inertia of the rotors", "motor.inertia"), far.stop_energy),
            (_keys(axis, "load limits of the drives", "part"), far.weakest_force),
        )
        if value is None
    ]
    if far.stop_force is None:
        parts.append(missing or "thrust of the stalled motors")
    return ", ".join(parts)


def _keys(axis: Axis, words: str, key: str) -> str:
    return f"{words}: {', '.join(f'{fit.path}.{key}' for fit in axis.drives)}"

"""STR-2xx: whether the tool keeps still while it cuts and after it stops."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities import parse, show
from gantrywright.base.quantities.proposing import propose
from gantrywright.base.samples import typical
from gantrywright.base.units import Array, Real
from gantrywright.disciplines.structure.speeds import (
    APART,
    CLEAR,
    COUNTS,
    RPM,
    SWING,
    Resonances,
    free_speeds,
    nearest,
    resonances,
    spindle_range,
    value_of,
    wanted_speeds,
    worded,
)
from gantrywright.disciplines.structure.stiffness_checks import lacks
from gantrywright.disciplines.structure.stops import SENSIBLE
from gantrywright.findings import Change, Verdict, ceiling, check, floor, holds, unknown
from gantrywright.model.axis import Axis
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results import Results
from gantrywright.results.structure import AxisGive

REACH = 0.3
"""A better speed is looked for no farther than this part of the job's own."""
NAMES = ("rotation of the spindle", "passing of the teeth")
SHAKEN = ("spindle", "teeth")
"""The same in a word."""


@check(
    "STR-201", title="The modes that move the tool keep away from the spindle's turns and the teeth of each job",
    why="A cutter that strikes a mode of the machine at its own frequency rings it up: noise, waves on the wall, a broken edge.",
    source="common practice, no source",
    remedy="Another spindle speed, another number of flutes, or a stiffer part where the mode holds its strain.",
)  # fmt: skip
def apart_from_the_teeth(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Nearest of the modes that hold a part of the tip's give, at the speed of every job, or over all of the range that the file gives
    that speed; at the pose where the machine is softest. The note names all speeds of the spindle that are free by the same rule."""
    found = resonances(results.structure.modes)
    for job in machine.jobs:
        if not results.structure.modes or job.cutter.flutes is None:
            missing = lacks(results.structure) if not results.structure.modes else f"flutes of {job.cutter.id}"
            yield unknown(job.path, missing=missing, limit=APART)
        elif not found.modes:
            yield holds(job.path, true=True, note=f"no mode holds {100 * COUNTS:.0f} % of the give at the tool along any direction")
        else:
            yield _apart(machine, job, found, job.cutter.flutes)


@check(
    "STR-202", title="A stop leaves the tool ringing by less than the wanted accuracy",
    why="Corners come out with waves and holes out of round: the tool swings on after the axis has changed its speed.",
    source="common practice, no source",
    remedy="Let the acceleration build up over a period of the mode (`rise_time`), accelerate less, or stiffen what the mode strains.",
)  # fmt: skip
def quiet_stop(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Each axis, braked from its promised rapid speed with its wanted acceleration (the promised where that is less), which comes and goes
    over the rise time that the axis is set to; at once without one."""
    wanted = machine.purpose.accuracy
    for axis in machine.axes:
        given = results.structure.axes.get(axis.name)
        if given is None or given.left is None or wanted is None:
            yield unknown(axis.path, missing=_missing(machine, results, axis), unit="m", limit=wanted)
            continue
        yield ceiling(
            axis.path, value=given.left, limit=wanted, unit="m", figure=f"{axis.path}.stop.left", what="ringing", note=_swings(given),
            remedy=_gentler(machine, given), changes=(*_ramped(machine, given, wanted), *_slower(machine, given)),
        )  # fmt: skip


@check(
    "STR-203", title="The tool comes to rest soon after each axis stops",
    why="Until it rests, plunging and measuring go wrong, so every move must wait, or the acceleration that was paid for is lost.",
    source="common practice, no source",
    remedy="Let the acceleration build up over a period of the mode (`rise_time`), accelerate less, or stiffen and damp what it strains.",
)  # fmt: skip
def settles(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Time until every mode together swings less than a part of the accuracy, after a stop with the rise time that the axis is set to."""
    for axis in machine.axes:
        given = results.structure.axes.get(axis.name)
        if given is None or given.settle is None:
            yield unknown(axis.path, missing=_missing(machine, results, axis), unit="s", limit=SENSIBLE)
            continue
        yield ceiling(
            axis.path, value=given.settle, limit=SENSIBLE, unit="s", figure=f"{axis.path}.stop.settle", what="time to rest",
            note=_swings(given), remedy=_gentler(machine, given), changes=(*_ramped(machine, given, given.tolerance), *_slower(machine, given)),
        )  # fmt: skip


def _apart(machine: Machine, job: Job, found: Resonances, flutes: int) -> Verdict:
    speeds = wanted_speeds(machine, job)
    each = found.distances(speeds, flutes)
    middle = np.median(each.reshape(-1, *each.shape[-3:]), axis=0)
    at, number, way = (int(place) for place in np.unravel_index(int(np.argmin(middle)), middle.shape))
    mode = found.modes[number]
    speed = typical(speeds[..., at])
    rings, shakes = f"{typical(mode.frequency):.0f} Hz", f"{speed / (2 * np.pi) * (1, flutes)[way]:.0f} Hz"
    note = (
        f"nearest: mode {mode.number}, {mode.name}, at {rings} to the {NAMES[way]} at {shakes}"
        + (f" ({speed * RPM:.0f} rpm)" if speeds.shape[-1] > 1 else "")
        + "; "
        f"it holds {100 * max(typical(share) for share in mode.tip_share):.0f} % of the give; watched up to {SWING:.0f} times the limit"
    )
    allowed = spindle_range(machine)
    if allowed is not None:
        free = free_speeds(_typical(found), flutes, allowed)
        note += "; free of ringing with this cutter: " + (worded(free) if free else "no speed of the spindle")
    value = value_of(each.min(axis=(-2, -1)))
    changes = _clear_speed(machine, job, _typical(found), flutes) if typical(value) < APART else ()
    return floor(
        job.path, value=value, limit=APART, unit="", watch=CLEAR / APART - 1, note=note,
        what=f"nearest mode {rings}, {SHAKEN[way]} {shakes}: distance over that needed",
        figure=f"structure.mode.{mode.number}.frequency", changes=changes,
    )  # fmt: skip


def _typical(found: Resonances) -> Resonances:
    """With medians in place of samples."""
    if found.natural.ndim == 1:
        return found
    return Resonances(found.modes, np.median(found.natural, axis=0), np.median(found.held, axis=0))


def _clear_speed(machine: Machine, job: Job, found: Resonances, flutes: int) -> tuple[Change, ...]:
    """The nearest speed that the spindle has and that is clear of every mode; else the one that is farthest from all, if that will do."""
    now = typical(job.speed) * RPM
    low, high = spindle_range(machine) or (0.0, np.inf)
    speeds: Array = 100 * np.arange(np.ceil(now * (1 - REACH) / 100), np.floor(now * (1 + REACH) / 100) + 1)
    speeds = speeds[(speeds >= low) & (speeds <= high) & (speeds > 0)]
    if not speeds.size:
        return ()
    distance = nearest(found, speeds / RPM, flutes)
    clear = speeds[distance >= CLEAR]
    best = clear[np.argmin(np.abs(clear - now))] if clear.size else speeds[np.argmax(distance)]
    if distance.max() < APART:
        return ()
    return (Change(f"{best:.0f} rpm instead of {now:.0f} rpm", ((f"{job.path}.speed", f"{best:.0f} rpm"),)),)


def _missing(machine: Machine, results: Results, axis: Axis) -> str:
    if machine.purpose.accuracy is None:
        return "purpose.accuracy"
    promised = results.motion.axes.get(axis.name)
    if promised is None or promised.accel is None or promised.rapid is None:
        why = promised.missing if promised is not None else ""
        return why or f"promised speed and acceleration of {axis.path}"
    return f"{axis.path}.rise_time" if axis.rise_time is None else lacks(results.structure)


def _swings(given: AxisGive) -> str:
    return f"most of it: {given.binds}" if given.binds else ""


def _gentler(machine: Machine, given: AxisGive) -> str:
    """Which rise time or acceleration would do; empty where it rests at once anyway."""
    if given.ramp is None or given.quiet is None or typical(given.ramp) <= 0:
        return ""
    period = (
        ""
        if given.period is None
        else f"one period of the mode that swings most is {show(typical(given.period), 's', machine.show)}, and "
    )
    return (
        f"let the acceleration build up over a while (axis.{given.axis}.rise_time): {period}"
        f"{show(typical(given.ramp), 's', machine.show)} keep every mode still whatever its phase (axis.{given.axis}.stop.jerk tells the jerk); or "
        f"accelerate with no more than {show(typical(given.quiet), 'm/s2', machine.show)}; else stiffen or damp what this mode strains: {given.binds}"
    )  # fmt: skip


def _ramped(machine: Machine, given: AxisGive, within: Real | None) -> Iterator[Change]:
    """A rise time of one period of the mode that swings; where others then ring more than is borne, that which keeps all still as well."""
    if given.period is None or given.period_left is None or given.ramp is None or within is None:
        return
    period, ramp, now = typical(given.period), typical(given.ramp), typical(given.rise)
    rises = [propose(period, "time", machine.show)]
    if typical(given.period_left) > typical(within) and ramp > period:
        rises.append(propose(ramp, "time", machine.show, "up"))
    instead = "at once" if now == 0 else f"over {show(now, 's', machine.show)}"
    for text in rises:
        if parse(text, "time").value > now:
            words = f"acceleration of axis {given.axis.upper()} built up over {text} instead of {instead}"
            yield Change(words, ((f"axis.{given.axis}.rise_time", text),))


def _slower(machine: Machine, given: AxisGive) -> tuple[Change, ...]:
    """The acceleration that rests soon enough with the rise time as it is."""
    if given.quiet is None or typical(given.quiet) >= typical(given.accel):
        return ()
    text = propose(typical(given.quiet), "accel", machine.show, "down")
    instead = show(typical(given.accel), "m/s2", machine.show)
    return (Change(f"axis {given.axis.upper()} driven with {text} instead of {instead}", ((f"axis.{given.axis}.accel", text),)),)

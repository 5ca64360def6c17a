"""STR-2xx: whether the tool keeps still while it cuts and after it stops."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.quantities.proposing import propose
from gantrywright.base.samples import typical
from gantrywright.base.units import Array, Real
from gantrywright.disciplines.structure.stiffness_checks import lacks
from gantrywright.disciplines.structure.stops import SENSIBLE
from gantrywright.findings import Change, Verdict, ceiling, check, floor, holds, unknown
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results import Results
from gantrywright.results.structure import AxisGive, Mode

COUNTS = 0.05
"""Part of the tip's give, along X, Y or Z, from which a mode matters to the cut; common practice, no source."""
SWING = 5.0
"""A mode must not swing the tool farther than so many times what it gives at rest; common practice, no source."""
APART = 1.0
"""Distance of a mode from a frequency that shakes it, over the distance that this takes: a mode that holds the part s of the give swings
s/|1 - (f/f_r)^2| of it, about s/(2 d) at the relative distance d, so d = s/(2 SWING) is needed."""
CLEAR = SWING
"""Distance at which nobody need watch: the mode alone then swings no farther than the tool gives at rest."""
REACH = 0.3
"""A better speed is looked for no farther than this part of the job's own."""
RPM = 30 / np.pi
NAMES = ("rotation of the spindle", "passing of the teeth")


@check(
    "STR-201", title="The modes that move the tool keep away from the spindle's turns and the teeth of each job",
    why="A cutter that strikes a mode of the machine at its own frequency rings it up: noise, waves on the wall, a broken edge.",
    source="common practice, no source",
    remedy="Another spindle speed, another number of flutes, or a stiffer part where the mode holds its strain.",
)  # fmt: skip
def apart_from_the_teeth(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Nearest of the modes that hold a part of the tip's give, at the speed of every job; at the pose where the machine is softest."""
    modes = telling(results)
    for job in machine.jobs:
        if not results.structure.modes or job.cutter.flutes is None:
            missing = lacks(results.structure) if not results.structure.modes else f"flutes of {job.cutter.id}"
            yield unknown(job.path, missing=missing, limit=APART)
        elif not modes:
            yield holds(job.path, true=True, note=f"no mode holds {100 * COUNTS:.0f} % of the give at the tool along any direction")
        else:
            yield _apart(machine, job, modes, job.cutter.flutes)


@check(
    "STR-202", title="A stop leaves the tool ringing by less than the wanted accuracy",
    why="Corners come out with waves and holes out of round: the tool swings on after the axis has changed its speed.",
    source="common practice, no source",
    remedy="Limit the jerk to what the figure of the axis tells, accelerate less, or stiffen what the mode strains.",
)  # fmt: skip
def quiet_stop(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Each axis, braked from its promised rapid speed with its wanted acceleration (the promised where that is less) that ends at once."""
    wanted = machine.purpose.accuracy
    for axis in machine.axes:
        given = results.structure.axes.get(axis.name)
        if given is None or given.left is None or wanted is None:
            yield unknown(axis.path, missing=_missing(machine, results, axis.name), unit="m", limit=wanted)
            continue
        yield ceiling(
            axis.path, value=given.left, limit=wanted, unit="m", figure=f"{axis.path}.stop.left", what="ringing", note=_swings(given),
            remedy=_gentler(machine, given), changes=_slower(machine, given),
        )  # fmt: skip


@check(
    "STR-203", title="The tool comes to rest soon after each axis stops",
    why="Until it rests, plunging and measuring go wrong, so every move must wait, or the acceleration that was paid for is lost.",
    source="common practice, no source",
    remedy="Limit the jerk to what the figure of the axis tells, accelerate less, or stiffen and damp what the mode strains.",
)  # fmt: skip
def settles(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Time until every mode together swings less than a part of the accuracy, after a stop without any limit of jerk."""
    for axis in machine.axes:
        given = results.structure.axes.get(axis.name)
        if given is None or given.settle is None:
            yield unknown(axis.path, missing=_missing(machine, results, axis.name), unit="s", limit=SENSIBLE)
            continue
        yield ceiling(
            axis.path, value=given.settle, limit=SENSIBLE, unit="s", figure=f"{axis.path}.stop.settle", what="time to rest",
            note=_swings(given), remedy=_gentler(machine, given), changes=_slower(machine, given),
        )  # fmt: skip


def telling(results: Results) -> tuple[Mode, ...]:
    """Modes that matter to the cut."""
    return tuple(mode for mode in results.structure.modes if max(mode.tip_share) > COUNTS)


def _apart(machine: Machine, job: Job, modes: tuple[Mode, ...], flutes: int) -> Verdict:
    turns = np.asarray(job.speed) / (2 * np.pi)
    each = np.stack(
        [
            2 * SWING * np.abs(np.asarray(mode.frequency) / (turns * times) - 1) / max(mode.tip_share)
            for mode in modes
            for times in (1, flutes)
        ],
        axis=-1,
    )
    nearest = int(np.argmin(np.median(each.reshape(-1, each.shape[-1]), axis=0)))
    mode, way = modes[nearest // 2], nearest % 2
    shaken = typical(job.speed) / (2 * np.pi) * (1, flutes)[way]
    note = (
        f"nearest: mode {mode.number}, {mode.name}, at {typical(mode.frequency):.0f} Hz to the {NAMES[way]} at {shaken:.0f} Hz; "
        f"it holds {100 * max(mode.tip_share):.0f} % of the give; watched up to {SWING:.0f} times the limit"
    )
    bad = _met(machine, modes, flutes)
    if bad:
        note += f"; within the range of the spindle these speeds meet one: {', '.join(f'{rpm:.0f} rpm' for rpm in bad[:6])}"
    value: Real = each.min(axis=-1) if each.ndim > 1 else float(each.min())
    changes = _clear_speed(machine, job, modes, flutes) if typical(value) < APART else ()
    return floor(
        job.path, value=value, limit=APART, unit="", watch=CLEAR / APART - 1, note=note, what="distance from a resonance over that needed",
        figure=f"structure.mode.{mode.number}.frequency", changes=changes,
    )  # fmt: skip


def _range(machine: Machine) -> tuple[float, float] | None:
    """Speeds of the spindle, rpm."""
    spindle = machine.spindle
    if spindle is None or spindle.part.lowest is None or spindle.part.highest is None:
        return None
    return typical(spindle.part.lowest) * RPM, typical(spindle.part.highest) * RPM


def _met(machine: Machine, modes: tuple[Mode, ...], flutes: int) -> list[float]:
    """Speeds within the spindle's range at which its turns or the teeth meet a mode, rpm, ascending."""
    allowed = _range(machine)
    if allowed is None:
        return []
    speeds = {round(60 * typical(mode.frequency) / times, -1) for mode in modes for times in (1, flutes)}
    return sorted(speed for speed in speeds if allowed[0] <= speed <= allowed[1])


def _clear_speed(machine: Machine, job: Job, modes: tuple[Mode, ...], flutes: int) -> tuple[Change, ...]:
    """The nearest speed that the spindle has and that is clear of every mode; else the one that is farthest from all, if that will do."""
    now = typical(job.speed) * RPM
    low, high = _range(machine) or (0.0, np.inf)
    speeds: Array = 100 * np.arange(np.ceil(now * (1 - REACH) / 100), np.floor(now * (1 + REACH) / 100) + 1)
    speeds = speeds[(speeds >= low) & (speeds <= high) & (speeds > 0)]
    shaken = speeds[:, None] / 60 * np.array([1, flutes])
    natural = np.array([typical(mode.frequency) for mode in modes])
    held = np.array([max(mode.tip_share) for mode in modes])
    if not speeds.size:
        return ()
    distance = (2 * SWING * np.abs(natural / shaken[..., None] - 1) / held).min(axis=(1, 2))
    clear = speeds[distance >= CLEAR]
    best = clear[np.argmin(np.abs(clear - now))] if clear.size else speeds[np.argmax(distance)]
    if distance.max() < APART:
        return ()
    return (Change(f"{best:.0f} rpm instead of {now:.0f} rpm", ((f"{job.path}.speed", f"{best:.0f} rpm"),)),)


def _missing(machine: Machine, results: Results, axis: str) -> str:
    if machine.purpose.accuracy is None:
        return "purpose.accuracy"
    promised = results.motion.axes.get(axis)
    if promised is None or promised.accel is None or promised.rapid is None:
        why = promised.missing if promised is not None else ""
        return why or f"promised speed and acceleration of axis.{axis}"
    return lacks(results.structure)


def _swings(given: AxisGive) -> str:
    return f"most of it: {given.binds}" if given.binds else ""


def _gentler(machine: Machine, given: AxisGive) -> str:
    """Which rise time or acceleration would do; empty where it rests at once anyway."""
    if given.ramp is None or given.quiet is None or typical(given.ramp) <= 0:
        return ""
    return (
        f"let the acceleration come and go over {show(typical(given.ramp), 's', machine.show)} (axis.{given.axis}.stop.jerk tells the jerk), or "
        f"accelerate with no more than {show(typical(given.quiet), 'm/s2', machine.show)}; else stiffen or damp what this mode strains: {given.binds}"
    )  # fmt: skip


def _slower(machine: Machine, given: AxisGive) -> tuple[Change, ...]:
    """The acceleration that rests soon enough without any rise time."""
    if given.quiet is None or typical(given.quiet) >= typical(given.accel):
        return ()
    text = propose(typical(given.quiet), "accel", machine.show, "down")
    instead = show(typical(given.accel), "m/s2", machine.show)
    return (Change(f"axis {given.axis.upper()} driven with {text} instead of {instead}", ((f"axis.{given.axis}.accel", text),)),)

"""Checks on the jobs themselves: chip, speed, depth, power at the spindle."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities.proposing import beside, propose
from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.disciplines.cutting.chip_load import chip_loads
from gantrywright.disciplines.cutting.cut import missing
from gantrywright.findings import Change, Verdict, ceiling, check, floor, holds, unknown
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results import Results
from gantrywright.theory.cutting.engagement import largest_chip

RPM = 30 / np.pi
THINNEST = 0.3
"""Of the usual lower end: below this a tooth rubs and burns."""


@check(
    "CUT-101",
    title="Each job's forces can be worked out",
    why="Without cutting coefficients nothing says whether drives, guides and spindle can bear the cut.",
    source="altintas-manufacturing-automation",
    remedy="Use a work material of the table, or give the material a shear force and an edge force with their bands.",
)
def forces_are_known(machine: Machine, results: Results) -> Iterator[Verdict]:
    if not machine.jobs:
        yield unknown("job", missing="at least one job: what shall be cut, with which cutter, how deep and how fast")
    known = {job.job: job for job in results.cutting.jobs}
    for job in machine.jobs:
        if job.name not in known:
            yield unknown(job.path, missing=missing(job), unit="N")
        else:
            mean = show(_middle(known[job.name].mean_in_plane), "N", machine.show)
            yield holds(job.path, true=True, note=f"On the mean {mean} across the spindle.")


@check(
    "CUT-102",
    title="No tooth is fed more than it usually bears",
    why="Too thick a chip breaks small cutters and stalls the spindle.",
    source="common practice, no source",
    remedy="Feed slower, turn faster, or use a cutter with more flutes or a larger diameter.",
)
def chip_is_not_too_thick(machine: Machine, results: Results) -> Iterator[Verdict]:
    for job, thick, low, high, group in _chips(machine, results):
        note = f"Thickest chip of a {_said(machine, job.cutter.diameter)} cutter in {group}; usual {_said(machine, low)} to {_said(machine, high)} a tooth."
        yield ceiling(
            job.path,
            value=thick,
            limit=high,
            unit="m",
            what="chip",
            note=note,
            figure=f"{job.path}.chip",
            changes=_feed_change(machine, job, thick, high),
        )


@check(
    "CUT-103",
    title="Teeth cut a chip and do not rub",
    why="Below a least chip an edge rubs instead of cutting: it burns wood, melts plastic and dulls itself.",
    source="common practice, no source",
    remedy="Feed faster, turn slower, or use a cutter with fewer flutes.",
)
def chip_is_not_too_thin(machine: Machine, results: Results) -> Iterator[Verdict]:
    for job, thick, low, high, group in _chips(machine, results):
        note = f"{group.capitalize()}; usual {_said(machine, low)} to {_said(machine, high)} a tooth: less is to be watched, below {THINNEST:.0%} of it teeth rub."
        # between rubbing and the usual range it is to be watched: 1/0.3 - 1 is where the usual range begins
        yield floor(job.path, value=thick, limit=THINNEST * low, unit="m", what="chip", watch=1 / THINNEST - 1, note=note, figure=f"{job.path}.chip",
                    changes=_speed_change(machine, job, thick, low))  # fmt: skip


@check(
    "CUT-104",
    title="The spindle turns as slowly and as fast as the jobs want",
    why="A speed that the spindle cannot turn is quietly replaced by another, and the chip changes with it.",
    source="definition",
    remedy="Choose a speed within the spindle's range, or another spindle.",
)
def spindle_reaches_the_speed(machine: Machine, results: Results) -> Iterator[Verdict]:
    spindle = machine.spindle
    for job in machine.jobs:
        if spindle is None:
            yield unknown(job.path, missing="the spindle: spindle.part", unit="rad/s")
            continue
        if spindle.part.highest is None:
            yield unknown(f"{job.path} (fastest)", missing="spindle.part.highest", unit="rad/s")
        else:
            changes = _turn(job, spindle.part.highest) if np.any(np.asarray(job.speed) > spindle.part.highest) else ()
            yield ceiling(
                f"{job.path} (fastest)", value=job.speed, limit=spindle.part.highest, unit="rad/s", what="speed", changes=changes
            )
        if spindle.part.lowest is None:
            yield unknown(f"{job.path} (slowest)", missing="spindle.part.lowest", unit="rad/s")
        else:
            changes = _turn(job, spindle.part.lowest) if np.any(np.asarray(job.speed) < spindle.part.lowest) else ()
            yield floor(
                f"{job.path} (slowest)", value=job.speed, limit=spindle.part.lowest, unit="rad/s", what="speed", changes=changes
            )


@check(
    "CUT-105",
    title="The spindle has the mean power that each job takes",
    why="An overloaded spindle slows down, the chip grows with it, and cutter or spindle gives up.",
    source="altintas-manufacturing-automation",
    remedy="Cut less deep or less wide, feed slower, or use a stronger spindle.",
)
def spindle_has_the_power(machine: Machine, results: Results) -> Iterator[Verdict]:
    spindle = machine.spindle
    jobs = {job.path: job for job in machine.jobs}
    for force in results.cutting.jobs:
        job = jobs[f"job.{force.job}"]
        if spindle is None or spindle.part.power is None:
            yield unknown(job.path, missing="spindle and its rated power: spindle.part.power", unit="W")
            continue
        rated = spindle.part.highest
        power = spindle.part.power if rated is None else spindle.part.power * np.minimum(job.speed / rated, 1.0)
        note = "First estimate: constant torque up to the highest speed, rated power as at the shaft; duty, cooling and wear are not in it, so that less than a quarter to spare is to be watched."
        yield ceiling(job.path, value=force.power, limit=power, unit="W", what="power taken", watch=0.25, note=note, figure=f"{job.path}.power",
                      changes=_more_passes(machine, job, 0.7 * _middle(job.depth) * _middle(power) / _middle(force.power)))  # fmt: skip


@check(
    "CUT-106",
    title="No pass is deeper than the flutes are long",
    why="The shank then rubs on the wall: heat, a broken cutter, a spoilt part.",
    source="definition",
    remedy="Cut in more passes, or use a cutter with longer flutes.",
)
def flutes_are_long_enough(machine: Machine, results: Results) -> Iterator[Verdict]:
    for job in machine.jobs:
        if job.cutter.flute_length is None:
            yield unknown(job.path, missing=f"flute length of the cutter: {job.path}.cutter.flute_length", unit="m")
        else:
            yield ceiling(
                job.path,
                value=job.depth,
                limit=job.cutter.flute_length,
                unit="m",
                what="depth",
                changes=_more_passes(machine, job, job.cutter.flute_length),
            )


def _more_passes(machine: Machine, job: Job, most: Real) -> tuple[Change, ...]:
    """The same depth in so many passes that each is at most so deep."""
    depth = _middle(job.depth)
    if depth <= _middle(most) or _middle(most) <= 0:
        return ()
    times = int(np.ceil(depth / _middle(most)))
    each = propose(depth / times, "depth", machine.show, "up")
    edits = ((f"{job.path}.depth", each), (f"{job.path}.passes", str(times * job.passes)))
    return (
        Change(
            f"{times * job.passes} passes of {each} instead of {job.passes} of {beside(depth, each, 'length', machine.show)}", edits
        ),
    )


def _chips(machine: Machine, results: Results) -> Iterator[tuple[Job, Real, float, float, str]]:
    chips = {force.job: force.chip for force in results.cutting.jobs}
    for job in machine.jobs:
        usual = chip_loads().get(job.material.group)
        if usual is None or job.name not in chips or job.cutter.diameter is None:
            continue
        diameter = typical(job.cutter.diameter)
        low, high = usual.band(diameter)
        width = job.cutter.diameter if job.slot else job.width
        thick = largest_chip(feed_per_tooth=chips[job.name], diameter=job.cutter.diameter, width=width)
        yield job, thick, low, high, usual.group.replace("-", " ")


def _feed_change(machine: Machine, job: Job, thick: Real, high: float) -> tuple[Change, ...]:
    wanted = _middle(job.feed) * 0.9 * high / _middle(thick)
    if _middle(thick) <= high:
        return ()
    feed = propose(wanted, "speed", machine.show, "down")
    now = beside(_middle(job.feed), feed, "speed", machine.show)
    return (Change(f"feed {feed} instead of {now}", ((f"{job.path}.feed", feed),)),)


def _speed_change(machine: Machine, job: Job, thick: Real, low: float) -> tuple[Change, ...]:
    if _middle(thick) >= low:
        return ()
    least = 0.0 if machine.spindle is None or machine.spindle.part.lowest is None else _middle(machine.spindle.part.lowest)
    wanted = (
        np.floor(_middle(job.speed) * _middle(thick) / low * RPM / 10) * 10 / RPM
    )  # not rounded up, so that the chip is thick enough
    return _turn(job, max(wanted, least))


def _turn(job: Job, speed: Real) -> tuple[Change, ...]:
    rpm = round(_middle(speed) * RPM, -1)
    return (Change(f"{rpm:.0f} rpm instead of {_middle(job.speed) * RPM:.0f} rpm", ((f"{job.path}.speed", f"{rpm:.0f} rpm"),)),)


def _middle(value: Real) -> float:
    return typical(value)


def _said(machine: Machine, value: Real | None) -> str:
    """A typical length in the units of the machine."""
    return show(None if value is None else typical(value), "m", machine.show)

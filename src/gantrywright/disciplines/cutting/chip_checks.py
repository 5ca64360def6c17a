"""CUT-101 to 103, 110: forces, and chips that teeth bear and really cut."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import plain, typical
from gantrywright.base.units import Metre
from gantrywright.disciplines.cutting.changes import RPM, feed_at, turn
from gantrywright.disciplines.cutting.chip_load import chip_loads
from gantrywright.disciplines.cutting.cut import missing, run_out_of
from gantrywright.disciplines.cutting.drilling import is_drill
from gantrywright.disciplines.cutting.limits import THINNEST, level_speed
from gantrywright.disciplines.cutting.told import length
from gantrywright.findings import Change, Verdict, cautioned, ceiling, check, floor, holds, unknown
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results import Results
from gantrywright.theory.cutting.engagement import feed_per_tooth, largest_chip, smallest_chip

CUTS = 0.3
"""Of the radius of an edge: a thinner chip is pushed aside; 0.2 to 0.4, from memory."""
WELL = 3.0
"""Times that chip from which on an edge cuts well; common practice, no source."""
BLUNT = 3.5
"""Radius of a worn edge over that of a new one: 20 to 50 um against 5 to 15; common practice, no source."""
EVEN = 0.5
"""A run-out of less than this part of what keeps a tooth out of the work is not told; common practice, no source."""


@check(
    "CUT-101",
    title="Each job's forces can be worked out",
    why="Without cutting coefficients nothing says whether drives, guides and spindle can bear the cut, whether the work stays put and how true it comes out.",
    source="altintas-manufacturing-automation",
    remedy="Use a work material of the table, or give the material a shear force and an edge force with their bands.",
)
def forces_are_known(machine: Machine, results: Results) -> Iterator[Verdict]:
    if not machine.jobs:
        yield unknown("job", missing="at least one job: what shall be cut, with which cutter, how deep and how fast")
    known = {job.job: job for job in results.cutting.jobs}
    for job in machine.jobs:
        found = known.get(job.name)
        if found is None:
            yield unknown(job.path, missing=missing(job), unit="N")
            continue
        mean, most, axial = (
            show(typical(np.abs(value)), "N", machine.show)
            for value in (found.mean_in_plane, found.peak_in_plane, found.peak_axial)
        )
        does = "lifts the work" if typical(found.peak_axial) > 0 else "presses on the work"
        yield holds(
            job.path, true=True, note=f"Across the spindle {mean} on the mean and {most} at most; it {does} with up to {axial}."
        )


@dataclass(frozen=True, slots=True)
class Chip:
    """The thickest chip of a job, and what is usual."""

    job: Job
    thick: Metre
    low: float | None
    high: float | None
    """None where nobody says what is usual in the material."""
    group: str


def chips(machine: Machine) -> Iterator[Chip]:
    """Of all jobs whose cutter has a diameter and a count of flutes; of the others CUT-101 says what is missing."""
    for job in machine.jobs:
        diameter, flutes, usual = job.cutter.diameter, job.cutter.flutes, chip_loads().get(job.material.group)
        if diameter is None or not flutes or is_drill(job):  # CUT-120 looks at drills
            continue
        chip = feed_per_tooth(feed=job.feed, speed=job.speed, flutes=flutes)
        thick = largest_chip(feed_per_tooth=chip, diameter=diameter, width=diameter if job.slot else job.width)
        low, high = (None, None) if usual is None else usual.band(typical(diameter))
        yield Chip(job, thick, low, high, "" if usual is None else usual.group.replace("-", " "))


def _no_group(chip: Chip, subject: str) -> Verdict:
    name = chip.job.material.id or "the material"
    return unknown(
        subject,
        missing=f"what {name} is cut like, such as hardwood or aluminium: part.{chip.job.material.id or 'NAME'}.group",
        unit="m",
    )


@check(
    "CUT-102",
    title="No tooth is fed more than it usually bears",
    why="Too thick a chip breaks small cutters and stalls the spindle.",
    source="common practice, no source",
    remedy="Feed slower, turn faster, or use a cutter with more flutes or a larger diameter.",
)
def chip_is_not_too_thick(machine: Machine, results: Results) -> Iterator[Verdict]:
    for chip in chips(machine):
        job = chip.job
        if chip.high is None:
            yield _no_group(chip, job.path)
            continue
        slower = typical(chip.thick) > chip.high
        yield ceiling(
            job.path, value=chip.thick, limit=chip.high, unit="m", what="chip", figure=f"{job.path}.chip",
            note=f"Thickest chip of a {length(machine, job.cutter.diameter)} cutter in {chip.group}; usual {length(machine, chip.low)} to {length(machine, chip.high)} a tooth.",
            changes=feed_at(machine, job, typical(job.feed) * 0.9 * chip.high / typical(chip.thick), "down") if slower else (),
        )  # fmt: skip


@check(
    "CUT-103",
    title="Teeth cut a chip and do not rub",
    why="Below a least chip an edge rubs instead of cutting: it burns wood, melts plastic and dulls itself.",
    source="common practice, no source",
    remedy="Feed faster, turn slower, or use a cutter with fewer flutes or a sharper edge.",
)
def chip_is_not_too_thin(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Against what is usual in the material, and against what the rounded edge can cut at all."""
    for chip in chips(machine):
        yield _usual(machine, results, chip)
        yield _edge(machine, results, chip)


def _usual(machine: Machine, results: Results, chip: Chip) -> Verdict:
    job = chip.job
    if chip.low is None:
        return _no_group(chip, job.path)
    note = f"{chip.group.capitalize()}; usual {length(machine, chip.low)} to {length(machine, chip.high)} a tooth: less is to be watched, below {100 * THINNEST:.0f} % of it teeth rub."
    # between rubbing and the usual range it is to be watched: 1/0.3 - 1 is where the usual range begins
    return floor(
        job.path, value=chip.thick, limit=THINNEST * chip.low, unit="m", what="chip", watch=1 / THINNEST - 1, note=note, figure=f"{job.path}.chip",
        changes=_thicker(machine, results, chip, chip.low),
    )  # fmt: skip


def _edge(machine: Machine, results: Results, chip: Chip) -> Verdict:
    job, subject = chip.job, f"{chip.job.path} (edge)"
    radius = job.cutter.edge_radius
    if radius is None:
        return unknown(subject, missing=f"{job.path}.cutter.edge_radius", unit="m")
    worn = job.edge == "worn"
    least = smallest_chip(edge_radius=radius * (BLUNT if worn else 1.0), share=CUTS)
    rounded = f"An edge rounded by {length(machine, radius)} when new" + (f", {BLUNT:g} times as much when worn," if worn else "")
    return floor(
        subject, value=chip.thick, limit=least, unit="m", what="chip", watch=WELL - 1, figure=f"{job.path}.chip", source="from memory",
        note=f"{rounded} pushes thinner chips aside than the limit; less than {WELL:g} times that is to be watched.",
        changes=_thicker(machine, results, chip, 1.05 * WELL * typical(least)),
    )  # fmt: skip


def _thicker(machine: Machine, results: Results, chip: Chip, wanted: float) -> tuple[Change, ...]:
    """A faster feed where the axes promise it, else a slower spindle, as far as it goes."""
    job, thick = chip.job, typical(chip.thick)
    if thick >= wanted or (chip.high is not None and wanted > chip.high):
        return ()
    found: tuple[Change, ...] = ()
    promised, feed = level_speed(machine, results.motion), 1.02 * typical(job.feed) * wanted / thick
    if promised is not None and feed <= typical(promised):
        found = feed_at(machine, job, feed, "up")
    least = 0.0 if machine.spindle is None or machine.spindle.part.lowest is None else typical(machine.spindle.part.lowest)
    # not rounded up, so that the chip is thick enough
    slow = max(float(np.floor(typical(job.speed) * thick / wanted * RPM / 10) * 10 / RPM), least)
    return (*found, *turn(job, slow)) if slow < typical(job.speed) else found


@check(
    "CUT-110",
    title="Every tooth cuts, whatever the run-out",
    why="A cutter that runs out by more than its chip cuts with one tooth: that one takes what all should, wears first and leaves the wall coarse.",
    source="kline-devor-1983",
    remedy="Clean collet and cone, take a truer collet, feed more a tooth, or use a cutter with fewer flutes; measure the run-out and write it down.",
)
def every_tooth_cuts(machine: Machine, results: Results) -> Iterator[Verdict]:
    """The first tooth is kept out of the work where 2 e sin(pi/N) reaches the thickest chip. What that does to forces and wall is in those."""
    for chip in chips(machine):
        job, flutes = chip.job, chip.job.cutter.flutes
        if flutes is None or flutes < 2:
            continue
        if job.run_out is None and (machine.spindle is None or machine.spindle.part.run_out is None):
            yield unknown(job.path, missing=f"{job.path}.run_out, or spindle.part.run_out", unit="m")
            continue
        reading = run_out_of(machine, job)
        allowed = plain(np.asarray(chip.thick / np.sin(np.pi / flutes)))
        idle = "one of its two teeth" if flutes == 2 else "a tooth"
        yield cautioned(
            ceiling(
                job.path, value=reading, limit=allowed, unit="m", what="run-out", watch=EVEN, figure=f"{job.path}.chip",
                note=f"reading of an indicator at the cutter; at the limit {idle} no longer touches the work with a chip of {length(machine, chip.thick)}",
                changes=_outrun(machine, results, chip, typical(reading) * float(np.sin(np.pi / flutes)) / (1 - EVEN)),
            )
        )  # fmt: skip


def _outrun(machine: Machine, results: Results, chip: Chip, wanted: float) -> tuple[Change, ...]:
    """A chip that outweighs the run-out, where teeth bear it."""
    return () if typical(chip.thick) >= wanted else _thicker(machine, results, chip, 1.05 * wanted)

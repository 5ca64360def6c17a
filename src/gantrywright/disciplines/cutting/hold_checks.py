"""CUT-401 to 404: whether the work stays where it is, and parts that are cut free with it."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities.proposing import beside
from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Number
from gantrywright.disciplines.cutting.changes import MANY, USED, depth_text, held_better, mends
from gantrywright.disciplines.cutting.tabbed import bridges
from gantrywright.disciplines.cutting.told import answered, length, limit_of
from gantrywright.findings import Change, Verdict, cautioned, ceiling, check, unknown
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job, Tabs
from gantrywright.results import Results
from gantrywright.results.jobs import Holding, JobAnswer, Limit

LEAST = 1e-9
"""Instead of nothing where something is divided by a hold."""
SMALL = 0.25
"""Parts of so much of the held area are looked at: they must hold by themselves once they are cut free; common practice, no source."""


def _held(machine: Machine, results: Results) -> Iterator[tuple[Job, JobAnswer, Holding]]:
    """Jobs of which the file says how the work is held."""
    for job, answer in answered(machine, results):
        if answer.holding is not None:
            yield job, answer, answer.holding


@check(
    "CUT-401",
    title="The work does not slip under the greatest force of its job",
    why="Work that slips is spoilt at once; work that turns under the cutter breaks it and may be thrown.",
    source="derived",
    remedy="Hold it stronger or at more places, or cut less deep.",
)
def work_does_not_slip(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Greatest push in the plane, at the worst place and in the worst direction, against what holds over the wanted safety."""
    for job, answer in answered(machine, results):
        held, limit = answer.holding, limit_of(answer, "hold-down")
        if held is None or held.slip is None:
            yield unknown(job.path, missing=_lacking(job, held, limit), unit="N")
            continue
        used = held.push / np.maximum(held.slip, LEAST)
        sized = (
            ""
            if job.work is not None or job.hold_down is None
            else f"Tell {job.path}.work: without the size of the work the worst shape is taken. "
        )
        better = held_better(machine, job, used)
        yield ceiling(
            job.path, value=held.push, limit=held.slip, unit="N", what="push", figure=f"{job.path}.held_push", note=_words(job, held),
            remedy=f"{sized}Hold it stronger or at more places, or cut less deep." if sized else "",
            changes=(*better, *mends(machine, job, answer, limit)) if limit is not None else better,
        )  # fmt: skip


def _lacking(job: Job, held: Holding | None, limit: Limit | None) -> str:
    """What must be known first; of a drill the size of the work, which turns about it."""
    if held is not None:
        return held.missing
    if job.hold_down is not None and limit is not None and limit.missing:
        return limit.missing
    board = ' for the spoilboard itself kind = "screws", with count and force' if job.cutter.style == "surfacing" else ""
    return f"how the work is held: {job.path}.hold_down{board and ';' + board}"


def _words(job: Job, held: Holding) -> str:
    safety = 1.0 if job.hold_down is None else typical(job.hold_down.safety)
    words = f"{held.words[:1].upper()}{held.words[1:]}; the hold is divided by {safety:g}."
    return f"{words} {held.note}" if held.note else words


@check(
    "CUT-402",
    title="The work is not lifted by the pull of the cutter",
    why="An up-cut helix pulls at the work with every tooth: a thin sheet comes up into the cutter, a vacuum lets go at once.",
    source="derived",
    remedy="Hold it stronger, cut less deep, or use a cutter that presses down: straight or down-cut flutes.",
)
def work_is_not_lifted(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Greatest pull against what holds it down over the wanted safety; where that is not known, CUT-401 says so."""
    for job, answer, held in _held(machine, results):
        if held.lift is None:
            continue
        limit, used = limit_of(answer, "lift"), held.pull / np.maximum(held.lift, LEAST)
        better = held_better(machine, job, used)
        yield ceiling(
            job.path, value=held.pull, limit=held.lift, unit="N", what="pull", figure=f"{job.path}.held_lift",
            note=_words(job, held) if typical(held.pull) > 0 else "The cutter presses the work down.",
            changes=(*better, *mends(machine, job, answer, limit)) if limit is not None else better,
        )  # fmt: skip


@check(
    "CUT-403",
    title="Small parts still hold when they are cut free",
    why="Vacuum holds by the area: a part that is cut free with too little of it slides into the cutter and is thrown.",
    source="derived",
    remedy="Leave tabs or a thin skin, nest small parts where something else holds them, or hold them with tape or screws.",
)
def small_parts_hold(machine: Machine, results: Results) -> Iterator[Verdict]:
    """A caution for parts smaller than the held area, which CUT-401 judges as a whole; with tabs, CUT-404 speaks instead."""
    for job, _, held in _held(machine, results):
        hold = job.hold_down
        if held.smallest is None or hold is None or hold.area is None or hold.tabs is not None:
            continue
        least = show(typical(held.smallest), "m2", machine.show)
        yield cautioned(
            ceiling(
                job.path, value=held.smallest, limit=SMALL * hold.area, unit="m2", what="least area that holds",
                note=f"parts under {least} do not hold by themselves at these settings; looked at are parts of {SMALL:.0%} of the held area".replace("%", " %"),
                changes=_tabbed(machine, job) if typical(held.smallest) > SMALL * typical(hold.area) else (),
            )
        )  # fmt: skip


def _tabbed(machine: Machine, job: Job) -> tuple[Change, ...]:
    """Four tabs of a usual size."""
    path = f"{job.path}.hold_down.tabs"
    width, thick = ("6 mm", "1 mm") if machine.show == "metric" else ("1/4 in", "0.04 in")
    return (
        Change(
            f"four tabs of {width} x {thick} a part",
            ((f"{path}.count", "4"), (f"{path}.width", width), (f"{path}.thickness", thick)),
        ),
    )


@check(
    "CUT-404",
    title="Tabs hold the part that is cut free",
    why="Tabs that break let the part go while the cutter is beside it: it is caught, thrown, or scarred.",
    source="derived",
    remedy="More tabs, wider or thicker ones, or a lighter last pass.",
)
def tabs_hold(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Push along the kerf, which half the tabs bear, and pull of the cutter, which all bear; with vacuum or tape, what these hold besides."""
    for job, answer, held in _held(machine, results):
        hold, found, subject = job.hold_down, bridges(job, held), f"{job.path}.hold_down.tabs"
        if hold is None or hold.tabs is None or found is None:
            continue
        if isinstance(found, str):
            yield unknown(subject, missing=found, unit="N")
            continue
        note = f"{found.words}; each {length(machine, hold.tabs.width)} x {length(machine, hold.tabs.thickness)}, the hold is divided by {typical(hold.safety):g}."
        for which, value, bears, id in (("push", held.push, found.push, "tabs"), ("pull", held.pull, found.lift, "tabs-lift")):
            limit = limit_of(answer, id)
            yield ceiling(
                f"{subject} ({which})", value=value, limit=bears, unit="N", what=which, note=note, figure=limit.figure if limit is not None else "",
                changes=_stouter(machine, job, hold.tabs, value / np.maximum(bears, LEAST)),
            )  # fmt: skip


def _stouter(machine: Machine, job: Job, tabs: Tabs, used: Number) -> tuple[Change, ...]:
    """More tabs, or thicker ones, which a lift bends by the square of their thickness at the most."""
    if np.ndim(used) or not float(used) > USED or tabs.thickness is None:
        return ()
    path, times, found = f"{job.path}.hold_down.tabs", float(used) / USED, []
    count = 2 * int(np.ceil(tabs.count * times / 2))
    if tabs.count < count <= MANY:
        found.append(Change(f"{count} tabs instead of {tabs.count}", ((f"{path}.count", str(count)),)))
    thick = depth_text(typical(tabs.thickness) * times, machine.show)
    whole = typical(job.depth) * job.passes
    if typical(tabs.thickness) * times < whole:
        now = beside(typical(tabs.thickness), thick, "length", machine.show)
        found.append(Change(f"tabs {thick} thick instead of {now}", ((f"{path}.thickness", thick),)))
    return tuple(found)

"""CUT-601, 701: whether a cut stays quiet, and whether a job runs at all; both speak once the jobs were looked at in depth."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.disciplines.cutting.changes import RPM, USED, advised, more_passes, shorter, turn_with_feed
from gantrywright.disciplines.cutting.chatter import zero_order_holds
from gantrywright.disciplines.cutting.cut import cut_of, setting_of
from gantrywright.disciplines.cutting.drilling import is_drill
from gantrywright.disciplines.cutting.told import answered, length, limit_of, softest
from gantrywright.findings import Change, Verdict, ceiling, check, holds, unknown
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results import Results
from gantrywright.results.jobs import JobAnswer, Lobes, Runs
from gantrywright.theory.cutting.lobes import HELD, SPEED_DOUBT

WARY = 0.9
"""Part of the depth that still holds with all frequencies off which a change uses."""


@check(
    "CUT-601",
    title="No pass is deeper than a quiet cut allows",
    why="Beyond the limit each tooth cuts the waves of the one before and makes them larger: noise, waves on the wall, broken edges.",
    source="altintas-budak-1995",
    remedy="Cut less deep, turn at another speed, push the cutter further into its collet, or stiffen and damp what the mode strains.",
    simulated=True,
)
def cut_is_quiet(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Against 0.7 of the depth at which chatter begins. Resonance with the teeth, STR-201 says."""
    if results.simulation is None:
        return
    for job, answer in answered(machine, results):
        if is_drill(job):
            continue
        lobes, limit = answer.lobes, limit_of(answer, "chatter")
        if lobes is None:
            yield unknown(
                job.path, missing=limit.missing if limit is not None else "modes of the machine with this cutter", unit="m"
            )
        elif not np.isfinite(typical(lobes.here)):
            yield holds(job.path, true=True, note=f"At {typical(job.speed) * RPM:.0f} rpm no depth chatters ({lobes.method}).")
        else:
            yield _quiet(machine, results, job, answer, lobes)


def _quiet(machine: Machine, results: Results, job: Job, answer: JobAnswer, lobes: Lobes) -> Verdict:
    allowed = HELD * np.asarray(lobes.here)
    shaky = float(np.clip(1 - typical(lobes.low) / typical(lobes.here), 0.0, 1.0))
    side = "in a slot" if job.slot else lobes.way
    note = (
        f"{HELD:g} of the depth of {length(machine, lobes.here)} at which it begins: {lobes.frequency:.0f} Hz, {_fed(lobes)}, {side}, {softest(machine, results)}; "
        f"{lobes.method}. Where every frequency is off by {100 * SPEED_DOUBT:.0f} % it may begin at {length(machine, lobes.low)}, so that less to spare is to be watched."
    )
    cut = cut_of(machine, job)
    if cut is not None and lobes.method == "zero-order" and not zero_order_holds(cut, setting_of(cut)):
        note += " Climbing with so little width the true limit can be a third of this: the second opinion tells."
    typically = np.ndim(lobes.here) == 0
    return ceiling(
        job.path, value=job.depth, limit=allowed if allowed.ndim else float(allowed), unit="m", what="depth", watch=shaky, note=note,
        figure=f"{job.path}.chatter_depth", changes=_quieter(machine, job, answer, lobes) if typically else (),
    )  # fmt: skip


def _fed(lobes: Lobes) -> str:
    return lobes.direction if ":" in lobes.direction else f"fed {lobes.direction}"


def _quieter(machine: Machine, job: Job, answer: JobAnswer, lobes: Lobes) -> tuple[Change, ...]:
    """Less depth, the best speed within reach, a shorter cutter, the advised settings."""
    depth = typical(job.depth)
    if depth <= USED * HELD * typical(lobes.low):
        return ()
    found = list(more_passes(machine, job, WARY * HELD * typical(lobes.low)))
    if lobes.best is not None and lobes.best_depth is not None and HELD * typical(lobes.best_depth) >= depth:
        found += turn_with_feed(machine, job, lobes.best)
    return (*found, *shorter(machine, job), *advised(machine, job, answer))


@check(
    "CUT-701",
    title="Each job runs on this machine, if need be with other settings",
    why="A job that no settings make possible is one that this machine is not for.",
    source="of each limit",
    remedy="Mend what the note names: the machine, the cutter or the hold-down, not the settings.",
    simulated=True,
)
def job_runs(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Of jobs of which all limits are known or one is exceeded; what is lacking for the others, the checks of their limits say. For drills
    no settings are looked for, so that their limits speak for themselves."""
    if results.simulation is None:
        return
    for job, answer in answered(machine, results):
        if answer.runs is not Runs.UNKNOWN and not is_drill(job):
            yield holds(job.path, true=answer.runs is not Runs.NO, note=_runs(answer), changes=_any_way(machine, job, answer))


def _runs(answer: JobAnswer) -> str:
    over = "; ".join(limit.words for limit in answer.limits if limit.exceeded)
    if answer.runs is Runs.NO:
        return (
            f"Does not run: exceeds {over}. {answer.no_advice[:1].upper()}{answer.no_advice[1:]}."
            if answer.no_advice
            else f"Does not run: exceeds {over}."
        )
    if answer.runs is Runs.IF:
        return f"Runs with other settings; as it is, it exceeds {over}."
    return f"Runs as it is; first to bind is {answer.binds.words}." if answer.binds is not None else "Runs as it is."


def _any_way(machine: Machine, job: Job, answer: JobAnswer) -> tuple[Change, ...]:
    """Where no settings do, a shorter cutter may."""
    return shorter(machine, job) if answer.runs is Runs.NO else ()

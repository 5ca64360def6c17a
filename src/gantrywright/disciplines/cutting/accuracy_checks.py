"""CUT-201, 202: how far deflection and run-out bring walls and bottoms off; no more of the accuracy than that."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.disciplines.cutting.changes import mends, part_used, shorter
from gantrywright.disciplines.cutting.light_pass import light_pass
from gantrywright.disciplines.cutting.told import length, limited, softest
from gantrywright.findings import Change, Verdict, ceiling, check, unknown
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results import Results
from gantrywright.results.jobs import JobAnswer, Limit


@check(
    "CUT-201",
    title="Deflection at the wall stays within the wanted accuracy",
    why="The teeth leave the wall where the tool stands while it bends: grooves come out narrow, tenons thick, and walls lean.",
    source="derived",
    remedy="Cut less deep and finish with a light last pass, push the cutter further into its collet, or stiffen what gives most.",
)
def walls_are_true(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Deflection of machine and cutter at the moment when a tooth makes the wall, and run-out; the worst way and direction. Squareness,
    leads and holes are not in it. STR-102 and 103 look at the machine under the mean and the peak force, whatever the teeth leave."""
    wanted = machine.purpose.accuracy
    if wanted is None and machine.jobs:
        yield unknown("purpose", missing="purpose.accuracy", unit="m")
        return
    for job, answer, limit in limited(machine, results, "accuracy"):
        if limit.value is None or limit.limit is None:
            yield unknown(job.path, missing=limit.missing, unit="m", limit=wanted)
            continue
        yield ceiling(
            job.path, value=limit.value, limit=limit.limit, unit="m", what="off the wall", note=_worst(machine, results, answer), figure=limit.figure,
            remedy=_finish(machine, results, job, limit), changes=_mends(machine, job, answer, limit),
        )  # fmt: skip


def _mends(machine: Machine, job: Job, answer: JobAnswer, limit: Limit) -> tuple[Change, ...]:
    made = mends(machine, job, answer, limit)
    return (*shorter(machine, job), *made) if made else ()


def _worst(machine: Machine, results: Results, answer: JobAnswer) -> str:
    """Sign, way, direction and place of the worst wall in a sentence."""
    wall, profile = answer.wall, answer.profile
    assert wall is not None  # the limit has a value
    off = typical(wall.worst)
    does = f"takes {length(machine, off)} too much" if off > 0 else f"leaves {length(machine, -off)} standing"
    where = softest(machine, results)
    if profile is not None:
        direction, height = np.unravel_index(int(np.argmax(np.abs(profile.error))), profile.error.shape)
        at = typical(np.asarray(profile.heights)[int(height)])
        where = f"fed {profile.directions[int(direction)]}, {length(machine, at)} above the tip, {where}"
    return f"Worst is the {wall.way} wall: the cutter {does}, {where}. Deflection and run-out alone; squareness, leads and holes come on top."


def _finish(machine: Machine, results: Results, job: Job, limit: Limit) -> str:
    """What a light last pass may take, where the wall is too far off."""
    if part_used(limit) <= 1:
        return ""
    assert limit.limit is not None
    found = light_pass(machine, results, job, limit.limit)
    if found is None:
        return ""
    if typical(found.width) <= 0:
        return "Even the lightest last pass at this depth leaves the wall too far off: cut less deep, push the cutter further into its collet, or stiffen what gives most."
    return (
        f"Leave up to {length(machine, found.width)} for a last pass ({found.way}, at the same depth and feed): it keeps the wall within the accuracy; "
        "or cut less deep, or push the cutter further into its collet."
    )


@check(
    "CUT-202",
    title="Deflection at the bottom stays within the wanted accuracy",
    why="The tool goes down or comes up under the force of the cut: pockets come out too deep or too shallow, and steps show between passes.",
    source="derived",
    remedy="Cut less deep, use a cutter of another helix, or stiffen what gives most along the spindle.",
)
def bottoms_are_true(machine: Machine, results: Results) -> Iterator[Verdict]:
    """The same for the bottom; where nothing is known of it, CUT-201 says so."""
    for job, answer, limit in limited(machine, results, "bottom"):
        if limit.value is None or limit.limit is None or answer.bottom is None:
            continue
        comes = "too deep" if typical(answer.bottom) > 0 else "too shallow"
        yield ceiling(
            job.path, value=limit.value, limit=limit.limit, unit="m", what="off the bottom", figure=limit.figure,
            note=f"The cut comes out up to {length(machine, abs(typical(answer.bottom)))} {comes} {softest(machine, results)}; deflection alone.",
            changes=_mends(machine, job, answer, limit),
        )  # fmt: skip

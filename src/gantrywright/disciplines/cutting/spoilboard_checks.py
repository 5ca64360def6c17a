"""Checks on the spoilboard: ridges, the cutter that faces it, what is left of it, its sag."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities.proposing import propose
from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.disciplines.cutting.spoilboard import FELT
from gantrywright.findings import Change, Verdict, ceiling, check, floor, holds, unknown
from gantrywright.model.machine import Machine
from gantrywright.results import Results

OVERLAP = 0.4
"""Part of the facing cutter's diameter that passes should overlap at the least; common practice, no source."""
SUBJECT = "spoilboard"


@check(
    "CUT-501",
    title="Ridges of the faced spoilboard are not felt",
    why="A head that is not square to the board leaves a step at every pass; the work rocks on the ridges and its vacuum leaks.",
    source="common practice, no source",
    remedy="Tram the head, or face with less from pass to pass.",
)
def ridges_are_low(machine: Machine, results: Results) -> Iterator[Verdict]:
    found = results.spoilboard
    if found is None:
        return
    if found.ridge is None:
        yield unknown(SUBJECT, missing=found.lacks("ridge"), unit="m", limit=FELT)
        return
    if not np.all(np.isfinite(np.asarray(found.ridge))):
        yield holds(SUBJECT, true=False, note="Passes lie further apart than the cutter is wide, so that strips are left.")
        return
    changes: tuple[Change, ...] = ()
    if typical(found.ridge) > FELT and found.spacing is not None:
        step = propose(typical(found.spacing), "length", machine.show, "down")
        changes = (Change(f"{step} from pass to pass", (("spoilboard.step_over", step),)),)
    # from 5 to 10 um they are to be watched
    yield ceiling(
        SUBJECT,
        value=found.ridge,
        limit=FELT,
        unit="m",
        watch=0.5,
        what="ridge",
        figure="spoilboard.ridge",
        changes=changes,
        note="From pass to pass, by the tilt of the head alone; a finger may feel half of the limit, so that more is watched.",
    )


@check(
    "CUT-502",
    title="The spindle turns slowly enough for the facing cutter",
    why="A wide cutter that turns faster than is marked on it can throw its teeth.",
    source="definition",
    remedy="A facing cutter of smaller diameter, marked for a higher speed, or a spindle that keeps its torque at lower speeds.",
)
def turns_slowly_enough(machine: Machine, results: Results) -> Iterator[Verdict]:
    found, board = results.spoilboard, machine.spoilboard
    if found is None or board is None:
        return
    if found.fastest is None:
        yield unknown(SUBJECT, missing=found.lacks("fastest"), unit="rad/s")
        return
    assert machine.spindle is not None
    assert machine.spindle.part.lowest is not None
    yield ceiling(
        SUBJECT, value=machine.spindle.part.lowest, limit=found.fastest, unit="rad/s", what="lowest speed of the spindle", figure="spoilboard.fastest",
        note="Speed that is marked on the facing cutter, or that the spindle reaches.",
    )  # fmt: skip


@check(
    "CUT-503",
    title="Facing passes overlap",
    why="Passes as far apart as the cutter is wide leave strips at its rounded corners and where an axis wanders.",
    source="common practice, no source",
    remedy="Face with half the cutter's diameter from pass to pass.",
)
def passes_overlap(machine: Machine, results: Results) -> Iterator[Verdict]:
    board = machine.spoilboard
    if board is None:
        return
    if board.cutter is None or board.cutter.diameter is None or board.step_over is None:
        yield unknown(SUBJECT, missing="spoilboard.cutter, and its diameter", unit="m")
        return
    step = propose(typical(board.cutter.diameter) / 2, "length", machine.show, "down")
    changes = (
        (Change(f"{step} from pass to pass", (("spoilboard.step_over", step),)),)
        if typical(board.step_over) > (1 - OVERLAP) * typical(board.cutter.diameter)
        else ()
    )
    time = results.spoilboard.time if results.spoilboard is not None else None
    yield ceiling(
        SUBJECT, value=board.step_over, limit=board.cutter.diameter, unit="m", what="from pass to pass", watch=OVERLAP, changes=changes,
        note=f"Less overlap than {100 * OVERLAP:.0f} % is watched." + ("" if time is None else f" One pass over the work area takes {typical(time) / 60:.0f} min at the wanted feed, turns left out."),
    )  # fmt: skip


@check(
    "CUT-504",
    title="The spoilboard can be faced again",
    why="A board that is too thin to be faced is cut through to what it lies on, or its screws are met by the cutter.",
    source="derived",
    remedy="Lay a new board, or take less off by filling old cuts.",
)
def can_be_faced(machine: Machine, results: Results) -> Iterator[Verdict]:
    found = results.spoilboard
    if found is None:
        return
    if found.left is None or found.facing is None or found.passes is None or found.least is None:
        yield unknown(SUBJECT, missing=found.lacks("left"))
        return
    off, least = show(typical(found.facing), "m", machine.show), show(typical(found.least), "m", machine.show)
    yield floor(
        SUBJECT,
        value=found.left,
        limit=1.0,
        unit="",
        watch=1.0,
        what="facings left",
        figure="spoilboard.left",
        note=f"Each takes {off} in {typical(found.passes):.0f} passes over the board; {least} must stay; fewer than two left are watched.",
    )


@check(
    "CUT-505",
    title="The spoilboard does not sag under cutter and vacuum",
    why="Where the board sinks the cut is too shallow, and comes through nowhere else.",
    source="timoshenko-plates",
    remedy="Bearers closer together, or another layer under the board.",
)
def does_not_sag(machine: Machine, results: Results) -> Iterator[Verdict]:
    found = results.spoilboard
    if found is None:
        return
    if found.rests:
        yield holds(SUBJECT, true=True, note="It lies on another layer, whose give is in that of the table.")
    elif found.sag is None:
        yield unknown(SUBJECT, missing=found.lacks("sag"), unit="m", limit=machine.purpose.accuracy)
    elif machine.purpose.accuracy is None:
        yield unknown(SUBJECT, missing="purpose.accuracy", unit="m")
    else:
        yield ceiling(
            SUBJECT, value=found.sag, limit=machine.purpose.accuracy, unit="m", what="sag", watch=0.5, figure="spoilboard.sag",
            note="Against the whole accuracy that is wanted; in the middle between two bearers; more than half of it is watched.",
        )  # fmt: skip

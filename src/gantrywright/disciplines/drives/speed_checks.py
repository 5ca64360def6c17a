"""DRV-1xx: whether the drives stand the speed that is wanted."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from gantrywright.disciplines.drives import alternatives
from gantrywright.disciplines.drives.judging import each_drive, near
from gantrywright.findings import Change, Verdict, ceiling, check
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.drives import TravelSpeedLimit

FIGURES = {"whirl": "whirl_speed", "speed value": "speed_value_limit"}
"""Last word of the figure that opens a limit."""


@check(
    "DRV-101", title="Drive stays below its own speed limits at the wanted rapid",
    why="Past them a screw bows and knocks, balls jam in their return path, a belt or a gearbox runs hot.",
    source="of each limit", remedy="See the limit that binds.",
)  # fmt: skip
def own_speed_limits(machine: Machine, results: Results) -> Iterator[Verdict]:
    """One verdict for each hard limit of each drive; the whirl limit holds 0.8 of the whirl speed."""
    for axis, fit, answer in each_drive(machine, results):
        for limit in answer.speed_limits:
            if limit.hard:
                yield ceiling(
                    f"{fit.path} ({limit.reason})", value=axis.rapid, limit=limit.speed, unit="m/s", what="rapid", source=limit.source,
                    remedy=limit.remedy, figure=_figure(fit, limit), changes=_changes(axis, fit, limit) if near(axis.rapid, limit.speed) else (),
                )  # fmt: skip


@check(
    "DRV-102", title="A still screw with a turning nut keeps clear of its whirl speed",
    why="The screw's own unbalance no longer drives whirl, but the run-out of the nut can still shake it.",
    source="blevins-1979", remedy="A thicker screw, clamped at both ends and stretched.",
)  # fmt: skip
def cautions(machine: Machine, results: Results) -> Iterator[Verdict]:
    """A limit that is only a caution is never worse than to be watched."""
    for axis, fit, answer in each_drive(machine, results):
        for limit in answer.speed_limits:
            if not limit.hard:
                verdict = ceiling(
                    f"{fit.path} ({limit.reason})", value=axis.rapid, limit=limit.speed, unit="m/s", what="rapid", watch=0.05,
                    source=limit.source, remedy=limit.remedy, figure=_figure(fit, limit),
                    note="caution: past it, listen for the screw shaking in some part of the travel",
                )  # fmt: skip
                yield replace(verdict, margin=np.maximum(verdict.margin, 0.0) if verdict.margin is not None else None)


def _figure(fit: DriveFit, limit: TravelSpeedLimit) -> str:
    return f"{fit.path}.{FIGURES[limit.reason]}" if limit.reason in FIGURES else ""


def _changes(axis: Axis, fit: DriveFit, limit: TravelSpeedLimit) -> tuple[Change, ...]:
    times = axis.rapid / limit.speed
    if limit.reason == "whirl":
        suits = alternatives.enough_for(fit, times, alternatives.whirl_merit)
        return (
            *alternatives.longer_lead(axis, fit, suits), *alternatives.thicker(axis, fit, suits),
            *alternatives.both_ends_fixed(axis, fit), *alternatives.turning_nut(axis, fit),
        )  # fmt: skip
    if limit.reason == "speed value":
        return alternatives.longer_lead(axis, fit, alternatives.enough_for(fit, times, alternatives.speed_value_merit))
    return ()

"""DRV-3xx: what the drives take of the accuracy that is wanted.

The drives are one of several that share it (structure, guides, tool), so that each check allows a share and claims no more.
"""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.units import Real
from gantrywright.disciplines.drives import alternatives
from gantrywright.disciplines.drives.judging import each_drive
from gantrywright.findings import Change, Verdict, ceiling, check, unknown
from gantrywright.model.axis import DriveFit
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.theory.drive_demand import WARMING_AT_WORK

LOST_MOTION_SHARE = 0.5
SCALE_SHARE = 1.0
GROWTH_SHARE = 0.5
"""Parts of the wanted accuracy (common practice, no source)."""
WHAT = {"lost_motion": "play", "lead_error": "error", "growth_at_work": "growth"}
"""What the figures are."""


@check(
    "DRV-301", title="Play of a drive takes at most half of the wanted accuracy",
    why="Every reversal leaves a step of this size: circles get flats, and climb cuts snatch.",
    source="common practice, no source", remedy="A preloaded nut, a pinion held in by a spring, a stage without play.",
)  # fmt: skip
def lost_motion(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Lost motion of each drive."""
    for axis, fit, answer in each_drive(machine, results):
        held = " (an upright axis whose weight beats friction and cut stays on one flank)" if axis.rise > 0 else ""
        yield _share(
            machine, fit, answer.lost_motion, LOST_MOTION_SHARE, "lost_motion", missing=_play_key(fit),
            note=f"play when new{held}", changes=alternatives.preloaded_nut(axis, fit),
        )  # fmt: skip


@check(
    "DRV-302", title="Error of a drive over its travel stays within the wanted accuracy",
    why="Parts come out too long or too short; the error grows along the travel.",
    source="common practice, no source",
    remedy="Measure the travel and set the travel per turn by it: that takes away the constant part, which is most of it.",
)  # fmt: skip
def lead_error(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Expected error over the travel before anything is measured."""
    for axis, fit, answer in each_drive(machine, results):
        if fit.drive.parts.travel_per_turn is None:
            times = (
                1.0
                if answer.lead_error is None or machine.purpose.accuracy is None
                else answer.lead_error / machine.purpose.accuracy
            )
            yield _share(
                machine, fit, answer.lead_error, SCALE_SHARE, "lead_error", missing=f"the accuracy grade of the drive: {fit.path}.part.grade",
                note="before calibration; a measured travel per turn leaves only its variation",
                changes=alternatives.finer_grade(axis, fit, times),
            )  # fmt: skip
        else:
            yield _left_after_measuring(machine, fit, answer.lead_error)


def _play_key(fit: DriveFit) -> str:
    """The key that the lost motion of a drive hangs on."""
    if fit.drive.lost_motion is not None:
        return f"the play of the stage: {fit.path}.reduction.backlash"
    if fit.drive.parts.turns in ("screw", "nut") and fit.drive.parts.pulley is None:
        return f"the play of the nut: {fit.path}.nut.backlash"
    return f"the play of the belt's teeth of {fit.path}, for which there is no rule: measure the step at a reversal"


def _left_after_measuring(machine: Machine, fit: DriveFit, whole: Real | None) -> Verdict:
    """With a given travel per turn the error of the drive is an upper bound: it can pass, but it cannot fail."""
    verdict = _share(
        machine, fit, whole, SCALE_SHARE, "lead_error", missing=f"the accuracy grade of the drive: {fit.path}.part.grade",
        note="the travel per turn is given: less than this is left",
    )  # fmt: skip
    if verdict.margin is None or np.all(np.asarray(verdict.margin) >= 0):
        return verdict
    words = "the error that is left after the travel per turn was measured: positions over the whole travel against a scale"
    return unknown(fit.path, missing=words, unit="m", limit=verdict.limit)


@check(
    "DRV-303", title="Warmth of work moves a drive by at most half of the wanted accuracy",
    why="A part begun on a cold machine and finished on a warm one does not fit itself.",
    source="common practice, no source", remedy="Let the machine warm up first, or set zero again in between.",
)  # fmt: skip
def thermal_growth(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Growth over the travel when the drive warms by 5 K while a job runs."""
    times = (machine.site.ambient_high - machine.site.ambient_low) / WARMING_AT_WORK
    for _, fit, _ in each_drive(machine, results):
        yield _share(
            machine, fit, fit.drive.growth(WARMING_AT_WORK), GROWTH_SHARE, "growth_at_work", missing="",
            note=f"warming of {_warming(machine)} while a job runs; from the coldest to the warmest shop it is {times:.1f} times this",
        )  # fmt: skip


def _warming(machine: Machine) -> str:
    return show(WARMING_AT_WORK, "K", machine.show, hint="tempdiff")


def _share(
    machine: Machine, fit: DriveFit, value: Real | None, share: float, figure: str, *, missing: str, note: str,
    changes: tuple[Change, ...] = (),
) -> Verdict:  # fmt: skip
    wanted = machine.purpose.accuracy
    if wanted is None:
        return unknown(fit.path, missing="the accuracy wanted (purpose.accuracy)", unit="m")
    if value is None:
        return unknown(fit.path, missing=missing, unit="m", limit=share * wanted)
    return ceiling(
        fit.path, value=value, limit=share * wanted, unit="m", what=WHAT[figure], figure=f"{fit.path}.{figure}", note=note, changes=changes,
    )  # fmt: skip

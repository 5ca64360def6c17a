"""ELE-4xx: the current that drivers are set to."""

import math
from collections.abc import Iterator

from gantrywright.base.samples import typical
from gantrywright.disciplines.electrics.voltage_checks import caution
from gantrywright.findings import Change, Verdict, ceiling, check, floor, unknown
from gantrywright.model.axis import DriveFit
from gantrywright.model.machine import Machine
from gantrywright.results import Results

USED = 0.9
"""Part of the rated current below which torque at low speed is given away; common practice, no source."""


def _steppers(machine: Machine) -> Iterator[DriveFit]:
    for axis in machine.axes:
        for drive in axis.drives:
            if drive.motor is not None and drive.motor.part.type in ("stepper", "closed-loop"):
                yield drive


def _rated(drive: DriveFit) -> tuple[Change, ...]:
    if drive.motor is None or drive.motor.part.current is None:
        return ()
    rating = typical(drive.motor.part.current.peak)
    able = drive.driver.part.current if drive.driver else None
    most = rating if able is None else min(rating, typical(able.peak))
    peak = f"{math.floor(most * 100 + 1e-6) / 100:.2f} A peak"  # not rounded up over the rating
    whose = "the motor's rating" if most == rating else "the most that the driver gives"
    return (Change(f"driver set to {peak}, {whose}", ((f"{drive.path}.driver.current", peak),)),)


@check(
    "ELE-401", title="Drivers do not overheat their motors",
    why="Copper heat goes with the square of the current: at 1.4 times the rating it doubles, and magnets and bearings suffer.",
    source="definition", remedy="Set the driver to the motor's rating; mind whether each is told as peak or as rms.",
)  # fmt: skip
def overheats(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Peaks against peaks: both phases carrying the rated direct current heat as much as a sine of sqrt(2) times that peak."""
    for drive in _steppers(machine):
        rating = drive.motor.part.current if drive.motor else None
        setting = drive.driver.current if drive.driver else None
        if rating is None or setting is None:
            what = f"{drive.path}.motor.current" if rating is None else f"{drive.path}.driver.current"
            yield unknown(drive.path, missing=what, unit="A")
            continue
        yield ceiling(
            drive.path, value=setting.peak, limit=rating.peak, unit="A", what="current", changes=_rated(drive),
            note=f"peak values: the driver's setting was told as {setting.convention}, the motor's rating as {rating.convention}",
        )  # fmt: skip


@check(
    "ELE-403", title="Drivers can give the current that they are set to",
    why="The setting stops at the driver's largest current, or its protection trips: torque that was counted on is not there.",
    source="of each limit", remedy="A driver of larger current, or a lower setting.",
)  # fmt: skip
def within_the_driver(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Peaks against peaks."""
    for drive in _steppers(machine):
        able = drive.driver.part.current if drive.driver and drive.driver.part.id else None
        setting = drive.driver.current if drive.driver else None
        if able is None or setting is None:
            what = f"{drive.path}.driver.current" if setting is None else f"largest current of the driver: {drive.path}.driver.part"
            yield unknown(drive.path, missing=what, unit="A")
            continue
        most = f"{typical(able.peak):.2f} A peak"
        yield ceiling(
            drive.path, value=setting.peak, limit=able.peak, unit="A", what="current", note="peak values",
            changes=(Change(f"driver set to {most}, the most that it gives", ((f"{drive.path}.driver.current", most),)),),
        )  # fmt: skip


@check(
    "ELE-402", title="Drivers use the torque that their motors have",
    why="A driver set to the rms figure where it counts peaks gives away 29 % of the torque at low speed; nothing is lost at high speed.",
    source="derived", remedy="Set the driver to sqrt(2) times a rating told as rms, if the driver counts peaks.",
)  # fmt: skip
def too_little(machine: Machine, results: Results) -> Iterator[Verdict]:
    """A caution: a cool motor may be what is wanted."""
    for drive in _steppers(machine):
        rating = drive.motor.part.current if drive.motor else None
        setting = drive.driver.current if drive.driver else None
        if rating is not None and setting is not None:
            verdict = floor(
                drive.path, value=setting.peak, limit=USED * rating.peak, unit="A", what="current", changes=_rated(drive)
            )
            yield caution(verdict, f"below {USED:.0%} of the rating torque is given away; a cool motor may be what is wanted")

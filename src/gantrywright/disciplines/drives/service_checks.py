"""DRV-4xx: what an axis does without power. DRV-5xx: how long its drives last."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities.proposing import propose
from gantrywright.base.samples import typical
from gantrywright.base.units import GRAVITY, Real
from gantrywright.disciplines.drives import alternatives, falling
from gantrywright.disciplines.drives.judging import ceiling_of_demand, each_drive, near
from gantrywright.findings import Change, Verdict, check, floor, holds, unknown
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.drives.shaft import ScrewShaft
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.drives import DriveAnswer
from gantrywright.theory.drive_demand import SERVICE
from gantrywright.theory.falling import fall_time
from gantrywright.theory.screw_life import life_turns

ENDLESS = 1e8
"""Lives beyond this, m, are shown as this: more than a machine ever runs, and without force they have no end."""

NOTHING = 1e-6
"""A torque on the shaft below this, N m, is none: the screw locks itself."""


@check(
    "DRV-401", title="Upright axis stays where it is when the power goes",
    why="Crush hazard: the head drops onto hands, work or the collet whenever the drivers are switched off or trip.",
    source="derived", remedy="A motor with a brake, a gas spring or counterweight, or a screw that locks itself.",
)  # fmt: skip
def stays_up(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Torque of the load on the unpowered motor shafts against drag and detent together."""
    for axis in machine.axes:
        if axis.rise < falling.LEVEL or not axis.drives:
            continue
        answer = results.drives.drives[axis.drives[0].path]
        if falling.has_brake(axis):
            yield holds(axis.path, true=True, note="a brake holds; it must be wired so that it drops in when power goes")
        elif answer.back_torque is None or answer.resisting_torque is None:
            yield unknown(
                axis.path, missing=f"the motor of the axis with its detent torque: {axis.drives[0].path}.motor.detent", unit="N m"
            )
        else:
            back = np.where(np.asarray(answer.back_torque) < NOTHING, 0.0, answer.back_torque)[()]
            yield ceiling_of_demand(
                axis.path, answer, value=back, limit=answer.resisting_torque, unit="N m", what="load torque", watch=0.3,
                figure=f"{axis.path}.back_torque", note=_fall_note(axis, answer), changes=_holders(machine, axis, results),
            )  # fmt: skip


def _fall_note(axis: Axis, answer: DriveAnswer) -> str:
    fall = 0.0 if answer.fall is None else typical(answer.fall)
    if fall <= 0:
        return "less than 30 % to spare is to be watched: shaking can start a slow fall"
    return f"crush hazard: the whole travel falls in {fall_time(acceleration=fall, distance=axis.travel):.1f} s"


def _holders(machine: Machine, axis: Axis, results: Results) -> tuple[Change, ...]:
    mass = typical(results.masses.axes[axis.name].mass)
    if not np.isfinite(mass) or mass <= 0:
        return ()
    force = propose(mass * GRAVITY * axis.rise, "force", machine.show)
    spring = Change(f"a gas spring of {force}", ((f"{axis.path}.counterweight.force", force),))
    return (spring, *alternatives.shorter_lead(axis, axis.drives[0]))


@check(
    "DRV-501", title="Grip of a drive lasts its service",
    why="A worn nut knocks, loses its preload and its place.",
    source="common practice, no source", remedy="A larger screw, a preload that is not larger than needed, wipers that keep chips out.",
)  # fmt: skip
def grip_life(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Life of kinds that have a law for it; 1000 km is some 5 500 hours at a mean of 3 m/min."""
    for axis, fit, answer in each_drive(machine, results):
        if not hasattr(fit.drive.parts.part, "dynamic"):
            continue
        if answer.life is None:
            yield unknown(
                fit.path,
                missing=f"the dynamic rating of the nut, with what it refers to: {fit.path}.nut.dynamic",
                unit="m",
                limit=SERVICE,
            )
        elif answer.lacking:
            yield unknown(fit.path, missing=", ".join(answer.lacking), unit="m", limit=SERVICE)
        else:
            yield floor(
                fit.path, value=np.minimum(answer.life, ENDLESS), limit=SERVICE, unit="m", what="life", figure=f"{fit.path}.life",
                note="the service is some 5500 h of work; half the travel cutting, half positioning; clean and greased", changes=_longer_lived(axis, fit, answer.life),
            )  # fmt: skip


def _longer_lived(axis: Axis, fit: DriveFit, life: Real) -> tuple[Change, ...]:
    if not near(SERVICE, life):
        return ()
    return alternatives.thicker(axis, fit, alternatives.enough_for(fit, SERVICE / life, alternatives.life_merit))


@check(
    "DRV-502", title="Fixed end bearing of a screw lasts its service",
    why="It bears every push of the screw; once it is worn the screw floats.",
    source="common practice, no source", remedy="A larger fixed bearing.",
)  # fmt: skip
def bearing_life(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Life of the axial bearing under the mean force, as if it bore all of it."""
    for axis, fit, answer in each_drive(machine, results):
        if not isinstance(fit.drive, ScrewShaft) or fit.drive.parts.turns != "screw":
            continue
        bearing = fit.drive.parts.bearing
        if bearing is None or bearing.dynamic is None or bearing.dynamic.basis != "turns" or answer.mean_force is None:
            yield unknown(
                fit.path,
                missing=f"the axial dynamic rating of the end bearing, over turns: {fit.path}.bearing.dynamic",
                unit="m",
                limit=SERVICE,
            )
        elif answer.lacking:
            yield unknown(fit.path, missing=", ".join(answer.lacking), unit="m", limit=SERVICE)
        else:
            units = life_turns(dynamic_rating=bearing.dynamic.force, mean_force=answer.mean_force)
            life = units * bearing.dynamic.reference * answer.travel_per_turn
            stronger = alternatives.stronger_bearing(axis, fit, np.cbrt(SERVICE / life)) if near(SERVICE, life) else ()
            yield floor(
                fit.path, value=np.minimum(life, ENDLESS), limit=SERVICE, unit="m", what="life", figure=f"{fit.path}.mean_force",
                note=f"the service is some 5500 h of work; {bearing.id} under the mean force", changes=stronger,
            )  # fmt: skip

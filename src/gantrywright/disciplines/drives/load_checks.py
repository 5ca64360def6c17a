"""DRV-2xx: whether the drives stand the push that is asked of them."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities.proposing import propose
from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.disciplines.drives import alternatives
from gantrywright.disciplines.drives.judging import ceiling_of_demand, each_drive, near
from gantrywright.findings import Change, Verdict, ceiling, check, floor, unknown
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.drives.belt import BeltDrive
from gantrywright.model.drives.lead_screw import LeadScrewDrive
from gantrywright.model.drives.shaft import ScrewShaft
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.theory import belts

WARMING = 10.0
"""Warming of a screw over its frame in hard work, K (common practice, no source: 5 to 15)."""
HOT = 100.0
"""No screw of a router warms so much over its frame, K: a short thick one that would bear more is shown with this."""
TURN = 2 * np.pi


@check(
    "DRV-201", title="Push asked of a drive stays below what its parts bear",
    why="A screw that buckles is bent for good; teeth, nuts, bearings and couplings fail one after the other.",
    source="of each limit", remedy="See the limit that binds.",
)  # fmt: skip
def own_load_limits(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Wanted acceleration, weight, friction and peak cutting force together, against each limit; half the buckling load."""
    for axis, fit, answer in each_drive(machine, results):
        if answer.thrust is None:
            continue
        note = "" if axis.accel is not None else "without acceleration, since none is wanted in the file"
        for reason, force, source, remedy in answer.load_limits:
            if reason != "slack side":
                yield ceiling_of_demand(
                    f"{fit.path} ({reason})", answer, value=answer.thrust, limit=force, unit="N", what="push", source=source, remedy=remedy,
                    note=note, figure=f"{fit.path}.thrust", changes=_thicker(axis, fit, answer.thrust / force) if reason == "buckling" else (),
                )  # fmt: skip


@check(
    "DRV-202", title="Belt is tight enough that its slack side keeps pulling",
    why="Where the slack side drops out the stiffness halves and teeth can climb out of their grooves.",
    source="belt-maker-tables", remedy="Tighten the belt; the note of the plucked span tells its tension.",
)  # fmt: skip
def belt_pretension(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Pretension against the greatest push, 1.0 of it for a linear drive."""
    for _, fit, answer in each_drive(machine, results):
        if not isinstance(fit.drive, BeltDrive) or answer.thrust is None:
            continue
        needed = belts.needed_pretension(force=answer.thrust)
        pretension = fit.drive.parts.pretension
        if pretension is None:
            yield unknown(fit.path, missing=f"the pretension of the belt: {fit.path}.pretension", unit="N", limit=needed)
            continue
        if answer.lacking and not np.all(np.asarray(pretension) < np.asarray(needed)):
            yield unknown(fit.path, missing=", ".join(answer.lacking), unit="N", limit=needed)
            continue
        enough = propose(1.2 * typical(needed), "force", machine.show, "up")
        yield floor(
            fit.path, value=pretension, limit=needed, unit="N", what="pretension", figure=f"{fit.path}.thrust",
            changes=(Change(f"pretension of {enough}", ((f"{fit.path}.pretension", enough),)),),
        )  # fmt: skip


@check(
    "DRV-203", title="Enough teeth of the drive pulley are in mesh",
    why="With fewer teeth sharing the pull the belt's rating does not hold and teeth shear or jump.",
    source="belt-maker-tables", remedy="A pulley with more teeth, or an idler that wraps the belt farther round.",
)  # fmt: skip
def teeth_in_mesh(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Half of the pulley's teeth against six."""
    for axis, fit, _ in each_drive(machine, results):
        if isinstance(fit.drive, BeltDrive):
            yield floor(
                fit.path, value=fit.drive.teeth_in_mesh, limit=float(belts.LEAST_MESH), unit="teeth", what="in mesh",
                figure=f"{fit.path}.teeth_in_mesh", changes=alternatives.more_teeth(axis, fit, 2.0 * belts.LEAST_MESH),
            )  # fmt: skip


@check(
    "DRV-204", title="Plain nut stays cool: flank pressure times sliding speed below its limit",
    why="Friction heats the nut until bronze galls or plastic melts.",
    source="common practice, no source", remedy="A longer nut, a multi-start screw that turns slower, or a ball screw.",
)  # fmt: skip
def nut_heat(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Mean force of ordinary work at the wanted feed."""
    for axis, fit, answer in each_drive(machine, results):
        if not isinstance(fit.drive, LeadScrewDrive) or answer.mean_force is None:
            continue
        nut = fit.drive.parts.nut
        heat = fit.drive.pressure_speed(force=answer.mean_force, turning_speed=axis.feed * TURN / answer.travel_per_turn)
        if nut is None or heat is None or nut.pressure_speed is None:
            yield unknown(
                fit.path, missing=f"the plain nut: {fit.path}.nut.length and {fit.path}.nut.pressure_speed", unit="Pa m/s"
            )
            continue
        yield ceiling_of_demand(
            fit.path, answer, value=heat, limit=nut.pressure_speed, unit="Pa m/s", what="pressure times speed", figure=f"{fit.path}.mean_force",
            note="mean force at the wanted feed", changes=alternatives.thicker(axis, fit, lambda _: True),
        )  # fmt: skip


@check(
    "DRV-205", title="Screw that is held at both ends does not bow out when it warms",
    why="Between two fixed bearings a screw cannot grow; it pushes on them until it buckles.",
    source="derived", remedy="Stretch it when it is fitted, or let the far bearing slide.",
)  # fmt: skip
def held_screw_warms(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Warming over the frame, where the far end is held, against the warming at which the screw buckles."""
    for axis, fit, _ in each_drive(machine, results):
        if isinstance(fit.drive, ScrewShaft):
            warming = WARMING * fit.drive.parts.far_end_held
            limit = np.minimum(fit.drive.buckling_warming().value, HOT)
            yield ceiling(
                fit.path, value=warming, limit=limit, unit="K", what="warming",
                figure=f"{fit.path}.buckling_warming", note="warming over the frame that is not free to grow; 0 where the far end slides",
                changes=(*alternatives.one_end_free(axis, fit), *_thicker(axis, fit, (warming / limit) ** 2)),  # grows with the root squared
            )  # fmt: skip


def _thicker(axis: Axis, fit: DriveFit, times: Real) -> tuple[Change, ...]:
    if not near(times, 1.0):
        return ()
    return alternatives.thicker(axis, fit, alternatives.enough_for(fit, times, alternatives.buckling_merit))

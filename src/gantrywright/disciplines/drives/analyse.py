"""What every linear drive does and bears, seen from its motor shaft and along its axis."""

from dataclasses import replace
from typing import Any

import numpy as np

from gantrywright.base.units import KilogramSquareMetre, Metre, Newton, Number, Real
from gantrywright.catalog import kinds
from gantrywright.disciplines.drives import falling
from gantrywright.disciplines.drives.sharing import Share, shares
from gantrywright.disciplines.drives.stiffness import least_and_most
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.machine import Machine
from gantrywright.results.cutting import CuttingResult
from gantrywright.results.drives import DriveAnswer, DriveResult, TravelSpeedLimit
from gantrywright.results.guides import FrictionResult
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.masses import MassResult
from gantrywright.theory import drive_demand, rotation
from gantrywright.theory.drive_demand import WARMING_AT_WORK
from gantrywright.theory.falling import fall_speed
from gantrywright.theory.screws import drive_torque

UPRIGHT = 0.5
"""Slope above which the axial force of the cutter acts along the axis, not the force in the plane of the table."""
TURN = 2 * np.pi
STEEL = "of screw and rail steel; common practice, no source"


def analyse(machine: Machine, masses: MassResult, cutting: CuttingResult, friction: FrictionResult, ledger: Ledger) -> DriveResult:
    """All drives of all axes.

    Args:
        machine: Typical or sampled.
        masses: What each axis moves.
        cutting: What the cut asks.
        friction: Of the guides.
        ledger: Where figures are written down.
    """
    found: dict[str, DriveAnswer] = {}
    for axis in machine.axes:
        borne = shares(machine, masses, axis, ledger)
        answers = {fit.path: _answer(machine, axis, fit, ledger) for fit in axis.drives}
        answers = {
            path: _with_demand(machine, axis, fit, answers[path], borne[path], masses, cutting, friction, ledger)
            for path, fit in ((fit.path, fit) for fit in axis.drives)
        }
        found |= _with_fall(axis, answers, masses, friction, ledger)
    return DriveResult(found)


def _answer(machine: Machine, axis: Axis, fit: DriveFit, ledger: Ledger) -> DriveAnswer:
    drive, stage, path = fit.drive, fit.reduction, fit.path
    for working in drive.workings():
        inputs = {
            name: Named(given[0], given[1], note=given[2] if len(given) > 2 else "") for name, given in working.inputs.items()
        }
        ledger.figure(f"{path}.{working.name}", working.function, **inputs)
    travel = ledger.note(
        f"{path}.travel_per_turn", drive.travel_per_turn, unit="m/rev", source="definition", title="Travel a turn of the driven shaft",
        formula="s: as written or measured on the drive, else the lead, or the pitch circle of pinion or pulley", **_lead(fit, ledger),
    )  # fmt: skip
    per_radian = ledger.note(
        f"{path}.travel_per_radian", travel / (TURN * stage.ratio), unit="m/rad", formula="r = s / (2 pi i)",
        title="Travel a radian of the motor shaft", source="definition",
        travel_per_turn=ledger.named(f"{path}.travel_per_turn"), ratio=Named(f"{path}.reduction.ratio", stage.ratio),
    )  # fmt: skip
    efficiency = ledger.note(
        f"{path}.efficiency", drive.efficiency * stage.efficiency, unit="", formula="eta = eta_drive eta_stage",
        title="Work out over work in while the motor drives", drive=_made(f"{path}.screw_efficiency", drive.efficiency, ledger), stage=Named(f"{path}.reduction.efficiency", stage.efficiency),
    )  # fmt: skip
    back = ledger.note(
        f"{path}.back_efficiency", drive.back_efficiency * stage.efficiency, unit="", formula="eta_b = eta_b,drive eta_stage",
        title="Work out over work in while the load drives the motor", drive=_made(f"{path}.screw_back_efficiency", drive.back_efficiency, ledger),
        stage=Named(f"{path}.reduction.efficiency", stage.efficiency),
    )  # fmt: skip
    drag = ledger.note(
        f"{path}.drag_torque", drive.drag_torque / (stage.ratio * stage.efficiency), unit="N m", formula="T = T_shaft / (i eta_stage)",
        title="Drag of grip, bearings and seals at the motor shaft", shaft=Named("", drive.drag_torque, "N m", "of nut, seals and end bearings"),
        ratio=Named(f"{path}.reduction.ratio", stage.ratio), stage=Named(f"{path}.reduction.efficiency", stage.efficiency),
    )  # fmt: skip
    least, most, links = least_and_most(fit, ledger)
    ledger.note(
        f"{path}.growth_at_work", drive.growth(WARMING_AT_WORK), unit="m", formula="dL = alpha L dT",
        title="Growth over the travel while a job runs", expansion=Named("", drive.parts.expansion, "1/K", STEEL),
        travel=Named(f"{axis.path}.travel", axis.travel), warming=Named("", WARMING_AT_WORK, "tempdiff", "common practice, no source"),
    )  # fmt: skip
    warming = machine.site.ambient_high - machine.site.ambient_low
    return DriveAnswer(
        path=path, axis=axis.name, travel_per_turn=travel, travel_per_radian=per_radian, efficiency=efficiency, back_efficiency=back,
        drag_torque=drag, inertia=_inertia(fit, ledger), stiffness_least=least, stiffness_most=most,
        speed_limits=_speed_limits(fit, travel, per_radian), load_limits=_load_limits(fit, travel),
        lost_motion=_lost_motion(fit, travel, ledger), lead_error=_lead_error(fit, ledger),
        growth=ledger.note(
            f"{path}.growth", drive.growth(warming), unit="m", formula="dL = alpha L dT", title="Growth over the travel between the shop's extremes",
            expansion=Named("", drive.parts.expansion, "1/K", STEEL), travel=Named(f"{axis.path}.travel", axis.travel),
            warming=Named("", warming, "tempdiff", "both ends of the band of site.ambient"),
        ),
        fall=None, fall_speed=None, links=links,
    )  # fmt: skip


def _made(path: str, value: Real, ledger: Ledger) -> Named:
    """An earlier figure where that is what a drive answers with."""
    found = ledger.link(path, value)
    return found if found.path else Named("", value, note="of the drive itself")


def _lead(fit: DriveFit, ledger: Ledger) -> dict[str, Any]:
    """What the travel a turn was taken from."""
    value, circle = fit.drive.travel_per_turn, f"{fit.path}.pitch_circle"
    if fit.drive.parts.travel_per_turn is not None:
        return {"given": Named(f"{fit.path}.travel_per_turn", value)}
    return {"pitch_circle": ledger.named(circle)} if circle in ledger else {"lead": Named(f"{fit.path}.part.lead", value)}


def _lead_error(fit: DriveFit, ledger: Ledger) -> Metre | None:
    error, by_rate = fit.drive.lead_error(), f"{fit.path}.lead_error_by_rate"
    if error is None:
        return None
    inputs = {"by_rate": ledger.named(by_rate)} if by_rate in ledger else {}
    return ledger.note(
        f"{fit.path}.lead_error", error, unit="m", formula="held over the whole travel by a positioning grade, else by the rate",
        title="Error of the lead over the travel", source="iso-3408-3", **inputs,
    )  # fmt: skip


def _inertia(fit: DriveFit, ledger: Ledger) -> KilogramSquareMetre:
    coupling = fit.coupling.inertia if fit.coupling is not None and fit.coupling.inertia is not None else 0.0
    turning = rotation.through_reduction(inertia=fit.drive.inertia + coupling, ratio=fit.reduction.ratio)
    return ledger.note(
        f"{fit.path}.inertia", turning + fit.reduction.inertia, unit="kg m2", formula="J = (J_shaft + J_coupling) / i^2 + J_stage",
        title="Inertia at the motor shaft without rotor and moving mass", shaft=_shaft_inertia(fit, ledger),
        coupling=_of_coupling(fit, "inertia", coupling, "kg m2"), ratio=Named(f"{fit.path}.reduction.ratio", fit.reduction.ratio),
        stage=Named("", fit.reduction.inertia, "kg m2", "of the stage at the motor shaft"),
    )  # fmt: skip


def _shaft_inertia(fit: DriveFit, ledger: Ledger) -> Named:
    """Of what the driven shaft turns: one figure, or several."""
    figure = f"{fit.path}.shaft_inertia"
    if figure in ledger and fit.drive.parts.turns == "screw":
        return ledger.named(figure)
    return Named("", fit.drive.inertia, "kg m2", "of all that the driven shaft turns")


def _of_coupling(fit: DriveFit, field: str, value: Real, unit: str) -> Named:
    part = fit.coupling
    if part is None or getattr(part, field) is None:
        return Named("", value, unit, "no coupling" if part is None else "its row does not say")
    return Named(f"{fit.path}.coupling.{field}", value)


def _speed_limits(fit: DriveFit, travel: Real, per_radian: Real) -> tuple[TravelSpeedLimit, ...]:
    limits = [
        TravelSpeedLimit(limit.reason, limit.speed * travel / TURN, limit.source, limit.remedy, limit.hard)
        for limit in fit.drive.speed_limits()
    ]
    gearbox = fit.reduction.part
    if gearbox is not None and gearbox.top_speed is not None:
        limits.append(TravelSpeedLimit("gearbox speed", gearbox.top_speed * per_radian, gearbox.source, "a lower ratio"))
    return tuple(limits)


def _load_limits(fit: DriveFit, travel: Real) -> tuple[tuple[str, Newton, str, str], ...]:
    limits = [(limit.reason, limit.force, limit.source, limit.remedy) for limit in fit.drive.load_limits()]
    per_newton = drive_torque(force=1.0, lead=travel, efficiency=fit.drive.efficiency)
    if fit.coupling is not None and fit.coupling.torque is not None:
        limits.append(("coupling torque", fit.coupling.torque / per_newton, fit.coupling.source, "a larger coupling"))
    gearbox = fit.reduction.part
    if gearbox is not None and gearbox.torque is not None:
        limits.append(("gearbox torque", gearbox.torque / per_newton, gearbox.source, "a larger gearbox"))
    return tuple(limits)


def _lost_motion(fit: DriveFit, travel: Real, ledger: Ledger) -> Metre | None:
    own, stage = fit.drive.lost_motion, fit.reduction.backlash
    if own is None or stage is None:
        return None
    coupling = fit.coupling.backlash if fit.coupling is not None and fit.coupling.backlash is not None else 0.0
    nut = fit.drive.parts.nut
    grip = f"{fit.path}.nut.backlash" if nut is not None and nut.backlash is not None else ""
    return ledger.note(
        f"{fit.path}.lost_motion", own + (stage + coupling) * travel / TURN, unit="m", title="Motion that is lost when the axis turns back",
        formula="play of the grip + (play of stage + play of coupling) s / (2 pi)", grip=Named(grip, own, "m", "" if grip else "of the grip"),
        stage=Named(f"{fit.path}.reduction.backlash", stage), coupling=_of_coupling(fit, "backlash", coupling, "rad"),
        travel_per_turn=ledger.named(f"{fit.path}.travel_per_turn"),
    )  # fmt: skip


def _with_demand(
    machine: Machine, axis: Axis, fit: DriveFit, answer: DriveAnswer, share: Share, masses: MassResult, cutting: CuttingResult,
    friction: FrictionResult, ledger: Ledger,
) -> DriveAnswer:  # fmt: skip
    moved, path = masses.axes[axis.name], fit.path
    mass = ledger.link(f"mass.{axis.path}", moved.mass)
    ledger.figure(
        f"{path}.weight", drive_demand.weight_along, mass=mass, rise=Named("", axis.rise, note="1 upright, 0 level"),
        counterweight=Named(f"{axis.path}.counterweight.force" if axis.counterweight else "", falling.counterforce(axis),
                            note="" if axis.counterweight else "there is none"),
    )  # fmt: skip
    common = {"weight": ledger.named(f"{path}.weight"), "friction": ledger.link(f"{axis.path}.friction", friction.axes[axis.name].moving),
              "mass_share": _shared(f"{path}.mass_share", share.mass, ledger), "force_share": _shared(f"{path}.force_share", share.force, ledger)}  # fmt: skip
    accel = Named("", 0.0, note="none is wanted") if axis.accel is None else Named(f"{axis.path}.accel", axis.accel)
    peak, mean = _cutting(axis, cutting, ledger)
    thrust = ledger.figure(
        f"{path}.thrust",
        drive_demand.thrust,
        mass=mass,
        acceleration=accel,
        cutting=peak,
        **common,
    )
    steady = ledger.figure(f"{path}.mean_force", drive_demand.working_mean_force, cutting=mean, **common)
    lacking = tuple(f"mass of {solid}" for solid in moved.unknown) + (
        () if cutting.known else ("cutting force: a [job] whose material has cutting coefficients",)
    )
    life = _life(fit, steady, ledger)
    return replace(
        answer, mass_share=share.mass, force_share=share.force, thrust=thrust, mean_force=steady, life=life, lacking=lacking
    )


def _shared(path: str, value: Number, ledger: Ledger) -> Named:
    return ledger.link(path, value, note="" if path in ledger else "equal parts of all drives of the axis")


def _life(fit: DriveFit, force: Newton, ledger: Ledger) -> Metre | None:
    life = fit.drive.life(mean_force=force)
    if life is None:
        return None
    inputs: dict[str, Any] = {"mean_force": ledger.named(f"{fit.path}.mean_force")}
    nut, part = fit.drive.parts.nut, fit.drive.parts.part
    if nut is not None and nut.dynamic is not None:
        inputs["dynamic"] = Named(f"{fit.path}.nut.dynamic", nut.dynamic)
    elif isinstance(part, kinds.BallScrew):
        inputs["dynamic"] = Named(f"{fit.path}.part.dynamic", part.dynamic)
    return ledger.note(
        f"{fit.path}.life", life, unit="m", formula="L10 = (C / F_m)^3 L_ref of the grip, as travel", source="iso-3408-5",
        title="Travel that nine of ten grips survive under the mean force", **inputs,
    )  # fmt: skip


def _cutting(axis: Axis, cutting: CuttingResult, ledger: Ledger) -> tuple[Named, Named]:
    """Peak and mean force of the cut along an axis, N."""
    if axis.rise < UPRIGHT:
        return ledger.link("cutting.peak_in_plane", cutting.peak_in_plane), ledger.link(
            "cutting.mean_in_plane", cutting.mean_in_plane
        )
    mean: Number = 0.0
    for job in cutting.jobs:
        mean = np.maximum(mean, np.abs(job.mean_axial))
    return ledger.link("cutting.peak_axial", cutting.peak_axial), Named(
        "", mean, note="greatest mean force along the spindle of all jobs"
    )


def _with_fall(
    axis: Axis, answers: dict[str, DriveAnswer], masses: MassResult, friction: FrictionResult, ledger: Ledger
) -> dict[str, DriveAnswer]:
    if not falling.may_fall(axis):
        return answers
    force = falling.pull(axis, masses, friction)
    back, resisting = falling.torques(axis, answers, force, ledger)
    fall = falling.acceleration(axis, answers, force, masses, ledger)
    speed = ledger.figure(
        f"{axis.path}.fall_speed",
        fall_speed,
        acceleration=ledger.named(f"{axis.path}.fall"),
        distance=Named(f"{axis.path}.travel", axis.travel),
    )
    return {
        path: replace(answer, fall=fall, fall_speed=speed, back_torque=back, resisting_torque=resisting)
        for path, answer in answers.items()
    }

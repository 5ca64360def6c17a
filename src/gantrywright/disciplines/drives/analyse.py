"""What every linear drive does and bears, seen from its motor shaft and along its axis."""

from dataclasses import replace

import numpy as np

from gantrywright.base.units import Array, KilogramSquareMetre, Metre, Newton, NewtonPerMetre, Number, Real
from gantrywright.disciplines.drives import falling
from gantrywright.disciplines.drives.sharing import Share, shares
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.drives.defaults import stage_stiffness_band
from gantrywright.model.machine import Machine
from gantrywright.results.cutting import CuttingResult
from gantrywright.results.drives import DriveAnswer, DriveResult, TravelSpeedLimit
from gantrywright.results.guides import FrictionResult
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.masses import MassResult
from gantrywright.theory import drive_demand, rotation, screw_stiffness
from gantrywright.theory.drive_demand import WARMING_AT_WORK
from gantrywright.theory.falling import fall_speed
from gantrywright.theory.screws import drive_torque

PLACES = 9
"""Places along the travel at which stiffness is looked at; it has one least and no wiggles."""
CLEAR = 1e-3
"""A grip stays this far from bearings, m, so that a length of nothing never divides."""
UPRIGHT = 0.5
"""Slope above which the axial force of the cutter acts along the axis, not the force in the plane of the table."""
TURN = 2 * np.pi


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
        inputs = {name: Named(*given) if given[0] else given[1] for name, given in working.inputs.items()}
        ledger.figure(f"{path}.{working.name}", working.function, **inputs)
    travel = ledger.note(f"{path}.travel_per_turn", drive.travel_per_turn, unit="m/rev", formula="of the driven shaft")
    per_radian = ledger.note(
        f"{path}.travel_per_radian", travel / (TURN * stage.ratio), unit="m/rad", formula="r = s / (2 pi i)",
        travel_per_turn=ledger.named(f"{path}.travel_per_turn"), ratio=Named(f"{path}.reduction.ratio", stage.ratio),
    )  # fmt: skip
    efficiency = ledger.note(
        f"{path}.efficiency", drive.efficiency * stage.efficiency, unit="", formula="eta = eta_drive eta_stage",
        drive=drive.efficiency, stage=Named(f"{path}.reduction.efficiency", stage.efficiency),
    )  # fmt: skip
    back = ledger.note(
        f"{path}.back_efficiency", drive.back_efficiency * stage.efficiency, unit="", formula="eta_b = eta_b,drive eta_stage",
        drive=drive.back_efficiency, stage=Named(f"{path}.reduction.efficiency", stage.efficiency),
    )  # fmt: skip
    drag = ledger.note(
        f"{path}.drag_torque", drive.drag_torque / (stage.ratio * stage.efficiency), unit="N m", formula="T = T_shaft / (i eta)",
        shaft=drive.drag_torque, ratio=Named(f"{path}.reduction.ratio", stage.ratio),
    )  # fmt: skip
    least, most = _stiffness(fit, travel, ledger)
    ledger.note(
        f"{path}.growth_at_work", drive.growth(WARMING_AT_WORK), unit="m", formula="alpha travel dT", warming=WARMING_AT_WORK,
        title="Growth over the travel while a job runs",
    )  # fmt: skip
    warming = machine.site.ambient_high - machine.site.ambient_low
    return DriveAnswer(
        path=path, axis=axis.name, travel_per_turn=travel, travel_per_radian=per_radian, efficiency=efficiency, back_efficiency=back,
        drag_torque=drag, inertia=_inertia(fit, ledger), stiffness_least=least, stiffness_most=most,
        speed_limits=_speed_limits(fit, travel, per_radian), load_limits=_load_limits(fit, travel),
        lost_motion=_lost_motion(fit, travel, ledger), lead_error=_note(ledger, f"{path}.lead_error", drive.lead_error(), "m"),
        growth=ledger.note(f"{path}.growth", drive.growth(warming), unit="m", formula="alpha travel dT", warming=warming),
        fall=None, fall_speed=None,
    )  # fmt: skip


def _note(ledger: Ledger, path: str, value: Real | None, unit: str, formula: str = "of the drive's own kind") -> Real | None:
    return None if value is None else ledger.note(path, value, unit=unit, formula=formula)


def _inertia(fit: DriveFit, ledger: Ledger) -> KilogramSquareMetre:
    coupling = fit.coupling.inertia if fit.coupling is not None and fit.coupling.inertia is not None else 0.0
    turning = rotation.through_reduction(inertia=fit.drive.inertia + coupling, ratio=fit.reduction.ratio)
    return ledger.note(
        f"{fit.path}.inertia", turning + fit.reduction.inertia, unit="kg m2", formula="J = (J_shaft + J_coupling) / i^2 + J_stage",
        title="Inertia at the motor shaft without rotor and moving mass", shaft=fit.drive.inertia,
        coupling=Named(f"{fit.path}.coupling.inertia", coupling), ratio=Named(f"{fit.path}.reduction.ratio", fit.reduction.ratio),
        stage=fit.reduction.inertia,
    )  # fmt: skip


def _stiffness(fit: DriveFit, travel: Real, ledger: Ledger) -> tuple[NewtonPerMetre | None, NewtonPerMetre | None]:
    parts = fit.drive.parts
    places: Array = np.clip(np.linspace(parts.nearest, parts.farthest, PLACES), CLEAR, parts.free_length - CLEAR)
    chain = fit.drive.axial_stiffness(places)
    if chain is None:
        return None, None
    least, most = np.min(chain, axis=-1), np.max(chain, axis=-1)
    if fit.reduction.kind != "direct":
        given = fit.reduction.stiffness
        torsion = stage_stiffness_band(fit.reduction.kind).typical if given is None else given
        stage = ledger.figure(
            f"{fit.path}.stage_stiffness", screw_stiffness.axial_from_torsional, lead=travel,
            torsional_stiffness=Named(f"{fit.path}.reduction.stiffness", torsion),
        )  # fmt: skip
        least = screw_stiffness.in_series(first=least, second=stage)
        most = screw_stiffness.in_series(first=most, second=stage)
    formula = "1/k = sum of 1/k over the chain, where the travel makes it {}"
    return (
        ledger.note(f"{fit.path}.stiffness_least", least, unit="N/m", formula=formula.format("least"), source="iso-3408-4"),
        ledger.note(f"{fit.path}.stiffness_most", most, unit="N/m", formula=formula.format("greatest"), source="iso-3408-4"),
    )


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
    return ledger.note(
        f"{fit.path}.lost_motion", own + (stage + coupling) * travel / TURN, unit="m",
        formula="play of the grip + (play of stage + play of coupling) s / (2 pi)", grip=own,
        stage=Named(f"{fit.path}.reduction.backlash", stage), coupling=coupling,
    )  # fmt: skip


def _with_demand(
    machine: Machine, axis: Axis, fit: DriveFit, answer: DriveAnswer, share: Share, masses: MassResult, cutting: CuttingResult,
    friction: FrictionResult, ledger: Ledger,
) -> DriveAnswer:  # fmt: skip
    moved, path = masses.axes[axis.name], fit.path
    weight = ledger.figure(
        f"{path}.weight", drive_demand.weight_along, mass=moved.mass, rise=axis.rise, counterweight=falling.counterforce(axis)
    )
    common = {"weight": Named(f"{path}.weight", weight), "friction": friction.axes[axis.name].moving,
              "mass_share": share.mass, "force_share": share.force}  # fmt: skip
    accel = axis.accel if axis.accel is not None else 0.0
    peak, mean = _cutting(axis, cutting)
    thrust = ledger.figure(
        f"{path}.thrust",
        drive_demand.thrust,
        mass=moved.mass,
        acceleration=Named(f"{axis.path}.accel", accel),
        cutting=peak,
        **common,
    )
    steady = ledger.figure(f"{path}.mean_force", drive_demand.working_mean_force, cutting=mean, **common)
    lacking = tuple(f"mass of {solid}" for solid in moved.unknown) + (() if cutting.known else ("cutting force",))
    life = _note(ledger, f"{path}.life", fit.drive.life(mean_force=steady), "m", "L10 of the grip under the mean force, as travel")
    return replace(
        answer, mass_share=share.mass, force_share=share.force, thrust=thrust, mean_force=steady, life=life, lacking=lacking
    )


def _cutting(axis: Axis, cutting: CuttingResult) -> tuple[Newton, Newton]:
    """Peak and mean force of the cut along an axis, N."""
    if axis.rise < UPRIGHT:
        return cutting.peak_in_plane, cutting.mean_in_plane
    mean: Number = 0.0
    for job in cutting.jobs:
        mean = np.maximum(mean, np.abs(job.mean_axial))
    return cutting.peak_axial, mean


def _with_fall(
    axis: Axis, answers: dict[str, DriveAnswer], masses: MassResult, friction: FrictionResult, ledger: Ledger
) -> dict[str, DriveAnswer]:
    if not falling.may_fall(axis):
        return answers
    force = falling.pull(axis, masses, friction)
    back, resisting = falling.torques(axis, answers, force, ledger)
    fall = falling.acceleration(axis, answers, force, masses, ledger)
    speed = ledger.figure(
        f"{axis.path}.fall_speed", fall_speed, acceleration=ledger.named(f"{axis.path}.fall"), distance=axis.travel
    )
    return {
        path: replace(answer, fall=fall, fall_speed=speed, back_torque=back, resisting_torque=resisting)
        for path, answer in answers.items()
    }

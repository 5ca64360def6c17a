"""Whether an upright axis falls when the power goes, and how fast."""

from typing import Any

import numpy as np

from gantrywright.base.units import GRAVITY, KilogramSquareMetre, MetrePerSecondSquared, Newton, NewtonMetre, Real
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.results.drives import DriveAnswer
from gantrywright.results.guides import FrictionResult
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.masses import MassResult
from gantrywright.theory.falling import fall_acceleration, fall_acceleration_of_several

LEVEL = 0.05
"""Slopes below this (3 degrees) do not make an axis fall."""


def has_brake(axis: Axis) -> bool:
    """Whether a motor of the axis has a holding brake."""
    return any(fit.motor is not None and bool(fit.motor.part.brake) for fit in axis.drives)


def may_fall(axis: Axis) -> bool:
    """Whether the axis rises and a motor of it is known."""
    return axis.rise >= LEVEL and any(fit.motor is not None for fit in axis.drives)


def pull(axis: Axis, masses: MassResult, friction: FrictionResult) -> Newton:
    """Force that drives the unpowered axis, N: weight less counterweight (or the other way round), less the seals of the guides.

    Only the seals count: less rolling friction may be there on the day.
    """
    weight = masses.axes[axis.name].mass * GRAVITY * axis.rise
    return np.maximum(np.abs(weight - counterforce(axis)) - friction.axes[axis.name].seals, 0.0)


def torques(axis: Axis, answers: dict[str, DriveAnswer], force: Newton, ledger: Ledger) -> tuple[NewtonMetre, NewtonMetre]:
    """Torque of the load at the unpowered motor shafts, and torque that resists there; of several drives their sums."""
    holding, _ = _of_several(axis, answers)
    resisting: Real = 0.0
    for fit in axis.drives:
        resisting = resisting + _resisting(fit, answers[fit.path])
    resisting = ledger.note(
        f"{axis.path}.resisting_torque", resisting, unit="N m", formula="T_f = sum over the drives of drag + detent of the motor",
        title="Torque that resists at the unpowered motor shafts", **_resisting_inputs(axis, answers, ledger),
    )  # fmt: skip
    back = ledger.note(
        f"{axis.path}.back_torque", force * resisting / np.maximum(holding, 1e-12), unit="N m",
        formula="T_b = F r eta_b; of several drives T_f F / F_hold, F_hold = sum of T_f / (r eta_b)",
        title="Torque with which the load turns the unpowered motor shafts",
        force=Named("", force, "N", "weight along the axis less counterweight and the seals of the guides"),
        resisting=ledger.named(f"{axis.path}.resisting_torque"), **_passed_on(axis, answers, ledger),
    )  # fmt: skip
    return back, resisting


def acceleration(
    axis: Axis, answers: dict[str, DriveAnswer], force: Newton, masses: MassResult, ledger: Ledger
) -> MetrePerSecondSquared:
    """Acceleration of an unpowered fall; 0 holds."""
    path = f"{axis.path}.fall"
    if has_brake(axis):
        return ledger.note(path, 0.0, unit="m/s2", formula="a = 0: a brake holds", source="definition", title="Fall without power")
    if len(axis.drives) == 1:
        fit = axis.drives[0]
        answer = answers[fit.path]
        return ledger.figure(
            path, fall_acceleration, mass=ledger.link(f"mass.{axis.path}", masses.axes[axis.name].mass),
            force=Named("", force, note="weight along the axis less counterweight and the seals of the guides"), travel_per_radian=ledger.named(f"{fit.path}.travel_per_radian"),
            back_efficiency=ledger.named(f"{fit.path}.back_efficiency"),
            resisting_torque=ledger.named(f"{axis.path}.resisting_torque"), inertia=Named("", _inertia(fit, answer), note="of all that turns, rotor included"),
        )  # fmt: skip
    holding, apparent = _of_several(axis, answers)
    return ledger.figure(
        path, fall_acceleration_of_several, mass=ledger.link(f"mass.{axis.path}", masses.axes[axis.name].mass),
        force=Named("", force, note="weight along the axis less counterweight and the seals of the guides"),
        holding_force=Named("", holding, note="sum over the drives of T_f / (r eta_b)"),
        apparent_mass=Named("", apparent, note="sum over the drives of J / (r^2 eta_b)"),
    )  # fmt: skip


def counterforce(axis: Axis) -> Newton:
    """Force of the counterweight, N."""
    return 0.0 if axis.counterweight is None else axis.counterweight.force


def _resisting_inputs(axis: Axis, answers: dict[str, DriveAnswer], ledger: Ledger) -> dict[str, Any]:
    found = {}
    for fit in axis.drives:
        found[f"drag of {fit.path}"] = ledger.link(f"{fit.path}.drag_torque", answers[fit.path].drag_torque)
        if fit.motor is not None and fit.motor.part.detent is not None:
            found[f"detent of {fit.path}"] = Named(f"{fit.path}.motor.detent", fit.motor.part.detent)
    return found


def _passed_on(axis: Axis, answers: dict[str, DriveAnswer], ledger: Ledger) -> dict[str, Any]:
    words = {"r": "travel_per_radian", "eta_b": "back_efficiency"}
    return {
        f"{name} of {fit.path}": ledger.link(f"{fit.path}.{word}", getattr(answers[fit.path], word))
        for fit in axis.drives
        for name, word in words.items()
    }


def _of_several(axis: Axis, answers: dict[str, DriveAnswer]) -> tuple[Real, Real]:
    holding: Real = 0.0
    apparent: Real = 0.0
    for fit in axis.drives:
        answer = answers[fit.path]
        passed_on = np.maximum(answer.travel_per_radian * answer.back_efficiency, 1e-12)
        holding = holding + _resisting(fit, answer) / passed_on
        apparent = apparent + _inertia(fit, answer) / (answer.travel_per_radian * passed_on)
    return holding, apparent


def _resisting(fit: DriveFit, answer: DriveAnswer) -> NewtonMetre:
    detent = fit.motor.part.detent if fit.motor is not None else None
    return answer.drag_torque + (0.0 if detent is None else detent)


def _inertia(fit: DriveFit, answer: DriveAnswer) -> KilogramSquareMetre:
    rotor = fit.motor.part.inertia if fit.motor is not None else None
    return answer.inertia + (0.0 if rotor is None else rotor)

"""Whether an upright axis falls when the power goes, and how fast."""

import numpy as np

from gantrywright.base.units import GRAVITY, KilogramSquareMetre, MetrePerSecondSquared, Newton, NewtonMetre, Real
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.results.drives import DriveAnswer
from gantrywright.results.guides import FrictionResult
from gantrywright.results.ledger import Ledger
from gantrywright.results.masses import MassResult
from gantrywright.theory.falling import fall_acceleration, fall_acceleration_of_several

LEVEL = 0.05
"""Slopes below this (3 degrees) do not make an axis fall."""


def acceleration(
    axis: Axis, answers: dict[str, DriveAnswer], masses: MassResult, friction: FrictionResult, ledger: Ledger
) -> MetrePerSecondSquared | None:
    """Acceleration of an unpowered fall; 0 holds; None for a level axis or where no motor is known.

    Friction of the guides counts with its seals only: less than that may be there on the day.
    """
    if axis.rise < LEVEL or not any(fit.motor is not None for fit in axis.drives):
        return None
    path = f"{axis.path}.fall"
    if any(fit.motor is not None and fit.motor.part.brake for fit in axis.drives):
        return ledger.note(path, 0.0, unit="m/s2", formula="a brake holds", title="Fall without power")
    mass = masses.axes[axis.name].mass
    force = np.abs(mass * GRAVITY * axis.rise - counterforce(axis)) - friction.axes[axis.name].seals
    if len(axis.drives) == 1:
        fit = axis.drives[0]
        answer = answers[fit.path]
        return ledger.figure(
            path, fall_acceleration, mass=mass, force=force, travel_per_radian=ledger.named(f"{fit.path}.travel_per_radian"),
            back_efficiency=ledger.named(f"{fit.path}.back_efficiency"), resisting_torque=_resisting(fit, answer),
            inertia=_inertia(fit, answer),
        )  # fmt: skip
    holding, apparent = _of_several(axis, answers)
    return ledger.figure(path, fall_acceleration_of_several, mass=mass, force=force, holding_force=holding, apparent_mass=apparent)


def counterforce(axis: Axis) -> Newton:
    """Force of the counterweight, N."""
    return 0.0 if axis.counterweight is None else axis.counterweight.force


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

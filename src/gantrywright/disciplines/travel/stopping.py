"""What the stops of an axis must take."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.base.units import GRAVITY, Joule, Metre, Newton, Real
from gantrywright.model.axis import Axis
from gantrywright.results.drives import DriveAnswer
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.masses import RigidMass
from gantrywright.results.motion import AxisMotion
from gantrywright.theory.stops import bumper_force, bumper_stroke, force_of_torque, moving_energy, reflected_mass

LEAST_ROOM = 1e-4
"""Two hard parts give this much, m, where no room is left for a bumper; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Stopping:
    """Energy, force and the bumper that tames them."""

    energy: Joule | None
    force: Newton | None
    stroke: Metre | None
    weakest: str
    weakest_force: Newton | None
    bumper_force: Newton | None


def stopping(
    axis: Axis, weighed: RigidMass, answers: tuple[DriveAnswer, ...], moved: AxisMotion | None, ledger: Ledger
) -> Stopping:
    """Run-away into the stop at rapid speed, with the motors pushing until they stall.

    Args:
        axis: The axis.
        weighed: All that it moves.
        answers: Of its drives.
        moved: Promised speed and stall thrust.
        ledger: Where figures are written down: ``axis.NAME.stop_energy`` and the like.
    """
    speed = axis.rapid if moved is None or moved.rapid is None else moved.rapid
    energy = _energy(axis, speed, answers, ledger)
    force = _thrust(axis, weighed, moved, ledger)
    weakest, weakest_force = _weakest(axis, answers, ledger)
    stroke = None
    if energy is not None and force is not None and weakest_force is not None:
        stroke = ledger.figure(
            f"{axis.path}.bumper_stroke", bumper_stroke, energy=ledger.named(f"{axis.path}.stop_energy"),
            thrust=ledger.named(f"{axis.path}.stop_force"), allowed=ledger.named(f"{axis.path}.stop_weakest"),
        )  # fmt: skip
    pushed = None
    if energy is not None and force is not None:
        pushed = ledger.figure(
            f"{axis.path}.bumper_force", bumper_force, energy=ledger.named(f"{axis.path}.stop_energy"),
            thrust=ledger.named(f"{axis.path}.stop_force"), stroke=Named(f"{axis.path}.stops", max(axis.stops, LEAST_ROOM)),
        )  # fmt: skip
    return Stopping(energy, force, stroke, weakest, weakest_force, pushed)


def _energy(axis: Axis, speed: Real, answers: tuple[DriveAnswer, ...], ledger: Ledger) -> Joule | None:
    total: Real = 0.0
    for fit, answer in zip(axis.drives, answers, strict=True):
        rotor: Real = 0.0
        if fit.motor is not None:
            if fit.motor.part.inertia is None:
                return None
            rotor = fit.motor.part.inertia
        total = total + reflected_mass(inertia=answer.inertia + rotor, travel_per_radian=answer.travel_per_radian)
    path = f"{axis.path}.reflected_mass"
    ledger.note(path, total, unit="kg", formula="sum over drives of (J + J_rotor)/r^2", title="What rotors and screws add to the moving mass", source="definition",
                **_turning(axis, answers, ledger))  # fmt: skip
    return ledger.figure(
        f"{axis.path}.stop_energy", moving_energy, mass=ledger.named(f"mass.{axis.path}"), reflected=ledger.named(path),
        speed=_speed(axis, speed, ledger),
    )  # fmt: skip


def _speed(axis: Axis, speed: Real, ledger: Ledger) -> Named:
    """The wanted rapid, or what it can be set to if that is more."""
    promised = f"{axis.path}.rapid_promise"
    found = ledger.link(promised, speed)
    return found if found.path else Named(f"{axis.path}.rapid", speed)


def _turning(axis: Axis, answers: tuple[DriveAnswer, ...], ledger: Ledger) -> dict[str, Any]:
    found = {}
    for fit, answer in zip(axis.drives, answers, strict=True):
        found[f"J of {answer.path}"] = ledger.link(f"{answer.path}.inertia", answer.inertia, "kg m2")
        found[f"r of {answer.path}"] = ledger.link(f"{answer.path}.travel_per_radian", answer.travel_per_radian, "m/rad")
        if fit.motor is not None:
            found[f"rotor of {answer.path}"] = Named(f"{fit.path}.motor.inertia", fit.motor.part.inertia)
    return found


def _thrust(axis: Axis, weighed: RigidMass, moved: AxisMotion | None, ledger: Ledger) -> Newton | None:
    motors = sum(fit.motor is not None for fit in axis.drives)
    if moved is None or moved.stall_force is None or not motors:
        return None
    weight = axis.rise * weighed.mass * GRAVITY
    return ledger.note(
        f"{axis.path}.stop_force", motors * moved.stall_force + weight, unit="N", formula="F = n F_stall + m g rise",
        title="Push on the stop: all motors stalled, and the weight of an upright axis", motors=Named("", motors, note="that push"), source="definition",
        each=ledger.link(f"{axis.path}.stall_force", moved.stall_force, "N"), weight=Named("", weight, "N", "m g rise; no counterweight taken off"),
    )  # fmt: skip


def _weakest(axis: Axis, answers: tuple[DriveAnswer, ...], ledger: Ledger) -> tuple[str, Newton | None]:
    """What gives first when a moving axis is stopped through its drives, all drives sharing alike."""
    found: dict[str, Real] = {}
    for fit, answer in zip(axis.drives, answers, strict=True):
        for reason, force, _, _ in answer.load_limits:
            found[f"{reason} of {fit.path}"] = force * len(answers)
        if fit.coupling is not None and fit.coupling.torque is not None:
            bears = force_of_torque(torque=fit.coupling.torque, travel_per_radian=answer.travel_per_radian)
            found[f"coupling of {fit.path}"] = bears * len(answers)
    if not found:
        return "", None
    least: Real = np.inf
    for force in found.values():
        least = np.minimum(least, force)
    name = min(found, key=lambda each: typical(found[each]))
    ledger.note(f"{axis.path}.stop_weakest", least, unit="N", formula="least of what the drives bear", title="What the weakest part of the drives bears",
                weakest=Named("", name, note="rated or limiting force"))  # fmt: skip
    return name, least if np.ndim(least) else float(least)

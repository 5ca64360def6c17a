"""Earlier results for a hand-built machine, as simple as can be, so that motion and electrics can be tested without other disciplines."""

from typing import Any

import numpy as np

from gantrywright.disciplines.electrics import analyse as electrics
from gantrywright.disciplines.motion import analyse as motion
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.cutting import CuttingResult, JobForce
from gantrywright.results.drives import DriveAnswer, DriveResult, TravelSpeedLimit
from gantrywright.results.guides import AxisFriction, FrictionResult, GuideResult
from gantrywright.results.ledger import Ledger
from gantrywright.results.masses import MassResult, RigidMass
from gantrywright.results.travel import TravelResult


def group(machine: Machine, subject: str, bodies: frozenset[str]) -> RigidMass:
    solids = [solid for solid in machine.solids if solid.body in bodies]
    mass = sum((solid.mass or 0.0 for solid in solids), 0.0)
    centre = tuple(sum(s.centre[i] * (s.mass or 0.0) for s in solids) / (mass or 1.0) for i in range(3))
    unknown = tuple(solid.path for solid in solids if solid.mass is None)
    return RigidMass(subject, mass, centre, (0.0, 0.0, 0.0), unknown)


def masses_of(machine: Machine) -> MassResult:
    bodies = {body.name: group(machine, body.name, frozenset({body.name})) for body in machine.bodies}
    axes = {axis.name: group(machine, axis.path, machine.above(axis.moving)) for axis in machine.axes}
    return MassResult(bodies, axes, group(machine, "machine", frozenset(bodies)))


def cutting_of(mean: float = 60.0, axial: float = 20.0, known: bool = True) -> CuttingResult:
    job = JobForce("panels", mean, 2 * mean, axial, 2 * axial, 0.3, 300.0, 5e-5, 1.0)
    return CuttingResult((job,) if known else (), mean if known else 0.0, 2 * mean, 2 * axial, known)


def friction_of(machine: Machine, force: float = 30.0) -> FrictionResult:
    return FrictionResult({axis.name: AxisFriction(axis.name, force, 16.0) for axis in machine.axes})


def drives_of(machine: Machine, **changes: Any) -> DriveResult:
    made = {}
    for axis in machine.axes:
        for fit in axis.drives:
            fields: dict[str, Any] = {
                "path": fit.path, "axis": axis.name, "travel_per_turn": 0.01, "travel_per_radian": 0.01 / (2 * np.pi), "efficiency": 0.9,
                "back_efficiency": 0.85, "drag_torque": 0.08, "inertia": 9e-5, "stiffness_least": 20e6, "stiffness_most": 40e6,
                "speed_limits": (TravelSpeedLimit("whirl", 0.3, "blevins-1979", "a thicker screw"),), "load_limits": (), "lost_motion": 4e-5,
                "lead_error": 5e-5, "growth": 2e-4, "fall": None, "fall_speed": None,
            } | changes  # fmt: skip
            made[fit.path] = DriveAnswer(**fields)
    return DriveResult(made)


def results_of(machine: Machine, *, cutting: CuttingResult | None = None, friction: float = 30.0, **drive: Any) -> Results:
    """Real motion and electrics over simple earlier results."""
    ledger = Ledger()
    weighed, cut, rubbed, driven = (
        masses_of(machine),
        cutting or cutting_of(),
        friction_of(machine, friction),
        drives_of(machine, **drive),
    )
    moved = motion.analyse(machine, weighed, cut, rubbed, driven, ledger)
    fed = electrics.analyse(machine, weighed, rubbed, driven, moved, ledger)
    far = TravelResult({}, None, 0.0, 0.0, (), ())
    return Results(weighed, cut, rubbed, driven, moved, GuideResult({}), fed, far, ledger)

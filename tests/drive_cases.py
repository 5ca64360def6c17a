"""Results of the earlier disciplines, by hand, and machines with one drive changed."""

from dataclasses import replace
from typing import Any

from gantrywright.disciplines.drives.analyse import analyse
from gantrywright.model.drives.ball_screw import make
from gantrywright.model.machine import Machine
from gantrywright.results.cutting import CuttingResult, JobForce
from gantrywright.results.drives import DriveResult
from gantrywright.results.guides import AxisFriction, FrictionResult
from gantrywright.results.ledger import Ledger
from gantrywright.results.masses import MassResult, RigidMass
from simple_machine import simple_machine

MASS = {"x": 12.0, "y": 40.0, "z": 8.0}


def masses(**changes: Any) -> MassResult:
    made = {name: RigidMass(f"axis.{name}", mass, (0.3, 0.6, 0.2), (1.0, 1.0, 1.0)) for name, mass in MASS.items()}
    return MassResult({}, made | changes, RigidMass("machine", 100.0, (0.3, 0.6, 0.2), (1.0, 1.0, 1.0)))


CUTTING = CuttingResult((JobForce("panels", 50.0, 80.0, -10.0, 20.0, 0.3, 200.0, 1e-4, 1.0),), 50.0, 80.0, 20.0, True)
FRICTION = FrictionResult({name: AxisFriction(name, 20.0, 16.0) for name in MASS})


def drives(machine: Machine, weighed: MassResult | None = None, cutting: CuttingResult = CUTTING) -> tuple[DriveResult, Ledger]:
    ledger = Ledger()
    return analyse(machine, weighed or masses(), cutting, FRICTION, ledger), ledger


def with_fit(axis: str, **changes: Any) -> Machine:
    """The machine with changes of the first drive of an axis; ``parts`` changes its parts."""
    plain = simple_machine()
    found = plain.axis(axis)
    fit = found.drives[0]
    parts = changes.pop("parts", {})
    fit = replace(fit, drive=make(replace(fit.drive.parts, **parts)), **changes)
    return simple_machine(**{f"axis_{axis}": {"drives": (fit, *found.drives[1:])}})

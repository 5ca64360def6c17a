"""Weighs bodies, what each axis moves, and the whole machine."""

from collections.abc import Iterable
from typing import Any

import numpy as np

from gantrywright.base.units import Real
from gantrywright.disciplines.masses.cost import cost
from gantrywright.model.bodies import Solid
from gantrywright.model.machine import Machine
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.masses import MassResult, RigidMass
from gantrywright.theory.rigid_bodies import Inertia, box_inertia, cylinder_inertia, together


def analyse(machine: Machine, ledger: Ledger) -> MassResult:
    """Masses at the drawn pose.

    Args:
        machine: Typical or sampled.
        ledger: Where figures are written down: ``mass.BODY``, ``mass.axis.NAME``, ``mass.total``, ``cost.total``.
    """
    bodies = {}
    for body in machine.bodies:
        solids = [solid for solid in machine.solids if solid.body == body.name]
        parts = [(Named(f"{solid.path}.mass", solid.mass), _lump(solid, solid.mass)) for solid in solids if solid.mass is not None]
        bodies[body.name] = _weigh(body.name, f"mass.{body.name}", parts, solids, ledger)
    axes = {}
    for axis in machine.axes:
        names = [name for name in bodies if name in machine.above(axis.moving)]
        axes[axis.name] = _gather(axis.path, f"mass.{axis.path}", machine, bodies, names, ledger)
    return MassResult(bodies, axes, _gather("machine", "mass.total", machine, bodies, list(bodies), ledger), cost(machine, ledger))


def _lump(solid: Solid, mass: Real) -> Inertia:
    inertia = cylinder_inertia if solid.round else box_inertia
    return Inertia(mass, solid.centre, inertia(mass=mass, size=solid.size, axes=solid.axes))


def _gather(subject: str, path: str, machine: Machine, bodies: dict[str, RigidMass], names: list[str], ledger: Ledger) -> RigidMass:
    parts = [
        (ledger.named(f"mass.{name}"), Inertia(bodies[name].mass, bodies[name].centre, bodies[name].inertia)) for name in names
    ]
    solids = [solid for solid in machine.solids if solid.body in names]
    return _weigh(subject, path, parts, solids, ledger)


def _weigh(subject: str, path: str, parts: list[tuple[Named, Inertia]], solids: Iterable[Solid], ledger: Ledger) -> RigidMass:
    whole = together([inertia for _, inertia in parts])
    unknown = tuple(solid.path for solid in solids if solid.mass is None)
    known = [(solid.path, solid.mass) for solid in solids if solid.mass is not None]
    inputs: dict[str, Any] = {named.path: named for named, _ in parts}
    ledger.note(
        path,
        whole.mass,
        unit="kg",
        formula="m = sum m_i" + (f"; lower bound, unknown: {', '.join(unknown)}" if unknown else ""),
        source="definition",
        title="Mass of all parts",
        **inputs,
    )
    heaviest = sorted(known, key=lambda part: -float(np.mean(part[1])))
    return RigidMass(subject, whole.mass, whole.centre, whole.moments, unknown, tuple(heaviest))

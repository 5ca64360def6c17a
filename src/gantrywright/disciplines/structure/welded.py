"""Figures of welded corners: how they resist being turned, and what that was estimated from."""

import numpy as np

from gantrywright.base.units import NewtonMetrePerRadian
from gantrywright.model.bodies import OUTSIDE, Joint
from gantrywright.model.machine import Machine
from gantrywright.results.ledger import Ledger, Named

SHARED = ("times", "beyond")
"""Factor on the estimate, and what its place outside the range makes of it."""


def welded_figures(machine: Machine, ledger: Ledger) -> None:
    """Write down the softest of the three ways to turn each welded joint, with the words of its estimate."""
    tables: dict[tuple[str, ...], dict[str, Named]] = {}
    for joint in machine.joints:
        if joint.kind == "welded" and (softest := _softest(joint)) is not None:
            ledger.note(
                f"structure.joint.{joint.path}.turning", softest, unit="N m/rad", formula="least of the three ways to turn it, times its factors",
                source="tube-joint-trend" if "wall of" in joint.note else "johnson-contact",
                title=f"Stiffness of a welded joint in the way that turns it most easily: {joint.note}", **_inputs(machine, joint, tables),
            )  # fmt: skip


def _softest(joint: Joint) -> NewtonMetrePerRadian | None:
    springs = joint.stiffness
    first, *others = springs.rn, springs.ra, springs.rb
    for other in others:
        if first is None or other is None:
            return None
        first = np.minimum(first, other)
    return first


def _inputs(machine: Machine, joint: Joint, tables: dict[tuple[str, ...], dict[str, Named]]) -> dict[str, Named]:
    """Values of the file that this one is under: its own, else those that all joints of its kind share; looked up once for each body."""
    bodies = dict.fromkeys(part.partition(".")[0] for part in (joint.a, joint.b))
    names = (*((joint.path,) if joint.path.startswith("joint.") else ()), *(f"{body}.joint.{joint.kind}" for body in bodies))
    if names not in tables:
        found = {name: next((f"{table}.{name}" for table in names if f"{table}.{name}" in machine.stated), None) for name in SHARED}
        tables[names] = {name: Named(path, machine.stated[path].value) for name, path in found.items() if path is not None}
    return {name: given for name, given in tables[names].items() if name == "times" or OUTSIDE in joint.note}

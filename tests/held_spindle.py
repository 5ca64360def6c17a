"""A spindle on a block that hardly gives: for tests that recompute the give of its tip by hand."""

from dataclasses import replace
from typing import Any

import numpy as np

from gantrywright.catalog import kinds
from gantrywright.disciplines.structure.spindle import SpindleModel, spindle_bars
from gantrywright.model.bodies import JointStiffness, Solid
from gantrywright.model.machine import Machine
from gantrywright.theory.frames.assembly import stretches
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.skeleton import GROUND, Anchor, Bar, Rest, Skeleton, Tie
from gantrywright.theory.frames.solver import energies, prepare
from simple_machine import FRONT, X, simple_machine

STEEL = kinds.Material(id="steel", density=7850.0, modulus=210e9, shear_modulus=81e9, loss=0.002)
CARBIDE = kinds.Material(id="carbide", density=14500.0, modulus=600e9, shear_modulus=245e9, loss=0.001)
FIRM = 1e12
DOWN = (0.0, 0.0, -1.0)
SPINDLE: dict[str, Any] = {
    "bearing_span": 0.13, "overhang": 0.05, "shaft": 0.025, "wall": 0.01, "bearing_radial": 130e6, "bearing_rear": 70e6, "bearing_axial": 30e6,
    "bearing_loss": 0.05, "collet_stiffness": 60e6, "collet_tilt": 30e3, "collet_loss": 0.03,
}  # fmt: skip
MOUNT = JointStiffness(n=300e6, a=300e6, b=300e6, rn=1e6, ra=1e6, rb=1e6)
BLOCK = Bar(
    part="head.plate", body="head", start=(0.3, 0.5, 0.1), stop=(0.3, 0.5, 0.4), height_axis=(0.0, 1.0, 0.0), axial=FIRM,
    torsion=FIRM, bend_height=FIRM, bend_width=FIRM,
)  # fmt: skip
HOLD = Tie(
    part="hold", kind="joint", a=Anchor(GROUND, BLOCK.start), b=Anchor(0, BLOCK.start), axes=((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    stiffness=(FIRM,) * 6,
)  # fmt: skip


def machine(*, mount: JointStiffness = MOUNT, tool: bool = True, mount_at: float = 0.09, cutter: dict[str, Any] | None = None,
            **part: Any) -> Machine:  # fmt: skip
    """The simple machine, its spindle in a mount ``mount_at`` above the collet face, with a 6 mm cutter that stands out 30 mm."""
    base = simple_machine()
    assert base.spindle is not None
    assert base.tool is not None
    spindle = replace(
        base.spindle, part=replace(base.spindle.part, **SPINDLE | part), mount=mount, mount_loss=0.05, body=STEEL, shaft=STEEL
    )
    x, y, z = spindle.nose
    solids = (
        *base.solids,
        Solid("spindle.mount", "head", "mount", 1.5, (x, y + 0.02, z + mount_at), (DOWN, X, FRONT), (0.08, 0.12, 0.1)),
        Solid("tool.cutter", "head", "cutter", 0.02, (x, y, z - 0.015), (DOWN, X, FRONT), (0.03, 0.006, 0.006), round=True),
    )
    fitted = replace(
        base.tool, material=CARBIDE, cutter=replace(base.tool.cutter, **{"core": 0.8, "flute_length": 0.021} | (cutter or {}))
    )
    return replace(base, spindle=spindle, tool=fitted if tool else None, solids=solids if tool else solids[:-1])


def model(machine: Machine) -> SpindleModel:
    """Spindle and tool on the block."""
    found = spindle_bars(machine, 1, lambda _part, _body, point: Anchor(0, point))
    assert found is not None
    return found


def skeleton(machine: Machine) -> Skeleton:
    """Block, spindle and tool."""
    made = model(machine)
    return Skeleton(bars=(BLOCK, *made.bars), ties=(HOLD, *made.ties), lumps=made.lumps, tip=made.tip, rest=Rest(()), motions=())


def give(machine: Machine) -> np.ndarray:
    """Compliance of the tip, shape (..., 6, 6)."""
    mesh = Mesher(skeleton(machine)).at({})
    load = mesh.tip_load
    motion = prepare(stretches(mesh.frame)).solve(mesh.frame.coefficients, load)
    return np.einsum("na,...nb->...ab", load, motion)


def shares(machine: Machine, direction: int) -> dict[str, float]:
    """Share of each part in the tip's give."""
    whole = skeleton(machine)
    mesh = Mesher(whole).at({})
    rows = stretches(mesh.frame)
    motion = prepare(rows).solve(mesh.frame.coefficients, mesh.tip_load)
    found = energies(rows, mesh.frame.coefficients, motion)[:, direction]
    names = [whole.bars[number].part for number in mesh.element_bar for _ in range(6)] + [
        t.part for t in whole.ties for _ in range(6)
    ]
    total = found.sum()
    return {name: float(sum(e for n, e in zip(names, found, strict=True) if n == name) / total) for name in dict.fromkeys(names)}

"""What the work lies on: the bars that bear it, and what gives locally between them."""

import numpy as np

from gantrywright.base.units import Array, Real
from gantrywright.disciplines.structure.carriers import Carriers
from gantrywright.model.bodies import Joint, Layer
from gantrywright.model.frame import Vector, dot
from gantrywright.model.machine import Machine
from gantrywright.theory.frames.skeleton import Point, Rest, Stiffness
from gantrywright.theory.plate_strip import plate_stiffness, sheet_give

SAME_LEVEL = 1e-3
"""Bars whose upper faces differ by less bear the work together, m."""
PARALLEL = 0.95


def rest_of(machine: Machine, carriers: Carriers) -> Rest | None:
    """Bars under the work with the give of the sheets on them; None where the work's body has no bar."""
    body = machine.work_body
    layers = tuple(layer for layer in machine.layers if layer.body == body)
    box = carriers.number.get(f"{body}.top")
    if box is not None:
        return Rest((box,), body=body, part=f"{body}.top")
    joints = _under_sheets(machine, layers)
    bars = _bearers(machine, carriers, joints)
    if not bars:
        return None
    first = carriers.bars[bars[0]]
    run = np.array(first.stop) - np.array(first.start)
    run /= np.sqrt(run @ run)
    across = np.array((-run[1], run[0], 0.0))
    size = np.sqrt(across @ across)
    across = across / size if size > 1e-6 else np.array((0.0, 1.0, 0.0))
    if across.sum() < 0:
        across = -across
    alike = [bar for bar in bars if _along(carriers, bar, run) > PARALLEL]
    ordered = tuple(sorted(alike, key=lambda bar: _place(carriers, bar, across)))
    direction: Vector = (float(across[0]), float(across[1]), float(across[2]))
    lines = np.unique(np.round([_place(carriers, bar, across) for bar in ordered], 4))
    give = _Give(layers, direction, lines if layers else _rails(machine, body, direction), _screws(joints))
    loss = next((layer.material.loss for layer in layers if layer.material.loss is not None), 0.0)
    return Rest(ordered, direction, body, give, f"{body}.top" if layers else carriers.bars[ordered[0]].part, loss)


def _under_sheets(machine: Machine, layers: tuple[Layer, ...]) -> list[Joint]:
    """Joints of the lowest sheet with what it lies on."""
    names = {layer.path for layer in layers}
    return [joint for joint in machine.joints if (joint.a in names) != (joint.b in names)]


def _bearers(machine: Machine, carriers: Carriers, joints: list[Joint]) -> list[int]:
    """Bars that the sheets are fixed to, else those whose upper face is the highest of the work's body."""
    parts = dict.fromkeys(part for joint in joints for part in (joint.a, joint.b))
    found = [carriers.number[part] for part in parts if part in carriers.number]
    if found:
        return found
    solids = {solid.path: solid for solid in machine.solids}
    tops = {
        number: solids[part].centre[2] + sum(abs(axis[2]) * size for axis, size in zip(solids[part].axes, solids[part].size, strict=True)) / 2
        for part, number in carriers.number.items()
        if carriers.bars[number].body == machine.work_body and part in solids
    }  # fmt: skip
    highest = max(tops.values(), default=0.0)
    return [number for number, top in tops.items() if top > highest - SAME_LEVEL]


def _rails(machine: Machine, body: str, across: Vector) -> Array:
    """Lines of the blocks that carry a plate without sheets: between them it gives by itself."""
    places = [dot(block.centre, across) for axis in machine.axes if axis.moving == body for block in axis.blocks]
    return np.unique(np.round(places, 4))


def _screws(joints: list[Joint]) -> tuple[Real, Real]:
    """Stiffness of all screws of a sheet together in its plane, and their number; zeros where there are none."""
    sideways: Real = 0.0
    count = 0
    for joint in joints:
        if joint.stiffness.a is None or joint.stiffness.b is None:
            continue
        sideways = sideways + len(joint.points) * (joint.stiffness.a + joint.stiffness.b) / 2
        count += len(joint.points)
    return sideways, float(count)


class _Give:
    """Local compliance of unbonded sheets on parallel bearers, at a place."""

    def __init__(self, layers: tuple[Layer, ...], across: Vector, lines: Array, screws: tuple[Real, Real]) -> None:
        self.across = np.array(across)
        self.lines = lines
        self.sideways = screws[0]
        self.plate: Real = 0.0
        for layer in layers:
            if layer.kind == "sheet" and layer.material.modulus is not None:
                self.plate = self.plate + plate_stiffness(modulus=layer.material.modulus, thickness=layer.size[2])

    def __call__(self, point: Point) -> Stiffness:
        in_plane = 1 / self.sideways if np.all(np.asarray(self.sideways) > 0) else 0.0
        upright: Real = 0.0
        if np.all(np.asarray(self.plate) > 0) and len(self.lines) > 1:
            upright = sheet_give(plate=self.plate, bearers=self.lines, place=float(np.array(point) @ self.across))
        return (in_plane, in_plane, upright, 0.0, 0.0, 0.0)


def _along(carriers: Carriers, bar: int, run: Array) -> float:
    axis = np.array(carriers.bars[bar].stop) - np.array(carriers.bars[bar].start)
    return float(abs(axis @ run) / np.sqrt(axis @ axis))


def _place(carriers: Carriers, bar: int, across: Array) -> float:
    return float((np.array(carriers.bars[bar].start) + np.array(carriers.bars[bar].stop)) @ across / 2)

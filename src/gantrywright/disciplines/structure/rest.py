"""What the work lies on: the bars that bear it, and what gives locally between them."""

import numpy as np

from gantrywright.base.units import Array, Real
from gantrywright.disciplines.structure.bars import plate_factor
from gantrywright.disciplines.structure.carriers import Carriers
from gantrywright.model.bodies import Joint, Layer, Plate
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
    part = carriers.bars[ordered[0]].part
    plate = next((plate for plate in machine.plates if plate.path == part), None) if len(ordered) == 1 else None
    bending, spans = _sheets(layers), [_extent(layer.middle, layer.size, direction) for layer in layers[:1]]
    if plate is not None:
        # sheets lie on it all over, so that they bend as it does: between the lines of its blocks
        bending, lines = bending + _own_bending(plate), _rails(machine, body, direction)
        spans = [_plate_extent(plate, direction)]
    give = Give(bending, direction, lines, _screws(joints), spans[0] if spans else None)
    loss = next((layer.material.loss for layer in layers if layer.material.loss is not None), 0.0)
    return Rest(ordered, direction, body, give, f"{body}.top" if layers and plate is None else part, loss)


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


def _sheets(layers: tuple[Layer, ...]) -> Real:
    """Bending stiffness per width of sheets that are not glued to one another."""
    found: Real = 0.0
    for layer in layers:
        if layer.kind == "sheet" and layer.material.modulus is not None:
            found = found + plate_stiffness(modulus=layer.material.modulus, thickness=layer.size[2])
    return found


def _own_bending(plate: Plate) -> Real:
    """Bending stiffness per width of a plate that is a bar as well: the bar bends along its strip, this across it."""
    if plate.material.modulus is None:
        return 0.0
    return plate_stiffness(modulus=plate.material.modulus, thickness=plate.size[2]) * plate_factor(plate)


def _plate_extent(plate: Plate, across: Vector) -> tuple[float, float]:
    half = (abs(dot(plate.first, across)) * plate.size[0] + abs(dot(plate.second, across)) * plate.size[1]) / 2
    return dot(plate.middle, across) - half, dot(plate.middle, across) + half


def _extent(centre: Vector, size: Vector, across: Vector) -> tuple[float, float]:
    half = sum(abs(share) * length for share, length in zip(across, size, strict=True)) / 2
    return dot(centre, across) - half, dot(centre, across) + half


class Give:
    """Local compliance of what lies on parallel bearers, at a place: across them it bends, in its plane its screws give."""

    def __init__(
        self, plate: Real, across: Vector, lines: Array, screws: tuple[Real, Real], edges: tuple[float, float] | None
    ) -> None:
        """Take bending stiffness per width, direction and places of the bearers, screws and the edges of the sheet."""
        self.across = across
        self.lines = lines
        self.plate = plate
        self.edges = edges
        self._in_plane: Real = 1 / screws[0] if np.all(np.asarray(screws[0]) > 0) else 0.0
        self._bends = bool(np.all(np.asarray(plate) > 0)) and len(lines) > 1
        self._known: dict[float, Real] = {}

    def __call__(self, point: Point) -> Stiffness:
        """Compliance along and about X, Y, Z; places that differ along the bearers only are one."""
        upright: Real = 0.0
        if self._bends:
            place = round(dot(point, self.across), 9)
            if place not in self._known:
                self._known[place] = sheet_give(plate=self.plate, bearers=self.lines, place=place, edges=self.edges)
            upright = self._known[place]
        return (self._in_plane, self._in_plane, upright, 0.0, 0.0, 0.0)


def _along(carriers: Carriers, bar: int, run: Array) -> float:
    axis = np.array(carriers.bars[bar].stop) - np.array(carriers.bars[bar].start)
    return float(abs(axis @ run) / np.sqrt(axis @ axis))


def _place(carriers: Carriers, bar: int, across: Array) -> float:
    return float((np.array(carriers.bars[bar].start) + np.array(carriers.bars[bar].stop)) @ across / 2)

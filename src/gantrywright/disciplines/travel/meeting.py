"""Parts that come together somewhere in the travels, and the room under the gantry."""

import numpy as np

from gantrywright.base.units import Array
from gantrywright.model.axis import Axis
from gantrywright.model.bodies import Solid
from gantrywright.model.machine import Machine, movements
from gantrywright.results.travel import Meeting
from gantrywright.theory.boxes import Boxes, deepest, extent, overlap

DEEP = 5e-4
"""Overlaps up to this are contact, not a clash, m."""
GUIDE = frozenset({"rail", "block"})
LONG = frozenset({"screw", "rack", "belt"})
GRIP = frozenset({"nut", "pinion", "pulley", "bearing"})
UPRIGHT = 0.7
"""Slope above which an axis lifts what it moves."""


def meetings(machine: Machine) -> tuple[Meeting, ...]:
    """Every two parts of different moving groups that overlap at some pose, deepest first."""
    moved = movements(machine)
    solids = [solid for solid in machine.solids if solid.kind != "lump" and min(solid.size) > 0]
    if len(solids) < 2 or not machine.axes:
        return ()
    boxes = _boxes(solids)
    steps = np.array([moved[solid.body] for solid in solids])  # (n, axes, 3)
    low = np.array([-axis.drawn for axis in machine.axes])
    high = np.array([axis.travel - axis.drawn for axis in machine.axes])
    first, second = _near(boxes, steps, low, high)
    under = frozenset(body for body in moved if moved[body] == moved[machine.work_body])
    asked = np.array([_may_clash(machine, under, solids[i], solids[j]) for i, j in zip(first, second, strict=True)], dtype=bool)
    first, second = first[asked], second[asked]
    if not len(first):
        return ()
    a, b, relative = boxes.take(first), boxes.take(second), steps[second] - steps[first]
    depth, where = deepest(a, b, movements=relative, low=low, high=high, ignore=DEEP)
    drawn = overlap(a, b, np.zeros((len(first), 1, 3)))[:, 0]
    found = [
        Meeting(solids[first[k]].path, solids[second[k]].path, float(depth[k]), _pose(machine, where[k]))
        for k in np.flatnonzero(depth > DEEP)
        if not _passes_through(solids[first[k]], solids[second[k]], float(depth[k]), float(drawn[k]))
    ]
    return tuple(sorted(found, key=lambda meeting: -meeting.overlap))


def daylight(machine: Machine) -> tuple[float, str] | None:
    """Least height over the table of what passes over it, m, and which part that is; without what an upright axis can lift.

    None where nothing passes over the table.
    """
    moved = movements(machine)
    lifted: set[str] = set()
    for axis in machine.axes:
        if axis.rise > UPRIGHT:
            lifted |= machine.above(axis.moving)
    solids = [
        solid for solid in machine.solids
        if solid.body not in lifted and min(solid.size) > 0 and moved[solid.body] != moved[machine.work_body]
    ]  # fmt: skip
    if not solids:
        return None
    low = np.array([-axis.drawn for axis in machine.axes])
    high = np.array([axis.travel - axis.drawn for axis in machine.axes])
    work = np.array(moved[machine.work_body])
    steps = np.array([moved[solid.body] for solid in solids]) - work
    least, most = _swept(_boxes(solids), steps, low, high)
    table_low, table_high = np.array(machine.table.least), np.array(machine.table.most)
    over = np.all((least[:, :2] < table_high[:2]) & (most[:, :2] > table_low[:2]), axis=1) & (most[:, 2] > table_low[2])
    if not over.any():
        return None
    rows = np.flatnonzero(over)
    lowest = rows[least[rows, 2].argmin()]
    return float(least[lowest, 2] - table_low[2]), solids[lowest].path


def _boxes(solids: list[Solid]) -> Boxes:
    return Boxes(
        np.array([solid.centre for solid in solids]), np.array([solid.axes for solid in solids]), np.array([solid.size for solid in solids]),
        np.array([float(solid.round) for solid in solids]),
    )  # fmt: skip


def _swept(boxes: Boxes, steps: Array, low: Array, high: Array) -> tuple[Array, Array]:
    """Upright box that each part sweeps, least and greatest corner, shapes (n, 3)."""
    least, most = extent(boxes)
    ends = np.stack((steps * low[:, None], steps * high[:, None]))
    return least + ends.min(axis=0).sum(axis=1), most + ends.max(axis=0).sum(axis=1)


def _near(boxes: Boxes, steps: Array, low: Array, high: Array) -> tuple[Array, Array]:
    """Pairs of different movement whose upright boxes come together at some pose."""
    least, most = extent(boxes)
    first, second = np.triu_indices(len(least), 1)
    relative = steps[second] - steps[first]
    differ = np.abs(relative).max(axis=(1, 2)) > 0
    first, second, relative = first[differ], second[differ], relative[differ]
    ends = np.stack((relative * low[:, None], relative * high[:, None]))
    near = least[second] + ends.min(axis=0).sum(axis=1) < most[first] - DEEP
    far = most[second] + ends.max(axis=0).sum(axis=1) > least[first] + DEEP
    meet = np.all(near & far, axis=1)
    return first[meet], second[meet]


def _may_clash(machine: Machine, under: frozenset[str], a: Solid, b: Solid) -> bool:
    """False for parts that are there to touch: guides, nuts on their screws, a cutter and what stands still with the work."""
    if "cutter" in (a.kind, b.kind):
        other = b if a.kind == "cutter" else a
        return other.body not in under
    same = [axis for axis in machine.axes if a.path.startswith(f"{axis.path}.") and b.path.startswith(f"{axis.path}.")]
    if same and {a.kind, b.kind} <= GUIDE | GRIP | LONG:
        return {a.kind, b.kind} & GUIDE != {a.kind, b.kind} and not {a.kind, b.kind} & GRIP
    return not any(_inside_slide(axis, a, b) for axis in machine.axes)


def _inside_slide(axis: Axis, a: Solid, b: Solid) -> bool:
    """Both belong to one bought slide, whose maker has seen to it that it runs."""
    ends = ("slide-base", "saddle")
    own = [s.path.startswith(f"{axis.path}.") or (s.path.endswith(ends) and s.body in (axis.carrier, axis.moving)) for s in (a, b)]
    return bool(axis.slide) and all(own)


def _passes_through(a: Solid, b: Solid, depth: float, drawn: float) -> bool:
    """A screw, rack or belt that runs through a part as drawn and goes no deeper: there is a bore or a bracket."""
    return bool({a.kind, b.kind} & LONG) and drawn > DEEP and depth <= drawn + DEEP


def _pose(machine: Machine, from_drawn: Array) -> tuple[float, float, float]:
    at = {axis.name: axis.drawn + float(step) for axis, step in zip(machine.axes, from_drawn, strict=True)}
    return (at.get("x", 0.0), at.get("y", 0.0), at.get("z", 0.0))

"""What the work lies on, seen from above: where it is, and which places are over it."""

from collections.abc import Iterable, Sequence

import numpy as np

from gantrywright.base.units import Array
from gantrywright.model.bodies import Box, Solid
from gantrywright.model.machine import Machine

SAME_LEVEL = 1e-3
"""Parts whose upper faces differ by less bear the work together, m."""
EDGE = 1e-6
"""A place so little beyond the edge is on it, m."""


def bearing_box(machine: Machine) -> Box | None:
    """Box round what the work lies on, as drawn: its top, else the bars and plates of the work's body that stand highest."""
    if machine.table_top is not None:
        return machine.table_top
    parts = [s for s in machine.solids if s.body == machine.work_body and s.kind in ("member", "plate")]
    highest = max((_end(part, 2, 1) for part in parts), default=0.0)
    return _round(part for part in parts if _end(part, 2, 1) > highest - SAME_LEVEL)


def places_of(machine: Machine, axes: Sequence[str], poses: Array) -> Array:
    """Where the tip of the tool is against the work.

    Args:
        machine: Placed.
        axes: Names, in the order of the last axis of ``poses``; the others stand as drawn.
        poses: Place of each of them, m, shape (..., a).

    Returns:
        Places from the machine's zero, with the work as drawn, m, shape (..., 3).
    """
    named = {axis.name: axis for axis in machine.axes}
    drawn = np.array([named[name].drawn for name in axes])
    steps = np.array([named[name].direction for name in axes])
    places: Array = _drawn_tip(machine) + (poses - drawn) @ steps
    return places


def over_table(machine: Machine, places: Array) -> Array:
    """Whether places (from the machine's zero, with the work as drawn, m, shape (..., 3)) lie over what the work lies on.

    A machine that lists nothing under the work has no edge that a place could lie beyond.
    """
    box = bearing_box(machine)
    if box is None:
        return np.ones(places.shape[:-1], dtype=bool)
    least, most = np.array(box.least[:2]) - EDGE, np.array(box.most[:2]) + EDGE
    over: Array = np.all((places[..., :2] >= least) & (places[..., :2] <= most), axis=-1)
    return over


def _drawn_tip(machine: Machine) -> Array:
    """Tip of the tool as drawn, from the reach: every axis widens it to both ends of its travel."""
    tip = np.array(machine.reach.least)
    for axis in machine.axes:
        step = np.array(axis.direction)
        tip -= np.minimum(-step * axis.drawn, step * (axis.travel - axis.drawn))
    return tip


def _end(part: Solid, k: int, side: int) -> float:
    return part.centre[k] + side * sum(abs(axis[k]) * extent for axis, extent in zip(part.axes, part.size, strict=True)) / 2


def _round(parts: Iterable[Solid]) -> Box | None:
    found = list(parts)
    if not found:
        return None
    least, most = (tuple(pick(_end(part, k, side) for part in found) for k in range(3)) for pick, side in ((min, -1), (max, 1)))
    return Box((least[0], least[1], least[2]), (most[0], most[1], most[2]))

"""What the work lies on, seen from above: where it is, and which places are over it."""

from collections.abc import Iterable

from gantrywright.model.bodies import Box, Solid
from gantrywright.model.frame import Vector
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


def over_table(machine: Machine, place: Vector) -> bool:
    """Whether a place (from the machine's zero, with the work as drawn, m) lies over what the work lies on.

    A machine that lists nothing under the work has no edge that a place could lie beyond.
    """
    box = bearing_box(machine)
    return box is None or all(box.least[k] - EDGE <= place[k] <= box.most[k] + EDGE for k in (0, 1))


def _end(part: Solid, k: int, side: int) -> float:
    return part.centre[k] + side * sum(abs(axis[k]) * extent for axis, extent in zip(part.axes, part.size, strict=True)) / 2


def _round(parts: Iterable[Solid]) -> Box | None:
    found = list(parts)
    if not found:
        return None
    least, most = (tuple(pick(_end(part, k, side) for part in found) for k in range(3)) for pick, side in ((min, -1), (max, 1)))
    return Box((least[0], least[1], least[2]), (most[0], most[1], most[2]))

"""The stiffness over the table on a fine grid: long work, told row by row."""

from collections.abc import Callable
from typing import Any

import numpy as np

from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.model.machine import Machine
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.stiffness_map import poses_grid, stiffness_map

FINE = {"x": 41, "y": 41, "z": 5}
"""Poses of each axis."""
OTHERS = 9
"""Poses of an axis of another name."""


def fine_map(machine: Machine, told: Callable[[float, str], None]) -> dict[str, Any] | None:
    """Least stiffness over all directions at every pose of a fine grid; None where there is no structure.

    Args:
        machine: With typical values.
        told: Called with how far it is, from 0 to 1, and words.

    Returns:
        ``axes``, ``places`` (of each axis, m) and ``least`` (N/m, nested in the order of the axes).
    """
    built = skeleton_of(machine)
    if built.skeleton is None:
        return None
    mesher = Mesher(built.skeleton)
    grid = poses_grid(built.skeleton, {axis.name: FINE.get(axis.name, OTHERS) for axis in machine.axes})
    first = next(iter(grid))
    rows = []
    for number, place in enumerate(grid[first]):
        found = stiffness_map(mesher, {**grid, first: np.array([place])})
        rows.append(1 / np.linalg.eigvalsh(found.give[..., :3, :3])[..., -1])
        told((number + 1) / len(grid[first]), f"row {number + 1} of {len(grid[first])}")
    order = list(found.axes)
    least = np.concatenate(rows, axis=order.index(first))
    return {"axes": order, "places": [np.asarray(grid[name]).tolist() for name in order], "least": least.tolist()}

"""The stiffness over the table on a fine grid: long work, told row by row."""

from collections.abc import Callable
from typing import Any

import numpy as np

from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.model.machine import Machine
from gantrywright.model.table import over_table, places_of
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
        ``axes``, ``places`` (of each axis, m), ``least`` (N/m, nested in the order of the axes) and ``over`` (nested alike: whether that
        place is over the table; elsewhere nothing is claimed of ``least``).
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
    places = [np.asarray(grid[name]) for name in order]
    over = over_table(machine, places_of(machine, order, np.stack(np.meshgrid(*places, indexing="ij"), axis=-1)))
    return {"axes": order, "places": [values.tolist() for values in places], "least": least.tolist(), "over": over.tolist()}

"""What the blocks of an axis bear along a travel: for pictures."""

from dataclasses import dataclass
from itertools import product

import numpy as np

from gantrywright.base.units import Array
from gantrywright.disciplines.guides.analyse import acceleration, drive_stiffness, factors_of, worst_of
from gantrywright.disciplines.guides.loads import block_loads
from gantrywright.model.axis import Axis
from gantrywright.model.machine import Machine
from gantrywright.results.cutting import CuttingResult
from gantrywright.results.masses import MassResult
from gantrywright.results.motion import MotionResult

PLACES = 31
"""Poses along the travel."""


@dataclass(frozen=True, slots=True)
class LoadAlong:
    """Greatest equivalent load of every block of an axis at places along one travel."""

    places: Array
    """Pose of the axis that is followed, m, shape (n,)."""
    loads: Array
    """N, shape (n, blocks); the worst over all ends of the other axes."""


def loads_along(
    machine: Machine, axis: Axis, along: Axis, masses: MassResult, cutting: CuttingResult, motion: MotionResult
) -> LoadAlong:
    """Loads of the blocks of an axis while another one (or itself) travels.

    Args:
        machine: With typical values.
        axis: Whose blocks are looked at.
        along: The axis that is followed.
        masses: Of the bodies.
        cutting: Peak forces.
        motion: Promised accelerations and stiffness of the drives.
    """
    places = np.linspace(0.0, along.travel, PLACES)
    ends = [(0.0,) if other.name == along.name else (-other.drawn, other.travel - other.drawn) for other in machine.axes]
    corners = np.array(list(product(*ends)))
    column = [other.name for other in machine.axes].index(along.name)
    poses = np.repeat(corners[None], PLACES, axis=0)
    poses[:, :, column] = (places - along.drawn)[:, None]
    loads = block_loads(machine, axis, masses, drive_stiffness(axis, motion.axes.get(axis.name))).at(
        poses.reshape(-1, len(machine.axes))
    )
    accels = [acceleration(machine.axis(name), motion.axes.get(name)) for name, _ in loads.per_accel]
    found = worst_of(loads, factors_of(axis), accels, cutting.peak_in_plane, cutting.peak_axial)[0]
    return LoadAlong(places, found.reshape(PLACES, len(corners), -1).max(axis=1))

"""What the structure bears: weight, acceleration of each axis, the cut; solved together at one pose."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from gantrywright.base.units import GRAVITY, Array
from gantrywright.disciplines.structure.statics import Solved
from gantrywright.model.axis import Axis
from gantrywright.theory.frames.frame import PER_NODE
from gantrywright.theory.frames.mass import acceleration_load, mass_matrix
from gantrywright.theory.frames.motions import Motions
from gantrywright.theory.frames.skeleton import Skeleton


@dataclass(frozen=True, slots=True)
class LoadCases:
    """Motions and tie forces of unit load cases at one pose.

    Columns of every array: 0..5 unit forces along and unit moments about X, Y, Z at the tip and, turned round, on the work; then the
    weight of everything; then each axis accelerated by 1 m/s2 in its own direction, in the order of ``axes``.
    """

    here: Solved
    axes: tuple[str, ...]
    motions: Motions
    tie_forces: Array
    """Forces and moments of every tie in its own axes, as side b is pulled away from side a: shape (..., ties, 6, k); N, N m."""

    @property
    def weight(self) -> int:
        """Column of the weight."""
        return PER_NODE

    def accel(self, axis: str) -> int:
        """Column of one axis."""
        return PER_NODE + 1 + self.axes.index(axis)

    def at_tip(self) -> Array:
        """Motion of the tool against the work, shape (..., 6, k); without the local give of what the work lies on."""
        return self.here.at_tip(self.motions)


def load_cases(skeleton: Skeleton, here: Solved, axes: tuple[Axis, ...]) -> LoadCases:
    """Solve all unit load cases at a pose.

    Args:
        skeleton: Of the machine.
        here: Its assembled pose.
        axes: Of the machine.
    """
    mass = mass_matrix(here.mesh.frame)
    columns = [acceleration_load(mass, np.array((0.0, 0.0, -GRAVITY)))]
    columns += [-(mass @ carried(skeleton, here, axis)) for axis in axes]
    motions = here.under(np.concatenate((here.mesh.load, np.stack(columns, axis=1)), axis=1))
    ties = len(skeleton.ties)
    last = slice(here.rows.shape[0] - PER_NODE * ties, None)
    own = here.coefficients[..., last, None] * motions.through(here.rows[last])
    return LoadCases(here, tuple(axis.name for axis in axes), motions, own.reshape(*own.shape[:-2], ties, PER_NODE, own.shape[-1]))


def carried(skeleton: Skeleton, here: Solved, axis: Axis) -> Array:
    """Motion of all freedoms when an axis moves its bodies by one metre, everything rigid: shape (6 n,)."""
    shift: Mapping[str, tuple[float, float, float]] = next(m.shift for m in skeleton.motions if m.axis == axis.name)
    field = np.zeros((len(here.mesh.frame.nodes), PER_NODE))
    for number, bar in enumerate(skeleton.bars):
        if bar.body in shift:
            field[here.mesh.node_bar == number, :3] = shift[bar.body]
    return field.ravel()

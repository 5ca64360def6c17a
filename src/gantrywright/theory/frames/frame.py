"""One pose of a machine as arrays: what is assembled and solved.

Stiffness of every element is a short list of *natural coefficients* d with stretches e = A u, so that K = A^T diag(d) A: positive by
construction, linear in d, and the energy of each coefficient is d e^2. A leading axis of samples on ``stiffness`` is allowed
everywhere; all else is typical.
"""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.units import Array

Numbers: TypeAlias = NDArray[np.intp]

PER_NODE = 6
"""Degrees of freedom: ux uy uz rx ry rz, machine frame, right-hand rule."""
NATURAL = ("axial", "torsion", "bending in the height plane", "bending and shear in the height plane",
           "bending in the width plane", "bending and shear in the width plane")  # fmt: skip
"""Names of the six natural motions of a bar, in the order of its coefficients."""


@dataclass(frozen=True, slots=True)
class Bars:
    """Prismatic elements between nodes."""

    ends: Numbers
    """Node numbers, shape (b, 2)."""
    arms: Array
    """From node to the end of the element, m, shape (b, 2, 3)."""
    axes: Array
    """Rows x (first to second end), y, z of each, shape (b, 3, 3)."""
    length: Array
    """m, shape (b,)."""
    stiffness: Array
    """Natural coefficients in the order of `NATURAL`, shape (..., b, 6)."""
    bending: Array
    """Bending part of the two coefficients that also shear: 3 E I/L in the height and the width plane, shape (..., b, 2); the share
    d/bending of such a coefficient's energy is bending, the rest shear."""
    mass: Array
    """kg/m, shape (b,)."""
    rotary: Array
    """rho I in the height and the width plane, kg m, shape (b, 2)."""
    shear: Array
    """12 E I/(G A_s L^2) in the height and the width plane, typical, shape (b, 2)."""
    shear_centre: Array | None = None
    """Place of the shear centre from the centroid along y and z, m, shape (b, 2); None where it is the centroid in all."""


@dataclass(frozen=True, slots=True)
class Springs:
    """Six-way springs between points that nodes hold."""

    ends: Numbers
    """Node numbers, -1 for the ground, shape (s, 2)."""
    arms: Array
    """From node to the spring's point, m, shape (s, 2, 3); for the ground of no meaning."""
    axes: Array
    """Rows: the three axes of each, shape (s, 3, 3)."""
    stiffness: Array
    """Along the axes, then about them, shape (..., s, 6)."""


@dataclass(frozen=True, slots=True)
class Lumps:
    """Masses that nodes hold."""

    node: Numbers
    """Shape (l,)."""
    arm: Array
    """From node to centre, m, shape (l, 3)."""
    mass: Array
    """kg, shape (l,)."""
    inertia: Array
    """About the centre, kg m2, shape (l, 3, 3)."""


@dataclass(frozen=True, slots=True)
class Frame:
    """Nodes and what joins them."""

    nodes: Array
    """m, shape (n, 3)."""
    bars: Bars
    springs: Springs
    lumps: Lumps

    @property
    def freedoms(self) -> int:
        """Number of degrees of freedom."""
        return PER_NODE * len(self.nodes)

    @property
    def coefficients(self) -> Array:
        """All natural coefficients: bars first, six each, then springs; shape (..., 6 b + 6 s)."""
        bars, springs = self.bars.stiffness, self.springs.stiffness
        lead = np.broadcast_shapes(bars.shape[:-2], springs.shape[:-2])
        flat = [np.broadcast_to(part, (*lead, *part.shape[-2:])).reshape(*lead, -1) for part in (bars, springs)]
        return np.concatenate(flat, axis=-1)


def load_at(frame: Frame, node: int, arm: Array) -> Array:
    """Loads on all degrees of freedom from unit forces along and unit moments about x, y, z at a point that a node holds.

    Returns:
        Shape (6 n, 6).
    """
    loads = np.zeros((frame.freedoms, PER_NODE))
    rows = slice(PER_NODE * node, PER_NODE * (node + 1))
    loads[rows] = np.eye(PER_NODE)
    loads[rows, :3][3:] = turned(arm)
    return loads


def turned(arms: Array) -> Array:
    """The matrix S of every arm with S v = arm x v, shape (..., 3, 3).

    Example:
        >>> (turned(np.array([1.0, 2.0, 3.0])) @ np.array([0.0, 0.0, 1.0])).tolist()
        [2.0, -1.0, 0.0]
    """
    matrix = np.zeros((*arms.shape, 3))
    for row, column, k in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        matrix[..., row, column], matrix[..., column, row] = -arms[..., k], arms[..., k]
    return matrix

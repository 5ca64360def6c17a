"""Stretches of all elements of a frame from the motions of its nodes, and the stiffness they make."""

from typing import TYPE_CHECKING

import numpy as np

from gantrywright.base.units import Array
from gantrywright.theory.frames.bars import natural_rows
from gantrywright.theory.frames.frame import PER_NODE, Bars, Frame, Springs, turned

if TYPE_CHECKING:
    from scipy.sparse import csr_array

GROUND = -1


def stretches(frame: Frame) -> "csr_array":
    """Stretch of every natural coefficient from the motions of all nodes: e = A u.

    A bar's six natural motions, a spring's motion of the point of its second end against that of its first, in its axes. Arms are
    exact; the ground stands still.

    Returns:
        Sparse, shape (6 b + 6 s, 6 n); rows in the order of `Frame.coefficients`.
    """
    from scipy.sparse import csr_array

    bars, springs = frame.bars, frame.springs
    ends = np.concatenate([bars.ends, springs.ends])
    values = np.concatenate([bar_rows(bars), _spring_rows(springs)])  # (elements, 6, 2, 6)
    columns = np.broadcast_to((PER_NODE * ends[..., None] + np.arange(PER_NODE))[:, None], values.shape)
    kept = (values != 0) & (ends != GROUND)[:, None, :, None]
    starts = np.concatenate([[0], np.cumsum(kept.sum(axis=(2, 3)).ravel())])
    matrix = csr_array((values[kept], columns[kept], starts), shape=(PER_NODE * len(ends), frame.freedoms))
    matrix.sum_duplicates()
    return matrix


def stiffness(rows: "csr_array", coefficients: Array) -> "csr_array":
    """Stiffness of all degrees of freedom, A^T diag(d) A, for one set of coefficients of shape (6 b + 6 s,)."""
    from scipy.sparse import diags_array

    return (rows.T @ diags_array(coefficients) @ rows).tocsr()


def to_ends(axes: Array, arms: Array) -> Array:
    """Motion of points in own axes from that of the nodes that hold them.

    Args:
        axes: Rows of own axes, shape (e, 3, 3).
        arms: From node to point, shape (e, 2, 3).

    Returns:
        Shape (e, 2, 6, 6).
    """
    turn = np.zeros((*arms.shape[:-1], PER_NODE, PER_NODE))
    turn[..., :3, :3] = turn[..., 3:, 3:] = axes[:, None]
    turn[..., :3, 3:] = axes[:, None] @ turned(arms).swapaxes(-1, -2)  # a . (turn x arm) = turn . (arm x a)
    return turn


def bar_rows(bars: Bars) -> Array:
    """Natural motions of bars from those of their two nodes, shape (b, 6, 2, 6)."""
    own = natural_rows(length=bars.length, shear_centre=bars.shear_centre).reshape(-1, PER_NODE, 2, PER_NODE).swapaxes(1, 2)
    return (own @ to_ends(bars.axes, bars.arms)).swapaxes(1, 2)


def _spring_rows(springs: Springs) -> Array:
    """Stretches of springs from the motions of their two nodes, shape (s, 6, 2, 6)."""
    both = to_ends(springs.axes, springs.arms)
    both[:, 0] *= -1
    return both.swapaxes(1, 2)


def rigid_motions(frame: Frame) -> Array:
    """Motions of all nodes when the whole frame shifts along and turns about x, y, z of the machine, shape (6 n, 6)."""
    motion = np.zeros((len(frame.nodes), PER_NODE, PER_NODE))
    motion[:] = np.eye(PER_NODE)
    motion[:, :3, 3:] = np.cross(np.eye(3)[None], frame.nodes[:, None]).swapaxes(1, 2)
    return motion.reshape(frame.freedoms, PER_NODE)

"""What every answer of the solver must satisfy whatever the machine: told as figures, and in words where one is missed."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from gantrywright.base.units import Array
from gantrywright.theory.frames.assembly import GROUND, rigid_motions
from gantrywright.theory.frames.frame import PER_NODE, Frame
from gantrywright.theory.frames.solver import strains

if TYPE_CHECKING:
    from scipy.sparse import csr_array

LIMITS = {
    "residual": (1e-8, "the motions found do not carry the loads"),
    "balance": (1e-8, "the forces in the ground do not balance the loads"),
    "symmetry": (1e-9, "the give from one load to another is not the same both ways"),
    "shares": (1e-9, "the shares of the parts do not sum to the whole"),
}
"""Largest figure that rounding explains, and what is wrong above it. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class SelfCheck:
    """Worst figure of each check over all loads and samples; all without unit, near 1e-12 in a sound solution."""

    residual: float
    """Size of K u - f against that of f."""
    balance: float
    """Sum of loads and of the reactions of the springs to the ground, forces and moments, against the loads."""
    symmetry: float
    """Unlikeness of the give between loads both ways, against the largest give."""
    shares: float
    """Energies of all parts against the work of each load."""

    @property
    def broken(self) -> tuple[str, ...]:
        """What is wrong, in words; empty where nothing is."""
        return tuple(words for name, (limit, words) in LIMITS.items() if not getattr(self, name) <= limit)


def self_check(frame: Frame, rows: "csr_array", loads: Array, motions: Array) -> SelfCheck:
    """Check a solution of a frame.

    Args:
        frame: What was solved.
        rows: Its stretches, from `assembly.stretches`.
        loads: Shape (6 n, k).
        motions: Found under them, shape (..., 6 n, k).
    """
    coefficients = frame.coefficients
    stretch = strains(rows, motions)
    forces = coefficients[..., None] * stretch
    give = loads.T @ motions
    work = np.einsum("...ii->...i", give)
    energy = (forces * stretch).sum(axis=-2)
    left = _spread(rows, forces) - loads
    return SelfCheck(
        residual=_worst(np.linalg.norm(left, axis=-2), np.linalg.norm(loads, axis=-2)),
        balance=_balance(frame, rows, loads, forces),
        symmetry=_worst(np.abs(give - np.swapaxes(give, -1, -2)).max(axis=(-1, -2)), np.abs(give).max(axis=(-1, -2))),
        shares=_worst(np.abs(energy - work), np.abs(work)),
    )


def _balance(frame: Frame, rows: "csr_array", loads: Array, forces: Array) -> float:
    grounded = np.zeros(rows.shape[0], dtype=bool)
    grounded[PER_NODE * len(frame.bars.ends) :] = np.repeat((frame.springs.ends == GROUND).any(axis=1), PER_NODE)
    rigid = rigid_motions(frame)
    left = rigid.T @ loads - (rows @ rigid)[grounded].T @ forces[..., grounded, :]
    by_node = np.abs(loads).reshape(-1, PER_NODE, loads.shape[-1]).sum(axis=0)
    force = by_node[:3].sum(axis=0)
    reach = np.linalg.norm(np.ptp(frame.nodes, axis=0)) + np.linalg.norm(frame.nodes, axis=1).max()
    size = force + by_node[3:].sum(axis=0) / reach
    left[..., 3:, :] /= reach
    return _worst(np.linalg.norm(left, axis=-2), size)


def _spread(rows: "csr_array", forces: Array) -> Array:
    """Loads on the nodes that the elements hold up, shape (..., 6 n, k)."""
    return strains(rows.T, forces)


def _worst(error: Array, size: Array) -> float:
    """Largest error against its size; what has no size must have no error."""
    sized = np.broadcast_to(size > 0, error.shape)
    against = np.where(sized, size, 1.0)
    return float(np.max(np.where(sized | (error != 0), error / against, 0.0), initial=0.0))

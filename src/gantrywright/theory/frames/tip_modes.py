"""Modes above the lowest ones that a force at the tip stirs: a few vectors do where natural modes would take hundreds."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from gantrywright.base.units import Array, Hertz
from gantrywright.theory.frames.modes import Modes

if TYPE_CHECKING:
    from scipy.sparse import csr_array
    from scipy.sparse.linalg import SuperLU

SPENT = 1e-10
"""Part of a vector that is new, by mass, below which it is dropped as spent."""
CLEAN = 1e-4
"""The same, below which what is left must be made square again."""


@dataclass(frozen=True, slots=True)
class TipModes:
    """Natural modes, and above them those within the space of the answers to a load."""

    modes: Modes
    """The lowest are natural; of the others not all are, the highest stand for all that is left out."""
    doubt: Array
    """Bound on the relative distance of each squared frequency from that of a natural mode, shape (m,); 0 for those that are one."""


def tip_modes(stiffness: "csr_array", mass: "csr_array", loads: Array, lowest: Modes, *, about: Hertz, blocks: int) -> TipModes:
    """Complete some natural modes by what else answers to loads.

    The static answer is exact; beyond, the space of (K + s M)^-1 [M (K + s M)^-1]^j L finds the modes that the loads stir most, first
    those near the shift. The bound of a mode is its residual: as K^-1 M is symmetric in the mass, some natural 1/w^2 lies no farther
    off than it. No mode found so lies below the next natural one.

    Args:
        stiffness: Of all degrees of freedom, shape (6 n, 6 n); held, so that nothing moves freely.
        mass: As stiffness.
        loads: Unit loads at the tip and, turned round, on the work, shape (6 n, k).
        lowest: Natural modes that are kept as they are.
        about: Frequency of the shift, Hz.
        blocks: Of k vectors each.
    """
    held = _factor(stiffness)
    shifted = _factor(stiffness + (2 * np.pi * about) ** 2 * mass)
    count = lowest.shapes.shape[1]
    base = np.hstack((lowest.shapes, _new(held.solve(loads), lowest.shapes, mass)))
    answer = shifted.solve(loads)
    for _ in range(blocks):
        answer = _new(answer, base, mass)
        if not answer.shape[1]:
            break
        base = np.hstack((base, answer))
        answer = shifted.solve(mass @ answer)
    rest = base[:, count:]
    squares, turn = np.linalg.eigh(rest.T @ (stiffness @ rest))
    shapes = rest @ turn
    off = held.solve(mass @ shapes) * squares - shapes  # nothing for a natural mode
    doubt = np.sqrt(np.maximum((off * (mass @ off)).sum(axis=0), 0.0))
    frequencies = np.concatenate((lowest.frequencies, np.sqrt(np.maximum(squares, 0.0)) / (2 * np.pi)))
    return TipModes(Modes(frequencies, np.hstack((lowest.shapes, shapes))), np.concatenate((np.zeros(count), doubt)))


def _factor(matrix: "csr_array") -> "SuperLU":
    from scipy.sparse.linalg import splu

    return splu(matrix.tocsc(), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})


def _new(vectors: Array, base: Array, mass: "csr_array") -> Array:
    """What vectors add to a base, square to it and to each other by mass."""
    size = np.sqrt((vectors * (mass @ vectors)).sum(axis=0))
    vectors = vectors[:, size > 0] / size[size > 0]
    for _ in range(2):
        vectors = vectors - base @ (base.T @ (mass @ vectors))
    heavy, turn = np.linalg.eigh(vectors.T @ (mass @ vectors))
    kept = heavy > SPENT
    vectors = vectors @ (turn[:, kept] / np.sqrt(heavy[kept]))
    if np.any(heavy[kept] < CLEAN):  # what was small is square to nothing any more
        vectors = vectors - base @ (base.T @ (mass @ vectors))
    return vectors

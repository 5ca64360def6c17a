"""Solution of a frame by a banded Cholesky factor, the energies of its parts, and the checks that every answer passes.

Order and pattern depend on what is joined to what alone, so they are made once; each set of stiffnesses then costs one product with
a constant sparse matrix and one factor.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.errors import GantrywrightError
from gantrywright.base.units import Array
from gantrywright.theory.frames.frame import PER_NODE, Numbers
from gantrywright.theory.frames.motions import Motions

if TYPE_CHECKING:
    from scipy.sparse import csr_array

LOST = 1e-11
"""A pivot that elimination has shrunk by more than this carries nothing but rounding errors; a sound machine stays above 1e-8."""


class Unheld(GantrywrightError, ArithmeticError):
    """Something in a frame moves without any spring of it resisting."""

    def __init__(self, motion: Array, sample: int = 0) -> None:
        super().__init__("the frame has a motion that nothing resists")
        self.motion = motion
        """Such a motion of all degrees of freedom, shape (6 n,); its largest shift (or turn, where nothing shifts) is 1."""
        self.sample = sample
        """Number of the sample in which it was met."""


@dataclass(frozen=True, slots=True)
class Prepared:
    """A frame's pattern, ready to be solved with any stiffness."""

    rows: "csr_array"
    """Stretches of the coefficients."""
    order: Numbers
    """Degree of freedom at each place of the band."""
    half_band: int
    gather: "csr_array"
    """From coefficients to the lower band, stored column by column."""
    used: NDArray[np.bool_]
    """Coefficients that may be other than 0."""

    def band(self, coefficients: Array) -> Array:
        """Stiffness in lower band storage for one set of coefficients, shape (half_band + 1, 6 n), columns contiguous."""
        band: Array = (self.gather @ coefficients).reshape(len(self.order), self.half_band + 1).T
        return band

    def solve(self, coefficients: Array, loads: Array, *, polish: bool = False) -> Array:
        """Motions under loads.

        Args:
            coefficients: Shape (..., c).
            loads: Shape (6 n, k).
            polish: Solve what rounding left of the loads once more, by the same factor: a short stout piece (the shank of a cutter that
                hardly sticks out) would otherwise cost half of the digits.

        Returns:
            Shape (..., 6 n, k).

        Raises:
            Unheld: Something moves freely.
        """
        if np.any(coefficients[..., ~self.used]):
            raise ValueError("a coefficient that the pattern was told to leave out is not 0")
        lead = coefficients.shape[:-1]
        many = coefficients.reshape(-1, coefficients.shape[-1])
        motions = np.empty((len(many), *loads.shape))
        ordered = loads[self.order]
        for number, one in enumerate(many):
            motions[number, self.order] = self._solve_one(one, ordered, number, polish)
        return motions.reshape(*lead, *loads.shape)

    def _solve_one(self, coefficients: Array, loads: Array, number: int, polish: bool) -> Array:
        from scipy.linalg.lapack import dpbtrf, dpbtrs

        band = self.band(coefficients)
        before = band[0].copy()
        factor, failed = dpbtrf(band, lower=1, overwrite_ab=1)
        if failed or np.any(factor[0] ** 2 < LOST * before):
            raise Unheld(free_motion(self, coefficients), number)
        motion: Array = dpbtrs(factor, loads, lower=1)[0]
        if polish:
            whole = np.empty_like(motion)
            whole[self.order] = motion
            held = self.rows.T @ (coefficients[:, None] * (self.rows @ whole))
            motion += dpbtrs(factor, loads - held[self.order], lower=1)[0]
        return motion


def prepare(rows: "csr_array", used: NDArray[np.bool_] | None = None) -> Prepared:
    """Order and pattern of a frame.

    Args:
        rows: Stretches, from `assembly.stretches`.
        used: Coefficients that may be other than 0, shape (c,); leaving out those that never hold narrows the band. None: all.
    """
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import reverse_cuthill_mckee

    used = np.ones(rows.shape[0], dtype=bool) if used is None else np.asarray(used, dtype=bool)
    freedoms = rows.shape[1]
    columns, values, owner = _pairs(rows, used)
    pattern = csr_array((np.ones(len(owner)), (columns[:, 0], columns[:, 1])), shape=(freedoms, freedoms))
    order = reverse_cuthill_mckee(pattern, symmetric_mode=True).astype(np.intp)
    place = np.empty(freedoms, dtype=np.intp)
    place[order] = np.arange(freedoms)
    low, high = place[columns[:, 0]], place[columns[:, 1]]
    below = low >= high
    low, high = low[below], high[below]
    half_band = int((low - high).max(initial=0))
    shape = (freedoms * (half_band + 1), rows.shape[0])
    gather = csr_array((values[below], ((half_band + 1) * high + low - high, owner[below])), shape=shape)
    return Prepared(rows, order, half_band, gather, used)


def _pairs(rows: "csr_array", used: NDArray[np.bool_]) -> tuple[Numbers, Array, Numbers]:
    """All pairs of degrees of freedom that one coefficient joins: (p, 2), product of their entries (p,), its number (p,)."""
    counts = np.where(used, np.diff(rows.indptr), 0)
    width = int(counts.max(initial=0))
    slot = np.arange(width)
    there = slot < counts[:, None]
    at = np.where(there, rows.indptr[:-1, None] + slot, 0)
    both = there[:, :, None] & there[:, None, :]
    freedom, entry = rows.indices[at], rows.data[at]
    shape = both.shape
    columns = np.stack(
        [np.broadcast_to(freedom[:, :, None], shape)[both], np.broadcast_to(freedom[:, None, :], shape)[both]], axis=-1
    )
    owner = np.broadcast_to(np.arange(len(counts))[:, None, None], shape)[both]
    return columns, (entry[:, :, None] * entry[:, None, :])[both], owner


def free_motion(prepared: Prepared, coefficients: Array) -> Array:
    """A motion that nothing resists, or next to nothing, of one set of coefficients.

    Of several, that one is told which one degree of freedom belongs to most purely, so that it names one part and not a mixture.

    Returns:
        Shape (6 n,); its largest shift is 1, or its largest turn where nothing shifts.
    """
    from scipy.linalg import eigh

    dense = prepared.rows.T @ (coefficients[:, None] * prepared.rows.toarray())
    diagonal = np.diag(dense)
    scale = 1 / np.sqrt(np.where(diagonal > 0, diagonal, 1.0))
    values, vectors = eigh(dense * scale[:, None] * scale)
    free = vectors[:, values < max(100 * LOST, 2 * values[0])] if values[0] > 0 else vectors[:, values < 100 * LOST]
    purest = int(np.argmax((free**2).sum(axis=1)))
    motion = (free @ free[purest]) * scale
    motion[np.abs(motion) < 1e-9 * np.abs(motion).max()] = 0.0
    parts = motion.reshape(-1, PER_NODE)
    shift = np.abs(parts[:, :3]).max()
    size = shift if shift > 0 else np.abs(parts[:, 3:]).max()
    told: Array = motion / size
    return told


def strains(rows: "csr_array", motions: Array) -> Array:
    """Stretches of all coefficients under motions of shape (..., 6 n, k): shape (..., c, k)."""
    return Motions(motions).through(rows)


def energies(rows: "csr_array", coefficients: Array, motions: Array) -> Array:
    """Twice the strain energy of every coefficient, d e^2: the parts of the give of unit loads, which they sum to.

    Args:
        rows: Stretches, from `assembly.stretches`.
        coefficients: Shape (..., c).
        motions: Shape (..., 6 n, k).

    Returns:
        Shape (..., c, k).
    """
    return coefficients[..., None] * strains(rows, motions) ** 2


def cross_energies(rows: "csr_array", coefficients: Array, motions: Array) -> Array:
    """Parts of every entry of the give between loads: d e_i e_j; may be negative off the diagonal.

    Args:
        rows: Stretches, from `assembly.stretches`.
        coefficients: Shape (..., c).
        motions: Shape (..., 6 n, k).

    Returns:
        Shape (..., c, k, k).
    """
    stretch = strains(rows, motions)
    return coefficients[..., None, None] * stretch[..., :, None] * stretch[..., None, :]

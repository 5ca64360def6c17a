"""Motions of all degrees of freedom under load cases, kept as they were found.

Those of many samples lie in a space of few dimensions: what is looked at (the tip, a tie, a foot) is then worked out from the few
amounts, without ever writing down how every node of every sample moves.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.units import Array

if TYPE_CHECKING:
    from scipy.sparse import csr_array


@dataclass(frozen=True, slots=True)
class Motions:
    """Motions of 6 n freedoms under k load cases, of one set of stiffnesses or of samples."""

    amounts: Array
    """Shape (..., r, k); without a space the motions themselves, r = 6 n."""
    space: Array | None = None
    """Shape (6 n, r)."""
    numbers: NDArray[np.intp] | None = None
    """Samples whose motions are known better than by the space, shape (p,)."""
    exact: Array | None = None
    """Those, shape (p, 6 n, k)."""

    @property
    def cases(self) -> int:
        """Number of load cases."""
        return int(self.amounts.shape[-1])

    def of(self, columns: slice) -> "Motions":
        """Some of the load cases."""
        exact = None if self.exact is None else self.exact[..., columns]
        return Motions(self.amounts[..., columns], self.space, self.numbers, exact)

    def through(self, matrix: "Array | csr_array") -> Array:
        """What a matrix of shape (m, 6 n) makes of the motions, shape (..., m, k)."""
        through = matrix if self.space is None else np.asarray(matrix @ self.space)
        seen = _times(through, self.amounts)
        if self.numbers is not None and self.exact is not None:
            seen[self.numbers] = _times(matrix, self.exact)
        return seen

    def at(self, freedoms: NDArray[np.intp]) -> Array:
        """Motions of some freedoms, shape (..., f, k)."""
        if self.space is None:
            return self.amounts[..., freedoms, :]
        seen = _times(self.space[freedoms], self.amounts)
        if self.numbers is not None and self.exact is not None:
            seen[self.numbers] = self.exact[:, freedoms]
        return seen

    def whole(self) -> Array:
        """Motions of all freedoms, shape (..., 6 n, k)."""
        return self.amounts if self.space is None else self.at(np.arange(len(self.space)))


def _times(matrix: "Array | csr_array", many: Array) -> Array:
    """Matrix (m, r) times each of many (..., r, k), as one product: shape (..., m, k)."""
    lead, (size, cases) = many.shape[:-2], many.shape[-2:]
    flat = np.moveaxis(many.reshape(-1, size, cases), 0, 1).reshape(size, -1)
    told: Array = np.moveaxis(np.asarray(matrix @ flat).reshape(matrix.shape[0], -1, cases), 1, 0)
    return told.reshape(*lead, matrix.shape[0], cases)

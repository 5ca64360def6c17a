"""Modes of one frame under many sets of stiffness, found together in a few well chosen shapes.

Samples of a machine share mass and pattern and differ in some tens of numbers that each scale a group of coefficients. Their shapes lie
close to a space of some tens of dimensions: typical modes, the static answer to forces at the tip, and what the shapes change to first
order when one group gives more or less, those of most energy. Within it the modes of every sample are found by Rayleigh and Ritz, so
a frequency is never too low and errs by the square of what its shape errs by.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.units import Array
from gantrywright.theory.frames.frame import Numbers
from gantrywright.theory.frames.solver import Prepared, strains

if TYPE_CHECKING:
    from scipy.sparse import csr_array

CANDIDATES = 80
"""First-order changes of shapes that are worth solving for, those of most energy first."""
LOWEST = 1e-6
"""Ratio to the typical stiffness that counts as letting go."""
SAME = 1e-9
"""Relative difference of two columns of samples that is rounding."""
SPENT = 1e-10
"""Part of a vector that is new, below which it is dropped."""
STIFFEST = 1e10
"""Shapes of a squared frequency so much above the least are left out: beside them the lowest would drown in rounding."""
ROUNDING = 1e-9
"""Part of the energy of motions below which what they add is rounding."""


@dataclass(frozen=True, slots=True)
class Parts:
    """Coefficients that vary together: coefficients = scale * ratios[:, group], with the loss factors losses[:, group]."""

    scale: Array
    """Shape (c,)."""
    group: Numbers
    """Shape (c,)."""
    ratios: Array
    """Shape (samples, groups)."""
    losses: Array
    """Loss factor of every group, shape (samples, groups)."""

    @property
    def spread(self) -> Array:
        """How far every group varies, shape (groups,)."""
        told: Array = np.log(np.maximum(self.ratios, LOWEST)).std(axis=0)
        return told


def parts_of(typical: Array, coefficients: Array, losses: Array) -> Parts:
    """Find the coefficients that vary together and lose alike.

    Args:
        typical: Shape (c,).
        coefficients: Shape (samples, c).
        losses: Loss factors, shape (samples, c) or (c,).
    """
    scale = np.where(typical > 0, typical, coefficients.max(axis=0))
    ratios = coefficients / np.where(scale > 0, scale, 1.0)
    lost = np.broadcast_to(losses, ratios.shape)
    sums = np.random.default_rng(2).normal(size=(2, len(ratios))) / len(ratios)
    key = np.round(np.stack((sums[0] @ ratios, sums[1] @ lost), axis=1) / SAME)
    _, first, group = np.unique(key, axis=0, return_index=True, return_inverse=True)
    return Parts(scale, np.asarray(group).ravel(), ratios[:, first], lost[:, first])


def ritz_shapes(prepared: Prepared, typical: Array, mass: "csr_array", kept: Array, squares: Array, loads: Array, parts: Parts, *,
                wanted: int) -> Array:  # fmt: skip
    """Shapes whose sums come close to the modes of every sample.

    Args:
        prepared: The frame.
        typical: Natural coefficients, shape (c,).
        mass: Of all degrees of freedom, sparse, shape (6 n, 6 n).
        kept: Typical modes of modal mass 1 kg, shape (6 n, p): the first shapes.
        squares: Squares of their circular frequencies, shape (p,).
        loads: Unit forces at the tip, shape (6 n, k): the static answers to them are the next shapes.
        parts: How the coefficients vary.
        wanted: Shapes in all.

    Returns:
        Shape (6 n, m), square to each other by mass, of modal mass 1 kg; m is `wanted` or, where there are no more, less.
    """
    answers = prepared.solve(typical, np.concatenate((loads, _changed(prepared, typical, kept, squares, parts)), axis=1))
    tip, changes = answers[:, : loads.shape[1]], answers[:, loads.shape[1] :]
    base = np.concatenate((kept, _new(_most_of(prepared, typical, tip, kept, mass, tip.shape[1]), kept, mass)), axis=1)
    further = _new(_most_of(prepared, typical, changes, base, mass, wanted - base.shape[1]), base, mass)
    shapes = np.concatenate((base, further), axis=1)
    own = np.diagonal(_energy(prepared, typical, shapes))
    return shapes[:, own < STIFFEST * own[own > 0].min()]


def _most_of(prepared: Prepared, typical: Array, motions: Array, base: Array, mass: "csr_array", count: int) -> Array:
    """Main directions, by energy, of what motions add to a base; none of such little energy that it is rounding."""
    whole = _energy(prepared, typical, motions).trace()
    rest = motions - base @ (base.T @ (mass @ motions))
    held, mixes = np.linalg.eigh(_energy(prepared, typical, rest))
    most = [k for k in range(len(held) - 1, -1, -1) if held[k] > ROUNDING * whole][: max(count, 0)]
    told: Array = rest @ mixes[:, most]
    return told


def _energy(prepared: Prepared, typical: Array, motions: Array) -> Array:
    """Twice the strain energy of motions with each other, shape (k, k)."""
    stretch = strains(prepared.rows, motions)
    told: Array = stretch.T @ (typical[:, None] * stretch)
    return told


def _changed(prepared: Prepared, typical: Array, kept: Array, squares: Array, parts: Parts) -> Array:
    """Forces that set off what the modes change as one group after another gives more, those of most energy; shape (6 n, q)."""
    forces = typical[:, None] * strains(prepared.rows, kept / np.sqrt(np.where(squares > 0, squares, np.inf)))
    held = np.zeros((parts.ratios.shape[1], kept.shape[1]))
    np.add.at(held, parts.group, forces**2 / np.where(typical > 0, typical, 1.0)[:, None])
    weight = np.sqrt(held) * parts.spread[:, None]
    most = np.argsort(-weight, axis=None, kind="stable")[:CANDIDATES]
    group, mode = np.unravel_index(most[weight.ravel()[most] > 0], weight.shape)
    acting = np.where(parts.group[:, None] == group, forces[:, mode], 0.0) * parts.spread[group]
    return np.asarray(prepared.rows.T @ acting)


def _new(vectors: Array, base: Array, mass: "csr_array") -> Array:
    """What vectors add to a base, square to it and to each other by mass."""
    size = np.sqrt((vectors * (mass @ vectors)).sum(axis=0))
    vectors = vectors[:, size > 0] / size[size > 0]
    for _ in range(2):
        vectors = vectors - base @ (base.T @ (mass @ vectors))
        heavy, turn = np.linalg.eigh(vectors.T @ (mass @ vectors))
        kept = heavy > SPENT
        vectors = vectors @ (turn[:, kept] / np.sqrt(heavy[kept]))
    return vectors


@dataclass(frozen=True, slots=True)
class SampledModes:
    """Modes of every sample within a few shapes, lowest first."""

    squares: Array
    """Squares of the circular frequencies, 1/s2, shape (samples, m)."""
    amounts: Array
    """Of every shape in every mode, of modal mass 1 kg, shape (samples, m, m): shapes down, modes across."""
    loss: Array
    """Loss factor of every mode, weighted by strain energy, shape (samples, m)."""

    def moved(self, by_shape: Array) -> Array:
        """Anything linear that is known of the shapes, (k, m), of the modes: shape (samples, k, m)."""
        told: Array = by_shape @ self.amounts
        return told

    def like(self, count: int) -> NDArray[np.intp]:
        """Number of the mode in each sample that is most like each of the first shapes, each mode given once; shape (samples, count).

        The likest pair of all is joined first, then the likest of those left.
        """
        alike = self.amounts[:, :count] ** 2
        samples, _, modes = alike.shape
        each = np.arange(samples)
        found = np.zeros((samples, count), dtype=np.intp)
        for _ in range(count):
            best = alike.reshape(samples, -1).argmax(axis=1)
            shape, mode = best // modes, best % modes
            found[each, shape] = mode
            alike[each, shape] = -1.0
            alike[each, :, mode] = -1.0
        return found


def sampled_modes(prepared: Prepared, shapes: Array, parts: Parts) -> SampledModes:
    """Modes of every sample within shapes of modal mass 1 kg that are square to each other by mass.

    Args:
        prepared: The frame.
        shapes: Shape (6 n, m).
        parts: How the coefficients vary.
    """
    size = shapes.shape[1]
    order = np.argsort(parts.group, kind="stable")
    stretch = np.sqrt(parts.scale[order])[:, None] * strains(prepared.rows, shapes)[order]
    starts = np.searchsorted(parts.group[order], np.arange(parts.ratios.shape[1] + 1))
    each = np.stack([(own := stretch[a:b]).T @ own for a, b in pairwise(starts)]).reshape(-1, size * size)
    squares, amounts = np.linalg.eigh((parts.ratios @ each).reshape(-1, size, size))
    lost = ((parts.ratios * parts.losses) @ each).reshape(-1, size, size)
    energy = (amounts * (lost @ amounts)).sum(axis=1)
    squares = np.maximum(squares, 0.0)
    return SampledModes(squares, amounts, energy / np.where(squares > 0, squares, np.inf))

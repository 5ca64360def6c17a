"""One frame under many sets of stiffness: solved in a few well chosen motions, and proved against exact answers.

The samples of a machine differ in some tens of uncertain numbers only, each of which scales a group of coefficients. The motions of
all samples then lie close to a space of some hundred dimensions: those of the typical stiffness, what they change to first order when
one group gives more or less, and a few samples solved exactly. Within that space the motions of least energy are found for all
samples at once. The give is never told too large, and errs by the square of what the motions err by.

Nothing is taken on trust: the samples most in doubt are solved exactly and compared, and put right, until a batch of them is close;
every sample is solved exactly where that takes too many.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.units import Array
from gantrywright.theory.frames.frame import PER_NODE
from gantrywright.theory.frames.motions import Motions
from gantrywright.theory.frames.solver import Prepared, Unheld, strains

FEW = 48
"""Samples up to which exact answers cost no more."""
SPREAD = 1e4
"""Ratio to the typical stiffness beyond which a sample may hang loose: solved exactly, which tells what does."""
COLUMNS = 400
"""First-order changes that are worth solving for, those of most energy first."""
NEGLECTED = 1e-12
"""Energy that the space leaves out of what it is built from, each load alone having 1. So little because of the forces: what is stiff
holds large ones with next to no energy."""
WIDEST = 200
"""Dimensions beyond which a space costs more than exact answers."""
DEPENDENT = 1e-8
"""Energy of a direction, beside 1, below which it is rounding left of others."""
SEEDS = 5
"""Samples solved exactly to build the space from."""
PROOFS = 6
"""Samples solved exactly to prove an answer."""
SUMS = 24
"""Random sums that the doubt about a sample is judged by."""
AT_ONCE = 32
"""Samples whose small matrices are held at once."""
BATCHES = 4
"""Batches of proofs, each of the most doubtful samples left, in which the answers have to come close."""
CLOSE = 1e-3
"""Difference of the give from the exact one that is borne; half of it where it is proved, for the samples that are not."""
FORCES_CLOSE = 0.02
"""Difference of the force of a tie, beside the largest of all ties under that load, that is borne."""


@dataclass(frozen=True, slots=True)
class Grouped:
    """Coefficients that vary together: coefficients = typical * ratios[:, group]."""

    typical: Array
    """Shape (c,)."""
    group: NDArray[np.intp]
    """Group of every coefficient, shape (c,)."""
    ratios: Array
    """Shape (samples, groups)."""

    @property
    def spread(self) -> Array:
        """How far every group varies, shape (groups,)."""
        told: Array = np.log(self.ratios).std(axis=0)
        return told


def grouped(coefficients: Array) -> Grouped | None:
    """Find the coefficients that vary together.

    Args:
        coefficients: Shape (samples, c).

    Returns:
        None where a coefficient is 0, or next to it, in some samples and not in others.
    """
    typical = np.median(coefficients, axis=0)
    there = typical > 0
    if np.any(coefficients[:, ~there]):
        return None
    ratio = np.ones_like(coefficients)
    ratio[:, there] = coefficients[:, there] / typical[there]
    if ratio.min() < 1 / SPREAD or ratio.max() > SPREAD:
        return None
    varies = np.ptp(ratio, axis=0) > 1e-9
    group = np.zeros(len(typical), dtype=np.intp)
    unique, number = np.unique(np.round(ratio[:, varies], 9), axis=1, return_inverse=True)
    group[varies] = 1 + number.ravel()
    return Grouped(typical, group, np.concatenate((np.ones((len(ratio), 1)), unique), axis=1))


def solve_samples(prepared: Prepared, coefficients: Array, loads: Array, *, ties: int = 0) -> Motions:
    """Motions of every sample under loads, the give within `CLOSE` of the exact one, forces of ties within `FORCES_CLOSE`.

    Args:
        prepared: The frame.
        coefficients: Shape (samples, c).
        loads: Shape (6 n, k).
        ties: Number of ties, whose coefficients are the last, six of each.

    Raises:
        Unheld: Something moves freely.
    """
    found = _reduced(prepared, coefficients, loads, ties) if len(coefficients) > FEW else None
    return Motions(prepared.solve(coefficients, loads)) if found is None else found


def _reduced(prepared: Prepared, coefficients: Array, loads: Array, ties: int) -> Motions | None:
    """None where there is no reduced answer that proves right."""
    parts = grouped(coefficients)
    if parts is None:
        return None
    try:
        middle = prepared.solve(parts.typical, loads)
    except Unheld:
        return None
    give = np.einsum("ij,ij->j", loads, middle)
    size = 1 / np.sqrt(np.where(give > 0, give, 1.0))
    seeds = _scattered(parts)
    known = set(seeds)
    exact = prepared.solve(coefficients[seeds], loads)
    changes = _changes(prepared, parts, middle * size)
    first = np.concatenate((middle * size, _beside(exact * size), changes), axis=1)
    space = _directions(prepared, parts.typical, first)
    if space.shape[1] > WIDEST:
        return None
    amounts, doubt = _within(prepared, parts, space, _sums(prepared, parts.typical), loads)
    proved: list[int] = []
    answers: list[Array] = []
    for _ in range(BATCHES):
        proofs = _doubtful(doubt, known)
        known.update(proofs)
        exact = prepared.solve(coefficients[proofs], loads)
        proved += proofs
        answers.append(exact)
        found = space @ amounts[proofs]
        apart = difference(loads, found, exact)
        forces = force_difference(prepared, coefficients[proofs], found, exact, ties)
        if apart <= CLOSE / 2 and forces <= FORCES_CLOSE / 2:
            return Motions(amounts, space, np.array(proved, dtype=np.intp), np.concatenate(answers))
    return None


def difference(loads: Array, motions: Array, exact: Array) -> float:
    """Greatest difference of the give between loads, as a share of the exact gives of the two.

    Args:
        loads: Shape (6 n, k).
        motions: Shape (samples, 6 n, k).
        exact: The same, to compare with.
    """
    right = loads.T @ exact
    own = np.sqrt(np.maximum(np.diagonal(right, axis1=-2, axis2=-1), 0.0))
    size = own[:, :, None] * own[:, None, :]
    apart = np.abs(loads.T @ motions - right)
    return float((apart / np.where(size > 0, size, 1.0)).max(initial=0.0))


def force_difference(prepared: Prepared, coefficients: Array, motions: Array, exact: Array, ties: int) -> float:
    """Greatest difference of a force or moment of a tie, as a share of the largest force or moment of any tie under that load.

    Args:
        prepared: The frame.
        coefficients: Shape (samples, c); the last are those of the ties, six of each.
        motions: Shape (samples, 6 n, k).
        exact: The same, to compare with.
        ties: Number of ties.
    """
    if not ties:
        return 0.0
    last = slice(coefficients.shape[1] - PER_NODE * ties, None)
    rows, own = prepared.rows[last], coefficients[:, last, None]
    shape = (len(coefficients), ties, 2, PER_NODE // 2, motions.shape[-1])
    apart = np.abs(own * strains(rows, motions - exact)).reshape(shape).max(axis=(1, 3), initial=0.0)
    largest = np.abs(own * strains(rows, exact)).reshape(shape).max(axis=(1, 3), initial=0.0)
    return float((apart / np.where(largest > 0, largest, np.inf)).max(initial=0.0))


def _changes(prepared: Prepared, parts: Grouped, motions: Array) -> Array:
    """First-order changes of the motions as one group after another gives more, those that hold most energy; shape (6 n, m)."""
    rows, typical = prepared.rows, parts.typical
    forces = typical[:, None] * strains(rows, motions)
    held = np.zeros((parts.ratios.shape[1], motions.shape[1]))
    np.add.at(held, parts.group, forces**2 / np.where(typical > 0, typical, 1.0)[:, None])
    weight = held * parts.spread[:, None]
    most = np.argsort(-weight, axis=None, kind="stable")[:COLUMNS]
    group, case = np.unravel_index(most[weight.ravel()[most] > 0], weight.shape)
    acting = np.where(parts.group[:, None] == group, forces[:, case], 0.0) * parts.spread[group]
    return prepared.solve(typical, np.asarray(rows.T @ acting))


def _directions(prepared: Prepared, typical: Array, motions: Array) -> Array:
    """Main directions of motions of shape (6 n, m), of energy 1 and at right angles in it: shape (6 n, r)."""
    for neglected, dependent in ((NEGLECTED, 0.0), (0.0, DEPENDENT)):  # rounding of the first pass is taken out by the second
        stretch = strains(prepared.rows, motions)
        values, mixes = np.linalg.eigh(stretch.T @ (typical[:, None] * stretch))
        keep = np.flatnonzero((np.cumsum(values) > neglected) & (values > dependent))
        motions = motions @ (mixes[:, keep] / np.sqrt(values[keep]))
    return motions


def _within(prepared: Prepared, parts: Grouped, space: Array, sums: Array, loads: Array) -> tuple[Array, Array]:
    """Amounts of the motions of least energy within a space, of all samples: shape (samples, r, k); and how doubtful each is.

    Doubtful is the give, on the typical stiffness, of what is left of the loads, beside the whole give; the mean square of its sums
    (see `_sums`) tells it well enough to rank the samples by.
    """
    from scipy.linalg.lapack import dposv

    rows, root = prepared.rows, np.sqrt(parts.typical)[:, None]
    stretch = root * strains(rows, space)
    both = np.concatenate((stretch, root * strains(rows, sums)), axis=1)
    size = space.shape[1]
    each = np.empty((parts.ratios.shape[1], size + SUMS, size))
    for number in range(len(each)):
        chosen = parts.group == number
        each[number] = both[chosen].T @ stretch[chosen]
    flat, acting, beside = each.reshape(len(each), -1), space.T @ loads, sums.T @ loads
    found, doubt = np.empty((len(parts.ratios), size, loads.shape[1])), np.empty(len(parts.ratios))
    for start in range(0, len(found), AT_ONCE):
        now = slice(start, start + AT_ONCE)
        whole = (parts.ratios[now] @ flat).reshape(-1, size + SUMS, size)
        # each stays positive: the typical one is 1 in this space, and no group is less than 1 / SPREAD of it
        amounts = np.stack([dposv(one[:size].T, acting, lower=1, overwrite_a=1)[1] for one in whole])
        found[now] = amounts
        left = beside - whole[:, size:] @ amounts
        give = np.einsum("ik,sik->sk", acting, amounts)
        doubt[now] = ((left**2).sum(axis=1) / np.where(give > 0, give, np.inf)).max(axis=1)
    return found, doubt


def _sums(prepared: Prepared, typical: Array) -> Array:
    """Random motions whose work with any load has the load's give on the typical stiffness as mean square: shape (6 n, SUMS)."""
    random = np.random.default_rng(SUMS).normal(size=(len(typical), SUMS)) / np.sqrt(SUMS)
    return prepared.solve(typical, np.asarray(prepared.rows.T @ (np.sqrt(typical)[:, None] * random)))


def _scattered(parts: Grouped) -> list[int]:
    """Samples far from the typical one and from each other."""
    place = np.log(parts.ratios)
    far = (place**2).sum(axis=1)
    picked: list[int] = []
    for _ in range(SEEDS):
        picked.append(int(np.argmax(far)))
        far = np.minimum(far, ((place - place[picked[-1]]) ** 2).sum(axis=1))
    return picked


def _doubtful(doubt: Array, known: set[int]) -> list[int]:
    """Samples to prove an answer with: mostly the most doubtful, some at random; none that the space knows."""
    order = [int(n) for n in np.argsort(-doubt, kind="stable") if int(n) not in known]
    most = 2 * PROOFS // 3
    return order[:most] + [int(n) for n in np.random.default_rng(len(known)).permutation(order[most:])[: PROOFS - most]]


def _beside(motions: Array) -> Array:
    """Samples side by side: (samples, 6 n, k) as (6 n, samples k)."""
    told: Array = np.moveaxis(motions, 0, 1).reshape(motions.shape[1], -1)
    return told

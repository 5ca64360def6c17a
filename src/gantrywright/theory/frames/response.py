"""How the tip answers to a force that swings: compliance over frequency, and its weakest points."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Hertz, Kilogram, MetrePerNewton, NewtonPerMetre, Number

if TYPE_CHECKING:
    from scipy.sparse import csr_array

NEAR_A_MODE = (-2.0, -1.0, -0.5, -0.2, 0.0, 0.2, 0.5, 1.0, 2.0)
"""Where an answer is looked at beside a mode, in damping ratios of its frequency: -1, 0 and 1 are the least real part and the peak."""
AT_ONCE = 32
"""Machines whose answers are worked out together."""


@formula("H = sum_r phi_r phi_r^T/(lambda_r - w^2 + j ...) + C_0 - sum_r phi_r phi_r^T/lambda_r", source="derived")
def receptance(*, frequencies: Array, squares: Array, at_tip: Array, damping: Array, static: Array,
               kind: Literal["viscous", "hysteretic"] = "viscous") -> MetrePerNewton:  # fmt: skip
    """Motion of the tip against the work per swinging force, from some modes and the static give of all the rest.

    Args:
        frequencies: Hz, shape (f,).
        squares: Squares of the circular frequencies of the modes, shape (..., m).
        at_tip: Motion of the tip against the work in each mode of modal mass 1 kg, along each direction, shape (k, m).
        damping: Damping ratio of each mode, shape (..., m).
        static: Static give at the tip, shape (..., k, k).
        kind: ``viscous``: 2 j zeta w w_r; ``hysteretic``: 2 j zeta w_r^2, a loss factor that no frequency changes.

    Returns:
        Complex, shape (..., f, k, k).

    Source:
        Derived: modal superposition; what the left-out modes give is taken as if they answered at once.
    """
    circular = 2 * np.pi * np.asarray(frequencies, dtype=float)[:, None]
    own = np.where(squares > 0, squares, np.inf)[..., None, :]
    ratio = np.asarray(damping)[..., None, :]
    lag = 2j * ratio * (circular * np.sqrt(squares)[..., None, :] if kind == "viscous" else squares[..., None, :])
    free = np.asarray(squares)[..., None, :] - circular**2 + lag
    directions = len(at_tip)
    pairs = (at_tip[:, None] * at_tip[None]).reshape(directions**2, -1).T
    answer = (1 / free - 1 / own) @ pairs
    return answer.reshape(*answer.shape[:-1], directions, directions) + np.asarray(static)[..., None, :, :]


@formula("H_k = sum_r phi_k,r^2/(lambda_r - w^2 + 2 j zeta_r w w_r) + C_k - sum_r phi_k,r^2/lambda_r", source="derived")
def own_receptance(*, frequencies: Array, squares: Array, at_tip: Array, damping: Array, static: Array) -> MetrePerNewton:
    """Motion of the tip along a force that swings, of many machines at once: the diagonal of `receptance`, viscous.

    Args:
        frequencies: Hz, shape (f,), or (samples, f) where every machine is looked at elsewhere.
        squares: Squares of the circular frequencies of the modes, above 0, shape (samples, m).
        at_tip: Motion of the tip in each mode of modal mass 1 kg, along each direction, shape (samples, k, m).
        damping: Damping ratio of each mode, shape (samples, m).
        static: Static give along each direction, shape (samples, k).

    Returns:
        Complex, shape (samples, f, k).

    Source:
        Derived: as `receptance`.
    """
    circular = 2 * np.pi * np.broadcast_to(frequencies, (len(squares), np.shape(frequencies)[-1]))
    held = np.swapaxes(at_tip, -1, -2) ** 2  # (samples, m, k)
    rest = static - (held / squares[..., None]).sum(axis=-2)
    answer = np.empty((*circular.shape, held.shape[-1]), dtype=complex)
    for start in range(0, len(squares), AT_ONCE):  # few enough to stay in the cache
        now = slice(start, start + AT_ONCE)
        own, swinging = squares[now, None, :], circular[now, :, None]
        free = own - swinging**2
        lag = (2 * damping[now] * np.sqrt(squares[now]))[:, None, :] * swinging
        weight = 1 / (free**2 + lag**2)
        answer.real[now] = (free * weight) @ held[now] + rest[now, None, :]
        answer.imag[now] = -(lag * weight) @ held[now]
    return answer


def receptance_by_solving(stiffness: "csr_array", mass: "csr_array", loads: Array, frequencies: Array) -> NDArray[np.complex128]:
    """The same from all degrees of freedom, one solution a frequency: slow, and exact.

    Args:
        stiffness: Complex where parts have loss factors: A^T diag(d (1 + j eta)) A.
        mass: As stiffness.
        loads: Unit loads at the tip and, turned round, on the work, shape (6 n, k).
        frequencies: Hz, shape (f,).

    Returns:
        Shape (f, k, k).
    """
    from scipy.sparse.linalg import splu

    found = np.empty((len(frequencies), loads.shape[1], loads.shape[1]), dtype=complex)
    for number, frequency in enumerate(frequencies):
        dynamic = (stiffness - (2 * np.pi * frequency) ** 2 * mass).astype(complex).tocsc()
        found[number] = loads.T @ splu(dynamic).solve(loads.astype(complex))
    return found


def worth_looking(*, modes: Array, damping: Array, lowest: float, highest: float, count: int) -> Array:
    """Frequencies that miss no peak: even steps in the logarithm, and closer ones about every mode.

    Args:
        modes: Frequencies of the modes, Hz, shape (m,).
        damping: Damping ratios, shape (m,).
        lowest: Hz.
        highest: Hz.
        count: Of all frequencies, about; those about the modes come first.

    Returns:
        Ascending.
    """
    near = (modes[:, None] * (1 + damping[:, None] * np.array(NEAR_A_MODE))).ravel()
    near = near[(near >= lowest) & (near <= highest)]
    even = np.geomspace(lowest, highest, max(2, count - len(near)))
    return np.unique(np.concatenate([near, even]))


@dataclass(frozen=True, slots=True)
class Weakest:
    """Where the answer along each direction is worst; all of shape (..., k)."""

    peak: Array
    """Greatest dynamic give, m/N."""
    frequency: Array
    """Where it is, Hz."""
    least_real: Array
    """Most negative real part, m/N: what limits the depth of a cut before it chatters; 0 where it is never negative."""
    least_real_frequency: Array
    """Where it is, Hz."""


def weakest(frequencies: Array, answer: NDArray[np.complex128]) -> Weakest:
    """Peak and most negative real part along each direction, among the frequencies looked at.

    Args:
        frequencies: Hz, shape (f,).
        answer: Receptance, shape (..., f, k, k).
    """
    own = np.diagonal(answer, axis1=-2, axis2=-1)
    size, real = np.abs(own), own.real
    high, low = size.argmax(axis=-2), real.argmin(axis=-2)
    return Weakest(size.max(axis=-2), frequencies[high], np.minimum(real.min(axis=-2), 0.0), frequencies[low])


@formula("|H|_max = 1/(2 k zeta sqrt(1 - zeta^2)), at f sqrt(1 - 2 zeta^2)", source="definition")
def resonant_give(*, stiffness: NewtonPerMetre, damping: Number) -> MetrePerNewton:
    """Greatest dynamic give of one viscously damped mode.

    Args:
        stiffness: Modal stiffness, N/m.
        damping: Damping ratio, below 0.7.
    """
    return 1 / (2 * stiffness * damping * np.sqrt(1 - damping**2))


@formula("Re H_min = -1/(4 k zeta (1 + zeta)), at f sqrt(1 + 2 zeta)", source="altintas-manufacturing-automation")
def least_real_give(*, stiffness: NewtonPerMetre, damping: Number) -> MetrePerNewton:
    """Most negative real part of the give of one viscously damped mode.

    Args:
        stiffness: Modal stiffness, N/m.
        damping: Damping ratio.
    """
    return -1 / (4 * stiffness * damping * (1 + damping))


@formula("f = sqrt(k/m)/(2 pi)", source="definition")
def one_frequency(*, stiffness: NewtonPerMetre, mass: Kilogram) -> Hertz:
    """Natural frequency of a mass on a spring.

    Args:
        stiffness: N/m.
        mass: kg.
    """
    return np.sqrt(stiffness / mass) / (2 * np.pi)

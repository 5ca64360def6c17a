"""Natural modes of a frame, and what holds their strain and their motion."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Hertz, Number
from gantrywright.theory.frames.assembly import to_ends
from gantrywright.theory.frames.frame import PER_NODE, Frame
from gantrywright.theory.frames.mass import bar_mass, lump_mass

if TYPE_CHECKING:
    from scipy.sparse import csr_array

SHIFT = (2 * np.pi * 1.0) ** 2
"""The search starts below zero by the square of 1 Hz, so that what moves freely is found as 0 Hz and does not stop it."""
SMALL = 120
"""Up to so many degrees of freedom all modes are found at once."""
EXACT = 1e-10
"""Residual against the mode at which the search ends."""


@dataclass(frozen=True, slots=True)
class Modes:
    """Lowest natural modes, lowest first."""

    frequencies: Array
    """Hz, shape (m,); 0 for what moves freely."""
    shapes: Array
    """Motions of all degrees of freedom, of modal mass 1 kg: shapes^T M shapes = 1; shape (6 n, m). The greatest entry of each is
    positive."""

    @property
    def squares(self) -> Array:
        """Squares of the circular frequencies, 1/s2, shape (m,)."""
        return (2 * np.pi * self.frequencies) ** 2


def modes(stiffness: "csr_array", mass: "csr_array", count: int) -> Modes:
    """The lowest modes of free vibration.

    Inverse iteration in a Krylov space with one sparse factor, from a fixed start, so that the same frame always gives the same
    answer; modes of one frequency are all found.

    Args:
        stiffness: Of all degrees of freedom, shape (6 n, 6 n).
        mass: As stiffness.
        count: Of modes; no more than there are degrees of freedom that have mass are told.
    """
    size = stiffness.shape[0]
    if size <= max(SMALL, 3 * count):
        squares, shapes = _all(stiffness, mass, min(count, size))
    else:
        squares, shapes = _lowest(stiffness, mass, count)
    order = np.argsort(squares, kind="stable")
    shapes = shapes[:, order]
    largest = np.take_along_axis(shapes, np.abs(shapes).argmax(axis=0)[None], axis=0)
    return Modes(np.sqrt(np.maximum(squares[order], 0.0)) / (2 * np.pi), shapes * np.sign(largest))


def _lowest(stiffness: "csr_array", mass: "csr_array", count: int) -> tuple[Array, Array]:
    from scipy.sparse.linalg import LinearOperator, eigsh, splu

    factor = splu(
        (stiffness + SHIFT * mass).tocsc(), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True}
    )
    size = stiffness.shape[0]
    solve = LinearOperator((size, size), matvec=factor.solve, dtype=float)
    start = np.random.default_rng(1).standard_normal(size)
    squares, shapes = eigsh(
        stiffness, count, mass, sigma=-SHIFT, OPinv=solve, v0=start, ncv=min(size, max(20, 2 * count)), tol=EXACT
    )
    return squares, shapes


def _all(stiffness: "csr_array", mass: "csr_array", count: int) -> tuple[Array, Array]:
    """Modes by the reciprocal problem, which bears degrees of freedom without mass."""
    from scipy.linalg import eigh

    heavy = mass.toarray()
    found, shapes = eigh(heavy, stiffness.toarray() + SHIFT * heavy)  # M v = v / (w^2 + shift) (K + shift M)
    massive = found > found[-1] * np.finfo(float).eps * len(found)
    found, shapes = found[massive][::-1][:count], shapes[:, massive][:, ::-1][:, :count]
    return 1 / found - SHIFT, shapes / np.sqrt(found)


@formula("U_k,r/U_r = d_k e_k,r^2/sum_k d_k e_k,r^2, e = A phi; d ln f_r/d ln d_k = (U_k,r/U_r)/2", source="derived")
def strain_shares(*, stretches: Array, coefficients: Array) -> Number:
    """Share of each natural coefficient in the strain energy of each mode; half of it is what stiffening it does to the frequency.

    Args:
        stretches: Of the coefficients in each mode, A phi, shape (c, m).
        coefficients: Natural coefficients, shape (..., c).

    Returns:
        Shape (..., c, m), summing to 1 over the coefficients; 0 for a mode that strains nothing.

    Source:
        Derived: Rayleigh's quotient is stationary at a mode.
    """
    energy = coefficients[..., None] * stretches**2
    whole = energy.sum(axis=-2, keepdims=True)
    shares: Array = energy / np.where(whole > 0, whole, 1.0)
    return shares


@formula("T_k,r/T_r = phi_r^T M_k phi_r; d ln f_r/d ln m_k = -(T_k,r/T_r)/2", source="derived")
def kinetic_shares(*, frame: Frame, shapes: Array) -> Number:
    """Share of each bar and each lump in the kinetic energy of each mode; minus half of it is what its mass does to the frequency.

    Args:
        frame: Its bars and lumps.
        shapes: Of the modes, of modal mass 1 kg, shape (6 n, m).

    Returns:
        Shape (b + l, m), bars first; summing to 1.

    Source:
        Derived: Rayleigh's quotient is stationary at a mode.
    """
    bars, lumps = frame.bars, frame.lumps
    count = shapes.shape[1]
    nodes = np.concatenate([shapes.reshape(-1, PER_NODE, count), np.zeros((1, PER_NODE, count))])  # the last stands for the ground
    ends = (to_ends(bars.axes, bars.arms) @ nodes[bars.ends]).reshape(-1, 2 * PER_NODE, count)
    held = nodes[lumps.node]
    of_bars = (ends * (bar_mass(bars) @ ends)).sum(axis=1)
    of_lumps = (held * (lump_mass(lumps) @ held)).sum(axis=1)
    energy = np.concatenate([of_bars, of_lumps])
    shares: Array = energy / energy.sum(axis=0)
    return shares


@formula("f_s = f_0 sqrt(sum_k s_k d_k,s/d_k,0)", source="derived")
def sampled_frequencies(*, frequency: Array, shares: Array, ratios: Array) -> Hertz:
    """Frequencies when the natural coefficients change while the shapes stay: right to first order and never too low.

    Args:
        frequency: Of the modes with typical coefficients, shape (m,).
        shares: Strain shares of the coefficients, or of groups of them that change together, shape (k, m).
        ratios: Coefficient of a sample over the typical one, shape (..., k); of no meaning where the share is 0.

    Returns:
        Shape (..., m).

    Source:
        Derived: Rayleigh's quotient of the typical shape.

    Example:
        >>> sampled_frequencies(frequency=np.array([40.0]), shares=np.array([[0.5], [0.5]]), ratios=np.array([1.0, 7.0]))
        array([80.])
    """
    return frequency * np.sqrt(ratios @ shares)


@formula("eta_r = sum_k eta_k U_k,r/U_r", source="johnson-kienholz-1982")
def modal_loss(*, shares: Array, loss: Array) -> Number:
    """Loss factor of each mode: those of the parts, weighted by the strain energy that they hold.

    Args:
        shares: Strain shares, shape (..., k, m).
        loss: Loss factor of each coefficient or group, shape (..., k).

    Returns:
        Shape (..., m).

    Source:
        Johnson and Kienholz, modal strain energy method.

    Example:
        >>> modal_loss(shares=np.array([[0.75], [0.25]]), loss=np.array([0.002, 0.1]))
        array([0.0265])
    """
    return (loss[..., None, :] @ shares)[..., 0, :]


@formula("zeta = eta/2", source="definition")
def damping_ratio(*, loss: Number) -> Number:
    """Damping over critical damping that gives the same loss at the natural frequency."""
    return loss / 2

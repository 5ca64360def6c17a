"""Modes of the tool against the work as the cut sees them: along the feed and to its left."""

from dataclasses import dataclass, replace
from typing import Annotated, TypeAlias

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Hertz, Number, Radian, Unit

ComplexGive: TypeAlias = Annotated[NDArray[np.complex128], Unit("m/N")]
"""Motion per swinging force, size and phase."""
NEAR = 0.8 * np.sinh(np.linspace(-4.4, 4.4, 111))
"""Where a mode is looked at, in damping ratios of its frequency from it: close steps at the resonance, wide ones out to 33."""
EVEN = 200
"""Frequencies in even steps of the logarithm, besides those about the modes."""


@dataclass(frozen=True, slots=True)
class FeedModes:
    """Modes of modal mass 1 kg seen at the tip, in the axes of the feed: the common input of all that is worked out about chatter.

    A sampled machine has a leading axis (samples); many directions of feed have one before that.
    """

    squares: Array
    """Squares of the circular frequencies, above 0, shape (..., m)."""
    shapes: Array
    """Motion of the tip against the work along the feed and to its left, shape (..., 2, m)."""
    damping: Array
    """Damping ratios, shape (..., m)."""
    residual: Array
    """Static give in the plane that these modes leave out, shape (..., 2, 2)."""

    @property
    def frequencies(self) -> Hertz:
        """Natural frequencies, shape (..., m)."""
        return np.sqrt(self.squares) / (2 * np.pi)

    def turned(self, angle: Radian) -> "FeedModes":
        """The same modes for a feed that runs at an angle to this one, counter-clockwise seen from above.

        Args:
            angle: One, or shape (directions,); (directions, 1) where the modes are sampled.
        """
        turn = turning(angle)
        return replace(self, shapes=turn @ self.shapes, residual=turn @ self.residual @ np.swapaxes(turn, -1, -2))

    def quicker(self, factor: Number) -> "FeedModes":
        """The same stiffness at frequencies that are a factor higher.

        Args:
            factor: One, or shape (samples,).
        """
        by = np.asarray(factor, dtype=float)[..., None]
        return replace(self, squares=self.squares * by**2, shapes=self.shapes * by[..., None])

    def below(self, highest: Hertz) -> "FeedModes":
        """Only the modes up to a frequency; what the others give at rest goes to the residual.

        Args:
            highest: Natural frequency that is still kept, one number.
        """
        kept = np.asarray(self.frequencies).reshape(-1, self.squares.shape[-1]).min(axis=0) <= highest
        lost = _pairs(self.shapes[..., ~kept]) / self.squares[..., None, None, ~kept]
        return FeedModes(
            self.squares[..., kept], self.shapes[..., kept], self.damping[..., kept], self.residual + lost.sum(axis=-1)
        )

    def with_residual_as_modes(self, *, frequency: Hertz, damping: Number) -> "FeedModes":
        """The residual as two stiff modes, for those methods that know nothing but modes.

        Directions along which the residual is negative (noise of a truncated sum) are left out. One machine, not samples.

        Args:
            frequency: Of both; some times that of the highest mode, and no higher than need be, as steps in time must resolve it.
            damping: Damping ratio of both.
        """
        gives, directions = np.linalg.eigh(self.residual)
        gives, directions = gives[gives > 0], directions[:, gives > 0]
        square = (2 * np.pi * frequency) ** 2
        return FeedModes(
            np.concatenate([self.squares, np.full(len(gives), square)]),
            np.hstack([self.shapes, directions * np.sqrt(gives * square)]),
            np.concatenate([self.damping, np.full(len(gives), damping)]),
            np.zeros((2, 2)),
        )


def feed_modes(*, frequencies: Array, stiffness: Array, damping: Array, directions: Array) -> FeedModes:
    """Modes of which frequency, modal stiffness at the tip and direction are known, as from a tap test.

    Args:
        frequencies: Natural frequencies, Hz, shape (m,).
        stiffness: Modal stiffness of the tip along the direction of each mode, N/m, shape (m,).
        damping: Damping ratios, shape (m,).
        directions: Of motion, along the feed and to its left, of any length, shape (m, 2).
    """
    squares = (2 * np.pi * np.asarray(frequencies, dtype=float)) ** 2
    ways = np.asarray(directions, dtype=float)
    ways = ways / np.linalg.norm(ways, axis=-1, keepdims=True)
    shapes = ways.T * np.sqrt(squares / np.asarray(stiffness, dtype=float))
    return FeedModes(squares, shapes, np.asarray(damping, dtype=float), np.zeros((2, 2)))


@formula("H = sum_r phi_r phi_r^T/(w_r^2 - w^2 + 2 j zeta_r w w_r) + C_0", source="derived")
def feed_receptance(*, modes: FeedModes, frequencies: Array) -> ComplexGive:
    """Motion of the tool against the work per swinging force, along the feed and to its left.

    Args:
        modes: Of shape (..., m).
        frequencies: Hz, shape (f,), or (..., f) where every machine is looked at elsewhere.

    Returns:
        Complex, shape (..., f, 2, 2).
    """
    circular = 2 * np.pi * np.asarray(frequencies, dtype=float)[..., None]
    own = modes.squares[..., None, :]
    answers = 1 / (own - circular**2 + 2j * modes.damping[..., None, :] * circular * np.sqrt(own))  # (..., f, m)
    pairs = _pairs(modes.shapes)
    flat = np.swapaxes(pairs.reshape(*pairs.shape[:-3], 4, pairs.shape[-1]), -1, -2)
    found = np.asarray(answers @ flat)
    return np.asarray(found.reshape(*found.shape[:-1], 2, 2) + modes.residual[..., None, :, :], dtype=complex)


def turned_receptance(*, receptance: ComplexGive, angle: Radian) -> ComplexGive:
    """A receptance for a feed that runs at an angle to this one, counter-clockwise seen from above.

    Args:
        receptance: Shape (..., f, 2, 2).
        angle: One, or shape (directions,); (directions, 1) where the receptance is sampled.

    Returns:
        Shape (directions, ..., f, 2, 2).
    """
    turn = turning(angle)[..., None, :, :]
    return turn @ receptance @ np.swapaxes(turn, -1, -2)


def turning(angle: Radian) -> Array:
    """What takes a vector to axes turned counter-clockwise by an angle, shape (..., 2, 2)."""
    cos, sin = np.cos(angle), np.sin(angle)
    return np.stack([np.stack([cos, sin], axis=-1), np.stack([-sin, cos], axis=-1)], axis=-2)


def worth_scanning(*, frequencies: Array, damping: Array, lowest: Hertz, highest: Hertz, even: int = EVEN) -> Array:
    """Frequencies at which a receptance must be known so that lobes can be drawn through them by straight lines.

    Args:
        frequencies: Natural frequencies of the modes, Hz, shape (m,).
        damping: Damping ratios, shape (m,).
        lowest: Hz.
        highest: Hz; several times that of the highest mode that matters, as the first lobe reaches far to the right.
        even: Frequencies in even steps of the logarithm, besides those about the modes.

    Returns:
        Ascending.
    """
    near = (np.asarray(frequencies)[:, None] * (1 + np.asarray(damping)[:, None] * NEAR)).ravel()
    return np.unique(np.concatenate([near[(near > lowest) & (near < highest)], np.geomspace(lowest, highest, even)]))


def _pairs(shapes: Array) -> Array:
    """Products of the shapes along two directions, shape (..., 2, 2, m)."""
    found: Array = shapes[..., :, None, :] * shapes[..., None, :, :]
    return found

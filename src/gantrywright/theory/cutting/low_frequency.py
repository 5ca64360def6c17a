"""Chatter of heavy modes far below the frequency at which teeth pass: the frame, the gantry, a tall head.

The delay is then short against the swing, so that r(t) - r(t - T) is T r' - T^2 r''/2: the cut pushes with the speed of the tool, and takes some of
its mass. The second term must stay where there are two modes, as it couples them and can make a cut chatter that damping alone would hold.
Good, and 3 to 15 % on the safe side, for modes below an eighth of the tooth passing frequency.
"""

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Hertz, Kilogram, Metre, Number, Pascal, Radian, RadianPerSecond
from gantrywright.theory.cutting.lobes import ChatterLimit, Directional, LobeCurves

TEETH_PER_SWING = 8.0
"""Teeth that must pass in a swing of a mode before the short delay is a fair picture."""


@formula("a_uu = u^T [alpha] u", source="derived")
def factor_along(*, factors: Directional, angle: Radian) -> Number:
    """How far a cut drives motion along one direction: chatter is possible where above 0.

    Args:
        factors: Shape (..., 2, 2) from `directional_factors`.
        angle: Of the direction from the feed, counter-clockwise; one, or shape (...).
    """
    way = np.stack([np.cos(angle), np.sin(angle)], axis=-1)
    found: Array = np.einsum("...i,...ij,...j->...", way, np.asarray(factors), way)
    return found


@formula("a = 4 pi c n/(Kt a_uu), c = 2 zeta m w_0; none for a_uu <= 0", source="derived")
def one_mode_limit(
    *, frequency: Hertz, mass: Kilogram, damping: Number, factor: Number, shear: Pascal, speed: RadianPerSecond
) -> Metre:
    """Depth at which one slow mode starts to chatter: in proportion to damping and speed, whatever the count of teeth.

    Args:
        frequency: Natural frequency.
        mass: Modal mass at the tip along the mode.
        damping: Damping ratio.
        factor: From `factor_along` the mode.
        shear: Tangential shear coefficient.
        speed: Of the spindle.

    Returns:
        Infinite where the cut damps the mode.

    Example:
        >>> round(float(one_mode_limit(frequency=40.0, mass=30.0, damping=0.03, factor=0.52876, shear=700e6, speed=1884.956)) * 1e3, 2)
        4.61
    """
    rate = 4 * np.pi * damping * frequency * mass
    driven = np.asarray(factor, dtype=float)
    return np.where(driven > 0, 2 * rate * speed / (shear * np.where(driven > 0, driven, 1.0)), np.inf)


@formula("(N a Kt/(4 pi)) mu (j w T + w^2 T^2/2) = 1", source="derived")
def low_frequency_limit(*, curves: LobeCurves, shear: Pascal, flutes: int, speeds: RadianPerSecond) -> ChatterLimit:
    """Depth at which slow modes start to chatter, alone or through each other.

    The same as the first eigenvalue of [M + g T^2 A/2] q'' + [C - g T A] q' + K q = 0 that crosses to the right, with g = a Kt N/(4 pi) and
    A = U^T [alpha] U, but from the receptance: it needs no modes, and many speeds and samples at once are no loop.

    Args:
        curves: Of the slow modes alone, scanned closely (600 frequencies) to some times the highest of
            them, shape (..., 2, f).
        shear: Tangential shear coefficient, one or shape (...).
        flutes: Teeth.
        speeds: Of the spindle, shape (n,) or (..., n).

    Returns:
        Both of shape (..., n); infinite where there is no such chatter.
    """
    period = 2 * np.pi / (flutes * np.asarray(speeds, dtype=float))
    frequencies = np.asarray(curves.frequencies)[..., None, None, :]
    swing = 2 * np.pi * frequencies * period[..., None, None]
    loop = curves.values[..., None, :, :] * (1j * swing + swing**2 / 2)
    low, high = loop[..., :-1], loop[..., 1:]
    crosses = (low.imag <= 0) != (high.imag <= 0)
    share = np.where(crosses, low.imag / np.where(crosses, low.imag - high.imag, 1.0), 0.0)
    worst = np.where(crosses, low.real + share * (high.real - low.real), 0.0)
    where = np.broadcast_to(frequencies[..., :-1] + share * np.diff(frequencies, axis=-1), worst.shape)
    flat = worst.reshape(*worst.shape[:-2], -1)
    place = flat.argmax(axis=-1)[..., None]
    most = np.maximum(np.take_along_axis(flat, place, axis=-1)[..., 0], 0.0)
    frequency = np.take_along_axis(where.reshape(flat.shape), place, axis=-1)[..., 0]
    with np.errstate(divide="ignore"):
        depth = 4 * np.pi / (flutes * np.asarray(shear, dtype=float)[..., None] * most)
    return ChatterLimit(depth, np.where(most > 0, frequency, np.nan))


@formula("f_n <= N n/8", source="derived")
def far_below_teeth(*, frequencies: Array, flutes: int, speed: RadianPerSecond) -> NDArray[np.bool_]:
    """Which modes are slow enough for the short delay.

    Args:
        frequencies: Natural frequencies, Hz, shape (..., m).
        flutes: Teeth.
        speed: Of the spindle, one number.

    Returns:
        Shape (..., m).
    """
    found: NDArray[np.bool_] = np.asarray(frequencies) * TEETH_PER_SWING <= flutes * speed / (2 * np.pi)
    return found

"""What a reading of the finished machine says of the springs that were believed in."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Hertz, NewtonPerMetre, Number


@formula("f = s/(k_p/k_m - 1 + s)", source="derived")
def spring_factor_of_stiffness(*, measured: NewtonPerMetre, predicted: NewtonPerMetre, share: Number) -> Number:
    """Factor on one spring that alone would make a predicted stiffness the measured one, the forces left as they are.

    Args:
        measured: Stiffness that was read.
        predicted: That was expected.
        share: Of the give that the spring holds.

    Returns:
        Infinite or negative where that spring alone cannot do it.

    Source:
        Derived: the give is a sum of parts, of which one goes with the reciprocal of the spring.

    Example:
        >>> round(float(spring_factor_of_stiffness(measured=0.8e6, predicted=1e6, share=0.5)), 4)
        0.6667
    """
    rest = np.asarray(predicted / measured - 1 + share)
    factor: Number = share / np.where(rest != 0, rest, np.nan)
    return np.where(rest != 0, factor, np.inf)


@formula("f = ((f_m/f_p)^2 - 1 + s)/s", source="derived")
def spring_factor_of_frequency(*, measured: Hertz, predicted: Hertz, share: Number) -> Number:
    """Factor on one spring that alone would make a predicted frequency the measured one, the shape left as it is.

    Args:
        measured: Frequency that was read.
        predicted: That was expected.
        share: Of the strain energy of the mode that the spring holds.

    Returns:
        Not above zero where that spring alone cannot do it.

    Source:
        Derived: Rayleigh's quotient, f^2 = sum of shares, of which one goes with the spring.

    Example:
        >>> round(float(spring_factor_of_frequency(measured=9.0, predicted=10.0, share=0.5)), 4)
        0.62
    """
    return (np.square(measured / predicted) - 1 + share) / share


@formula("y' = y + C_yp (C_pp + R)^-1 (m - p), m = m_0 + noise of variance R", source="evensen-1994")
def updated(*, samples: Array, predicted: Array, seen: Array, variance: Array) -> Number:
    """Samples of an uncertain number after readings were taken, to first order: as if all were normal together.

    Hand it logarithms: what is a factor on a spring is then nearly normal. Each sample is moved by what its own predictions lack to
    the reading, times how much it goes with them; the noise in the readings keeps what they cannot know.

    Args:
        samples: Of the number, shape (n,).
        predicted: Of every reading, by the same samples, shape (n, r).
        seen: The readings with noise, shape (n, r).
        variance: Of that noise, shape (r,).

    Returns:
        Shape (n,).

    Source:
        [evensen-1994] analysis step with perturbed observations.
    """
    off = predicted - predicted.mean(axis=0)
    count = len(samples) - 1
    between = off.T @ off / count + np.diag(variance)
    gain = np.linalg.solve(between, off.T @ (samples - samples.mean()) / count)
    moved: Number = samples + (seen - predicted) @ gain
    return moved

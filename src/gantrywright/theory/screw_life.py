"""Life of ball screws and of the bearings that hold them. Life of a screw is counted in turns, never in metres.

Some data sheets rate a screw for one million inches of travel: store the rating with its reference.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, MetrePerTurn, MillionTurns, Newton, Number, RadianPerSecond, Real, Second

LIFT_OFF = 2**1.5
"""Load over preload at which the far side of two opposed ball contacts comes free (Hertz); 2.83."""


@formula("L10 = (C_a / F_m)^3 Mrev", source="iso-3408-5")
def life_turns(*, dynamic_rating: Newton, mean_force: Newton) -> MillionTurns:
    """Turns that nine of ten screws survive.

    Args:
        dynamic_rating: For one million turns.
        mean_force: Cube mean.

    Returns:
        Millions of turns; infinite without force.

    Source:
        [iso-3408-5].

    Example:
        >>> round(float(life_turns(dynamic_rating=7600.0, mean_force=800.0)), 1)
        857.4
    """
    force = np.asarray(mean_force, dtype=float)
    return np.where(force > 0, (dynamic_rating / np.where(force > 0, force, 1.0)) ** 3, np.inf)


@formula("s = L10 p", source="definition")
def life_distance(*, life: MillionTurns, lead: MetrePerTurn) -> Metre:
    """Travel in a life of so many turns.

    Args:
        life: In millions of turns.
        lead: Travel per turn.

    Returns:
        Distance.

    Source:
        Definition.
    """
    return life * 1e6 * lead


@formula("t = L10 2 pi / w_m", source="definition")
def life_time(*, life: MillionTurns, mean_speed: RadianPerSecond) -> Second:
    """Running time of a life of so many turns.

    Args:
        life: In millions of turns.
        mean_speed: Time mean of the turning speed.

    Returns:
        Time of running.

    Source:
        Definition.
    """
    return life * 1e6 * 2 * np.pi / mean_speed


@formula("F_m = (sum |F_j|^3 w_j q_j / sum w_j q_j)^(1/3)", source="iso-3408-5")
def cube_mean_force(*, forces: Array, speeds: Array, time_shares: Array) -> Newton:
    """Constant force that wears a screw like a changing one.

    Args:
        forces: Along the axis, shape (..., n_cases).
        speeds: Turning speed in each case, any unit, shape (n_cases,).
        time_shares: Share of time in each case, shape (n_cases,).

    Returns:
        Mean force, shape (...).

    Source:
        [iso-3408-5]; the sum of linear damage gives the same.
    """
    turns = np.asarray(speeds) * np.asarray(time_shares)
    mean: Real = np.cbrt(np.sum(np.abs(np.asarray(forces)) ** 3 * turns, axis=-1) / np.sum(turns, axis=-1))
    return mean


@formula("w_m = sum w_j q_j / sum q_j", source="iso-3408-5")
def mean_speed(*, speeds: Array, time_shares: Array) -> RadianPerSecond:
    """Time mean of the turning speed.

    Args:
        speeds: In each case, shape (n_cases,).
        time_shares: Share of time in each case, shape (n_cases,).

    Returns:
        Mean speed.

    Source:
        [iso-3408-5].
    """
    shares = np.asarray(time_shares)
    mean: Real = np.sum(np.asarray(speeds) * shares) / np.sum(shares)
    return mean


@formula("F_1 = F_pr (1 + F / (2.83 F_pr))^1.5 while F < 2.83 F_pr, else F", source="iso-3408-5")
def loaded_side(*, preload: Newton, force: Newton) -> Newton:
    """Load on the loaded half of a preloaded nut.

    Args:
        preload: Of the nut.
        force: Outer force along the axis.

    Returns:
        Load of that half, at most 2.5 % above the exact contact solution; the other half bears this less the force.

    Source:
        [iso-3408-5] form; the limit is that of two opposed Hertz contacts (tests/against).
    """
    grip = np.maximum(preload, 1e-9)
    held = grip * (1 + np.abs(force) / (LIFT_OFF * grip)) ** 1.5
    return np.where(np.abs(force) < LIFT_OFF * grip, held, np.abs(force))


@formula("F_2 = F_1 - F, at least 0", source="iso-3408-5")
def unloaded_side(*, preload: Newton, force: Newton) -> Newton:
    """Load left on the unloaded half of a preloaded nut.

    Args:
        preload: Of the nut.
        force: Outer force along the axis.

    Returns:
        Load of that half; 0 once it has come free.

    Source:
        [iso-3408-5].
    """
    return np.maximum(loaded_side(preload=preload, force=force) - np.abs(force), 0.0)


@formula("L = (L_1^(-10/9) + L_2^(-10/9))^(-9/10)", source="iso-3408-5")
def preloaded_life_turns(*, dynamic_rating: Newton, preload: Newton, force: Newton) -> MillionTurns:
    """Turns that nine of ten preloaded nuts survive.

    Args:
        dynamic_rating: For one million turns.
        preload: Of the nut.
        force: Outer mean force in one direction.

    Returns:
        Millions of turns of both halves together.

    Source:
        [iso-3408-5].
    """
    first = life_turns(dynamic_rating=dynamic_rating, mean_force=loaded_side(preload=preload, force=force))
    second = life_turns(dynamic_rating=dynamic_rating, mean_force=unloaded_side(preload=preload, force=force))
    return either_life(first=first, second=second)


@formula("L = (L_1^(-10/9) + L_2^(-10/9))^(-9/10)", source="iso-3408-5")
def either_life(*, first: Number, second: Number) -> Number:
    """Life of two parts of which the first to fail ends the service.

    Args:
        first: Life of one part.
        second: Life of the other, same unit.

    Returns:
        Life of both together.

    Source:
        [iso-3408-5] exponent of ball contacts.
    """
    rate = np.asarray(first, dtype=float) ** (-10 / 9) + np.asarray(second, dtype=float) ** (-10 / 9)
    return np.where(rate > 0, np.where(rate > 0, rate, 1.0) ** (-9 / 10), np.inf)

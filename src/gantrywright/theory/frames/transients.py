"""What a stop leaves behind at the tip: how far it rings, for how long, and which jerk or acceleration keeps it small.

An axis that is driven with an acceleration a(t) stirs the frame, seen from where the axis should be, as if every mass that it moves were
pulled by -a(t): its drive's far end moves, all that it carries would follow rigidly. Each mode then answers alone. A stop ends with the
deceleration going to nothing, at once or over a ramp; what rings afterwards are free modes, whose envelopes are added up.

Mode axes stand last, directions before them: shapes (..., k, m).
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Array,
    Metre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Number,
    RadianPerSecond,
    Second,
)

HALVINGS = 26
"""Of a bracket in the search for a time: less than two hundred-millionths of it are left then."""


@formula("s = unit shift of all nodes that the axis moves", source="definition")
def carried_field(*, moves: Array, direction: Array) -> Number:
    """Motion of all degrees of freedom when an axis moves one metre and nothing gives.

    Args:
        moves: Whether the axis moves each node, shape (n,).
        direction: Of the motion, unit vector, shape (3,).

    Returns:
        Shape (6 n,).
    """
    field = np.zeros((len(moves), 6))
    field[:, :3] = np.asarray(moves, dtype=float)[:, None] * np.asarray(direction)
    return field.ravel()


@formula("q_r = -phi_tip,r phi_r^T M s/w_r^2 per m/s2", source="derived")
def swing_per_acceleration(*, at_tip: Array, shapes: Array, momentum: Array, squares: Array) -> Number:
    """Static part of each mode in the motion of the tip, per acceleration of an axis.

    Args:
        at_tip: Motion of the tip against the work in each mode, shape (k, m).
        shapes: Of modal mass 1 kg, shape (6 n, m).
        momentum: Mass of all degrees of freedom times `carried_field`, M s, shape (6 n,).
        squares: Squares of the circular frequencies, shape (..., m); 0 counts for nothing.

    Returns:
        Signed, m per m/s2, shape (..., k, m).

    Source:
        Derived: the drive's spring is stretched by the commanded way, which for the rest is a rigid motion.
    """
    stirred = shapes.T @ momentum
    held = np.where(squares > 0, squares, np.inf)
    told: Array = -at_tip * (stirred / held)[..., None, :]
    return told


@formula("R = |exp(z tau) - 1|/|z tau|/sqrt(1 - zeta^2), z = w (-zeta + j sqrt(1 - zeta^2)); sin(w tau/2)/(w tau/2) undamped",
         source="derived")  # fmt: skip
def left_by_ramp(*, circular: RadianPerSecond, damping: Number, ramp: Second) -> Number:
    """Height of the envelope just after an acceleration has gone to nothing evenly, over the static swing that it held.

    Args:
        circular: Circular frequency of the mode.
        damping: Its damping ratio, below 1.
        ramp: Time in which the acceleration goes, a/j; 0 for a step.

    Returns:
        1 for a step without damping; 0 for a ramp of whole periods without damping.

    Source:
        Derived: a ramp is a row of small steps; exact for one viscously damped mode that was at rest in its static swing.

    Example:
        >>> round(float(left_by_ramp(circular=2 * np.pi * 20, damping=0.0, ramp=0.025)), 6)  # half a period
        0.63662
    """
    root = circular * (-damping + 1j * np.sqrt(1 - damping**2))
    turned = root * ramp
    small = np.abs(turned) < 1e-9
    factor = np.where(small, 1.0, np.expm1(np.where(small, 1.0, turned)) / np.where(small, 1.0, turned))
    return np.abs(factor) / np.sqrt(1 - damping**2)


@formula("s = min(1, sqrt(v/(a tau)))", source="derived")
def reached_part(*, accel: MetrePerSecondSquared, speed: MetrePerSecond, ramp: Second) -> Number:
    """Part of an acceleration that is reached where it builds up evenly and must die away again before the speed is passed.

    Args:
        accel: Full acceleration, above 0.
        speed: Change of speed.
        ramp: Time in which the full acceleration builds up, and in which it dies away.

    Returns:
        1 where the full acceleration is held for a while; the ramps get shorter by the same part.

    Source:
        Derived: two ramps of time s tau and height s a change the speed by s^2 a tau.

    Example:
        >>> float(reached_part(accel=2.0, speed=0.1, ramp=0.2))
        0.5
    """
    enough = np.asarray(speed) >= accel * ramp
    return np.where(enough, 1.0, np.sqrt(speed / np.where(enough, 1.0, accel * ramp)))


@formula("R (1 + exp(-zeta w v/a))", source="derived")
def left_by_stop(*, circular: RadianPerSecond, damping: Number, ramp: Second, braking: Second) -> Number:
    """Greatest envelope after a stop over the static swing: what its end leaves, and what is left of the jolt at its beginning.

    Args:
        circular: Circular frequency of the mode.
        damping: Its damping ratio, below 1.
        ramp: Time in which the deceleration comes and goes, a/j; 0 for steps.
        braking: Speed over deceleration, v/a.

    Source:
        Derived: both ends added as if in phase.
    """
    return left_by_ramp(circular=circular, damping=damping, ramp=ramp) * (1 + np.exp(-damping * circular * braking))


@formula("R <= min(1, (1 + exp(-zeta w tau))/(w tau))/sqrt(1 - zeta^2)", source="derived")
def left_at_most(*, circular: RadianPerSecond, damping: Number, ramp: Second) -> Number:
    """Bound on `left_by_ramp` that needs no luck with whole periods: it falls with every longer ramp.

    Args:
        circular: Circular frequency of the mode.
        damping: Its damping ratio, below 1.
        ramp: Time in which the acceleration goes.

    Source:
        Derived: triangle inequality.
    """
    turned = np.maximum(circular * ramp, 1e-12)
    return np.minimum(1.0, (1 + np.exp(-damping * turned)) / turned) / np.sqrt(1 - damping**2)


@formula("x(t) <= sum_r |q_r| exp(-zeta_r w_r t)", source="derived")
def ringing(*, swings: Array, circular: RadianPerSecond, damping: Number, time: Second) -> Metre:
    """Bound on how far the tip rings at a time after the stop: all envelopes together.

    Args:
        swings: Envelope of each mode when the stop ends, m, shape (..., k, m).
        circular: Circular frequencies, shape (..., m).
        damping: Damping ratios, shape (..., m).
        time: Since the stop ended, shape (..., k), or a number.

    Returns:
        Shape (..., k).
    """
    rate = np.asarray(damping * circular)[..., None, :]
    told: Array = (np.abs(swings) * np.exp(-rate * np.asarray(time)[..., None])).sum(axis=-1)
    return told


@formula("t: sum_r |q_r| exp(-zeta_r w_r t) = tolerance", source="derived")
def settling_time(*, swings: Array, circular: RadianPerSecond, damping: Number, tolerance: Metre) -> Second:
    """Time after the stop from which the tip rings less than a tolerance.

    Args:
        swings: Envelope of each mode when the stop ends, m, shape (..., k, m).
        circular: Circular frequencies, shape (..., m).
        damping: Damping ratios, shape (..., m); a mode without any rings for ever.
        tolerance: On the distance from rest, above 0, m, shape (..., 1) or (..., k) where sampled.

    Returns:
        0 where it never rings more; infinite where it never rings less; shape (..., k).
    """
    heights = np.abs(swings)
    rate = np.broadcast_to(np.asarray(damping * circular)[..., None, :], heights.shape)
    allowed = np.broadcast_to(np.asarray(tolerance, dtype=float), heights.shape[:-1])
    lasting = np.where(rate > 0, 0.0, heights).sum(axis=-1)
    fading = np.where(rate > 0, heights, 0.0)
    count = np.maximum((fading > 0).sum(axis=-1), 1)
    spare = np.where(allowed > lasting, allowed - lasting, 1.0)
    over = np.maximum(fading * count[..., None] / spare[..., None], 1.0)
    latest = (np.log(over) / np.where(rate > 0, rate, 1.0)).max(axis=-1)  # then each mode is below its even part of the tolerance
    early, late = np.zeros_like(latest), latest
    for _ in range(HALVINGS):
        middle = (early + late) / 2
        rings = (fading * np.exp(-rate * middle[..., None])).sum(axis=-1) > spare
        early, late = np.where(rings, middle, early), np.where(rings, late, middle)
    told: Array = np.where(heights.sum(axis=-1) <= allowed, 0.0, np.where(allowed > lasting, late, np.inf))
    return told


@formula("tau: sum_r |q_r| min(1, (1 + exp(-zeta w tau))/(w tau)) = tolerance", source="derived")
def quiet_ramp(*, swings: Array, circular: RadianPerSecond, damping: Number, tolerance: Metre) -> Second:
    """Ramp time that keeps the ringing under a tolerance whatever its phase; no longer ramp rings more.

    Args:
        swings: Static part of each mode under the acceleration, m, shape (..., k, m).
        circular: Circular frequencies, shape (..., m).
        damping: Damping ratios, below 1, shape (..., m).
        tolerance: On the ringing, above 0, shape (...) or (..., k).

    Returns:
        0 where even a step keeps to it; the jerk is the acceleration over it; shape (..., k).
    """
    heights = np.abs(swings)
    own = np.broadcast_to(np.asarray(circular, dtype=float)[..., None, :], heights.shape)
    ratio = np.broadcast_to(np.asarray(damping, dtype=float)[..., None, :], heights.shape)
    allowed = np.broadcast_to(np.asarray(tolerance, dtype=float), heights.shape[:-1])
    heights = np.where(own > 0, heights, 0.0)
    bound = heights / np.sqrt(1 - ratio**2)
    longest = (2 * bound / np.where(own > 0, own, 1.0)).sum(axis=-1) / allowed
    short, long = np.zeros_like(longest), longest
    for _ in range(HALVINGS):
        middle = (short + long) / 2
        left = (heights * left_at_most(circular=own, damping=ratio, ramp=middle[..., None])).sum(axis=-1)
        short, long = np.where(left > allowed, middle, short), np.where(left > allowed, long, middle)
    told: Array = np.where(bound.sum(axis=-1) <= allowed, 0.0, long)
    return told


@formula("tau + t(tau) least, t: sum_r |q_r| R_r(tau) exp(-zeta_r w_r t) = tolerance", source="derived")
def best_ramp(*, swings: Array, circular: RadianPerSecond, damping: Number, tolerance: Metre, longest: Second,
              choices: int = 120) -> Second:  # fmt: skip
    """Ramp time that costs least: it lengthens each change of speed by itself and shortens the wait that follows.

    Args:
        swings: Static part of each mode under the acceleration, m, shape (k, m).
        circular: Circular frequencies, shape (m,).
        damping: Damping ratios, below 1, shape (m,).
        tolerance: On the ringing along every direction, above 0.
        longest: Ramp that is looked at.
        choices: Ramps looked at, even steps from 0.

    Returns:
        Ramp time; with `wait` of it the whole loss is known.
    """
    ramps = np.linspace(0.0, longest, choices)
    lost = ramps + wait(swings=swings, circular=circular, damping=damping, tolerance=tolerance, ramp=ramps)
    return float(ramps[np.argmin(lost)])


@formula("t: sum_r |q_r| R_r(tau) exp(-zeta_r w_r t) = tolerance, worst direction", source="derived")
def wait(*, swings: Array, circular: RadianPerSecond, damping: Number, tolerance: Metre, ramp: Second) -> Second:
    """Time to wait after a stop that ends with a ramp until the tip is at rest within a tolerance along every direction.

    Args:
        swings: Static part of each mode under the acceleration, m, shape (k, m).
        circular: Circular frequencies, shape (m,).
        damping: Damping ratios, below 1, shape (m,).
        tolerance: On the ringing, above 0.
        ramp: Ramp times, shape (t,).

    Returns:
        Shape (t,).
    """
    left = np.asarray(left_by_ramp(circular=circular, damping=damping, ramp=np.asarray(ramp)[:, None]))  # (t, m)
    times = settling_time(swings=swings * left[:, None, :], circular=circular, damping=damping, tolerance=tolerance)
    told: Array = np.max(times, axis=-1)
    return told


@formula("a = tolerance/sum_r |q_r/a| R_r exp(-zeta_r w_r t)", source="derived")
def quiet_acceleration(*, swings: Array, circular: RadianPerSecond, damping: Number, tolerance: Metre, ramp: Second = 0.0,
                       time: Second = 0.0) -> MetrePerSecondSquared:  # fmt: skip
    """Acceleration at which a stop rings just as much as a tolerance allows.

    Args:
        swings: Static part of each mode per acceleration, m per m/s2, shape (..., k, m).
        circular: Circular frequencies, shape (..., m).
        damping: Damping ratios, below 1, shape (..., m).
        tolerance: On the ringing, shape (..., 1) or a number.
        ramp: Ramp time, a number.
        time: Waited after the stop, a number.

    Returns:
        Infinite where nothing rings; shape (..., k).
    """
    left = left_by_ramp(circular=circular, damping=damping, ramp=ramp)
    rings = ringing(swings=swings * np.asarray(left)[..., None, :], circular=circular, damping=damping, time=time)
    told: Array = np.where(rings > 0, tolerance / np.where(rings > 0, rings, 1.0), np.inf)
    return told

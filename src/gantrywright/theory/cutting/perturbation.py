"""A second opinion on chatter: the disturbed cut, step after step in time, and by how much it grows from tooth to tooth.

Runge-Kutta steps of the fourth order that end where a tooth enters or leaves; what happened a tooth ago is read between two steps by a cubic. No
feed and no loss of contact: those belong to `time_domain`. Straight teeth. Slower and coarser than the delay method, and shares nothing with it.
Needs a compiler at run time (numba). Numbers are plain floats.
"""

from itertools import pairwise

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Number, RadianPerSecond
from gantrywright.theory.cutting.delay import DelayCut
from gantrywright.theory.cutting.delay_steps import compiled
from gantrywright.theory.cutting.modes import FeedModes

PER_TOOTH = 160
"""Steps from tooth to tooth, at least."""
PER_WAVE = 40
"""Steps in a wave of the quickest mode, at least."""
INSIDE = 1e-9
"""How far within a step its ends are looked at, as a share, so that an entry does not fall between two steps."""


@formula("q'' + 2 zeta w q' + w^2 q = U^T F, F = a Kt A(t) (r(t) - r(t - T))/2; |mu| = exp(slope of ln|q|)", source="derived")
def growth(*, modes: FeedModes, cut: DelayCut, speed: RadianPerSecond, depth: Metre, periods: int = 200) -> Number:
    """By what a disturbance grows from tooth to tooth, from a run in time.

    Args:
        modes: One machine, shapes (m,) and (2, m); the residual is not looked at.
        cut: All but depth and speed; straight teeth, no process damping.
        speed: Of the spindle.
        depth: Of cut.
        periods: From tooth to tooth; the second half is looked at.

    Returns:
        Magnitude of the greatest multiplier; above 1 the cut chatters.
    """
    nodes, inner = _nodes(modes, cut, float(speed))
    natural = np.sqrt(modes.squares)
    scale = float(np.abs(modes.shapes).max())
    factors = 0.5 * cut.shear * float(depth) * scale**2 * np.array([[_factor(cut, angle) for angle in step] for step in inner])
    sizes = _run(
        np.diff(nodes) / float(speed), factors, np.ascontiguousarray(modes.shapes / scale), natural, modes.damping, periods
    )
    half = np.arange(periods // 2, periods)
    return float(np.exp(np.polyfit(half, sizes[half], 1)[0]))


def _nodes(modes: FeedModes, cut: DelayCut, speed: float) -> tuple[Array, Array]:
    """Angles at which steps end, and beginning, middle and end of each step, just within."""
    pitch = 2 * np.pi / cut.flutes
    tooth = cut.flutes * speed / (2 * np.pi)
    steps = max(PER_TOOTH, PER_WAVE * float(np.max(modes.frequencies)) / tooth)
    ends = sorted({0.0, pitch, *(round(float(angle) % pitch, 12) for angle in (cut.start, cut.stop))})
    parts = [
        np.linspace(low, high, 2 + int(steps * (high - low) / pitch))[:-1] for low, high in pairwise(ends) if high - low > 1e-9
    ]
    nodes = np.concatenate([*parts, [pitch]])
    low, high = nodes[:-1], nodes[1:]
    within = INSIDE * (high - low)
    return nodes, np.stack([low + within, (low + high) / 2, high - within], axis=-1)


def _factor(cut: DelayCut, angle: float) -> Array:
    """Directional factors of all teeth that are engaged at an angle, (2, 2)."""
    teeth = angle + 2 * np.pi / cut.flutes * np.arange(cut.flutes)
    teeth = teeth[(teeth > cut.start) & (teeth < cut.stop)]
    sin, cos, ratio = np.sin(2 * teeth), np.cos(2 * teeth), cut.radial_ratio
    rows = [[-(sin + ratio * (1 - cos)), -(1 + cos + ratio * sin)], [1 - cos - ratio * sin, sin - ratio * (1 + cos)]]
    return np.array([[entry.sum() for entry in row] for row in rows])


@compiled
def _acceleration(
    q: Array, v: Array, past: Array, factor: Array, shapes: Array, natural: Array, damping: Array, out: Array
) -> None:  # pragma: no cover
    count = len(q)
    dx, dy = -past[0], -past[1]
    for mode in range(count):
        dx += shapes[0, mode] * q[mode]
        dy += shapes[1, mode] * q[mode]
    fx, fy = factor[0, 0] * dx + factor[0, 1] * dy, factor[1, 0] * dx + factor[1, 1] * dy
    for mode in range(count):
        own = natural[mode]
        push = shapes[0, mode] * fx + shapes[1, mode] * fy
        out[mode] = push - 2 * damping[mode] * own * v[mode] - own * own * q[mode]


@compiled
def _run(times: Array, factors: Array, shapes: Array, natural: Array, damping: Array, periods: int) -> Array:  # pragma: no cover
    """Logarithm of the size of the motion in each tooth period, shape (periods,)."""
    steps, count = len(times), len(natural)
    q, v = np.ones(count), np.zeros(count)
    old, new = np.zeros((steps + 1, 4)), np.zeros((steps + 1, 4))  # motion and speed of the tip at each node
    sizes, logarithm = np.zeros(periods), 0.0
    k, l = np.empty((4, count)), np.empty((4, count))  # noqa: E741
    tq, tv, past, acceleration = np.empty(count), np.empty(count), np.empty(2), np.empty(count)
    for period in range(periods):
        total = 0.0
        for step in range(steps + 1):
            for axis in range(2):
                new[step, axis] = new[step, 2 + axis] = 0.0
                for mode in range(count):
                    new[step, axis] += shapes[axis, mode] * q[mode]
                    new[step, 2 + axis] += shapes[axis, mode] * v[mode]
            if step == steps:
                break
            h = times[step]
            for stage in range(4):
                ahead = 0.0 if stage == 0 else (h if stage == 3 else h / 2)
                at = 0 if stage == 0 else (2 if stage == 3 else 1)
                for axis in range(2):
                    if at == 1:
                        past[axis] = (old[step, axis] + old[step + 1, axis]) / 2
                        past[axis] += h / 8 * (old[step, 2 + axis] - old[step + 1, 2 + axis])
                    else:
                        past[axis] = old[step + at // 2, axis]
                for mode in range(count):
                    tq[mode] = q[mode] + (ahead * k[stage - 1, mode] if stage else 0.0)
                    tv[mode] = v[mode] + (ahead * l[stage - 1, mode] if stage else 0.0)
                _acceleration(tq, tv, past, factors[step, at], shapes, natural, damping, acceleration)
                for mode in range(count):
                    k[stage, mode] = tv[mode]
                    l[stage, mode] = acceleration[mode]
            for mode in range(count):
                q[mode] += h / 6 * (k[0, mode] + 2 * k[1, mode] + 2 * k[2, mode] + k[3, mode])
                v[mode] += h / 6 * (l[0, mode] + 2 * l[1, mode] + 2 * l[2, mode] + l[3, mode])
                total += h * (q[mode] ** 2 + (v[mode] / natural[mode]) ** 2)
        size = np.sqrt(total)
        logarithm += np.log(size)
        sizes[period] = logarithm
        for mode in range(count):  # back to size 1, so that nothing overflows
            q[mode] /= size
            v[mode] /= size
        for step in range(steps + 1):
            for which in range(4):
                old[step, which] = new[step, which] / size
    return sizes

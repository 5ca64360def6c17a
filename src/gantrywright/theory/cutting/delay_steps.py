"""Machine code of the delay method: one tooth period of a block of disturbances, and what it grows by."""

from collections.abc import Callable
from typing import Any

import numpy as np
from numba import njit

from gantrywright.base.units import Array

SLICES = 12
"""Slices along the spindle over which a helix is averaged."""
PERIODS = 60
"""Periods that the block is driven through, at most."""
SETTLED = 2e-5
"""Change of the multiplier, as a share, at which it is taken as found."""
CLEAR = 30.0
"""How many times farther than it moved the multiplier is from 1 when the verdict is clear."""


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """Machine code of a plain function of floats and arrays, kept between runs."""
    made: Callable[..., Any] = njit(cache=True)(function)
    return made


@compiled
def _integral(angle: float, ratio: float, out: Array) -> None:  # pragma: no cover
    """Directional factors, and squares of the normal, summed from 0 to an angle."""
    sin, cos = np.sin(2 * angle), np.cos(2 * angle)
    out[0] = 0.5 * (cos - 2 * ratio * angle + ratio * sin)
    out[1] = 0.5 * (-sin - 2 * angle + ratio * cos)
    out[2] = 0.5 * (-sin + 2 * angle + ratio * cos)
    out[3] = 0.5 * (-cos - 2 * ratio * angle - ratio * sin)
    out[4] = 0.5 * (angle - 0.5 * sin)
    out[5] = -0.25 * cos
    out[6] = 0.5 * (angle + 0.5 * sin)


@compiled
def step_means(
    nodes: Array, ratio: float, flutes: int, start: float, stop: float, span: float, slices: int
) -> Array:  # pragma: no cover
    """Means over each step, and over the slices: a_xx, a_xy, a_yx, a_yy, n_x n_x, n_x n_y, n_y n_y of all engaged teeth, shape (steps, 7)."""
    steps = len(nodes) - 1
    means = np.zeros((steps, 7))
    low, high = np.empty(7), np.empty(7)
    pitch, turn = 2 * np.pi / flutes, 2 * np.pi
    for part in range(slices):
        shift = span * (part + 0.5) / slices
        for tooth in range(flutes):
            for step in range(steps):
                first = nodes[step] + tooth * pitch - shift
                first -= turn * np.floor(first / turn)
                last = first + nodes[step + 1] - nodes[step]
                for again in range(2):
                    a = min(max(first - again * turn, start), stop)
                    b = min(max(last - again * turn, start), stop)
                    if b > a:
                        _integral(a, ratio, low)
                        _integral(b, ratio, high)
                        for which in range(7):
                            means[step, which] += (high[which] - low[which]) / ((last - first) * slices)
    return means


@compiled
def mode_steps(nodes: Array, speed: float, natural: Array, damping: Array) -> Array:  # pragma: no cover
    """How each mode moves over each step: position and speed (in units of its natural one) from both, and from a force, (steps, m, 6)."""
    steps, count = len(nodes) - 1, len(natural)
    moves = np.empty((steps, count, 6))
    for step in range(steps):
        time = (nodes[step + 1] - nodes[step]) / speed
        for mode in range(count):
            own, ratio = natural[mode], damping[mode]
            swing = np.sqrt(1 - ratio * ratio)
            fade = np.exp(-ratio * own * time)
            sin, cos = fade * np.sin(own * swing * time) / swing, fade * np.cos(own * swing * time)
            moves[step, mode, 0] = cos + ratio * sin
            moves[step, mode, 1] = sin
            moves[step, mode, 2] = -sin
            moves[step, mode, 3] = cos - ratio * sin
            moves[step, mode, 4] = (1 - cos - ratio * sin) / own**2
            moves[step, mode, 5] = sin / own**2
    return moves


@compiled
def drive_through(block: Array, shapes: Array, moves: Array, weights: Array, drag: Array, out: Array) -> None:  # pragma: no cover
    """Drive every vector of the block through one tooth period.

    Rows: positions, speeds, then motion of the tip along the feed and to its left at each node of the period before.
    """
    count, steps, columns = shapes.shape[1], weights.shape[0], block.shape[1]
    history = 2 * count
    here, then, free = np.zeros((2, columns)), np.empty((2, columns)), np.empty((2, columns))
    for column in range(columns):
        for row in range(history):
            out[row, column] = block[row, column]
        for mode in range(count):
            here[0, column] += shapes[0, mode] * block[mode, column]
            here[1, column] += shapes[1, mode] * block[mode, column]
    final = here.copy()
    give, w, d = np.empty((2, 2)), np.empty((2, 2)), np.empty((2, 2))
    for step in range(steps):
        for i in range(2):
            for column in range(columns):
                out[history + 2 * step + i, column] = here[i, column]
                later = final[i, column] if step + 1 == steps else block[history + 2 * step + 2 + i, column]
                then[i, column] = here[i, column] - block[history + 2 * step + i, column] - later
                free[i, column] = 0.0
            for j in range(2):
                w[i, j], d[i, j], give[i, j] = weights[step, i, j], drag[step, i, j], 0.0
                for mode in range(count):
                    give[i, j] += shapes[i, mode] * shapes[j, mode] * moves[step, mode, 4]
        for mode in range(count):
            m0, m1, m2, m3 = moves[step, mode, 0], moves[step, mode, 1], moves[step, mode, 2], moves[step, mode, 3]
            for column in range(columns):
                place, pace = out[mode, column], out[count + mode, column]
                out[mode, column] = m0 * place + m1 * pace
                out[count + mode, column] = m2 * place + m3 * pace
                free[0, column] += shapes[0, mode] * out[mode, column]
                free[1, column] += shapes[1, mode] * out[mode, column]
        # (1 - G (w/2 - d)) r1 = free + G (w/2 (r0 - old0 - old1) + d r0)
        hxx, hxy, hyx, hyy = w[0, 0] / 2 - d[0, 0], w[0, 1] / 2 - d[0, 1], w[1, 0] / 2 - d[1, 0], w[1, 1] / 2 - d[1, 1]
        a, b = 1 - (give[0, 0] * hxx + give[0, 1] * hyx), -(give[0, 0] * hxy + give[0, 1] * hyy)
        c, e = -(give[1, 0] * hxx + give[1, 1] * hyx), 1 - (give[1, 0] * hxy + give[1, 1] * hyy)
        under = 1 / (a * e - b * c)
        for column in range(columns):
            hx, hy, tx, ty = here[0, column], here[1, column], then[0, column], then[1, column]
            fx = 0.5 * (w[0, 0] * tx + w[0, 1] * ty) + d[0, 0] * hx + d[0, 1] * hy
            fy = 0.5 * (w[1, 0] * tx + w[1, 1] * ty) + d[1, 0] * hx + d[1, 1] * hy
            px, py = free[0, column] + give[0, 0] * fx + give[0, 1] * fy, free[1, column] + give[1, 0] * fx + give[1, 1] * fy
            nx, ny = under * (e * px - b * py), under * (a * py - c * px)
            fx += hxx * nx + hxy * ny
            fy += hyx * nx + hyy * ny
            for mode in range(count):
                push = shapes[0, mode] * fx + shapes[1, mode] * fy
                out[mode, column] += moves[step, mode, 4] * push
                out[count + mode, column] += moves[step, mode, 5] * push
            here[0, column], here[1, column] = nx, ny


@compiled
def _square(block: Array, rows: Array) -> None:  # pragma: no cover
    """Make the vectors of length 1 and square to each other, twice, so that rounding leaves nothing; kept as rows as well."""
    rows[:, :] = block.T
    for column in range(len(rows)):
        for _ in range(2):
            if column:
                rows[column] -= np.dot(np.dot(rows[:column], rows[column]), rows[:column])
            rows[column] /= max(np.sqrt(np.dot(rows[column], rows[column])), 1e-300)
    block[:, :] = rows.T


@compiled
def _greatest(rows: Array, moved: Array) -> tuple[float, float]:  # pragma: no cover
    """Magnitude and angle of the greatest eigenvalue of what moved the vectors, within their space."""
    size, angle = 0.0, 0.0
    for value in np.linalg.eigvals(np.dot(rows, moved).astype(np.complex128)):
        if abs(value) > size:
            size, angle = abs(value), abs(np.arctan2(value.imag, value.real))
    return size, angle


@compiled
def greatest_multiplier(
    nodes: Array, speed: float, shapes: Array, natural: Array, damping: Array, stiff: float, plough: float, ratio: float,
    flutes: int, start: float, stop: float, lag: float, depth: float, block: Array, verdict: bool,
) -> tuple[float, float]:  # pragma: no cover  # fmt: skip
    """Magnitude and angle of the greatest multiplier; the block is left where it settled, for the next depth.

    Where only the verdict matters, it ends as soon as the multiplier is much farther from 1 than it still moves.
    """
    span = lag * depth
    means = step_means(nodes, ratio, flutes, start, stop, span, SLICES if lag != 0.0 else 1)
    steps = len(nodes) - 1
    weights, drag = np.empty((steps, 2, 2)), np.empty((steps, 2, 2))
    for step in range(steps):
        time = (nodes[step + 1] - nodes[step]) / speed
        mean = means[step]
        weights[step, 0, 0], weights[step, 0, 1] = stiff * depth * mean[0], stiff * depth * mean[1]
        weights[step, 1, 0], weights[step, 1, 1] = stiff * depth * mean[2], stiff * depth * mean[3]
        hold = plough * depth / time
        drag[step, 0, 0], drag[step, 1, 1] = hold * mean[4], hold * mean[6]
        drag[step, 0, 1] = drag[step, 1, 0] = hold * mean[5]
    moves = mode_steps(nodes, speed, natural, damping)
    out, rows = np.empty_like(block), np.empty((block.shape[1], block.shape[0]))
    before, size, angle, calm = 0.0, 0.0, 0.0, 0
    for _ in range(PERIODS // 2):  # two periods at a time: vectors turn towards each other by no more than digits can bear
        drive_through(block, shapes, moves, weights, drag, out)
        _square(out, rows)
        drive_through(out, shapes, moves, weights, drag, block)
        size, angle = _greatest(rows, block)
        change = abs(size - before)
        calm = calm + 1 if change < SETTLED * size or (verdict and abs(size - 1) > CLEAR * change) else 0
        if calm >= 2:
            return size, angle
        before = size
    whole = np.empty((block.shape[0], block.shape[0]))  # too many multipliers of like size: all of them at once
    drive_through(np.eye(block.shape[0]), shapes, moves, weights, drag, whole)
    size, angle = _greatest(np.eye(block.shape[0]), whole)
    return size, angle


@compiled
def first_chatter(
    nodes: Array, speed: float, shapes: Array, natural: Array, damping: Array, stiff: float, plough: float, ratio: float,
    flutes: int, start: float, stop: float, lag: float, scan: Array, block: Array, trials: int,
) -> tuple[float, float]:  # pragma: no cover  # fmt: skip
    """First depth from below with a multiplier above 1, and the angle of that; infinite if there is none."""
    low, high, phase, tried = 0.0, np.inf, np.nan, 0
    under, over = 0.0, 0.0  # how far the multipliers there are from 1
    while tried < len(scan) and high == np.inf:
        depth = scan[tried]
        size, angle = greatest_multiplier(
            nodes, speed, shapes, natural, damping, stiff, plough, ratio, flutes, start, stop, lag, depth, block, True
        )  # fmt: skip
        if size > 1.0:
            high, over, phase = depth, size - 1, angle
        else:
            low, under = depth, size - 1
        tried += 1
    for trial in range(trials if high < np.inf and low > 0.0 else 0):
        if high - low < 1e-4 * high:
            break
        share = -under / (over - under)
        if trial < 2:  # at the ends of the scan no more than a verdict may be known
            share = 0.5
        depth = low + min(max(share, 0.02), 0.98) * (high - low)
        size, angle = greatest_multiplier(
            nodes, speed, shapes, natural, damping, stiff, plough, ratio, flutes, start, stop, lag, depth, block, False
        )  # fmt: skip
        if size > 1.0:
            high, over, phase = depth, size - 1, angle
            under /= 2
        else:
            low, under = depth, size - 1
            over /= 2
    return high, phase

"""Reference method for chatter: semi-discretisation of the delay equation, straight or helical teeth, with process damping.

Between two teeth the turn is cut into steps. Within a step the structure moves exactly under a force that stands still; that force is the mean
directional factor of the step times the mean chip of its ends, now and one tooth ago, and both ends are solved for together, so that a step
costs no exponential of a matrix of its own. Straight teeth: steps end where a tooth enters or leaves, and where nothing cuts one step does. The
greatest multiplier from tooth to tooth comes from a block of vectors that is driven through period after period and kept square to each other.

Modes are the whole structure here: the residual give does not enter. Where it matters, `FeedModes.with_residual_as_modes` makes stiff modes of it.
Needs a compiler at run time (numba), so only the deep analysis imports this module. Numbers are plain floats: one machine, one cut.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Hertz, Metre, Number, Pascal, Radian
from gantrywright.theory.cutting.delay_steps import first_chatter, greatest_multiplier
from gantrywright.theory.cutting.modes import FeedModes

PER_TOOTH = 60
"""Steps from tooth to tooth, at least."""
PER_WAVE = 24
"""Steps in a wave of the quickest mode, at least."""
PER_ARC = 16
"""Steps from entry to exit, at least."""
SPARE, MOST_SPARE = 4, 12
"""Vectors in the block besides two a mode: two more for each wave of the quickest mode between teeth, up to the greater."""
RISE = 1.2
"""From one depth that is tried to the next, when the limit is looked for."""
TRIALS = 14
"""Depths that are tried within the last rise, at most: the limit is then known to a ten-thousandth."""


@dataclass(frozen=True, slots=True)
class DelayCut:
    """A cut of one cutter, but for its depth and speed."""

    shear: Pascal
    """Tangential shear coefficient."""
    radial_ratio: Number
    """Radial over tangential shear coefficient."""
    flutes: int
    diameter: Metre
    start: Radian
    """Angle at which a tooth enters."""
    stop: Radian
    """Angle at which it leaves."""
    helix: Radian = 0.0
    ploughing: float = 0.0
    """Process damping: force against the motion across the edge per length of edge, per its speed over the cutting speed, N/m."""


@formula("r(t - T) = mean of both ends of a step; |mu| of x(t + T) = Phi x(t)", source="insperger-stepan-2004")
def multipliers(*, modes: FeedModes, cut: DelayCut, speeds: Array, depths: Array, fineness: Number = 1.0) -> Array:
    """By what a disturbance grows from tooth to tooth: the cut chatters where it is above 1.

    Args:
        modes: One machine, shapes (m,) and (2, m).
        cut: All but depth and speed.
        speeds: rad/s, shape (n,).
        depths: m, of the shape of the speeds.
        fineness: Factor on the count of steps; the error falls with its square.

    Returns:
        Magnitude of the greatest multiplier, shape (n,).
    """
    found = np.empty(len(speeds))
    for number, (speed, depth) in enumerate(zip(speeds, depths, strict=True)):
        nodes = _nodes(cut, _steps(modes, cut, speed, float(fineness)))
        block = _block(modes, nodes, float(speed))
        found[number] = greatest_multiplier(*_plain(modes, cut, nodes, speed), depth, block, False)[0]
    return found


@formula("least a with |mu| > 1", source="insperger-stepan-2004")
def delay_limits(
    *, modes: FeedModes, cut: DelayCut, speeds: Array, shallowest: Metre, deepest: Metre, fineness: Number = 1.0
) -> tuple[Metre, Hertz]:
    """Depth at which chatter starts, and its frequency, by a scan upwards from a shallow cut and closing in at the first sign of chatter.

    A cut may be stable again above the limit (islands); it is the first chatter from below that counts. A strip of chatter thinner than the
    step of the scan, a fifth of the depth, can be missed.

    Args:
        modes: One machine, shapes (m,) and (2, m).
        cut: All but depth and speed.
        speeds: rad/s, shape (n,).
        shallowest: Depth to start from; where it chatters already, it stands as the limit.
        deepest: Depth to end at, such as the length of the flutes; infinite limits lie beyond it.
        fineness: As of `multipliers`.

    Returns:
        Depth, and frequency of the chatter modulo the tooth passing frequency, between 0 and half of it; both of shape (n,).
    """
    depths, frequencies = np.full(len(speeds), np.inf), np.full(len(speeds), np.nan)
    rises = int(np.ceil(np.log(deepest / shallowest) / np.log(RISE)))
    scan = np.geomspace(shallowest, deepest, max(2, rises + 1))
    for number, speed in enumerate(speeds):
        nodes = _nodes(cut, _steps(modes, cut, speed, float(fineness)))
        depth, angle = first_chatter(*_plain(modes, cut, nodes, speed), scan, _block(modes, nodes, float(speed)), TRIALS)
        depths[number] = depth
        frequencies[number] = angle / (2 * np.pi) * cut.flutes * speed / (2 * np.pi) if np.isfinite(depth) else np.nan
    return depths, frequencies


def _steps(modes: FeedModes, cut: DelayCut, speed: float, fineness: float) -> int:
    """Steps from tooth to tooth."""
    tooth = cut.flutes * speed / (2 * np.pi)
    quick = PER_WAVE * float(np.max(modes.frequencies)) / tooth
    arc = PER_ARC * 2 * np.pi / cut.flutes / max(float(cut.stop - cut.start), 1e-3)
    return int(np.ceil(fineness * max(PER_TOOTH, quick, arc if cut.helix else 0.0)))


def _nodes(cut: DelayCut, steps: int) -> Array:
    """Angles of the first tooth at which steps end, over one pitch; with straight teeth none cuts across an entry or an exit."""
    pitch = 2 * np.pi / cut.flutes
    if cut.helix:
        return np.linspace(0.0, pitch, steps + 1)
    inner = [float(angle) % pitch for angle in (cut.start, cut.stop)]
    ends = np.array(sorted({0.0, pitch, *(round(angle, 12) for angle in inner if 1e-9 < angle < pitch - 1e-9)}))
    parts = []
    for low, high in pairwise(ends):
        middle = (low + high) / 2 + pitch * np.arange(cut.flutes)
        cuts = bool(((middle > cut.start) & (middle < cut.stop)).any())
        least = min(PER_ARC, steps)
        count = max(int(np.ceil(steps * (high - low) / pitch)), least) if cuts else 1
        parts.append(np.linspace(low, high, count + 1)[:-1])
    return np.concatenate([*parts, [pitch]])


def _block(modes: FeedModes, nodes: Array, speed: float) -> Array:
    """Vectors to start from, of no particular kind."""
    count = modes.squares.shape[-1]
    rows = 2 * count + 2 * (len(nodes) - 1)
    waves = float(np.max(modes.frequencies)) * float(nodes[-1]) / speed
    spare = min(SPARE + 2 * int(waves), MOST_SPARE)
    return np.random.default_rng(1).standard_normal((rows, min(2 * count + spare, rows)))


def _plain(modes: FeedModes, cut: DelayCut, nodes: Array, speed: float) -> tuple[Any, ...]:
    """What machine code takes: arrays and floats. Shapes are scaled to 1, so that positions and speeds are of like size."""
    scale = float(np.abs(modes.shapes).max())
    structure = (np.ascontiguousarray(modes.shapes) / scale, np.sqrt(modes.squares), np.ascontiguousarray(modes.damping))
    lag = 2 * np.tan(cut.helix) / cut.diameter
    forces = (0.5 * cut.shear * scale**2, cut.ploughing * scale**2 / (speed * cut.diameter / 2), float(cut.radial_ratio))
    return nodes, float(speed), *structure, *forces, cut.flutes, float(cut.start), float(cut.stop), float(lag)

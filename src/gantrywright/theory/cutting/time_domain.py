"""The cut, simulated tooth by tooth with the surface that each leaves for the next: forces, motion and wall, also in chatter.

A tooth takes what stands between its path and the surface, and leaves its path behind; where it does not reach the surface there is no force, and
the surface comes nearer by the feed. Loss of contact, cutting what several teeth have left, and run-out need no more than that. Between two
angles of rotation the structure moves exactly under the mean of the forces at both.
Needs a compiler at run time (numba). Numbers are plain floats: one machine, one cut.
"""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Number, Radian, RadianPerSecond
from gantrywright.theory.cutting.delay_steps import compiled, mode_steps
from gantrywright.theory.cutting.forces import Coefficients
from gantrywright.theory.cutting.modes import FeedModes

PER_TOOTH = 180
"""Angles from tooth to tooth, at least."""
PER_WAVE = 24
"""Steps in a wave of the quickest mode, at least."""


@dataclass(frozen=True, slots=True)
class SimulatedCut:
    """What a run in time gives; the first axis of traces is the angle of rotation, step after step."""

    times: Array
    """s, shape (k,)."""
    motion: Array
    """Of the tool against the work along the feed and to its left, m, shape (k, 2)."""
    force: Array
    """On the tool, N, shape (k, 2)."""
    left: Array
    """Motion outward of each edge as it passes the wall on the left of the feed, m, shape (turns, teeth, slices): positive cuts too deep."""
    right: Array
    """The same at the wall on the right."""
    per_turn: int
    """Steps in a turn."""

    def scatter(self, turns: int) -> Metre:
        """How far the motion differs from turn to turn, the most over the angles of the last turns: nothing in a stable cut.

        With an even count of teeth, chatter at half the tooth frequency repeats every turn and does not show here, but in `unlikeness`.
        """
        return self._spread(turns * self.per_turn, self.per_turn)

    def unlikeness(self, turns: int) -> Metre:
        """How far the motion differs from tooth to tooth over the last turns: nothing in a stable cut of a cutter that runs true."""
        return self._spread(turns * self.per_turn, self.per_turn // self.left.shape[1])

    def _spread(self, steps: int, period: int) -> float:
        return float(np.ptp(self.motion[-steps:].reshape(-1, period, 2), axis=0).max())

    def swing(self, turns: int) -> Array:
        """From peak to peak along the feed and to its left over the last turns, shape (2,)."""
        swing: Array = np.ptp(self.motion[-turns * self.per_turn :], axis=0)
        return swing


@formula("h = r - s + fz sin p, r = x sin p + y cos p; s = r where h > 0, else s - fz sin p and no force", source="derived")
def simulate_cut(
    *, modes: FeedModes, cut: Coefficients, flutes: int, diameter: Metre, start: Radian, stop: Radian, helix: Radian, depth: Metre,
    feed_per_tooth: Metre, speed: RadianPerSecond, turns: int, slices: int = 1, eccentricity: Metre = 0.0, heavy_side: Radian = 0.0,
    ploughing: Number = 0.0, fineness: Number = 1.0,
) -> SimulatedCut:  # fmt: skip
    """Run a cut from rest through some turns.

    Args:
        modes: One machine, shapes (m,) and (2, m); the residual is not looked at.
        cut: Coefficients, plain floats; the axial ones are not used.
        flutes: Teeth.
        diameter: Of the cutter.
        start: Angle at which a tooth enters.
        stop: Angle at which it leaves.
        helix: Angle; a straight cutter needs one slice only.
        depth: Of cut.
        feed_per_tooth: From tooth to tooth.
        speed: Of the spindle.
        turns: Of the spindle.
        slices: Along the spindle.
        eccentricity: Of the cutter's axis, half of what an indicator reads.
        heavy_side: Angle of the eccentricity from the first tooth.
        ploughing: Process damping coefficient, N/m.
        fineness: Factor on the count of steps.
    """
    tooth = flutes * speed / (2 * np.pi)
    steps = int(np.ceil(float(fineness) * max(PER_TOOTH, PER_WAVE * float(np.max(modes.frequencies)) / tooth)))
    angles = np.arange(flutes * steps) * 2 * np.pi / (flutes * steps)
    heights = (np.arange(slices) + 0.5) * depth / slices
    lags = np.round(2 * np.tan(helix) / diameter * heights / angles[1]).astype(np.int64)
    offsets = eccentricity * np.cos(heavy_side + 2 * np.pi / flutes * np.arange(flutes))
    half = angles[1] / 2
    engaged = np.clip((np.minimum(angles + half, stop) - np.maximum(angles - half, start)) / angles[1], 0.0, 1.0)
    behind = angles - 2 * np.pi  # the cell about the angle 0 reaches back over it
    engaged += np.clip((np.minimum(behind + half, stop) - np.maximum(behind - half, start)) / angles[1], 0.0, 1.0)
    natural = np.sqrt(modes.squares)
    moves = mode_steps(np.array([0.0, angles[1]]), float(speed), natural, np.ascontiguousarray(modes.damping))[0]
    coefficients = np.array(
        [cut.shear, cut.edge, cut.radial_shear, cut.radial_edge, ploughing / (speed * diameter / 2)], dtype=float
    )
    motion, force, left, right = _run(
        np.ascontiguousarray(modes.shapes), natural, moves, coefficients, angles, engaged, lags, offsets,
        steps, turns, float(feed_per_tooth), depth / slices,
    )  # fmt: skip
    return SimulatedCut(np.arange(len(motion)) * angles[1] / speed, motion, force, left, right, flutes * steps)


@formula("w(x) = max over marks of e - (x - x_mark)^2/D", source="derived")
def wall_left(*, marks: Array, spacing: Metre, diameter: Metre, count: int = 20) -> tuple[Metre, Metre]:
    """The wall that edges leave that pass it one after the other.

    Args:
        marks: How much too deep each edge passes, in the order of passing, m, shape (p,).
        spacing: From mark to mark: the feed per tooth.
        diameter: Of the cutter.
        count: Points from mark to mark.

    Returns:
        Places along the feed and depth of the wall there, both of shape (p * count,); a mark that another has cut away does not show.
    """
    places = np.arange(len(marks) * count) * spacing / count
    where = np.arange(len(marks)) * spacing
    arcs = marks - (places[:, None] - where) ** 2 / diameter
    return places, arcs.max(axis=1)


@compiled
def _forces(
    place: Array, pace: Array, at: int, write: bool, surface: Array, coefficients: Array, angles: Array, sines: Array, cosines: Array,
    engaged: Array, lags: Array, offsets: Array, steps: int, feed: float, slice_depth: float, out: Array,
) -> None:  # pragma: no cover  # fmt: skip
    """Force on the tool at an angle of rotation; the surface is cut if told so."""
    out[0] = out[1] = 0.0
    whole = len(angles)
    for layer in range(len(lags)):
        for tooth in range(len(offsets)):
            here = (at + tooth * steps - lags[layer]) % whole
            if engaged[here] == 0.0:
                continue
            sin, cos = sines[here], cosines[here]
            path = place[0] * sin + place[1] * cos + offsets[tooth]
            stands = surface[layer, here] - feed * sin
            chip = path - stands
            if write:
                surface[layer, here] = max(path, stands)
            if chip > 0.0:
                rubbing = coefficients[4] * (pace[0] * sin + pace[1] * cos)
                tangential = (coefficients[0] * chip + coefficients[1]) * slice_depth * engaged[here]
                radial = (coefficients[2] * chip + coefficients[3] + rubbing) * slice_depth * engaged[here]
                out[0] += -tangential * cos - radial * sin
                out[1] += tangential * sin - radial * cos


@compiled
def _run(
    shapes: Array, natural: Array, moves: Array, coefficients: Array, angles: Array, engaged: Array, lags: Array, offsets: Array,
    steps: int, turns: int, feed: float, slice_depth: float,
) -> tuple[Array, Array, Array, Array]:  # pragma: no cover  # fmt: skip
    """Motion and force at each step, and how each edge passes the walls."""
    count, whole, teeth, layers = len(natural), len(angles), len(offsets), len(lags)
    sines, cosines = np.sin(angles), np.cos(angles)
    total = turns * whole
    motion, force = np.zeros((total, 2)), np.zeros((total, 2))
    left, right = np.zeros((turns, teeth, layers)), np.zeros((turns, teeth, layers))
    surface = np.zeros((layers, whole))
    q, v, free_q, free_v = np.zeros(count), np.zeros(count), np.zeros(count), np.zeros(count)
    place, pace, now, ahead = np.zeros(2), np.zeros(2), np.zeros(2), np.zeros(2)
    for step in range(total):
        at = step % whole
        # first with the force of now alone to where the tool would be, then with the mean of that and of the force there
        for trial in range(2):
            place[0] = place[1] = pace[0] = pace[1] = 0.0
            for mode in range(count):
                if trial == 0:
                    own = natural[mode]
                    free_q[mode] = moves[mode, 0] * q[mode] + moves[mode, 1] * v[mode] / own
                    free_v[mode] = moves[mode, 2] * q[mode] * own + moves[mode, 3] * v[mode]
                fx, fy = (now[0], now[1]) if trial == 0 else ((now[0] + ahead[0]) / 2, (now[1] + ahead[1]) / 2)
                push = shapes[0, mode] * fx + shapes[1, mode] * fy
                q[mode] = free_q[mode] + moves[mode, 4] * push
                v[mode] = free_v[mode] + moves[mode, 5] * natural[mode] * push
                for axis in range(2):
                    place[axis] += shapes[axis, mode] * q[mode]
                    pace[axis] += shapes[axis, mode] * v[mode]
            _forces(
                place, pace, at, trial == 1, surface, coefficients, angles, sines, cosines,
                engaged, lags, offsets, steps, feed, slice_depth, ahead,
            )  # fmt: skip
        now[:] = ahead
        motion[step, 0], motion[step, 1] = place[0], place[1]
        force[step, 0], force[step, 1] = now[0], now[1]
        turn = step // whole
        for layer in range(layers):
            for tooth in range(teeth):
                here = (at + tooth * steps - lags[layer]) % whole
                if here == 0:
                    left[turn, tooth, layer] = place[1] + offsets[tooth]
                if 2 * here == whole or 2 * here == whole + 1:
                    right[turn, tooth, layer] = -place[1] + offsets[tooth]
    return motion, force, left, right

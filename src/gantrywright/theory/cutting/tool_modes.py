"""From the modes of a machine with the tool that it is drawn with to those with the tool of a job.

A longer cutter rings lower and shakes the spindle; a mode near its own frequency moves its tip far more than the collet. So the modes are followed
back to the collet and carry the other cutter from there: component modes with a held interface. For one machine, typical values.
"""

from typing import NamedTuple

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Number, Radian
from gantrywright.theory.cutting.cutter_give import FirstMode
from gantrywright.theory.cutting.modes import FeedModes
from gantrywright.theory.cutting.other_tool import carry, moved_give, upwards

OWN = 0.8
"""A mode above this part of the drawn cutter's own first frequency is taken as one of that cutter and does not go with the machine."""
STIFF = 2.0
"""What the modes left out give at the collet answers at this many times the higher of both cutters' own frequencies."""
LEAST_LEFT = 1e-6
"""Part of the give at the collet below which nothing is left out."""


class Swinging(NamedTuple):
    """Modes as a tip sees them; modal masses are 1 kg."""

    squares: Array
    """Squares of the circular frequencies, shape (m,)."""
    at_tip: Array
    """Shift and turn of the tip in each mode, shape (6, m)."""
    damping: Array
    """Damping ratios, shape (m,)."""


@formula("(M_machine - M_drawn + M_other) q'' + diag(w_r^2, k_left, k_cutter) q = 0", source="derived")
def modes_with_other(
    *, drawn_modes: Swinging, rest: Array, drawn: FirstMode, other: FirstMode, cutter_damping: Number, stick_out: Metre,
    other_stick_out: Metre,
) -> Swinging:  # fmt: skip
    """Modes at the tip of another cutter in the same collet.

    Args:
        drawn_modes: At the tip of the drawn cutter.
        rest: Static give at the tip of the drawn cutter of all but that cutter (`other_tool.without_cutter`), shape (6, 6).
        drawn: First mode of the drawn cutter by itself.
        other: First mode of the other cutter by itself.
        cutter_damping: Damping ratio of the cutter's own mode.
        stick_out: Of the drawn cutter.
        other_stick_out: Of the other.

    Returns:
        As many modes as stay of the machine, six at most for what the others give at the collet, and two of the cutter. What is still left out
        stands in the static give (`other_tool.give_with_other`).

    Source:
        Derived: component modes with a held interface; each mode of the machine loses the part of the drawn cutter in its mass.
    """
    from scipy.linalg import eigh

    kept = drawn_modes.squares < (2 * np.pi * OWN * drawn.frequency) ** 2
    squares, loss = drawn_modes.squares[kept], drawn_modes.damping[kept]
    collet, bends = _at_collet(squares, drawn_modes.at_tip[:, kept], drawn, stick_out)
    stiffest = float((2 * np.pi * STIFF * np.maximum(drawn.frequency, other.frequency)) ** 2)
    whole = moved_give(give=rest, by=upwards(stick_out))
    left = _left_out(whole - (collet / squares) @ collet.T, np.diagonal(whole), stiffest)
    moves = np.hstack((collet, left))
    count, extra = moves.shape[1], left.shape[1]
    mass = np.eye(count + 2)
    mass[: len(squares), : len(squares)] -= _mass_of(drawn, collet, bends)
    mass[:count, :count] += moves.T @ _carried(other) @ moves
    mass[count:, :count] = _stir(other) @ moves
    mass[:count, count:] = mass[count:, :count].T
    mass[count:, count:] *= other.mass
    stiff = np.concatenate((squares, np.full(extra, stiffest), np.full(2, other.stiffness)))
    found, shapes = eigh(np.diag(stiff), mass)
    at_tip = np.hstack((carry(upwards(-np.asarray(other_stick_out))) @ moves, _bent(other))) @ shapes
    shares = stiff[:, None] * shapes**2 / found
    middle = loss.mean() if len(loss) else float(cutter_damping)
    losses = np.concatenate((loss, np.full(extra, middle), np.full(2, float(cutter_damping))))
    return Swinging(found, at_tip, losses @ shares)


@formula("u' = R u;  C_rest = R (C - sum_r u_r u_r^T/w_r^2) R^T", source="derived")
def in_feed_axes(*, modes: Swinging, give: Array, direction: Radian) -> FeedModes:
    """Modes of a tip as a cut sees them, along the feed and to its left.

    Args:
        modes: Along X, Y, Z of the machine.
        give: Static give of the same tip, all modes together, along X, Y, Z first, shape (3, 3) or (6, 6).
        direction: Of the feed, counter-clockwise from X; several have shape (d,).

    Returns:
        Modes, and what they leave of the static give, with a leading axis (d,) where there are several directions.
    """
    plane = modes.at_tip[:2]
    rest = np.asarray(give)[:2, :2] - (plane / modes.squares) @ plane.T
    return FeedModes(modes.squares, plane, modes.damping, rest).turned(direction)


def _at_collet(squares: Array, at_tip: Array, drawn: FirstMode, stick_out: Metre) -> tuple[Array, Array]:
    """Shift and turn at the collet in each mode, shape (6, m), and how far the mode bends the drawn cutter both ways, shape (2, m)."""
    amount: Array = squares / (drawn.mass * ((2 * np.pi * drawn.frequency) ** 2 - squares))
    to_tip = carry(upwards(-np.asarray(stick_out))) + amount[:, None, None] * (_bent(drawn) @ _stir(drawn))
    collet: Array = np.asarray(np.linalg.solve(to_tip, at_tip.T[..., None]), dtype=float)[..., 0].T
    return collet, amount * (_stir(drawn) @ collet)


def _left_out(give: Array, whole: Array, square: float) -> Array:
    """Motions at the collet, shape (6, k), of modes of one frequency that give at rest what a matrix says, where that is some of the whole."""
    scale = np.sqrt(np.maximum(whole, 1e-30))
    gives, ways = np.linalg.eigh(give / np.outer(scale, scale))
    some = gives > LEAST_LEFT
    left: Array = scale[:, None] * ways[:, some] * np.sqrt(gives[some] * square)
    return left


def _mass_of(mode: FirstMode, collet: Array, bends: Array) -> Array:
    """What a cutter has of the modal masses, shape (m, m)."""
    stirred = bends.T @ _stir(mode) @ collet
    mass: Array = collet.T @ _carried(mode) @ collet + stirred + stirred.T + mode.mass * bends.T @ bends
    return mass


def _stir(mode: FirstMode) -> Array:
    """What motion of the collet stirs a cutter's mode along x and along y by, shape (2, 6)."""
    stir = np.zeros((2, 6))
    stir[0, 0] = stir[1, 1] = mode.carried
    stir[0, 4], stir[1, 3] = -np.asarray(mode.tilted), mode.tilted
    return stir


def _carried(mode: FirstMode) -> Array:
    """Mass of a cutter that moves with its collet as one piece, across and about x and y, shape (6, 6)."""
    carried = np.zeros((6, 6))
    whole, first, second = mode.whole
    carried[0, 0] = carried[1, 1] = whole
    carried[3, 3] = carried[4, 4] = second
    carried[0, 4] = carried[4, 0] = -np.asarray(first)
    carried[1, 3] = carried[3, 1] = first
    return carried


def _bent(mode: FirstMode) -> Array:
    """Shift and turn of the tip by a cutter's mode along x and along y, shape (6, 2)."""
    bent = np.zeros((6, 2))
    bent[0, 0] = bent[1, 1] = 1.0
    bent[4, 0], bent[3, 1] = -np.asarray(mode.slope), mode.slope
    return bent

"""Boxes and cylinders that pass each other: how deep they overlap, or by how much they miss.

Bodies of a gantry machine only shift, they do not turn. So the 15 directions in which two boxes can be apart (3 faces each, 9 pairs
of edges) are the same at every pose, and the overlap is a concave function of the pose: there is one deepest place.
"""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.units import Array


@dataclass(frozen=True, slots=True)
class Boxes:
    """Boxes, one a row; a round one is a cylinder about its first axis."""

    centres: Array
    """m, shape (n, 3)."""
    axes: Array
    """Unit vectors of each box as rows, shape (n, 3, 3)."""
    sizes: Array
    """Full extent along its own axes, m, shape (n, 3)."""
    round: Array
    """1 for a cylinder, else 0, shape (n,)."""

    def take(self, rows: Array) -> "Boxes":
        """Some of them."""
        return Boxes(self.centres[rows], self.axes[rows], self.sizes[rows], self.round[rows])


def half_widths(boxes: Boxes, directions: Array) -> Array:
    """Half of the room that each box takes along directions.

    w = sum |L . a_i| s_i/2; of a cylinder |L . a| l/2 + r sqrt(1 - (L . a)^2).

    Args:
        boxes: n boxes.
        directions: Unit vectors, shape (n, k, 3).

    Returns:
        m, shape (n, k).
    """
    cosines = np.abs(np.einsum("nkc,nac->nka", directions, boxes.axes))
    square: Array = np.einsum("nka,na->nk", cosines, boxes.sizes) / 2
    ends = cosines[:, :, 0] * boxes.sizes[:, None, 0] / 2
    side = np.sqrt(np.maximum(1 - cosines[:, :, 0] ** 2, 0)) * boxes.sizes[:, None, 1] / 2
    return np.where(boxes.round[:, None] > 0, ends + side, square)


def extent(boxes: Boxes) -> tuple[Array, Array]:
    """Least and greatest corner of the upright box round each, m, shapes (n, 3)."""
    half = half_widths(boxes, np.broadcast_to(np.eye(3), (len(boxes.centres), 3, 3)))
    return boxes.centres - half, boxes.centres + half


def overlap(first: Boxes, second: Boxes, shifts: Array) -> Array:
    """Depth of overlap of pairs of boxes at many shifts of the second against the first.

    Exact for two boxes that overlap: the least shift that parts them. Where it is negative, they miss each other by at least as
    much. For cylinders it is never too small.

    Args:
        first: n boxes.
        second: n boxes, each against the one of the same row.
        shifts: Of the second against the first, m, shape (n, p, 3).

    Returns:
        m, shape (n, p).

    Source:
        gottschalk-1996: least over 15 directions L of w_a + w_b - |L . (c_b - c_a)|.
    """
    directions, useful = _directions(first, second)
    room = half_widths(first, directions) + half_widths(second, directions)
    apart = second.centres - first.centres
    standing = np.einsum("nkc,nc->nk", directions, apart)
    moved = np.einsum("npc,nkc->npk", shifts, directions)
    depth = room[:, None, :] - np.abs(standing[:, None, :] + moved)
    least: Array = np.where(useful[:, None, :], depth, np.inf).min(axis=2)
    return least


def _directions(first: Boxes, second: Boxes) -> tuple[Array, Array]:
    """Unit directions that may part each pair, shape (n, 15, 3), and which of them are none (edges in line), shape (n, 15)."""
    count = len(first.centres)
    edges = np.cross(first.axes[:, :, None, :], second.axes[:, None, :, :]).reshape(count, 9, 3)
    lengths = np.linalg.norm(edges, axis=2)
    useful = lengths > 1e-6
    edges = edges / np.where(useful, lengths, 1.0)[:, :, None]
    directions = np.concatenate((first.axes, second.axes, edges), axis=1)
    return directions, np.concatenate((np.ones((count, 6), dtype=bool), useful), axis=1)


def deepest(first: Boxes, second: Boxes, *, movements: Array, low: Array, high: Array, ignore: float = 0.0) -> tuple[Array, Array]:
    """Deepest overlap of each pair over a whole range of poses, not on a grid: nothing is missed between two poses.

    Direction by direction, a range of poses is a range of distances: that gives a bound, and most pairs are parted by it. For the
    rest the deepest place is a small linear programme: the greatest t with t <= w_a + w_b -+ L . (c_b - c_a + sum q_i m_i).

    Args:
        first: n boxes.
        second: n boxes.
        movements: Shift of the second against the first per metre of each axis, shape (n, a, 3).
        low: Least pose against the drawn one of each axis, m, shape (a,).
        high: Greatest, shape (a,).
        ignore: Pairs that cannot overlap deeper than this are left at their bound, m.

    Returns:
        Depth, m, shape (n,), negative where they never meet; and the pose where it is, against the drawn one, m, shape (n, a).
    """
    directions, useful = _directions(first, second)
    room = half_widths(first, directions) + half_widths(second, directions)
    standing = np.einsum("nkc,nc->nk", directions, second.centres - first.centres)
    slopes = np.einsum("nac,nkc->nka", movements, directions)
    ends = np.stack((slopes * low, slopes * high))
    nearest = np.maximum(np.maximum(standing + ends.min(axis=0).sum(axis=-1), -standing - ends.max(axis=0).sum(axis=-1)), 0.0)
    depth: Array = np.where(useful, room - nearest, np.inf).min(axis=1)
    where = np.broadcast_to((low + high) / 2, (len(depth), len(low))).copy()
    for row in np.flatnonzero(depth > ignore):
        keep = useful[row]
        depth[row], where[row] = _deepest_place(room[row, keep], standing[row, keep], slopes[row, keep], low, high)
    return depth, where


def _deepest_place(room: Array, standing: Array, slopes: Array, low: Array, high: Array) -> tuple[float, Array]:
    from scipy.optimize import linprog  # only machines whose parts may meet wait for it

    depth_column = np.ones((2 * len(room), 1))
    found = linprog(
        np.append(np.zeros(len(low)), -1.0),
        A_ub=np.hstack((np.vstack((slopes, -slopes)), depth_column)),
        b_ub=np.concatenate((room - standing, room + standing)),
        bounds=[*zip(low, high, strict=True), (None, None)],
        method="highs",
    )
    return float(found.x[-1]), np.asarray(found.x[:-1])

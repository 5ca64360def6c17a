"""Which parts touch: two boxes of one rigid group that share a face patch are joined.

Boxes that stand square to the machine are compared all at once; a slanted box is joined by name alone.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from gantrywright.base.units import Array
from gantrywright.intake.geometry.frames import LEVEL
from gantrywright.model.bodies import Solid
from gantrywright.model.frame import Vector

REACH = 0.002
"""A bar's end that stays this far off a part still counts as touching it, m."""
CONTACT = 1e-4
"""Other faces touch within this, m."""
EDGE = 1e-4
"""Patches narrower than this are an edge or a corner, m."""
ROW, SEAM = 0.150, 0.050
"""Points of a long joint: bolted every 150 mm, welded or glued every 50 mm; our choice."""
OVERLAP = 5e-4
"""Parts that go deeper into each other than this are told, m."""


@dataclass(frozen=True, slots=True)
class Patch:
    """Where two parts touch."""

    a: Solid
    b: Solid
    middle: Vector
    normal: Vector
    """Out of a."""
    size: Vector
    """Extent along x, y, z; 0 along the normal."""


def is_square(solid: Solid) -> bool:
    """Whether its axes are those of the machine."""
    return all(max(abs(part) for part in axis) > 1 - 1e-9 for axis in solid.axes)


def corners(solids: Sequence[Solid]) -> tuple[Array, Array]:
    """Least and greatest corners, arrays of shape (n, 3)."""
    centre = np.array([solid.centre for solid in solids])
    axes = np.abs(np.array([solid.axes for solid in solids]))
    half = np.einsum("nij,ni->nj", axes, np.array([solid.size for solid in solids])) / 2
    return centre - half, centre + half


def touching(solids: Sequence[Solid]) -> tuple[list[Patch], list[tuple[Solid, Solid, float]]]:
    """Patches of all pairs that touch, and pairs that go into each other with the depth.

    Args:
        solids: Parts of one rigid group in common measures.
    """
    square = [solid for solid in solids if is_square(solid) and any(solid.size)]
    if len(square) < 2:
        return [], []
    low, high = corners(square)
    gap = np.maximum(low[:, None, :] - high[None, :, :], low[None, :, :] - high[:, None, :])
    upper = np.triu(np.ones(gap.shape[:2], dtype=bool), 1)
    near = upper & (gap.max(axis=2) <= REACH)
    patches, overlaps = [], []
    for i, j in zip(*np.nonzero(near), strict=True):
        a, b = square[i], square[j]
        gaps = gap[i, j]
        depth = -float(gaps.max())
        if depth > OVERLAP:
            overlaps.append((a, b, depth))
            continue
        number = int(np.argmax(gaps))
        others = [k for k in range(3) if k != number]
        if any(-gaps[k] < EDGE for k in others) or not _counts(a, b, number, float(gaps[number])):
            continue
        patches.append(_patch(a, b, number, (low[i], high[i]), (low[j], high[j])))
    return patches, overlaps


def _counts(a: Solid, b: Solid, number: int, gap: float) -> bool:
    """Whether a gap is small enough: an end of a bar may stay off further than a face."""
    if gap <= CONTACT:
        return True
    return any(solid.kind == "member" and abs(solid.axes[0][number]) > 0.9 for solid in (a, b))


def _patch(a: Solid, b: Solid, number: int, box_a: tuple[Array, Array], box_b: tuple[Array, Array]) -> Patch:
    least, most = np.maximum(box_a[0], box_b[0]), np.minimum(box_a[1], box_b[1])
    size = most - least
    size[number] = 0.0
    middle = (least + most) / 2
    sign = 1.0 if box_b[0][number] + box_b[1][number] > box_a[0][number] + box_a[1][number] else -1.0
    normal = tuple(sign * part + 0.0 for part in LEVEL[number])
    return Patch(a, b, _vector(middle), normal, _vector(size))  # type: ignore[arg-type]


def _vector(array: Array) -> Vector:
    return (float(array[0]), float(array[1]), float(array[2]))


def pieces(names: Sequence[str], pairs: Iterator[tuple[str, str]] | Sequence[tuple[str, str]]) -> list[set[str]]:
    """Groups of parts that hang together, largest first."""
    leader = {name: name for name in names}

    def root(name: str) -> str:
        while leader[name] != name:
            leader[name] = leader[leader[name]]
            name = leader[name]
        return name

    for a, b in pairs:
        if a in leader and b in leader:
            leader[root(a)] = root(b)
    groups: dict[str, set[str]] = {}
    for name in names:
        groups.setdefault(root(name), set()).add(name)
    return sorted(groups.values(), key=len, reverse=True)


def along_patch(patch: Patch, spacing: float) -> tuple[Vector, ...]:
    """Points of a joint: the middle of a small patch, a row along a long one.

    Args:
        patch: Where the two touch.
        spacing: Of the points of a row, at most.
    """
    longest = max(range(3), key=lambda k: patch.size[k])
    long = patch.size[longest]
    if long < 2 * spacing:
        return (patch.middle,)
    count = int(np.ceil(long / spacing - 1e-9)) + 1
    start = patch.middle[longest] - long / 2
    points = []
    for k in range(count):
        at = start + long * k / (count - 1)
        points.append(tuple(at if m == longest else patch.middle[m] for m in range(3)))
    return tuple(points)  # type: ignore[arg-type]

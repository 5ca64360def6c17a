"""Flat polygons to pixels: which one is in front, by a depth buffer; all of them at once, row by row."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.units import Array
from gantrywright.scene.faces import Faces

FLAT = 1e-7
"""A face whose normal has a smaller part along the line of sight is seen edge on: it covers nothing."""
AT_ONCE = 4_000_000
"""Pixels of faces that are worked on together."""
NOTHING = -1


@dataclass(frozen=True, slots=True)
class Buffers:
    """What is seen in every pixel."""

    face: NDArray[np.int32]
    """Number of the polygon, -1 for paper; shape (height, width)."""
    depth: Array
    """Away from the eye; infinite for paper; same shape."""


def render(faces: Faces, normals: Array, wide: int, high: int) -> Buffers:
    """Fill the buffers.

    Args:
        faces: Edges in the measures of the paper: pixels to the right, pixels down, and away from the eye.
        normals: Of every face in these measures, of any length, shape (f, 3).
        wide: Pixels.
        high: Pixels.
    """
    depth = np.full(wide * high, np.inf)
    front = np.full(wide * high, NOTHING, dtype=np.int32)
    spans = _spans(faces, normals, wide, high)
    total = np.cumsum(spans.count)
    first = 0
    while first < len(spans.count):
        before = int(total[first - 1]) if first else 0
        last = max(first + 1, int(np.searchsorted(total, before + AT_ONCE, side="right")))
        _fill(depth, front, spans, slice(first, last))
        first = last
    return Buffers(front.reshape(high, wide), depth.reshape(high, wide))


@dataclass(frozen=True, slots=True)
class _Spans:
    """Runs of pixels in one row of one face."""

    pixel: NDArray[np.int64]
    """Number of the first."""
    count: NDArray[np.int64]
    depth: Array
    """At the first."""
    slope: Array
    """Per pixel to the right."""
    face: NDArray[np.int32]


def _fill(depth: Array, front: NDArray[np.int32], spans: _Spans, part: slice) -> None:
    count = spans.count[part]
    ends = np.cumsum(count)
    step = np.arange(int(ends[-1])) - np.repeat(ends - count, count)
    pixel = np.repeat(spans.pixel[part], count) + step
    away = np.repeat(spans.depth[part], count) + np.repeat(spans.slope[part], count) * step
    near = away < depth[pixel]
    pixel, away = pixel[near], away[near]
    np.minimum.at(depth, pixel, away)
    won = away == depth[pixel]
    front[pixel[won]] = np.repeat(spans.face[part], count)[near][won]


def _spans(faces: Faces, normals: Array, wide: int, high: int) -> _Spans:
    """Where every row of pixels enters and leaves every face that looks towards the eye."""
    size = np.maximum(np.linalg.norm(normals, axis=1), 1e-300)
    seen = normals[:, 2] < -FLAT * size
    kept = seen[faces.face]
    a, b, face = faces.start[kept], faces.stop[kept], faces.face[kept]
    top, bottom = np.minimum(a[:, 1], b[:, 1]), np.maximum(a[:, 1], b[:, 1])
    first = np.clip(np.ceil(top - 0.5), 0, high).astype(np.int64)
    rows = np.clip(np.ceil(bottom - 0.5), 0, high).astype(np.int64) - first
    ends = np.cumsum(rows)
    edge = np.repeat(np.arange(len(rows)), rows)
    row = np.repeat(first, rows) + np.arange(int(ends[-1]) if len(ends) else 0) - np.repeat(ends - rows, rows)
    run = (b[:, 0] - a[:, 0]) / np.where(b[:, 1] == a[:, 1], 1.0, b[:, 1] - a[:, 1])
    x = a[edge, 0] + (row + 0.5 - a[edge, 1]) * run[edge]
    # one number orders face, row and place: cheaper than sorting by three
    far = 4.0 * (wide + high)
    key = face[edge] * high + row
    ordered = np.sort(key * far + np.clip(x, -far / 4, far / 2) + far / 4)
    keys = np.floor(ordered / far)
    x = ordered - keys * far - far / 4
    key = keys[::2].astype(np.int64)
    left = np.clip(np.ceil(x[::2] - 0.5), 0, wide).astype(np.int64)
    right = np.clip(np.ceil(x[1::2] - 0.5), 0, wide).astype(np.int64)
    full = right > left
    key, left, right = key[full], left[full], right[full]
    owner, row = key // high, key % high
    point, normal = _points(faces, len(normals)), normals
    slope = -normal[owner, 0] / normal[owner, 2]
    fall = -normal[owner, 1] / normal[owner, 2]
    depth = point[owner, 2] + slope * (left + 0.5 - point[owner, 0]) + fall * (row + 0.5 - point[owner, 1])
    return _Spans(row * wide + left, right - left, depth, slope, owner.astype(np.int32))


def _points(faces: Faces, count: int) -> Array:
    """A point of every face."""
    points = np.zeros((count, 3))
    points[faces.face] = faces.start
    return points


def normals_of(faces: Faces, count: int) -> Array:
    """Twice the area of every face along its outward normal, shape (count, 3)."""
    normals = np.zeros((count, 3))
    middle = _points(faces, count)[faces.face]  # near the face, so that small faces far away lose no digits
    turned = np.cross(faces.start - middle, faces.stop - middle)
    for k in range(3):
        normals[:, k] = np.bincount(faces.face, weights=turned[:, k], minlength=count)
    return normals

"""Area, centre and second moments of outlines with openings, exactly, by Green's sums over their corners."""

import numpy as np

from gantrywright.base.units import Array, FourthMetre, SquareMetre
from gantrywright.theory.sections.outline import Outline, Ring


def second_moments(outline: Outline) -> tuple[SquareMetre, tuple[float, float], tuple[FourthMetre, FourthMetre, FourthMetre]]:
    """Area, centre (width, height) and the moments Ixx, Iyy, Ixy about the centre, x along the width.

    Ixx is the integral of y2 dA: it resists bending in the plane of the height.
    """
    total = np.abs(_sums(outline.ring)[0]) / _sums(outline.ring)[0] * _sums(outline.ring)
    for opening in outline.openings:
        sums = _sums(opening)
        total = total - np.sign(sums[0]) * sums
    area, sx, sy, xx, yy, xy = (float(value) for value in total)
    cx, cy = sx / area, sy / area
    return area, (cx, cy), (yy - area * cy * cy, xx - area * cx * cx, xy - area * cx * cy)


def _sums(ring: Ring) -> Array:
    """Integrals over the ring of 1, x, y, x2, y2, xy; negative for a clockwise ring."""
    points = np.asarray(ring)
    x, y = points[:, 0], points[:, 1]
    u, v = np.roll(x, -1), np.roll(y, -1)
    cross = x * v - u * y
    return np.array(
        [
            cross.sum() / 2.0,
            ((x + u) * cross).sum() / 6.0,
            ((y + v) * cross).sum() / 6.0,
            ((x * x + x * u + u * u) * cross).sum() / 12.0,
            ((y * y + y * v + v * v) * cross).sum() / 12.0,
            ((x * v + 2.0 * x * y + 2.0 * u * v + u * y) * cross).sum() / 24.0,
        ]
    )

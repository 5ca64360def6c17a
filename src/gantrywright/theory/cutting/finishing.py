"""What a light last pass makes of a wall: how much to leave for it, and what a second pass on the same line still takes.

For cutters with one helix from the tip up. All of it is elementwise, but the second pass is a search: for typical values.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Radian, Real
from gantrywright.theory.cutting.edges import end_mill
from gantrywright.theory.cutting.engagement import Way, engagement
from gantrywright.theory.cutting.forces import Coefficients
from gantrywright.theory.cutting.wall import WallError, wall_error

HALVINGS = 12
"""Of what was left, until the width that the second pass really takes is known to a four-thousandth of it."""


@dataclass(frozen=True, slots=True)
class SpringPass:
    """A second pass on the line of the first."""

    width: Metre
    """That it really takes, mean over the height; 0 where the cutter rubs or finds nothing."""
    error: Metre
    """Mean error of the wall after it."""


def errors_by_width(
    *, cut: Coefficients, widths: Sequence[float], depth: Metre, diameter: Metre, helix: Radian, flutes: int, feed_per_tooth: Metre,
    run_out: Metre, run_out_angle: Radian, give: Array, way: Way,
) -> Array:  # fmt: skip
    """Worst error of a wall for several widths of the pass that makes it.

    Args:
        cut: Coefficients.
        widths: Of the pass.
        depth: Of cut, along the spindle.
        diameter: Of the cutter.
        helix: Positive lifts the chip.
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth.
        run_out: Eccentricity.
        run_out_angle: Where it points, from tooth 0.
        give: As of `wall.wall_error`, shape (..., 3, 3).
        way: Climb or conventional.

    Returns:
        With their signs, shape (..., widths).
    """
    found = [
        np.asarray(_made(cut, width, depth, diameter, helix, flutes, feed_per_tooth, run_out, run_out_angle, give, way).worst)
        for width in widths
    ]
    return np.stack(found, axis=-1)


@formula("greatest a_e with |e| within tolerance for it and all smaller ones", source="derived")
def finishing_width(*, tolerance: Metre, widths: Array, errors: Array) -> Metre:
    """Most that may be left for the last pass.

    Args:
        tolerance: Of the wall.
        widths: Looked at, ascending, shape (w,).
        errors: Worst error of the wall at each, shape (..., w).

    Returns:
        One of the widths; 0 where even the least of them is too much.
    """
    kept = np.logical_and.accumulate(np.abs(errors) <= np.asarray(tolerance)[..., None], axis=-1)
    width: Real = np.where(kept, widths, 0.0).max(axis=-1)[()]
    return width


@formula("w = -e_1 + e_2(w)", source="derived")
def spring_pass(
    *, left: Metre, cut: Coefficients, depth: Metre, diameter: Metre, helix: Radian, flutes: int, feed_per_tooth: Metre, run_out: Metre,
    run_out_angle: Radian, give: Array, way: Way,
) -> SpringPass:  # fmt: skip
    """Second pass on the same line: it meets what the first one left, and is pushed off again by its edges.

    Args:
        left: Mean error of the first pass; only where it is negative is anything left.
        cut: Coefficients.
        depth: Of cut, along the spindle.
        diameter: Of the cutter.
        helix: Positive lifts the chip.
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth.
        run_out: Eccentricity; the first pass had it too.
        run_out_angle: Where it points, from tooth 0.
        give: As of `wall.wall_error`, shape (..., 3, 3).
        way: Climb or conventional.

    Returns:
        The width it takes and the error that stays.
    """
    there: Real = np.maximum(-left, 0.0)
    low, high = 0.0 * there, 1.0 * there
    for _ in range(HALVINGS):
        width = (low + high) / 2
        off = _made(cut, width, depth, diameter, helix, flutes, feed_per_tooth, run_out, run_out_angle, give, way).mean
        enough = there + np.minimum(off, 0.0) > width
        low, high = np.where(enough, width, low), np.where(enough, high, width)
    taken: Real = np.where(low > 0, (low + high) / 2, 0.0)[()]
    return SpringPass(taken, np.where(there > 0, taken - there, left)[()])


def _made(
    cut: Coefficients, width: Metre, depth: Metre, diameter: Metre, helix: Radian, flutes: int, feed_per_tooth: Metre, run_out: Metre,
    run_out_angle: Radian, give: Array, way: Way,
) -> WallError:  # fmt: skip
    start, stop = engagement(diameter=diameter, width=width, way=way)
    edge = end_mill(depth=depth, diameter=diameter, helix=helix, start=start, stop=stop)
    return wall_error(
        cut=cut,
        edge=edge,
        flutes=flutes,
        feed_per_tooth=feed_per_tooth,
        run_out=run_out,
        run_out_angle=run_out_angle,
        give=give,
        way=way,
    )

"""Wood is cut along its grain with less force than across it: what a tooth meets as it turns, and what a whole cut meets.

The grain angle is that from the feed to the grain, counter-clockwise seen from above. In a slot the thick part of the chip is cut at right
angles to the feed: a slot along the grain is therefore cut mostly across the fibres.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Number, Pascal, Radian, Real

LEAST_ARC = 1e-4
"""Arc below which the share is that at the place of entering, rad: a quotient of two nothings would tell none."""


@formula("s = sin^2(phi + gamma)", source="derived")
def across_share(*, angle: Radian, grain_angle: Radian) -> Number:
    """How far a tooth cuts across the fibres: 0 along them, 1 at right angles.

    Args:
        angle: Of the tooth, clockwise from the left of the feed.
        grain_angle: From the feed to the grain, counter-clockwise.

    Returns:
        Share, from 0 to 1.
    """
    share: Real = np.sin(angle + grain_angle) ** 2
    return share


@formula("K = K_along + (K_across - K_along) s", source="derived")
def blend(*, along: Pascal, across: Pascal, share: Number) -> Pascal:
    """Coefficient between that along the grain and that across it.

    Args:
        along: Coefficient where the edge moves along the fibres.
        across: Coefficient where it cuts them at right angles.
        share: How far it cuts across them.

    Returns:
        Coefficient.
    """
    return along + (across - along) * share


@formula("s = int sin(phi) sin^2(phi + gamma) / int sin(phi), from entering to leaving", source="derived")
def chip_share(*, grain_angle: Radian, start: Radian, stop: Radian) -> Number:
    """How far the chip of a whole cut is cut across the fibres: what power and mean shear force go by.

    Args:
        grain_angle: From the feed to the grain, counter-clockwise.
        start: Angle at which a tooth enters.
        stop: Angle at which it leaves.

    Returns:
        Share, from 0 to 1.

    Example:
        >>> round(float(chip_share(grain_angle=0.0, start=0.0, stop=np.pi)), 6)
        0.666667
    """
    twice, stop = 2 * grain_angle, np.maximum(stop, start + LEAST_ARC)
    weight = np.cos(start) - np.cos(stop)
    slow, quick = np.cos(stop + twice) - np.cos(start + twice), np.cos(3 * stop + twice) - np.cos(3 * start + twice)
    share: Real = 0.5 - (slow - quick / 3) / (4 * weight)
    return share


@formula("s = int sin^2(phi + gamma) / (phi_ex - phi_st)", source="derived")
def edge_share(*, grain_angle: Radian, start: Radian, stop: Radian) -> Number:
    """How far the engaged edge of a whole cut moves across the fibres: what the mean edge force goes by.

    Args:
        grain_angle: From the feed to the grain, counter-clockwise.
        start: Angle at which a tooth enters.
        stop: Angle at which it leaves.

    Returns:
        Share, from 0 to 1.
    """
    twice, stop = 2 * grain_angle, np.maximum(stop, start + LEAST_ARC)
    share: Real = 0.5 - (np.sin(2 * stop + twice) - np.sin(2 * start + twice)) / (4 * (stop - start))
    return share


@formula("K = K_along + (K_across - K_along) s, s weighted by the chip", source="derived")
def effective(*, along: Pascal, across: Pascal, grain_angle: Radian, start: Radian, stop: Radian) -> Pascal:
    """Shear coefficient that gives the power of a cut at an angle to the grain.

    Args:
        along: Coefficient where the edge moves along the fibres.
        across: Coefficient where it cuts them at right angles.
        grain_angle: From the feed to the grain, counter-clockwise.
        start: Angle at which a tooth enters.
        stop: Angle at which it leaves.

    Returns:
        Coefficient.
    """
    return blend(along=along, across=across, share=chip_share(grain_angle=grain_angle, start=start, stop=stop))

"""Life of guide blocks: a distance, always with the distance that the rating refers to."""

import numpy as np

from gantrywright.base.errors import OutOfRange
from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, MetrePerSecond, Newton, Number
from gantrywright.base.values import Rating

BALL = 3.0
ROLLER = 10 / 3


@formula("L10 = (C/P)^3 L_ref", source="iso-14728-1")
def rating_life(*, rating: Rating, load: Newton, exponent: Number = BALL) -> Metre:
    """Distance that 90 % of blocks survive under a load.

    Args:
        rating: Dynamic rating with its own reference distance; one that refers to turns or to nothing is refused.
        load: Equivalent load, load factor included.
        exponent: 3 for balls, 10/3 for rollers.

    Example:
        >>> float(rating_life(rating=Rating(13.7e3, "distance", 100e3), load=900.0).round(-5))
        352700000.0
    """
    if rating.basis != "distance" or not np.all(np.asarray(rating.reference) > 0):
        raise OutOfRange("basis", rating.basis, "", "distance", "the life of a guide is a distance; say what the rating refers to")
    return (rating.force / np.maximum(load, 1e-9)) ** exponent * rating.reference


@formula("C_b = C_a (L_a/L_b)^(1/3)", source="iso-14728-1")
def rating_at(*, rating: Rating, reference: Metre, exponent: Number = BALL) -> Newton:
    """The same rating for another reference distance: 50 km instead of 100 km gives 1.26 times the figure for balls."""
    return rating.force * (rating.reference / reference) ** (1 / exponent)


@formula("Pm = (sum P_i^3 s_i/sum s_i)^(1/3)", source="iso-14728-1")
def cube_mean(*, loads: Array, shares: Array, exponent: Number = BALL) -> Newton:
    """Constant load that wears as much as loads that change over the distance.

    Args:
        loads: Magnitudes; the last axis runs over the shares.
        shares: Of the distance, shape (n_shares,).
    """
    wear = loads * loads * loads if np.all(np.asarray(exponent) == BALL) else loads**exponent  # a power costs ten products
    mean: Array = (wear @ shares / shares.sum()) ** (1 / exponent)
    return mean if mean.ndim else float(mean)


@formula("Pm = ((P2^4 - P1^4)/(4 (P2 - P1)))^(1/3)", source="derived")
def cube_mean_of_ramp(*, least: Newton, most: Newton) -> Newton:
    """Cube mean of a load that grows evenly from one magnitude to another; exact.

    The printed short form (least + 2 most)/3 is up to 8 % above it.
    """
    return ((least**3 + least**2 * most + least * most**2 + most**3) / 4) ** (1 / 3)


@formula("t = L/v", source="definition")
def life_hours(*, life: Metre, mean_speed: MetrePerSecond) -> Number:
    """Hours of running at a mean speed."""
    return life / mean_speed / 3600

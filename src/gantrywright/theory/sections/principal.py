"""Principal axes of a section: those in which it bends straight."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import FourthMetre, Radian, SquareMetre

STRAIGHT = 1e-6
"""A product smaller than this part of the sum of both second moments is rounding."""


@formula("tan 2 a = 2 P/(I_h - I_w), -45 to 45 degrees", source="derived")
def principal_turn(*, second_moment_height: FourthMetre, second_moment_width: FourthMetre, product: FourthMetre) -> Radian:
    """Turn that brings height and width onto the principal axes, from the height towards the width.

    Args:
        second_moment_height: Integral of the height squared over the area, about the centroid.
        second_moment_width: The same of the width.
        product: Integral of height times width.

    Returns:
        The smaller of the two turns that do it; 0 where the axes are principal ones already.

    Source:
        Derived: rotation of axes (the circle of Mohr).

    Example:
        >>> float(np.degrees(principal_turn(second_moment_height=3.0, second_moment_width=1.0, product=1.0)))
        22.5
    """
    unlike = np.asarray(second_moment_height, dtype=float) - second_moment_width
    small = np.abs(product) <= STRAIGHT * (np.asarray(second_moment_height) + second_moment_width)
    turn: Radian = np.where(small, 0.0, np.arctan2(2 * product * np.where(unlike < 0, -1.0, 1.0), np.abs(unlike)) / 2)[()]
    return turn


@formula("I_a = I_h cos2 a + I_w sin2 a + P sin 2 a", source="derived")
def turned_second_moment(*, own: FourthMetre, other: FourthMetre, product: FourthMetre, turn: Radian) -> FourthMetre:
    """Second moment of the axis that another one becomes when it is turned.

    Args:
        own: Of the axis before.
        other: Of the axis square to it.
        product: Of both, of the sign that a turn from the first towards the second has.
        turn: By so much.

    Source:
        Derived: rotation of axes (the circle of Mohr).
    """
    return own * np.cos(turn) ** 2 + other * np.sin(turn) ** 2 + product * np.sin(2 * turn)


@formula("1/A_a = cos2 a/A_h + sin2 a/A_w", source="derived")
def turned_shear_area(*, own: SquareMetre, other: SquareMetre, turn: Radian) -> SquareMetre:
    """Shear area for a force along an axis that is turned.

    Args:
        own: Along the axis before.
        other: Along the axis square to it.
        turn: By so much.

    Source:
        Derived: energy of the two parts of the force; what they have in common is left out, which is up to 6 % for angles.
    """
    area: SquareMetre = 1 / (np.cos(turn) ** 2 / np.asarray(own) + np.sin(turn) ** 2 / np.asarray(other))
    return area

"""Closed formulas of plain sections: rectangles, rounded tubes and round bars."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import FourthMetre, KilogramPerCubicMetre, KilogramPerMetre, Metre, Number, SquareMetre

SERIES_TERMS = 12
"""Terms of the torsion series; the last one is below 1e-8 of the sum."""
RECTANGLE_SHEAR = 5.0 / 6.0
"""Shear area of a rectangle over its area (parabolic shear stress)."""


@formula("r = 2 t to 6 mm wall, 2.5 t to 10 mm, 3 t above", source="en-10219-2")
def hollow_corner_radius(*, wall: Metre) -> Metre:
    """Outer corner radius of a cold-formed hollow section whose radius nobody gave.

    Args:
        wall: Wall thickness.

    Returns:
        Outer radius; the inner one is smaller by the wall.

    Source:
        [en-10219-2].

    Example:
        >>> float(hollow_corner_radius(wall=0.004))
        0.008
    """
    wall = np.asarray(wall)
    return np.where(wall <= 6.0e-3 + 1e-9, 2.0, np.where(wall <= 10.0e-3 + 1e-9, 2.5, 3.0)) * wall


@formula("A = b h - (4 - pi) r^2", source="derived")
def rounded_area(*, width: Metre, height: Metre, radius: Metre) -> SquareMetre:
    """Area of a rectangle with rounded corners.

    Args:
        width: One side.
        height: The other side.
        radius: Corner radius.

    Returns:
        Area.

    Source:
        Derived: a square corner less its quarter circle, four times.
    """
    return width * height - (4.0 - np.pi) * np.square(radius)


@formula(
    "I = b h^3/12 - 4 [(1/3 - pi/16 - 1/(36 - 9 pi)) r^4 + (1 - pi/4) r^2 (h/2 - c r)^2],  c = (10 - 3 pi)/(12 - 3 pi)",
    source="derived",
)
def rounded_second_moment(*, width: Metre, height: Metre, radius: Metre) -> FourthMetre:
    """Second moment of a rectangle with rounded corners, for bending in the plane of its height.

    Args:
        width: Side across the plane of bending.
        height: Side in the plane of bending.
        radius: Corner radius.

    Returns:
        Second moment of area.

    Source:
        Derived: a rectangle less four corner spandrels about its middle.
    """
    spandrel = (1.0 / 3.0 - np.pi / 16.0 - 1.0 / (36.0 - 9.0 * np.pi)) * radius**4
    lever = height / 2.0 - (10.0 - 3.0 * np.pi) / (12.0 - 3.0 * np.pi) * radius
    return width * height**3 / 12.0 - 4.0 * (spandrel + (1.0 - np.pi / 4.0) * np.square(radius) * np.square(lever))


@formula(
    "J = a b^3/3 [1 - 192/pi^5 (b/a) sum tanh(n pi a/2 b)/n^5], n = 1, 3, 5 ...; a the longer side", source="timoshenko-goodier"
)
def rectangle_torsion(*, width: Metre, height: Metre) -> FourthMetre:
    """Torsion constant of a solid rectangle.

    Args:
        width: One side.
        height: The other side.

    Returns:
        Torsion constant.

    Source:
        [timoshenko-goodier].

    Example:
        >>> round(float(rectangle_torsion(width=1.0, height=2.0)) / 2.0, 6)
        0.228682
    """
    longer, shorter = np.maximum(width, height), np.minimum(width, height)
    total: Number = 0.0
    for n in range(1, 2 * SERIES_TERMS, 2):
        total = total + np.tanh(n * np.pi * longer / (2.0 * shorter)) / n**5
    constant: FourthMetre = longer * shorter**3 / 3.0 * (1.0 - 192.0 / np.pi**5 * shorter / longer * total)
    return constant


@formula("I = pi/64 (d^4 - di^4);  J = 2 I", source="derived")
def ring_second_moment(*, outer: Metre, inner: Metre) -> FourthMetre:
    """Second moment of a round bar or tube about any diameter; its torsion constant is twice that.

    Args:
        outer: Outer diameter.
        inner: Inner diameter, 0 for a solid bar.

    Returns:
        Second moment of area.

    Source:
        Derived.
    """
    return np.pi / 64.0 * (outer**4 - inner**4)


@formula("As = A 6 (1 + nu)^2/(7 + 14 nu + 8 nu^2)", source="renton-1991")
def round_shear_area(*, area: SquareMetre, poisson: Number) -> SquareMetre:
    """Shear area of a solid round bar, energy-exact.

    Args:
        area: Its area.
        poisson: Poisson's ratio.

    Returns:
        Shear area, 0.85 of the area at 0.3.

    Source:
        [renton-1991].
    """
    return area * 6.0 * (1.0 + poisson) ** 2 / (7.0 + 14.0 * poisson + 8.0 * poisson**2)


@formula("m' = rho A", source="definition")
def mass_per_length(*, density: KilogramPerCubicMetre, area: SquareMetre) -> KilogramPerMetre:
    """Mass of a bar per length.

    Args:
        density: Of its material.
        area: Of its section.

    Returns:
        Mass per length.

    Source:
        Definition.
    """
    return density * area

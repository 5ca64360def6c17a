"""How a cutter bends: a stepped round cantilever from the collet face to the tip."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, MetrePerNewton, Number, Pascal, Radian
from gantrywright.theory.sections.plain import ring_second_moment


@formula("d_b = k d", source="common practice, no source")
def bending_diameter(*, diameter: Metre, core: Number) -> Metre:
    """Diameter of the plain round bar that bends like the fluted part of a cutter.

    Args:
        diameter: Of the outline of the fluted part.
        core: Share that is left of it, about 0.8.

    Returns:
        Diameter of the round bar.

    Source:
        Common practice; the flutes take away about 60 % of the second moment.

    Example:
        >>> round(bending_diameter(diameter=0.006, core=0.8) * 1e3, 2)
        4.8
    """
    return core * diameter


@formula(
    "d_m = (1/L) integral over L of min(d_0 + 2 x tan(p/2), d_1);  d_0 = d if d < d_s else 0, d_1 = max(d, d_s)", source="derived"
)
def pointed_diameter(*, diameter: Metre, shank: Metre, point: Radian, length: Metre) -> Metre:
    """Mean diameter of the outline of a pointed cutter over its fluted part.

    A V bit and a drill start from a point and grow to their diameter; an engraving point starts from its diameter, which is that of
    its tip, and grows towards the shank.

    Args:
        diameter: Of the cutter's row.
        shank: Of its shank.
        point: Included angle.
        length: Of the fluted part.

    Returns:
        Mean diameter. A cone has no stiffness at its very tip; its mean stands for a cut that reaches some way up.

    Source:
        Derived.

    Example:
        >>> round(float(pointed_diameter(diameter=0.012, shank=0.006, point=1.0471975511965976, length=0.010392304845413264)) * 1e3, 3)
        6.0
    """
    start = np.where(np.asarray(diameter) < shank, diameter, 0.0)
    full = np.maximum(diameter, shank)
    slope = 2 * np.tan(np.asarray(point) / 2)
    cone = np.minimum((full - start) / slope, length)
    mean: Metre = (start * cone + slope * cone**2 / 2 + full * (length - cone)) / length
    return mean


@formula("d/F = 1/(3 E) [l_f^3/I_f + ((l_s + l_f)^3 - l_f^3)/I_s]", source="derived")
def stepped_give(
    *, shank_length: Metre, shank_diameter: Metre, flute_length: Metre, flute_diameter: Metre, elastic_modulus: Pascal
) -> MetrePerNewton:
    """Sideways give of a cutter's tip against its collet, bending alone.

    Args:
        shank_length: Of the plain shank from the collet face to the flutes; 0 where the flutes begin in the collet.
        shank_diameter: Of the shank.
        flute_length: From there to the tip.
        flute_diameter: Of the round bar that bends like the fluted part.
        elastic_modulus: Of the cutter.

    Returns:
        Deflection per force at the tip.

    Source:
        Derived: integral of the squared moment over the two parts.

    Example:
        >>> give = stepped_give(
        ...     shank_length=0.0, shank_diameter=0.006, flute_length=0.03, flute_diameter=0.006, elastic_modulus=600e9
        ... )
        >>> round(float(give) * 1e6, 5)  # L^3/(3 E I) in um/N
        0.23579
    """
    flute = flute_length**3 / ring_second_moment(outer=flute_diameter, inner=0.0)
    shank = ((shank_length + flute_length) ** 3 - flute_length**3) / ring_second_moment(outer=shank_diameter, inner=0.0)
    return (flute + shank) / (3 * elastic_modulus)

"""What the slots of a profile cost: its stiffness beside that of a plain tube of the same outer size and the same area of metal."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import FourthMetre, Metre, Number, SquareMetre
from gantrywright.theory.sections.all_values import all_values
from gantrywright.theory.sections.properties import Geometry


@formula("t = [b + h - sqrt((b + h)^2 - 4 A)]/4", source="derived")
def tube_wall(*, width: Metre, height: Metre, area: SquareMetre) -> Metre:
    """Wall of a plain tube of a given outer size and area, with square corners.

    Args:
        width: Outer width.
        height: Outer height.
        area: Area of metal; at most the box.

    Returns:
        Wall thickness.

    Source:
        Derived: the box less its hollow.

    Example:
        >>> round(float(tube_wall(width=0.08, height=0.08, area=1216e-6)), 6)
        0.004
    """
    return (width + height - np.sqrt(np.maximum((width + height) ** 2 - 4.0 * area, 0.0))) / 4.0


@formula("I = [b h^3 - (b - 2t)(h - 2t)^3]/12", source="derived")
def tube_second_moment(*, width: Metre, height: Metre, wall: Metre) -> FourthMetre:
    """Second moment of a plain tube with square corners, for bending in the plane of its height.

    Args:
        width: Side across the plane of bending.
        height: Side in the plane of bending.
        wall: Wall thickness.

    Returns:
        Second moment of area.

    Source:
        Derived.
    """
    return (width * height**3 - (width - 2.0 * wall) * (height - 2.0 * wall) ** 3) / 12.0


@formula("J = 4 Am^2 t/s,  Am = (b - t)(h - t),  s = 2 (b + h - 2t)", source="bredt-1896")
def tube_torsion(*, width: Metre, height: Metre, wall: Metre) -> FourthMetre:
    """Torsion constant of a plain tube with square corners by the middle line of its wall; 2 to 5 % low for walls of trade tubes.

    Args:
        width: Outer width.
        height: Outer height.
        wall: Wall thickness.

    Returns:
        Torsion constant.

    Source:
        [bredt-1896].

    Example:
        >>> round(tube_torsion(width=0.08, height=0.08, wall=0.004) * 1e12)
        1755904
    """
    return 2.0 * wall * ((width - wall) * (height - wall)) ** 2 / (width + height - 2.0 * wall)


@formula("I/It,  It of a tube of the same outer size and area", source="derived")
def bending_against_tube(*, second_moment: FourthMetre, width: Metre, height: Metre, area: SquareMetre) -> Number:
    """Bending stiffness of a profile over that of a plain tube of the same outer size and area.

    Args:
        second_moment: Of the profile, for bending in the plane of ``height``.
        width: Its side across the plane of bending.
        height: Its side in the plane of bending.
        area: Its area.

    Returns:
        Share.

    Source:
        Derived.
    """
    wall = tube_wall(width=width, height=height, area=area)
    return second_moment / tube_second_moment(width=width, height=height, wall=wall)


@formula("J/Jt,  Jt = 4 Am^2 t/s of a tube of the same outer size and area", source="bredt-1896")
def torsion_against_tube(*, torsion: FourthMetre, width: Metre, height: Metre, area: SquareMetre) -> Number:
    """Torsional stiffness of a profile over that of a plain tube of the same outer size and area.

    Args:
        torsion: Torsion constant of the profile.
        width: Its width.
        height: Its height.
        area: Its area.

    Returns:
        Share.

    Source:
        [bredt-1896].

    Example:
        A heavy 80 x 160 with slots:

        >>> round(float(torsion_against_tube(torsion=321e-8, width=0.08, height=0.16, area=4692e-6)), 2)
        0.31
    """
    wall = tube_wall(width=width, height=height, area=area)
    return torsion / tube_torsion(width=width, height=height, wall=wall)


@dataclass(frozen=True, slots=True)
class AgainstTube:
    """Shares of the stiffness of a plain tube of the same outer size and area.

    Attributes:
        bending_height: Bending in the plane of the height.
        bending_width: Bending in the plane of the width.
        torsion: Twisting.
    """

    bending_height: Number
    bending_width: Number
    torsion: Number


def against_tube(geometry: Geometry) -> AgainstTube:
    """What the slots of a profile leave of the stiffness of a plain tube of the same outer size and area.

    Args:
        geometry: A shape with width and height.

    Example:
        >>> slotted = Geometry(shape="tslot", width=0.04, height=0.08, module=0.04, slot=0.0082, slot_inner=0.02, slot_depth=0.01225,
        ...     bore=0.0068, boss=0.00525, lip=0.0032, wall=0.0012, shell=0.00095, web=0.00145, radius=0.002)
        >>> shares = against_tube(slotted)
        >>> round(float(shares.bending_height), 2), round(float(shares.torsion), 2)
        (0.8, 0.15)
    """
    values = all_values(geometry)
    width, height = geometry.width or 0.0, geometry.height or 0.0
    return AgainstTube(
        bending_against_tube(second_moment=values.second_moment_height, width=width, height=height, area=values.area),
        bending_against_tube(second_moment=values.second_moment_width, width=height, height=width, area=values.area),
        torsion_against_tube(torsion=values.torsion, width=width, height=height, area=values.area),
    )

"""Stiffness of a slotted profile of which only the outer size and the mass per length are known.

The shares that these take have been found from the drawn profiles of the parts tables; their bands hold all of them.
"""

from gantrywright.base.formula import formula
from gantrywright.base.units import FourthMetre, KilogramPerCubicMetre, KilogramPerMetre, Metre, Number, SquareMetre
from gantrywright.theory.sections.against_tube import tube_torsion, tube_wall


@formula("A = m'/rho", source="definition")
def area_by_mass(*, mass_per_length: KilogramPerMetre, density: KilogramPerCubicMetre) -> SquareMetre:
    """Area of metal of a profile by what it weighs.

    Args:
        mass_per_length: Of the profile.
        density: Of its material.

    Returns:
        Area.

    Source:
        Definition.
    """
    return mass_per_length / density


@formula("I = c A d^2", source="tslot-geometry")
def slotted_second_moment(*, share: Number, area: SquareMetre, depth: Metre) -> FourthMetre:
    """Second moment of a slotted profile by its area and depth.

    Args:
        share: Square of the radius of gyration over that of the depth, about 0.1.
        area: Area of metal.
        depth: Outer size in the plane of bending.

    Returns:
        Second moment of area.

    Source:
        [tslot-geometry].
    """
    return share * area * depth**2


@formula("J = c 4 Am^2 t/s,  tube of the same outer size and area", source="tslot-geometry")
def slotted_torsion(*, share: Number, area: SquareMetre, width: Metre, height: Metre) -> FourthMetre:
    """Torsion constant of a slotted profile by what slots leave of that of a plain tube.

    Args:
        share: Share that slots leave: 0.06 for one module, 0.17 for one row of modules, 0.28 for more.
        area: Area of metal.
        width: Outer width.
        height: Outer height.

    Returns:
        Torsion constant.

    Source:
        [tslot-geometry].
    """
    return share * tube_torsion(width=width, height=height, wall=tube_wall(width=width, height=height, area=area))


@formula("As = c A", source="tslot-geometry")
def slotted_shear_area(*, share: Number, area: SquareMetre) -> SquareMetre:
    """Shear area of a slotted profile.

    Args:
        share: Shear area over area.
        area: Area of metal.

    Returns:
        Shear area.

    Source:
        [tslot-geometry].
    """
    return share * area

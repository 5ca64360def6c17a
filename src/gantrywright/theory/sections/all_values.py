"""All values of a section that the structure asks for, those that need a mesh among them."""

from dataclasses import dataclass
from functools import cache

from gantrywright.base.units import FourthMetre, SquareMetre
from gantrywright.theory.sections.properties import (
    Geometry,
    section_properties,
    section_shear_areas,
    section_shear_centre,
    section_torsion,
)


@dataclass(frozen=True, slots=True)
class SectionValues:
    """What the structure asks of a section.

    Attributes:
        area: Area.
        second_moment_height: Resists bending in the plane of the height.
        second_moment_width: Resists bending in the plane of the width.
        product: Product of inertia about the centroid.
        centre_width: Centroid from the middle of the section's box.
        centre_height: The same along the height.
        torsion: Torsion constant.
        shear_width: Shear area for a force along the width.
        shear_height: Shear area for a force along the height.
        shear_centre_width: Shear centre from the middle of the section's box.
        shear_centre_height: The same along the height.
    """

    area: SquareMetre
    second_moment_height: FourthMetre
    second_moment_width: FourthMetre
    product: FourthMetre
    centre_width: float
    centre_height: float
    torsion: FourthMetre
    shear_width: SquareMetre
    shear_height: SquareMetre
    shear_centre_width: float
    shear_centre_height: float


@cache
def all_values(geometry: Geometry) -> SectionValues:
    """Every value of a section; 20 to 150 ms for a shape that needs a mesh, then remembered.

    Raises:
        OutOfRange: The shape cannot be drawn from its figures.
    """
    found = section_properties(geometry, density=1.0)
    across, up = section_shear_areas(geometry)
    centre = section_shear_centre(geometry)
    return SectionValues(
        float(found.area), float(found.second_moment_height), float(found.second_moment_width), float(found.product),
        float(found.centre[0]), float(found.centre[1]), float(section_torsion(geometry)), float(across), float(up),
        float(centre[0]), float(centre[1]),
    )  # fmt: skip

"""Sections of bars: outline, area, second moments, torsion, shear, shear centre and mass from geometry."""

from gantrywright.theory.sections.against_tube import (
    AgainstTube,
    against_tube,
    bending_against_tube,
    torsion_against_tube,
)
from gantrywright.theory.sections.all_values import SectionValues, all_values
from gantrywright.theory.sections.finite_elements import Warping, shear_areas, shear_centre, torsion_constant, warping
from gantrywright.theory.sections.outline import Outline, Ring
from gantrywright.theory.sections.properties import (
    Geometry,
    SectionProperties,
    section_outline,
    section_properties,
    section_shear_areas,
    section_shear_centre,
    section_torsion,
)

__all__ = [
    "AgainstTube",
    "Geometry",
    "Outline",
    "Ring",
    "SectionProperties",
    "SectionValues",
    "Warping",
    "against_tube",
    "all_values",
    "bending_against_tube",
    "section_outline",
    "section_properties",
    "section_shear_areas",
    "section_shear_centre",
    "section_torsion",
    "shear_areas",
    "shear_centre",
    "torsion_against_tube",
    "torsion_constant",
    "warping",
]

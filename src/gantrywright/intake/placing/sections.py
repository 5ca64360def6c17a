"""Section rows as the sections of bars."""

from functools import cache

from gantrywright.base.errors import OutOfRange
from gantrywright.catalog import kinds
from gantrywright.intake.placing.world import World
from gantrywright.model.bodies import Section
from gantrywright.theory.sections.outline import Outline
from gantrywright.theory.sections.polygon import second_moments
from gantrywright.theory.sections.properties import Geometry, section_properties, section_shear_areas, section_torsion

FIGURES = (
    "width", "height", "wall", "radius", "module", "slot", "slot_inner", "slot_depth", "bore", "boss", "lip", "shell", "web",
)  # fmt: skip
CLOSED_FORM = ("flat", "bar", "round")
"""Shapes whose torsion needs no mesh; that of all others is worked out when the structure asks for it."""


def section_of(row: kinds.Section, where: str, world: World) -> Section:
    """The section of a row; a problem of its shape is told."""
    given = {name: getattr(row, name) for name in FIGURES}
    if row.shape == "round" and given["height"] is None:
        given["height"] = given["width"]
    geometry = Geometry(shape=row.shape, **given)
    if geometry.missing:
        raise world.problem(f"{where}.section", f"a {row.shape} cannot be drawn: lacks {', '.join(geometry.missing)}")
    try:
        return _section(row.id or row.shape, geometry)
    except OutOfRange as error:
        raise world.problem(f"{where}.section", str(error)) from None


@cache
def _section(name: str, geometry: Geometry) -> Section:
    found = section_properties(geometry, density=1.0)
    height = geometry.height or 0.0
    plain = geometry.shape in CLOSED_FORM
    shear = section_shear_areas(geometry) if plain and geometry.shape != "round" else (None, None)
    return Section(
        name=name, shape=geometry.shape, height=height, width=geometry.width or height, area=found.area,
        second_moment_height=found.second_moment_height, second_moment_width=found.second_moment_width,
        torsion=section_torsion(geometry) if plain else None, shear_height=shear[1], shear_width=shear[0],
        mass_per_length=found.area, outline=found.outline.ring, openings=found.outline.openings, cores=found.cores,
    )  # fmt: skip


@cache
def hollow_area(section: Section) -> float:
    """Area inside a hollow section that a filling takes, m2."""
    return sum(float(second_moments(Outline(ring))[0]) for ring in section.openings)

"""Section rows as the sections of bars."""

from functools import cache, partial

from gantrywright.base.errors import OutOfRange
from gantrywright.catalog import kinds
from gantrywright.intake.placing.known_sections import LENGTHS, values_of
from gantrywright.intake.placing.world import World
from gantrywright.model.bodies import Section
from gantrywright.theory.sections.outline import Outline
from gantrywright.theory.sections.polygon import second_moments
from gantrywright.theory.sections.properties import Geometry, section_cores, section_outline


def section_of(row: kinds.Section, where: str, world: World) -> Section:
    """The section of a row; a problem of its shape is told."""
    geometry = geometry_of(row)
    if geometry.missing:
        raise world.problem(f"{where}.section", f"a {row.shape} cannot be drawn: lacks {', '.join(geometry.missing)}")
    try:
        return _section(row.id or row.shape, geometry)
    except OutOfRange as error:
        raise world.problem(f"{where}.section", str(error)) from None


def geometry_of(row: kinds.Section) -> Geometry:
    """The figures of a row that fix its shape."""
    given = {name: getattr(row, name) for name in LENGTHS}
    if row.shape == "round" and given["height"] is None:
        given["height"] = given["width"]
    return Geometry(shape=row.shape, **given)


@cache
def _section(name: str, geometry: Geometry) -> Section:
    values = values_of(geometry)
    height = geometry.height or 0.0
    return Section(
        name=name, shape=geometry.shape, height=height, width=geometry.width or height, area=values.area,
        second_moment_height=values.second_moment_height, second_moment_width=values.second_moment_width, torsion=values.torsion,
        shear_height=values.shear_height, shear_width=values.shear_width, product=values.product,
        centre=(values.centre_width, values.centre_height), shear_centre=(values.shear_centre_width, values.shear_centre_height),
        cores=section_cores(geometry), draw=partial(section_outline, geometry),
    )  # fmt: skip


def hollow_area(section: Section) -> float:
    """Area inside a hollow section that a filling takes, m2."""
    return sum(_area(ring) for ring in section.openings)


@cache
def _area(ring: tuple[tuple[float, float], ...]) -> float:
    return float(second_moments(Outline(ring))[0])

"""Section rows as the sections of bars."""

from dataclasses import replace
from functools import cache, partial

from gantrywright.base.errors import OutOfRange
from gantrywright.catalog import kinds
from gantrywright.intake.outlines import OutlineTrouble, read_outline
from gantrywright.intake.outlines.rings import box_of
from gantrywright.intake.placing.known_sections import LENGTHS, values_of
from gantrywright.intake.placing.slotted import QUANTITIES, can_be_estimated, estimated
from gantrywright.intake.placing.world import Unplaced, World
from gantrywright.model.bodies import Section
from gantrywright.theory.sections.outline import Outline
from gantrywright.theory.sections.polygon import second_moments
from gantrywright.theory.sections.properties import Geometry, section_cores, section_outline

SIZE_AGREES = 0.01
"""A size that is given beside an outline may differ from the drawn one by this share."""


EXAMPLES = {"wall": "3 mm (2.5..3.5)", "web": "4 mm (3.5..4.5)"}
"""What to write where a figure of a section is missing; of all others a size without a band."""


def section_of(row: kinds.Section, where: str, world: World) -> Section:
    """The section of a row; a problem of its shape is told."""
    geometry = geometry_of(row)
    if row.shape == "outline" or row.outline:
        geometry = _by_outline(row, geometry, where, world)
    if geometry.missing:
        return _estimated(row, geometry, where, world)
    try:
        section = _section(row.id or row.shape, geometry)
    except OutOfRange as error:
        raise world.problem(f"{where}.section", str(error)) from None
    given = {name: getattr(row, name) for name in ("area", *QUANTITIES)}
    given = {name: value for name, value in given.items() if value is not None}
    return replace(section, **given) if given else section


def _estimated(row: kinds.Section, geometry: Geometry, where: str, world: World) -> Section:
    """The section of a row that lacks what it takes to draw it, where it knows enough to estimate; else a problem."""
    place = f"{where}.section"
    if can_be_estimated(row):
        density = world.density(row.material, place) if row.material else None
        found = estimated(row, density, place, world.doubts)
        if found is not None:
            return found
        raise world.problem(place, "lacks material: its density turns mass_per_length into the area of metal")
    if _told(where, geometry.missing, world):
        raise Unplaced(place)
    words = f"a {row.shape} cannot be drawn: lacks {', '.join(geometry.missing)}"
    if row.shape == "tslot":
        words += "; with width, height and mass_per_length alone it is estimated"
    example = ", ".join(f'{name} = "{EXAMPLES.get(name, "40 mm")}"' for name in geometry.missing)
    words += f". A size cannot be unknown: write what you measure, or guess with a band, such as {example}, or the name of a section of the tables"
    raise world.problem(place, words)


def _told(where: str, missing: tuple[str, ...], world: World) -> bool:
    """Whether it was told already that a figure that a section of this body lacks cannot be read."""
    body = where.partition(".")[0]
    spoilt = [problem.path for problem in world.reading.problems if problem.path.startswith(f"{body}.")]
    return any(path.rpartition(".")[2] in missing for path in spoilt)


def geometry_of(row: kinds.Section) -> Geometry:
    """The figures of a row that fix its shape."""
    given = {name: getattr(row, name) for name in LENGTHS}
    if row.shape == "round" and given["height"] is None:
        given["height"] = given["width"]
    return Geometry(shape=row.shape, **given)


def _by_outline(row: kinds.Section, geometry: Geometry, where: str, world: World) -> Geometry:
    """The geometry of a section whose outline stands in a file; what the row says of its size must agree with it."""
    place = f"{where}.section.outline"
    if row.shape != "outline":
        raise world.problem(place, f'a {row.shape} is drawn from its figures; a section from a file has shape = "outline"')
    if not row.outline:
        raise world.problem(place, 'missing; it names a DXF drawing or a points file beside this machine, such as "profile.dxf"')
    try:
        outline = read_outline(row.outline, world.reading.document.path.parent)
    except OutlineTrouble as trouble:
        raise world.problem_once(place, str(trouble)) from None
    size = box_of(outline.ring)
    for name, drawn in zip(("width", "height"), size, strict=True):
        given = getattr(geometry, name)
        if given is not None and abs(given - drawn) > SIZE_AGREES * drawn:
            words = f"the outline's {name} is {world.said(drawn)}, but {name} says {world.said(given)}"
            raise world.problem(f"{where}.section.{name}", words)
    return Geometry(shape="outline", width=size[0], height=size[1], points=outline.ring, openings=outline.openings)


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

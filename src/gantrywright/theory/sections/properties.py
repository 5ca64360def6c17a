"""From the figures of a section row to everything that the structure, the drawings and the mass roll-up ask of it."""

import math
from dataclasses import dataclass
from functools import cache
from typing import Literal

from gantrywright.base.errors import OutOfRange
from gantrywright.base.units import FourthMetre, KilogramPerCubicMetre, KilogramPerMetre, Metre, SquareMetre
from gantrywright.theory.sections import shapes
from gantrywright.theory.sections.finite_elements import POISSON, warping
from gantrywright.theory.sections.outline import Outline, Ring
from gantrywright.theory.sections.plain import (
    RECTANGLE_SHEAR,
    mass_per_length,
    rectangle_torsion,
    ring_second_moment,
    round_shear_area,
    rounded_area,
    rounded_second_moment,
)
from gantrywright.theory.sections.polygon import second_moments
from gantrywright.theory.sections.tslot import TSlot, core_places, tslot_outline

Shape = Literal["tube", "tslot", "flat", "bar", "round", "angle", "channel", "i-beam", "outline"]

NEEDS: dict[str, tuple[str, ...]] = {
    "tube": ("width", "height", "wall"),
    "tslot": ("width", "height", "module", "slot", "slot_inner", "slot_depth", "bore", "boss", "lip", "wall", "shell", "web"),
    "flat": ("width", "height"),
    "bar": ("width", "height"),
    "round": ("height",),
    "angle": ("width", "height", "wall"),
    "channel": ("width", "height", "wall", "web"),
    "i-beam": ("width", "height", "wall", "web"),
    "outline": (),
}
"""Figures without which a shape cannot be drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Geometry:
    """The figures of a section row that fix its shape, m; their meaning is that of the columns of ``section.csv``."""

    shape: str
    width: float | None = None
    height: float | None = None
    wall: float | None = None
    radius: float | None = None
    module: float | None = None
    slot: float | None = None
    slot_inner: float | None = None
    slot_depth: float | None = None
    bore: float | None = None
    boss: float | None = None
    lip: float | None = None
    shell: float | None = None
    web: float | None = None
    points: Ring = ()
    """Corners of an ``outline``, (width, height)."""
    openings: tuple[Ring, ...] = ()

    @property
    def missing(self) -> tuple[str, ...]:
        """Figures that the shape needs and that nobody gave."""
        return tuple(name for name in NEEDS.get(self.shape, ()) if getattr(self, name) is None)


@dataclass(frozen=True, slots=True)
class SectionProperties:
    """What the geometry of a section gives at once; torsion and shear areas cost a mesh and are asked for apart.

    Attributes:
        area: Area.
        second_moment_height: Resists bending in the plane of the height.
        second_moment_width: Resists bending in the plane of the width.
        product: Product of inertia; not zero where the two axes are not principal axes (angles).
        mass_per_length: Mass per length of the given density.
        centre: Centroid from the middle of the section's box, (width, height).
        outline: Outer ring and openings about the middle of the box.
        cores: Middles of the bores that can be tapped at the ends.
    """

    area: SquareMetre
    second_moment_height: FourthMetre
    second_moment_width: FourthMetre
    product: FourthMetre
    mass_per_length: KilogramPerMetre
    centre: tuple[float, float]
    outline: Outline
    cores: tuple[tuple[float, float], ...] = ()


def section_properties(geometry: Geometry, *, density: KilogramPerCubicMetre) -> SectionProperties:
    """Area, second moments, mass per length, outline and cores of a section.

    Args:
        geometry: Shape and figures; ``geometry.missing`` must be empty.
        density: Of its material; may hold samples.

    Returns:
        Everything that needs no mesh.

    Raises:
        OutOfRange: A figure is missing or the shape cannot be drawn from them.

    Example:
        >>> tube = section_properties(Geometry(shape="tube", width=0.05, height=0.05, wall=0.003), density=7850.0)
        >>> round(tube.area * 1e6, 1), round(tube.mass_per_length, 3), round(tube.second_moment_height * 1e8, 2)
        (540.8, 4.245, 19.47)
    """
    area, height, width, product, centre = _moments(geometry)
    return SectionProperties(
        area,
        height,
        width,
        product,
        mass_per_length(density=density, area=area),
        centre,
        section_outline(geometry),
        section_cores(geometry),
    )


@cache
def section_outline(geometry: Geometry) -> Outline:
    """Outer ring and openings about the middle of the section's box, (width, height) points, m."""
    if geometry.missing:
        raise OutOfRange(
            geometry.missing[0], "nothing", "", "what a section needs", f"a {geometry.shape} cannot be drawn without it"
        )
    g = {name: getattr(geometry, name) or 0.0 for name in ("width", "height", "wall", "web", "radius")}
    match geometry.shape:
        case "tube":
            return shapes.tube_outline(g["width"], g["height"], g["wall"], geometry.radius)
        case "flat" | "bar":
            return Outline(shapes.box_ring(g["width"], g["height"]))
        case "round":
            return shapes.round_outline(g["height"], geometry.wall)
        case "angle":
            return shapes.angle_outline(g["width"], g["height"], g["wall"], g["radius"])
        case "channel":
            return shapes.channel_outline(g["width"], g["height"], g["wall"], g["web"], g["radius"])
        case "i-beam":
            return shapes.beam_outline(g["width"], g["height"], g["wall"], g["web"], g["radius"])
        case "tslot":
            return tslot_outline(_tslot(geometry))
        case "outline" if len(geometry.points) >= 3:
            return Outline(geometry.points, geometry.openings)
        case _:
            raise OutOfRange("shape", geometry.shape, "", f"one of {', '.join(NEEDS)}", "no outline can be drawn")


def needs_mesh(geometry: Geometry) -> bool:
    """Whether torsion and shear areas of a shape have no closed form here."""
    return geometry.shape not in ("flat", "bar") and not (geometry.shape == "round" and not geometry.wall)


@cache
def section_torsion(geometry: Geometry) -> FourthMetre:
    """Torsion constant of a section: exact for rectangles and round bars, else from a mesh (20 to 150 ms, then remembered)."""
    if geometry.shape in ("flat", "bar") and geometry.width and geometry.height:
        return float(rectangle_torsion(width=geometry.width, height=geometry.height))
    if geometry.shape == "round":
        return 2.0 * _moments(geometry)[1]
    return warping(section_outline(geometry)).torsion


@cache
def section_shear_areas(geometry: Geometry) -> tuple[SquareMetre, SquareMetre]:
    """Shear areas for forces along the width and along the height; from the same mesh as the torsion constant."""
    if not needs_mesh(geometry):
        area = _moments(geometry)[0]
        shear = round_shear_area(area=area, poisson=POISSON) if geometry.shape == "round" else RECTANGLE_SHEAR * area
        return shear, shear
    found = warping(section_outline(geometry))
    return found.shear_width, found.shear_height


@cache
def section_shear_centre(geometry: Geometry) -> tuple[Metre, Metre]:
    """Shear centre from the middle of the section's box, (width, height); from the same mesh as the torsion constant."""
    if geometry.shape in ("flat", "bar", "round", "tube", "i-beam", "tslot"):
        return 0.0, 0.0
    return warping(section_outline(geometry)).shear_centre


@cache
def _moments(geometry: Geometry) -> tuple[SquareMetre, FourthMetre, FourthMetre, FourthMetre, tuple[float, float]]:
    """Area, second moments for the planes of height and width, product, centre; closed forms where the outline has arcs."""
    outline = section_outline(geometry)
    area, centre, (height, width, product) = second_moments(outline)
    if geometry.shape == "tube" and geometry.width and geometry.height and geometry.wall:
        return (*_tube(geometry.width, geometry.height, geometry.wall, geometry.radius), 0.0, (0.0, 0.0))
    if geometry.shape == "round" and geometry.height:
        inner = geometry.height - 2 * geometry.wall if geometry.wall else 0.0
        moment = ring_second_moment(outer=geometry.height, inner=inner)
        return math.pi / 4 * (geometry.height**2 - inner**2), moment, moment, 0.0, (0.0, 0.0)
    return area, height, width, product, centre


def _tube(width: float, height: float, wall: float, radius: float | None) -> tuple[float, float, float]:
    """Area and second moments of a tube with rounded corners, exactly."""
    outer, inner = shapes.tube_radii(width, height, wall, radius)
    b, h = width - 2 * wall, height - 2 * wall
    return (
        float(rounded_area(width=width, height=height, radius=outer) - rounded_area(width=b, height=h, radius=inner)),
        float(
            rounded_second_moment(width=width, height=height, radius=outer) - rounded_second_moment(width=b, height=h, radius=inner)
        ),
        float(
            rounded_second_moment(width=height, height=width, radius=outer) - rounded_second_moment(width=h, height=b, radius=inner)
        ),
    )


def _tslot(geometry: Geometry) -> TSlot:
    g = {name: getattr(geometry, name) or 0.0 for name in (*NEEDS["tslot"], "radius")}
    g["skin"] = g.pop("wall")
    return TSlot(**g)


def section_cores(geometry: Geometry) -> tuple[tuple[float, float], ...]:
    """Middles of the bores of a T-slot profile from the middle of its box, (width, height), m; of other shapes there are none."""
    return core_places(_tslot(geometry)) if geometry.shape == "tslot" else ()

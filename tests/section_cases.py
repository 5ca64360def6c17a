"""Sections in the units that tables print, for the check values: mm, mm2, cm4."""

import csv
from pathlib import Path

import gantrywright
from gantrywright.theory.sections import (
    Geometry,
    Outline,
    SectionProperties,
    section_properties,
    section_shear_areas,
    section_torsion,
    torsion_constant,
)

LENGTHS = ("width", "height", "wall", "radius", "module", "slot", "slot_inner", "slot_depth", "bore", "boss", "lip", "shell", "web")


def geometry(shape: str, **millimetres: float) -> Geometry:
    return Geometry(shape=shape, **{name: value / 1e3 for name, value in millimetres.items()})


def tube(**given: float) -> tuple[Geometry, SectionProperties]:
    found = geometry("tube", **given)
    return found, section_properties(found, density=7850.0)


def tube_area(**given: float) -> float:
    return tube(**given)[1].area * 1e6


def tube_moments(**given: float) -> tuple[float, float]:
    found = tube(**given)[1]
    return found.second_moment_height * 1e8, found.second_moment_width * 1e8


def tube_mass(*, density: float, **given: float) -> float:
    return section_properties(tube(**given)[0], density=density).mass_per_length


def tube_torsion(**given: float) -> float:
    return section_torsion(tube(**given)[0]) * 1e8


def tube_shear_shares(**given: float) -> tuple[float, float]:
    shape, found = tube(**given)
    across, up = section_shear_areas(shape)
    return across / found.area, up / found.area


def slit_tube_torsion(*, side: float, wall: float, slit: float) -> float:
    outer, inner, half = side / 2e3, (side / 2 - wall) / 1e3, slit / 2e3
    ring = (
        (outer, half), (outer, outer), (-outer, outer), (-outer, -outer), (outer, -outer), (outer, -half),
        (inner, -half), (inner, -inner), (-inner, -inner), (-inner, inner), (inner, inner), (inner, half),
    )  # fmt: skip
    return torsion_constant(outline=Outline(ring)) * 1e8


def rolled(shape: str, **given: float) -> tuple[float, float, float]:
    """Area in cm2, second moments for the planes of height and width in cm4."""
    found = section_properties(geometry(shape, **given), density=7850.0)
    return found.area * 1e4, found.second_moment_height * 1e8, found.second_moment_width * 1e8


def packaged_rows() -> dict[str, dict[str, str]]:
    path = Path(gantrywright.__file__).parent / "data" / "parts" / "section.csv"
    with path.open(encoding="utf-8", newline="") as lines:
        return {row["id"]: row for row in csv.DictReader(lines)}


def packaged(name: str) -> Geometry:
    row = packaged_rows()[name]
    return geometry(row["shape"], **{key: float(row[f"{key} [mm]"]) for key in LENGTHS if row[f"{key} [mm]"]})

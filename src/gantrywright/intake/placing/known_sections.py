"""Values of the packaged sections, worked out beforehand: no mesh is made and nothing is drawn while a machine is placed.

``data/section_values.csv`` is written by ``docs/generate_sections.py`` from the packaged parts table. A row is found by its figures, not by
its name, so that a section with one figure changed is not taken for the packaged one.
"""

from functools import cache
from importlib import resources

from gantrywright.theory.sections.all_values import SectionValues, all_values
from gantrywright.theory.sections.properties import Geometry, needs_mesh

TABLE = "section_values.csv"
LENGTHS = (
    "width", "height", "wall", "radius", "module", "slot", "slot_inner", "slot_depth", "bore", "boss", "lip", "shell", "web",
)  # fmt: skip
"""Figures of a section row that fix its shape."""
COLUMNS: dict[str, tuple[str, float]] = {
    "area": ("mm2", 1e-6), "second_moment_height": ("mm4", 1e-12), "second_moment_width": ("mm4", 1e-12), "product": ("mm4", 1e-12),
    "centre_width": ("mm", 1e-3), "centre_height": ("mm", 1e-3), "torsion": ("mm4", 1e-12), "shear_width": ("mm2", 1e-6),
    "shear_height": ("mm2", 1e-6), "shear_centre_width": ("mm", 1e-3), "shear_centre_height": ("mm", 1e-3),
}  # fmt: skip
"""Values of the table with their unit and its factor to SI, in the order of `SectionValues`."""


def values_of(geometry: Geometry) -> SectionValues:
    """Every value of a section: from the table where it is there, by closed forms where there are any, else from a mesh.

    Raises:
        OutOfRange: The shape cannot be drawn from its figures.
    """
    known = known_values(geometry) if needs_mesh(geometry) else None
    return known if known is not None else all_values(geometry)


@cache
def known_values(geometry: Geometry) -> SectionValues | None:
    """Values of a section that the table has; None where it has none."""
    cells = _table().get(figures_of(geometry)) if not geometry.points else None
    if cells is None:
        return None
    return SectionValues(*(float(cell) * factor for cell, (_, factor) in zip(cells.split(","), COLUMNS.values(), strict=True)))


def figures_of(geometry: Geometry) -> str:
    """The shape and its figures in millimetres as one text."""
    given = ((name, getattr(geometry, name)) for name in LENGTHS)
    return " ".join([geometry.shape, *(f"{name}={value * 1e3:.6g}" for name, value in given if value is not None)])


@cache
def _table() -> dict[str, str]:
    """The values of each shape as one text: only the few that are asked for are taken apart."""
    text = resources.files("gantrywright.data").joinpath(TABLE).read_text("utf-8")
    return {figures: values for _, figures, values in (line.split(",", 2) for line in text.splitlines()[1:])}

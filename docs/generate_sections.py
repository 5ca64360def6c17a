"""Writes data/section_values.csv: torsion, shear and all other values of packaged sections, and usual inch tubes, that need a mesh.

python docs/generate_sections.py

It takes half a minute. Run it after a change of the packaged sections or of how sections are drawn; a law test tells when it is due.
"""

import csv
import io
import sys
from pathlib import Path

from gantrywright.catalog import kinds
from gantrywright.catalog.tables import Catalog, record_of
from gantrywright.intake.placing.known_sections import COLUMNS, TABLE, figures_of
from gantrywright.intake.placing.sections import geometry_of
from gantrywright.theory.sections.all_values import all_values
from gantrywright.theory.sections.properties import Geometry, needs_mesh

WHERE = Path(__file__).parents[1] / "src" / "gantrywright" / "data" / TABLE


INCH = 25.4e-3
INCH_TUBES = (
    (1, 1),
    (1.25, 1.25),
    (1.5, 1.5),
    (2, 2),
    (2.5, 2.5),
    (3, 3),
    (4, 4),
    (1, 2),
    (1.5, 2),
    (1.5, 3),
    (2, 3),
    (2, 4),
    (3, 4),
    (2, 6),
)
"""Sides of the tubes that are usual in inches; nobody names them by a row, they are given by their sides."""
INCH_WALLS = (1 / 16, 0.083, 0.120, 1 / 8, 3 / 16, 1 / 4)


def known_shapes() -> dict[str, tuple[str, Geometry]]:
    """Every shape of the table that needs a mesh: figures to the first row of the parts table that has them and its geometry."""
    found: dict[str, tuple[str, Geometry]] = {}
    for row in Catalog().rows("section"):
        section = record_of(row)
        assert isinstance(section, kinds.Section)
        geometry = geometry_of(section)
        if needs_mesh(geometry):
            found.setdefault(figures_of(geometry), (row.id, geometry))
    for sides in INCH_TUBES:
        for wall in INCH_WALLS:
            for width, height in sorted({sides, sides[::-1]}):
                tube = Geometry(shape="tube", width=width * INCH, height=height * INCH, wall=wall * INCH)
                if 2 * wall < min(sides):
                    found.setdefault(figures_of(tube), ("", tube))
    return found


def text() -> str:
    """The whole table."""
    written = io.StringIO()
    out = csv.writer(written, lineterminator="\n")
    out.writerow(["id", "figures", *(f"{name} [{unit}]" for name, (unit, _) in COLUMNS.items())])
    for figures, (id, geometry) in known_shapes().items():
        values = all_values(geometry)
        out.writerow([id, figures, *(_number(getattr(values, name) / factor) for name, (_, factor) in COLUMNS.items())])
    return written.getvalue()


def _number(value: float) -> str:
    return "0" if abs(value) < 1e-6 else f"{value:.9g}"


if __name__ == "__main__":
    WHERE.write_text(text(), "utf-8")
    sys.exit(0)

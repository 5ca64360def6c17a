"""Writes data/section_values.csv: torsion, shear and all other values of the packaged sections that need a mesh.

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


def packaged_shapes() -> dict[str, tuple[str, Geometry]]:
    """Every shape of the packaged sections that needs a mesh: figures to the first row that has them and its geometry."""
    found: dict[str, tuple[str, Geometry]] = {}
    for row in Catalog().rows("section"):
        section = record_of(row)
        assert isinstance(section, kinds.Section)
        geometry = geometry_of(section)
        if needs_mesh(geometry):
            found.setdefault(figures_of(geometry), (row.id, geometry))
    return found


def text() -> str:
    """The whole table."""
    written = io.StringIO()
    out = csv.writer(written, lineterminator="\n")
    out.writerow(["id", "figures", *(f"{name} [{unit}]" for name, (unit, _) in COLUMNS.items())])
    for figures, (id, geometry) in packaged_shapes().items():
        values = all_values(geometry)
        out.writerow([id, figures, *(_number(getattr(values, name) / factor) for name, (_, factor) in COLUMNS.items())])
    return written.getvalue()


def _number(value: float) -> str:
    return "0" if abs(value) < 1e-6 else f"{value:.9g}"


if __name__ == "__main__":
    WHERE.write_text(text(), "utf-8")
    sys.exit(0)

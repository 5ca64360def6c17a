"""Runs the independent section program on outlines, in a process of its own: its mesher can take the whole process down.

Reads outlines in millimetres as JSON from standard input, writes area, torsion constant, shear areas, centroid and shear centre.
"""

import json
import sys
import warnings

import shapely

POISSON = 0.3


def worked_out(ring: list[list[float]], openings: list[list[list[float]]]) -> dict[str, object]:
    from sectionproperties.analysis import Section
    from sectionproperties.pre import Geometry, Material

    shape = shapely.Polygon(ring, openings)
    metal = Material(name="", elastic_modulus=1.0, poissons_ratio=POISSON, yield_strength=1.0, density=1.0, color="w")
    drawn = Geometry(shape, material=metal)
    thickness = 2 * shape.area / shape.length
    drawn.create_mesh(mesh_sizes=[0.08 * thickness**2])
    section = Section(drawn)
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    return {
        "area": section.get_ea(), "torsion": section.get_ej(), "shear": section.get_eas(), "centre": section.get_c(),
        "shear_centre": section.get_sc(),
    }  # fmt: skip


def plain(value: object) -> object:
    return [float(part) for part in value] if isinstance(value, tuple) else float(value)  # type: ignore[arg-type]


if __name__ == "__main__":
    warnings.filterwarnings("ignore")
    found = [worked_out(**outline) for outline in json.load(sys.stdin)]
    print(json.dumps([{name: plain(value) for name, value in one.items()} for one in found]))

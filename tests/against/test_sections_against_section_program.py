"""Torsion, shear areas and shear centres against an independent section program with its own mesher, on the same outlines."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from gantrywright.theory.sections import Geometry, Outline, section_outline, section_properties, warping
from section_cases import geometry, packaged

PROGRAM = Path(__file__).with_name("section_program.py")
SLIT = Outline((
    (30.0, 1.0), (30.0, 30.0), (-30.0, 30.0), (-30.0, -30.0), (30.0, -30.0), (30.0, -1.0),
    (27.0, -1.0), (27.0, -27.0), (-27.0, -27.0), (-27.0, 27.0), (27.0, 27.0), (27.0, 1.0),
))  # fmt: skip
PROFILES = [
    f"tslot-{size}-{weight}" for size in ("40x80", "45x90", "80x80", "80x160") for weight in ("light", "heavy")
]  # fmt: skip
SHAPES: dict[str, Geometry] = {
    **{name: packaged(name) for name in PROFILES},
    "tube 50x50x3": geometry("tube", width=50, height=50, wall=3),
    "sharp tube 80x80x4": geometry("tube", width=80, height=80, wall=4, radius=0),
    "IPE 100": geometry("i-beam", width=55, height=100, wall=5.7, web=4.1, radius=7),
    "UPE 100": geometry("channel", width=55, height=100, wall=7.5, web=4.5, radius=10),
    "L 50x50x5": geometry("angle", width=50, height=50, wall=5, radius=7),
    "L 40x60x5": geometry("angle", width=40, height=60, wall=5, radius=6),
}


@pytest.fixture(scope="module")
def program() -> dict[str, dict[str, Any]]:
    """What the program says of all shapes."""
    pytest.importorskip("sectionproperties")
    outlines = [section_outline(shape) for shape in SHAPES.values()] + [scaled(SLIT)]
    asked = [
        {"ring": (np.array(o.ring) * 1e3).tolist(), "openings": [(np.array(ring) * 1e3).tolist() for ring in o.openings]}
        for o in outlines
    ]
    run = subprocess.run([sys.executable, str(PROGRAM)], input=json.dumps(asked), capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr[-2000:]
    return dict(zip([*SHAPES, "slit"], json.loads(run.stdout.splitlines()[-1]), strict=True))


def scaled(outline: Outline) -> Outline:
    return Outline(tuple((x * 1e-3, y * 1e-3) for x, y in outline.ring))


@pytest.mark.slow
@pytest.mark.parametrize("name", SHAPES)
def test_torsion_shear_and_shear_centre(program: dict[str, dict[str, Any]], name: str) -> None:
    shape, other = SHAPES[name], program[name]
    found, drawn = warping(section_outline(shape)), section_properties(shape, density=1.0)
    # The shapes with closed formulas keep their arcs, which the outline has as chords.
    assert drawn.area * 1e6 == pytest.approx(other["area"], rel=5e-3)
    assert found.torsion * 1e12 == pytest.approx(other["torsion"], rel=3.5e-3)  # of which the program's own mesh has up to 3e-3
    assert found.shear_width * 1e6 == pytest.approx(other["shear"][0], rel=5e-3)
    assert found.shear_height * 1e6 == pytest.approx(other["shear"][1], rel=5e-3)
    assert np.array(found.shear_centre) * 1e3 == pytest.approx(np.array(other["shear_centre"]), abs=0.01)
    if shape.shape not in ("tube", "round"):
        assert np.array(drawn.centre) * 1e3 == pytest.approx(np.array(other["centre"]), abs=1e-3)


@pytest.mark.slow
def test_a_slit_tube(program: dict[str, dict[str, Any]]) -> None:
    found, other = warping(scaled(SLIT)), program["slit"]
    assert found.torsion * 1e12 == pytest.approx(other["torsion"], rel=3.5e-3)  # of which the program's own mesh has up to 3e-3
    assert np.array(found.shear_centre) * 1e3 == pytest.approx(np.array(other["shear_centre"]), rel=1e-3, abs=0.05)

"""The table of worked-out sections covers the packaged parts and is what the code would work out now."""

import importlib.util
import subprocess
import sys
from dataclasses import fields
from pathlib import Path

import pytest

from gantrywright.intake.placing.known_sections import COLUMNS, figures_of, known_values, values_of
from gantrywright.theory.sections import SectionValues, all_values, section_properties
from gantrywright.theory.sections.properties import Geometry, needs_mesh
from section_cases import packaged, packaged_rows

ROOT = Path(__file__).parents[2]
spec = importlib.util.spec_from_file_location("generate_sections", ROOT / "docs" / "generate_sections.py")
assert spec is not None
assert spec.loader is not None
generate = importlib.util.module_from_spec(spec)
spec.loader.exec_module(generate)

SHAPES = generate.known_shapes()
SAMPLE = sorted(SHAPES)[::37]
DUE = "run python docs/generate_sections.py"


def test_the_table_has_every_packaged_section_that_needs_a_mesh() -> None:
    shapes = [packaged(name) for name in packaged_rows()]
    meshed = [shape for shape in shapes if needs_mesh(shape)]
    assert len(meshed) > 500
    assert [figures_of(shape) for shape in meshed if known_values(shape) is None] == [], DUE


def test_the_table_has_no_row_that_nothing_asks_for() -> None:
    lines = generate.WHERE.read_text("utf-8").splitlines()
    assert {line.split(",")[1] for line in lines[1:]} == set(SHAPES), DUE
    assert lines[0].split(",")[2:] == [f"{name} [{unit}]" for name, (unit, _) in COLUMNS.items()]
    assert list(COLUMNS) == [field.name for field in fields(SectionValues)]


@pytest.mark.parametrize("figures", sorted(SHAPES))
def test_a_row_belongs_to_the_outline_as_it_is_drawn_now(figures: str) -> None:
    shape = SHAPES[figures][1]
    drawn, known = section_properties(shape, density=1.0), known_values(shape)
    assert known is not None
    assert known.area == pytest.approx(drawn.area, rel=1e-7), DUE
    assert known.second_moment_height == pytest.approx(drawn.second_moment_height, rel=1e-7), DUE
    assert known.second_moment_width == pytest.approx(drawn.second_moment_width, rel=1e-7), DUE
    assert (known.centre_width, known.centre_height) == pytest.approx(drawn.centre, abs=1e-9), DUE


@pytest.mark.parametrize("figures", SAMPLE)
def test_a_row_is_what_the_mesh_gives_now(figures: str) -> None:
    shape = SHAPES[figures][1]
    known, found = known_values(shape), all_values(shape)
    for field in fields(SectionValues):
        assert getattr(known, field.name) == pytest.approx(getattr(found, field.name), rel=1e-4, abs=1e-12), f"{field.name}: {DUE}"


def test_a_section_with_one_figure_changed_is_not_taken_for_the_packaged_one() -> None:
    tube = Geometry(shape="tube", width=0.05, height=0.05, wall=0.003)
    thinner = Geometry(shape="tube", width=0.05, height=0.05, wall=0.0029)
    assert known_values(tube) is not None
    assert known_values(thinner) is None
    assert values_of(thinner).torsion < values_of(tube).torsion


def test_a_machine_of_packaged_sections_is_placed_without_drawing() -> None:
    code = (
        "import sys\n"
        "from gantrywright.intake.resolve import load_machine\n"
        "m = load_machine(sys.argv[1])\n"
        "assert all(b.section.torsion > 0 and b.section.shear_height > 0 and b.section.shear_width > 0 for b in m.members)\n"
        "print('shapely' in sys.modules, any(b.section.shape == 'tslot' for b in m.members), len(m.members[0].section.outline))\n"
    )
    demo = ROOT / "src" / "gantrywright" / "data" / "demo" / "first-idea.toml"
    run = subprocess.run([sys.executable, "-c", code, str(demo)], capture_output=True, text=True, check=True)
    shapely, slotted, points = run.stdout.split()
    assert (shapely, slotted) == ("False", "True")
    assert int(points) >= 4

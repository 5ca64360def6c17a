"""Springs and materials of spindle, mount and cutter from the file."""

import numpy as np
import pytest
from placed import EXAMPLES, document, machine, problems_of, revised

from gantrywright.intake.document import revise
from gantrywright.intake.resolve import resolve
from gantrywright.model.bodies import JointStiffness
from gantrywright.model.electric import SpindleFit, ToolFit

NAME = "salvaged"


def fits(*edits: tuple[str, str | None]) -> tuple[SpindleFit, ToolFit]:
    found = revised(NAME, *edits)
    assert found.spindle is not None
    assert found.tool is not None
    return found.spindle, found.tool


@pytest.mark.parametrize("name", EXAMPLES)
def test_all_springs_are_there_without_a_word_in_the_file(name: str) -> None:
    found = machine(name)
    assert found.spindle is not None
    assert found.tool is not None
    assert found.spindle.mount == JointStiffness(n=300e6, a=300e6, b=300e6, rn=1e6, ra=1e6, rb=1e6)
    assert found.spindle.body is not None
    assert found.spindle.shaft is not None
    assert found.spindle.shaft.id == "steel"
    assert found.tool.material is not None
    assert found.tool.material.id == "carbide"
    for path in ("spindle.mount.stiffness.n", "spindle.part.bearing_radial", "spindle.part.collet_tilt", "tool.cutter.core"):
        stated = found.stated[path]
        assert stated.origin.kind in ("default", "row"), path
        assert found.spreads[path].low < stated.value < found.spreads[path].high, path


def test_what_the_file_says_of_a_mount_holds_for_the_ways_that_it_leaves_out() -> None:
    spindle, _ = fits(("spindle.mount.stiffness.n", "500 N/um"), ("spindle.mount.stiffness.ra", "2 MN m/rad"))
    assert spindle.mount == JointStiffness(n=500e6, a=500e6, b=500e6, rn=1e6, ra=2e6, rb=1e6)


def test_measured_springs_replace_those_of_the_row() -> None:
    spindle, tool = fits(("spindle.part.bearing_axial", "21 N/um"), ("tool.cutter.material", "high-speed-steel"))
    assert spindle.part.bearing_axial == 21e6
    assert tool.material is not None
    assert tool.material.modulus == 215e9


@pytest.mark.parametrize("path", ["spindle.part.material", "tool.cutter.material"])
def test_a_material_that_no_table_has_is_told(path: str) -> None:
    told = problems_of(NAME, (path, "steal"))
    assert len(told) == 1
    assert told[0].startswith(f"{path}: no material 'steal' in the parts tables; nearest: steel")


def test_springs_are_sampled_together() -> None:
    given = {"spindle.mount.stiffness.n": np.linspace(2e8, 4e8, 5), "spindle.part.shaft": np.linspace(0.02, 0.03, 5)}
    found = resolve(document(NAME), samples=given).spindle
    assert found is not None
    np.testing.assert_array_equal(found.mount.a, given["spindle.mount.stiffness.n"])
    np.testing.assert_array_equal(found.part.shaft, given["spindle.part.shaft"])


def test_an_uncertain_cutting_diameter_can_be_sampled() -> None:
    diameters = np.linspace(5.9e-3, 6.1e-3, 5)
    unsure = revise(document(NAME), (("tool.cutter.diameter", "6 mm (5.9..6.1)"),))
    found = resolve(unsure, samples={"tool.cutter.diameter": diameters})
    assert found.tool is not None
    np.testing.assert_array_equal(found.tool.cutter.diameter, diameters)
    solid = next(solid for solid in found.solids if solid.path == "tool.cutter")
    assert solid.size[1] == pytest.approx(6e-3)


def test_places_of_bearings_and_flutes_are_no_samples() -> None:
    for path in ("spindle.part.bearing_span", "spindle.part.overhang", "tool.cutter.flute_length"):
        assert revised(NAME, (path, "40 mm (30..50)")).spreads[path].placed, path


def test_cooling_is_that_of_the_part_until_the_file_says_another() -> None:
    assert fits(("spindle.cooling", None))[0].cooling == "water"
    assert fits(("spindle.cooling", "fan"))[0].cooling == "fan"
    assert fits(("spindle.cooling", None), ("spindle.part.cooling", "unknown"))[0].cooling == "", "unknown"

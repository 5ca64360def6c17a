"""Cutters as stepped cantilevers."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.tools import bending_diameter, pointed_diameter, stepped_give


@given(st.floats(1e-3, 0.03), st.floats(2e-3, 0.02), st.floats(2.0, 4.0))
def test_a_cutter_gives_as_the_cube_of_its_length_over_the_fourth_power_of_its_diameter(
    long: float, thick: float, times: float
) -> None:
    one, longer, thicker = (
        stepped_give(shank_length=a * long, shank_diameter=b * thick, flute_length=2 * a * long, flute_diameter=0.8 * b * thick,
                     elastic_modulus=600e9)
        for a, b in ((1.0, 1.0), (times, 1.0), (1.0, times))
    )  # fmt: skip
    assert longer / one == pytest.approx(times**3)
    assert thicker / one == pytest.approx(times**-4)


def test_the_seam_of_a_plain_round_bar_does_not_matter() -> None:
    places = np.linspace(0.0, 0.03, 7)
    give = stepped_give(
        shank_length=places, shank_diameter=0.006, flute_length=0.03 - places, flute_diameter=0.006, elastic_modulus=600e9
    )
    np.testing.assert_allclose(give, 0.03**3 / (3 * 600e9 * np.pi / 64 * 0.006**4))


def test_six_millimetres_of_carbide_with_flutes() -> None:
    """By slices: integral of the moment squared over the bending stiffness."""
    edges = np.linspace(0.0, 0.03, 30001)
    x = (edges[1:] + edges[:-1]) / 2  # from the tip
    second = np.pi / 64 * np.where(x < 0.021, bending_diameter(diameter=0.006, core=0.8), 0.006) ** 4
    by_slices = np.sum(x**2 / (600e9 * second)) * (edges[1] - edges[0])
    give = stepped_give(shank_length=0.009, shank_diameter=0.006, flute_length=0.021, flute_diameter=0.0048, elastic_modulus=600e9)
    assert give == pytest.approx(by_slices, rel=1e-4)
    assert 1e-6 / give == pytest.approx(2.8, rel=0.02)  # N/um


@pytest.mark.parametrize(
    ("diameter", "shank", "point", "length"),
    [(0.012, 0.006, 60.0, 0.0104), (0.0002, 0.003175, 20.0, 0.008), (0.006, 0.006, 118.0, 0.05), (0.02, 0.008, 90.0, 0.01)],
    ids=["v-bit", "engraving point", "drill", "wide v-bit"],
)
def test_the_mean_of_a_point_is_that_of_its_outline(diameter: float, shank: float, point: float, length: float) -> None:
    edges = np.linspace(0.0, length, 20001)
    x = (edges[1:] + edges[:-1]) / 2
    start = diameter if diameter < shank else 0.0
    outline = np.minimum(start + 2 * x * np.tan(np.radians(point) / 2), max(diameter, shank))
    found = pointed_diameter(diameter=diameter, shank=shank, point=np.radians(point), length=length)
    assert found == pytest.approx(outline.mean(), rel=1e-4)

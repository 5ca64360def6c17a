"""Sections: laws that hold for any outline, the trade's facts about T-slot profiles, and what is refused."""

import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gantrywright.base.errors import OutOfRange
from gantrywright.theory.sections import (
    Geometry,
    Outline,
    section_outline,
    section_properties,
    section_shear_areas,
    section_torsion,
    warping,
)
from gantrywright.theory.sections.polygon import second_moments
from section_cases import geometry, packaged, packaged_rows

# Trade sizes of T-slot profiles: kg/m, area mm2, strong and weak second moment cm4, torsion constant cm4, share of the torsion constant of a
# plain tube of the same area and outline. Computed by an independent section program on outlines drawn from the same thicknesses;
# the mass per length is common practice, no source.
TSLOTS = {
    "tslot-40x80-light": (2.63, 976, 61.4, 15.8, 8.43),
    "tslot-40x80-heavy": (4.08, 1510, 97.9, 25.3, 13.2),
    "tslot-45x90-light": (3.31, 1226, 95.4, 23.4, 14.4),
    "tslot-45x90-heavy": (4.75, 1761, 151.0, 36.6, 18.7),
    "tslot-80x80-light": (4.35, 1610, 107.0, 107.0, 57.3),
    "tslot-80x80-heavy": (6.82, 2526, 171.0, 171.0, 93.1),
    "tslot-80x160-light": (8.80, 3261, 813.0, 222.0, 219.0),
    "tslot-80x160-heavy": (12.67, 4692, 1185.0, 326.0, 321.0),
}


@pytest.mark.parametrize("name", TSLOTS)
def test_tslot_profiles_weigh_and_bend_as_the_trade_has_them(name: str) -> None:
    mass, area, strong, weak, torsion = TSLOTS[name]
    shape = packaged(name)
    found = section_properties(shape, density=2700.0)
    assert found.mass_per_length == pytest.approx(mass, rel=0.015)
    assert found.area * 1e6 == pytest.approx(area, rel=0.015)
    assert found.second_moment_height * 1e8 == pytest.approx(strong, rel=0.05)
    assert found.second_moment_width * 1e8 == pytest.approx(weak, rel=0.05)
    assert section_torsion(shape) * 1e8 == pytest.approx(torsion, rel=0.15)


@pytest.mark.parametrize("name", TSLOTS)
def test_slots_cost_most_of_the_torsion_of_a_plain_tube(name: str) -> None:
    shape = packaged(name)
    found = section_properties(shape, density=2700.0)
    walls = np.linspace(1e-4, min(shape.width, shape.height) / 2.01, 4000)
    areas = shape.width * shape.height - (shape.width - 2 * walls) * (shape.height - 2 * walls)
    wall = float(np.interp(found.area, areas, walls))
    tube = section_torsion(Geometry(shape="tube", width=shape.width, height=shape.height, wall=wall, radius=0.0))
    assert 0.14 < section_torsion(shape) / tube < 0.32, "structure of the trade: 15 to 31 %"


def test_a_heavy_80x160_takes_eight_end_screws() -> None:
    cores = section_properties(packaged("tslot-80x160-heavy"), density=2700.0).cores
    assert len(cores) == 8
    assert sorted({round(x, 6) for x, _ in cores}) == [-0.02, 0.02]
    assert sorted({round(y, 6) for _, y in cores}) == [-0.06, -0.02, 0.02, 0.06]
    assert packaged("tslot-80x160-heavy").bore == pytest.approx(6.8e-3), "tap drill of M8"


def test_a_lying_profile_is_the_standing_one_turned() -> None:
    standing = section_properties(packaged("tslot-80x160-heavy"), density=2700.0)
    lying = section_properties(packaged("tslot-160x80-heavy"), density=2700.0)
    assert lying.area == pytest.approx(standing.area, rel=1e-6)
    assert lying.second_moment_width == pytest.approx(standing.second_moment_height, rel=1e-6)
    across, up = section_shear_areas(packaged("tslot-80x160-heavy"))
    assert section_shear_areas(packaged("tslot-160x80-heavy")) == pytest.approx((up, across), rel=1e-3)


def test_every_packaged_section_can_be_drawn_and_weighed() -> None:
    for name, row in packaged_rows().items():
        found = section_properties(packaged(name), density=7850.0)
        box = float(row["width [mm]"]) * float(row["height [mm]"]) * 1e-6
        assert 0.0 < found.area <= box * (1 + 1e-9), name
        assert found.second_moment_height > 0.0, name
        points = np.array(found.outline.ring)
        size = np.ptp(points, axis=0) * 1e3
        assert size == pytest.approx([float(row["width [mm]"]), float(row["height [mm]"])], rel=5e-3), name


def test_mesh_agrees_with_the_series_of_the_rectangle() -> None:
    for height in (1.0, 2.0, 5.0):
        shape = Geometry(shape="bar", width=0.02, height=0.02 * height)
        assert warping(section_outline(shape)).torsion == pytest.approx(section_torsion(shape), rel=3e-3)


def test_mesh_agrees_with_the_round_tube() -> None:
    shape = Geometry(shape="round", height=0.06, wall=0.003)
    exact = np.pi / 32 * (0.06**4 - 0.054**4)
    assert section_torsion(shape) == pytest.approx(exact, rel=1e-12)
    assert warping(section_outline(shape)).torsion == pytest.approx(exact, rel=5e-3)


def test_shear_area_of_a_rectangle_is_near_five_sixths() -> None:
    shape = Geometry(shape="bar", width=0.02, height=0.06)
    mesh = warping(section_outline(shape))
    area = 0.02 * 0.06
    assert mesh.shear_height / area == pytest.approx(5 / 6, rel=5e-3)
    assert section_shear_areas(shape) == pytest.approx((area * 5 / 6, area * 5 / 6))


@settings(max_examples=15, deadline=None)
@given(scale=st.floats(0.2, 20.0), width=st.floats(0.03, 0.2), height=st.floats(0.03, 0.2), wall=st.floats(0.002, 0.006))
def test_a_section_twice_as_large_bends_sixteen_times_stiffer(scale: float, width: float, height: float, wall: float) -> None:
    small = Geometry(shape="tube", width=width, height=height, wall=wall, radius=0.0)
    large = Geometry(shape="tube", width=scale * width, height=scale * height, wall=scale * wall, radius=0.0)
    a, b = (section_properties(shape, density=1.0) for shape in (small, large))
    assert b.area == pytest.approx(a.area * scale**2)
    assert b.second_moment_height == pytest.approx(a.second_moment_height * scale**4)
    assert section_torsion(large) == pytest.approx(section_torsion(small) * scale**4, rel=2e-3)


@settings(max_examples=40, deadline=None)
@given(x=st.floats(-1.0, 1.0), y=st.floats(-1.0, 1.0))
def test_moments_are_about_the_centroid_wherever_the_outline_lies(x: float, y: float) -> None:
    ring = ((0.0, 0.0), (0.05, 0.0), (0.05, 0.01), (0.01, 0.01), (0.01, 0.08), (0.0, 0.08))
    area, centre, moments = second_moments(Outline(ring))
    moved = second_moments(Outline(tuple((a + x, b + y) for a, b in ring)))
    assert moved[0] == pytest.approx(area)
    assert moved[1] == pytest.approx((centre[0] + x, centre[1] + y))
    assert moved[2] == pytest.approx(moments, rel=1e-6, abs=1e-13)


def test_density_may_hold_samples() -> None:
    shape = Geometry(shape="flat", width=0.012, height=0.08)
    found = section_properties(shape, density=np.array([7800.0, 7900.0]))
    assert found.mass_per_length == pytest.approx(np.array([7800.0, 7900.0]) * 0.012 * 0.08)


def test_a_wall_that_fills_the_tube_is_refused() -> None:
    with pytest.raises(OutOfRange, match="wall"):
        section_properties(geometry("tube", width=20, height=40, wall=10), density=7850.0)


def test_a_missing_figure_is_named() -> None:
    shape = geometry("i-beam", width=50, height=100, wall=5)
    assert shape.missing == ("web",)
    with pytest.raises(OutOfRange, match="web"):
        section_outline(shape)


def test_an_unknown_shape_is_refused() -> None:
    with pytest.raises(OutOfRange, match="shape"):
        section_outline(Geometry(shape="star", width=0.05, height=0.05))


def test_outline_by_points_needs_no_other_figures() -> None:
    ring = ((0.0, 0.0), (0.04, 0.0), (0.04, 0.1), (0.0, 0.1))
    found = section_properties(Geometry(shape="outline", points=ring), density=1000.0)
    assert found.area == pytest.approx(0.004)
    assert found.centre == pytest.approx((0.02, 0.05))
    assert found.second_moment_height == pytest.approx(0.04 * 0.1**3 / 12)


def test_a_section_is_quick_and_remembered() -> None:
    shape = packaged("tslot-80x160-heavy")
    section_properties(shape, density=2700.0)
    start = time.perf_counter()
    for _ in range(1000):
        section_properties(shape, density=2700.0)
    assert (time.perf_counter() - start) / 1000 < 50e-6, "asked again it costs next to nothing"

"""Sections by routes that share nothing with the code under test: thin-wall theory, a raster count, tables of standards."""

import numpy as np
import pytest

from gantrywright.theory.sections import section_properties, section_shear_areas, section_torsion
from section_cases import geometry


def bredt(width: float, height: float, wall: float) -> float:
    enclosed = (width - wall) * (height - wall)
    return 4 * enclosed**2 * wall / (2 * (width - wall) + 2 * (height - wall))


@pytest.mark.parametrize(
    ("width", "height", "wall", "printed"), [(80, 80, 4, 1755904.0), (60, 60, 3, 555579.0), (50, 100, 3, 866020.0)]
)
def test_bredt_is_two_to_four_per_cent_low(width: float, height: float, wall: float, printed: float) -> None:
    thin = bredt(width, height, wall)
    assert thin == pytest.approx(printed, rel=1e-5)
    exact = section_torsion(geometry("tube", width=width, height=height, wall=wall, radius=0)) * 1e12
    assert 0.955 < thin / exact < 0.985


@pytest.mark.parametrize(("width", "height", "wall"), [(50, 50, 3), (40, 80, 3), (60, 60, 4), (100, 100, 5)])
def test_rounded_tube_against_the_formula_of_the_hollow_section_standard(width: float, height: float, wall: float) -> None:
    # EN 10219-2 annex: It = t3 h/3 + 2 K Ah, from memory
    corner = 1.5 * wall
    area = (width - wall) * (height - wall) - corner**2 * (4 - np.pi)
    line = 2 * (width - wall + height - wall) - 2 * corner * (4 - np.pi)
    printed = wall**3 * line / 3 + 2 * (2 * area * wall / line) * area
    assert section_torsion(geometry("tube", width=width, height=height, wall=wall)) * 1e12 == pytest.approx(printed, rel=0.01)


def test_tube_against_a_raster_count() -> None:
    width, height, wall, outer, inner, step = 50.0, 100.0, 4.0, 8.0, 4.0, 0.05
    x, y = np.meshgrid(np.arange(step / 2, width / 2, step), np.arange(step / 2, height / 2, step))

    def inside(b: float, h: float, r: float) -> np.ndarray:
        over = np.hypot(np.maximum(x - (b / 2 - r), 0), np.maximum(y - (h / 2 - r), 0))
        return (x < b / 2) & (y < h / 2) & (over <= r)

    metal = inside(width, height, outer) & ~inside(width - 2 * wall, height - 2 * wall, inner)
    found = section_properties(geometry("tube", width=width, height=height, wall=wall), density=7850.0)
    assert found.area * 1e6 == pytest.approx(4 * metal.sum() * step**2, rel=1e-3)
    assert found.second_moment_height * 1e12 == pytest.approx(4 * (y[metal] ** 2).sum() * step**2, rel=1e-3)
    assert found.second_moment_width * 1e12 == pytest.approx(4 * (x[metal] ** 2).sum() * step**2, rel=1e-3)


@pytest.mark.parametrize(
    ("shape", "printed"),
    [
        # torsion constants of EN 10365, cm4, from memory; the standard uses a formula for the fillets
        ({"width": 55, "height": 100, "wall": 5.7, "web": 4.1, "radius": 7}, 1.20),
        ({"width": 100, "height": 96, "wall": 8, "web": 5, "radius": 12}, 5.24),
        ({"width": 100, "height": 100, "wall": 10, "web": 6, "radius": 12}, 9.25),
    ],
)
def test_rolled_beams_twist_as_their_table_says(shape: dict[str, float], printed: float) -> None:
    assert section_torsion(geometry("i-beam", **shape)) * 1e8 == pytest.approx(printed, rel=0.03)


def test_shear_area_of_an_i_beam_is_near_its_web() -> None:
    shape = geometry("i-beam", width=55, height=100, wall=5.7, web=4.1, radius=7)
    web = 4.1e-3 * (100e-3 - 5.7e-3)
    assert section_shear_areas(shape)[1] == pytest.approx(web, rel=0.06)

"""Shear centres, shear areas and the comparison with a plain tube: closed forms of thin walls, symmetry, and what slots cost."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gantrywright.theory.sections import (
    Geometry,
    Outline,
    against_tube,
    section_outline,
    section_properties,
    section_shear_areas,
    section_shear_centre,
    section_torsion,
    shear_areas,
    shear_centre,
    torsion_constant,
    warping,
)
from gantrywright.theory.sections.against_tube import torsion_against_tube, tube_torsion, tube_wall
from gantrywright.theory.sections.plain import rectangle_torsion
from gantrywright.theory.sections.properties import needs_mesh
from section_cases import geometry, packaged

# Slotted profiles of the trade: kg/m, area mm2, second moments of height and width cm4, torsion constant cm4, and the share of the torsion
# constant of a plain tube of the same outer size and area. An independent section program on independently drawn outlines.
SLOTTED = {
    (40, 80): ((976, 8.43, 0.15), (1510, 13.2, 0.17)),
    (45, 90): ((1226, 14.4, 0.16), (1761, 18.7, 0.16)),
    (80, 80): ((1610, 57.3, 0.26), (2526, 93.1, 0.29)),
    (80, 160): ((3261, 219.0, 0.28), (4692, 321.0, 0.31)),
}
NAMES = [f"tslot-{width}x{height}-{weight}" for width, height in SLOTTED for weight in ("light", "heavy")]


# ---- shear centres


@pytest.mark.parametrize(("width", "height", "wall"), [(40, 80, 1.0), (50, 100, 1.0), (60, 60, 1.0)])
def test_shear_centre_of_a_thin_channel(width: float, height: float, wall: float) -> None:
    """Beyond the web's middle line by 3 b2/(6 b + h), b and h between middle lines (thin-wall theory)."""
    shape = geometry("channel", width=width, height=height, wall=wall, web=wall)
    b, h = width - wall / 2, height - wall
    beyond = -width / 2 + wall / 2 - 3 * b**2 / (6 * b + h)
    across, up = section_shear_centre(shape)
    assert across * 1e3 == pytest.approx(beyond, abs=0.012 * width)
    assert up == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize(("width", "height"), [(50, 50), (40, 80)])
def test_shear_centre_of_a_thin_angle_lies_where_its_legs_meet(width: float, height: float) -> None:
    shape = geometry("angle", width=width, height=height, wall=1.5)
    across, up = section_shear_centre(shape)
    assert across * 1e3 == pytest.approx(-width / 2 + 0.75, abs=0.4)
    assert up * 1e3 == pytest.approx(-height / 2 + 0.75, abs=0.4)


def test_shear_centre_of_a_slit_round_tube() -> None:
    """Twice the radius from the middle, on the side away from the slit (thin-wall theory)."""
    turn = np.linspace(np.radians(0.5), 2 * np.pi - np.radians(0.5), 121)
    outer, inner = ([(r * np.cos(a), r * np.sin(a)) for a in turn] for r in (0.0305, 0.0295))
    across, up = shear_centre(outline=Outline((*outer, *reversed(inner))))
    assert across == pytest.approx(-0.060, rel=0.01)
    assert up == pytest.approx(0.0, abs=1e-5)


@pytest.mark.parametrize("name", ["tslot-40x80-light", "tube-50x50x3"])
def test_what_is_symmetric_has_its_shear_centre_in_the_middle(name: str) -> None:
    shape = packaged(name)
    assert section_shear_centre(shape) == (0.0, 0.0)
    assert warping(section_outline(shape)).shear_centre == pytest.approx((0.0, 0.0), abs=2e-6)


@settings(max_examples=8, deadline=None)
@given(x=st.floats(-0.2, 0.2), y=st.floats(-0.2, 0.2))
def test_the_shear_centre_moves_with_the_outline(x: float, y: float) -> None:
    ring = ((0.0, 0.0), (0.05, 0.0), (0.05, 0.006), (0.006, 0.006), (0.006, 0.08), (0.0, 0.08))
    here = shear_centre(outline=Outline(ring))
    there = shear_centre(outline=Outline(tuple((a + x, b + y) for a, b in ring)))
    assert there == pytest.approx((here[0] + x, here[1] + y), abs=2e-5)


def test_a_turned_outline_has_turned_values() -> None:
    ring = ((0.0, 0.0), (0.05, 0.0), (0.05, 0.006), (0.006, 0.006), (0.006, 0.08), (0.0, 0.08))
    turned = Outline(tuple((-y, x) for x, y in ring))
    a, b = warping(Outline(ring)), warping(turned)
    assert b.torsion == pytest.approx(a.torsion, rel=1e-3)
    assert (b.shear_height, b.shear_width) == pytest.approx((a.shear_width, a.shear_height), rel=1e-3)
    assert b.shear_centre == pytest.approx((-a.shear_centre[1], a.shear_centre[0]), abs=2e-5)


# ---- shear areas and torsion


def test_shear_area_of_a_round_bar_by_its_closed_form_and_by_mesh() -> None:
    shape = Geometry(shape="round", height=0.03)
    assert not needs_mesh(shape)
    across, up = section_shear_areas(shape)
    assert across == up
    assert shear_areas(outline=section_outline(shape)) == pytest.approx((across, up), rel=6e-3)


def test_shear_area_of_a_thin_round_tube_is_half_its_area() -> None:
    """Thin-wall theory: shear flow goes with the sine, so the energy is twice that of an even stress."""
    shape = geometry("round", height=60, wall=1)
    area = section_properties(shape, density=1.0).area
    assert section_shear_areas(shape) == pytest.approx((area / 2, area / 2), rel=0.01)


@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0, 3.0, 5.0, 10.0])
def test_mesh_against_the_series_of_the_rectangle(ratio: float) -> None:
    b = 0.01
    ring = ((0.0, 0.0), (b, 0.0), (b, ratio * b), (0.0, ratio * b))
    assert torsion_constant(outline=Outline(ring)) == pytest.approx(float(rectangle_torsion(width=b, height=ratio * b)), rel=3e-4)


def test_a_slit_costs_a_tube_its_torsion() -> None:
    closed = section_torsion(geometry("tube", width=60, height=60, wall=3, radius=0))
    ring = (
        (30, 1), (30, 30), (-30, 30), (-30, -30), (30, -30), (30, -1), (27, -1), (27, -27), (-27, -27), (-27, 27), (27, 27), (27, 1),
    )  # fmt: skip
    slit = torsion_constant(outline=Outline(tuple((x / 1e3, y / 1e3) for x, y in ring)))
    middle_line = 4 * 57 - 2
    assert slit * 1e12 == pytest.approx(middle_line * 3**3 / 3, rel=0.01)
    assert closed / slit == pytest.approx(280, rel=0.01)


# ---- against a plain tube


@pytest.mark.parametrize("size", SLOTTED)
def test_share_of_the_tube_from_the_figures_of_the_trade(size: tuple[int, int]) -> None:
    for area, torsion, share in SLOTTED[size]:
        found = torsion_against_tube(torsion=torsion * 1e-8, width=size[0] / 1e3, height=size[1] / 1e3, area=area * 1e-6)
        assert float(found) == pytest.approx(share, abs=0.0051)


@pytest.mark.parametrize("name", NAMES)
def test_slots_keep_the_bending_and_cost_the_torsion(name: str) -> None:
    shares = against_tube(packaged(name))
    assert 0.59 < shares.bending_width <= shares.bending_height + 1e-4 < 0.94
    assert 0.145 < shares.torsion < 0.31


def test_a_plain_tube_is_its_own_measure() -> None:
    shares = against_tube(geometry("tube", width=50, height=100, wall=3, radius=0))
    assert shares.bending_height == pytest.approx(1.0)
    assert shares.bending_width == pytest.approx(1.0)
    assert shares.torsion == pytest.approx(883610 / 866020, rel=2e-3)  # finite elements over Bredt


def test_shares_take_samples() -> None:
    area = np.array([900e-6, 1000e-6, 1100e-6])
    assert tube_wall(width=0.04, height=0.08, area=area).shape == (3,)
    found = torsion_against_tube(torsion=8.43e-8, width=0.04, height=0.08, area=area)
    assert np.all(np.diff(found) < 0), "the same torsion constant is a smaller share of a thicker tube"


def test_a_tube_that_fills_its_box_is_as_thick_as_it_can_be() -> None:
    assert float(tube_wall(width=0.04, height=0.04, area=0.0016)) == pytest.approx(0.02)
    assert tube_torsion(width=0.08, height=0.08, wall=0.004) * 1e12 == pytest.approx(1755904, rel=1e-6)

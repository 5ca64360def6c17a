import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import plate_strip as p

parts = st.floats(0.02, 0.98)


@given(parts, st.floats(0.05, 1.0), st.floats(10.0, 1e5))
def test_span_and_stiffness(part: float, span: float, plate: float) -> None:
    one = p.strip_give(plate=plate, span=span, place=part)
    assert p.strip_give(plate=plate, span=2 * span, place=part) == pytest.approx(4 * one)
    assert p.strip_give(plate=2 * plate, span=span, place=part) == pytest.approx(one / 2)
    assert p.strip_give(plate=plate, span=span, place=1 - part) == pytest.approx(one)
    assert one <= p.strip_give(plate=plate, span=span, place=0.5)


def test_sheets_that_lie_on_each_other_add_and_glued_ones_cube() -> None:
    one = p.plate_stiffness(modulus=3e9, thickness=0.018)
    glued = p.bonded_stiffness(moduli=(3e9, 3e9), thicknesses=(0.018, 0.018))
    assert glued == pytest.approx(8 * one)
    assert glued == pytest.approx(p.plate_stiffness(modulus=3e9, thickness=0.036))


def test_skins_of_a_torsion_box_work_by_their_distance() -> None:
    box = p.bonded_stiffness(moduli=(9e9, 0.0, 9e9), thicknesses=(0.009, 0.082, 0.009), poisson=0.3)
    assert box == pytest.approx(9e9 * (2 * 0.009 * 0.0455**2 + 2 * 0.009**3 / 12) / 0.91)
    turned = p.bonded_stiffness(moduli=(70e9, 3e9), thicknesses=(0.002, 0.018))
    assert p.bonded_stiffness(moduli=(3e9, 70e9), thicknesses=(0.018, 0.002)) == pytest.approx(turned)


def test_bearers_do_not_give() -> None:
    lines = np.array([0.0, 0.2, 0.5, 0.9])
    assert p.sheet_give(plate=1000.0, bearers=lines, place=lines) == pytest.approx(np.zeros(4), abs=1e-12)


def test_places_with_samples_stand_last() -> None:
    lines, places, plate = np.array([0.0, 0.3, 0.6]), np.array([-0.05, 0.1, 0.45, 0.7]), np.array([900.0, 1500.0])
    together = p.sheet_give(plate=plate, bearers=lines, place=places, edges=(-0.1, 0.75))
    assert np.shape(together) == (2, 4)
    for i, stiff in enumerate(plate):
        for j, place in enumerate(places):
            alone = p.sheet_give(plate=float(stiff), bearers=lines, place=float(place), edges=(-0.1, 0.75))
            assert np.asarray(together)[i, j] == pytest.approx(alone)


def test_sheet_is_the_same_from_both_sides() -> None:
    lines, places = np.array([0.0, 0.2, 0.5, 0.9]), np.linspace(-0.15, 1.05, 33)
    there = p.sheet_give(plate=1000.0, bearers=lines, place=places, edges=(-0.2, 1.1))
    back = p.sheet_give(plate=1000.0, bearers=0.9 - lines[::-1], place=0.9 - places, edges=(-0.2, 1.1))
    assert there == pytest.approx(back)


def test_more_of_the_sheet_beyond_the_load_helps() -> None:
    same = {"plate": 1000.0, "span": 0.3, "place": 0.05}
    assert p.overhang_give(**same, overhang=0.1) < p.overhang_give(**same, overhang=0.06) < p.overhang_give(**same)


def test_screws_hold_a_sheet_in_its_plane() -> None:
    corners = [(-0.3, -0.2), (0.3, -0.2), (-0.3, 0.2), (0.3, 0.2)]
    assert p.in_plane_give(stiffness=2e6, screws=corners, place=(0.0, 0.0)) == pytest.approx((1.25e-7, 1.25e-7))
    first, second = p.in_plane_give(stiffness=2e6, screws=corners, place=(0.3, 0.0))
    assert first == pytest.approx(1.25e-7)
    assert second == pytest.approx((0.25 + 0.09 / 0.52) / 2e6)
    assert p.in_plane_give(stiffness=2e6, screws=[(0.1, 0.1)], place=(0.1, 0.1)) == pytest.approx((5e-7, 5e-7))

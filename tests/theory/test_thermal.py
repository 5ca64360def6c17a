import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import thermal as t

BEAM = {"axial": 70e9 * 4.7e-3, "bend_height": 70e9 * 1.185e-5, "bend_width": 70e9 * 3.26e-6, "expansion": 23e-6, "length": 1.2}


def rail(place: tuple[float, float], hold: float = t.UNSLIPPING) -> t.Strip:
    return t.Strip(axial=206e9 * 3e-4, expansion=11.5e-6, place=place, hold=hold, bend_height=900.0, bend_width=700.0)


@given(st.floats(0.001, 0.05), st.floats(0.001, 0.05), st.floats(1e9, 3e11), st.floats(1e9, 3e11), st.floats(1e-6, 1e-3))
def test_printed_form_for_two_rectangular_strips(first: float, second: float, one: float, other: float, strain: float) -> None:
    m, n, height = first / second, one / other, first + second
    printed = 6 * strain * (1 + m) ** 2 / (height * (3 * (1 + m) ** 2 + (1 + m * n) * (m**2 + 1 / (m * n))))
    found = t.bimetal_curvature(
        mismatch=strain, offset=height / 2, first_axial=one * first, second_axial=other * second,
        bend=(one * first**3 + other * second**3) / 12,
    )  # fmt: skip
    assert found == pytest.approx(printed)


@given(st.floats(0.01, 0.2), st.floats(-30, 30))
def test_one_rail_is_the_bimetal(offset: float, warming: float) -> None:
    strip = rail((offset, 0.0))
    found = t.rail_bow(strips=[strip], warming=warming, **BEAM)
    curvature = t.bimetal_curvature(
        mismatch=(11.5e-6 - 23e-6) * warming, offset=offset, first_axial=strip.axial, second_axial=BEAM["axial"],
        bend=BEAM["bend_height"] + 900.0,
    )  # fmt: skip
    assert found.held_height == pytest.approx(curvature * 1.2**2 / 8)
    assert found.held_width == pytest.approx(0.0, abs=1e-15)


def test_warm_aluminium_bows_away_from_its_steel_rail() -> None:
    found = t.rail_bow(strips=[rail((0.09, 0.0))], warming=10.0, **BEAM)
    assert found.held_height < 0
    assert found.pulls[0] > 0


def test_opposite_rails_cancel_and_a_pair_on_one_face_does_not() -> None:
    opposite = t.rail_bow(strips=[rail((0.09, 0.0)), rail((-0.09, 0.0))], warming=10.0, **BEAM)
    assert opposite.held_height == pytest.approx(0.0, abs=1e-12)
    assert opposite.height == pytest.approx(0.0, abs=1e-12)
    one = t.rail_bow(strips=[rail((0.0, 0.05))], warming=10.0, **BEAM)
    pair = t.rail_bow(strips=[rail((0.06, 0.05)), rail((-0.06, 0.05))], warming=10.0, **BEAM)
    assert 1.2 < pair.held_width / one.held_width < 2.0
    assert pair.held_height == pytest.approx(0.0, abs=1e-12)


@given(st.floats(-0.1, 0.1), st.floats(-0.1, 0.1), st.floats(1.0, 20.0))
def test_sections_balance(y: float, z: float, warming: float) -> None:
    strips = [rail((y, z)), rail((0.05, -0.02))]
    found = t.rail_bow(strips=strips, warming=warming, **BEAM)
    curvature = 8 * np.array((found.held_height, found.held_width)) / 1.2**2
    bend = np.array((BEAM["bend_height"] + 1800.0, BEAM["bend_width"] + 1400.0))
    moment = sum(pull * np.array(strip.place) for pull, strip in zip(found.pulls, strips, strict=True))
    assert bend * curvature + moment == pytest.approx(np.zeros(2), abs=1e-6)


def test_equal_expansion_bows_nothing() -> None:
    steel = {**BEAM, "expansion": 11.5e-6}
    found = t.rail_bow(strips=[rail((0.09, 0.01))], warming=20.0, **steel)
    assert found.held_height == pytest.approx(0.0, abs=1e-15)
    assert found.pulls[0] == pytest.approx(0.0, abs=1e-9)


def test_no_rails_no_bow() -> None:
    found = t.rail_bow(strips=[], warming=20.0, **BEAM)
    assert (found.held_height, found.height, found.width) == pytest.approx((0.0, 0.0, 0.0))


@given(st.floats(10.0, 1e5))
def test_slipping_screws_bow_less(hold: float) -> None:
    found = t.rail_bow(strips=[rail((0.09, 0.0), hold)], warming=10.0, **BEAM)
    assert abs(found.height) <= abs(found.held_height)
    assert found.height == pytest.approx(found.held_height * found.parts[0])
    # and where they slip all along, the rail pulls no more than half of them hold, whatever the warmth
    hotter = t.rail_bow(strips=[rail((0.09, 0.0), hold)], warming=1e4, **BEAM)
    assert abs(hotter.height) == pytest.approx(hold * 1.2**2 / 24 * 0.09 / (BEAM["bend_height"] + 900.0))


def test_samples_pass_through() -> None:
    warming = np.array([5.0, 10.0, 20.0])
    together = t.rail_bow(strips=[rail((0.09, 0.02), 2e3)], warming=warming, **BEAM)
    alone = [t.rail_bow(strips=[rail((0.09, 0.02), 2e3)], warming=float(w), **BEAM) for w in warming]
    assert together.height == pytest.approx([one.height for one in alone])
    assert together.held_width == pytest.approx([one.held_width for one in alone])


def test_bar_warm_on_one_face() -> None:
    curvature = t.gradient_curvature(expansion=12e-6, difference=4.0, height=0.1)
    assert t.thermal_moment(bend=1e5, expansion=12e-6, difference=4.0, height=0.1) == pytest.approx(1e5 * curvature)
    assert t.bow(curvature=curvature, length=1.0) == pytest.approx(60e-6)

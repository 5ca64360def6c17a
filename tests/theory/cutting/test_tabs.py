import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting.tabs import tab_bending, tab_lift, tab_push, tab_shear, tabs_needed

WOOD = {"shear_strength": 8e6, "strength": 80e6}


def test_thin_tab_bends_off_before_it_shears() -> None:
    tab = {"count": 4, "width": 6e-3, "thickness": 1e-3, "kerf": 6e-3}
    lift = tab_lift(**tab, **WOOD)
    assert lift < 0.6 * tab_shear(count=4, width=6e-3, thickness=1e-3, shear_strength=8e6)
    assert lift == tab_bending(**tab, strength=80e6)


def test_tab_over_a_narrow_kerf_shears() -> None:
    lift = tab_lift(count=1, width=6e-3, thickness=3e-3, kerf=2e-3, **WOOD)
    assert lift == tab_shear(count=1, width=6e-3, thickness=3e-3, shear_strength=8e6)


def test_bending_is_the_stress_of_a_beam_held_at_both_ends() -> None:
    force = tab_bending(count=1, width=6e-3, thickness=1e-3, kerf=6e-3, strength=80e6)
    stress = force * 6e-3 / 2 / (6e-3 * 1e-3**2 / 6)
    assert stress == pytest.approx(80e6)


@given(width=st.floats(2e-3, 2e-2), thickness=st.floats(3e-4, 2e-3), kerf=st.floats(1e-3, 1e-2))
def test_flat_tab_bears_more_along_the_kerf_than_upwards(width: float, thickness: float, kerf: float) -> None:
    tab = {"count": 1, "width": width, "thickness": thickness, "kerf": kerf}
    assert tab_push(**tab, **WOOD) >= tab_lift(**tab, **WOOD)


@given(force=st.floats(1.0, 500.0), each=st.floats(5.0, 200.0))
def test_tabs_that_are_needed_suffice_and_one_less_does_not(force: float, each: float) -> None:
    count = float(tabs_needed(force=force, each=each, safety=2.0))
    assert count * each >= 2 * force * (1 - 1e-8)
    assert (count - 1) * each < 2 * force


def test_exact_number_is_not_rounded_up_and_no_force_needs_none() -> None:
    np.testing.assert_array_equal(tabs_needed(force=np.array([30.0, 30.1, -5.0]), each=20.0, safety=2.0), [3, 4, 0])

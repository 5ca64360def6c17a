import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import screw_stiffness as s

BAR = {"root_diameter": 0.0131, "elastic_modulus": 206e9}
RIGID = {"near_bearing": 1e30, "far_bearing": 1e30}


@given(st.floats(0.05, 0.95))
def test_second_bearing_only_helps(place: float) -> None:
    one = s.shaft_stiffness(distance=place, **BAR)
    both = s.both_ends_stiffness(distance=place, free_length=1.0, **RIGID, **BAR)
    assert both > one
    assert both == pytest.approx(one / (1 - place))


def test_softest_in_the_middle() -> None:
    places = np.linspace(0.1, 0.9, 9)
    both = s.both_ends_stiffness(distance=places, free_length=1.0, **RIGID, **BAR)
    assert np.argmin(both) == 4


@given(st.floats(1e6, 1e9), st.floats(1e6, 1e9))
def test_series_is_softer_than_either(one: float, two: float) -> None:
    assert s.in_series(first=one, second=two) < min(one, two)


@given(st.floats(0.002, 0.02))
def test_half_the_lead_makes_twist_four_times_as_stiff(lead: float) -> None:
    twist = {"root_diameter": 0.0131, "shear_modulus": 79.3e9, "distance": 0.5}
    assert s.wind_up_stiffness(lead=lead / 2, **twist) == pytest.approx(4 * s.wind_up_stiffness(lead=lead, **twist))


def test_yielding_bearings_take_most_of_the_push_away() -> None:
    """60 N/um each against 27.8 N/um of the shaft: 1596 N / (1 + 2 x 27.77/60) = 829 N."""
    given_ = {"expansion": 11.5e-6, "warming": 5.0, "free_length": 1.0, **BAR}
    assert s.held_growth_force(near_bearing=60e6, far_bearing=60e6, **given_) == pytest.approx(829.0, rel=2e-3)

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import belts


@given(st.floats(0.1, 1.1))
def test_softest_far_from_the_pulley(place: float) -> None:
    near = belts.loop_stiffness(specific_stiffness=275e3, distance=place, span=1.2)
    assert near > belts.loop_stiffness(specific_stiffness=275e3, distance=1.2, span=1.2)


def test_deflection_by_hand() -> None:
    """S-22: 300 N at 0.6 m gives 0.491 mm."""
    assert 300.0 / belts.loop_stiffness(specific_stiffness=275e3, distance=0.6, span=1.2) == pytest.approx(0.491e-3, rel=3e-3)


def test_fixed_belt_is_softest_in_the_middle() -> None:
    places = np.linspace(0.1, 0.9, 9)
    assert np.argmin(belts.fixed_belt_stiffness(specific_stiffness=275e3, distance=places, span=1.0)) == 4


@given(st.floats(50.0, 2000.0), st.floats(0.01, 0.2), st.floats(0.1, 2.0))
def test_note_and_tension_are_one_law(tension: float, mass: float, span: float) -> None:
    note = belts.span_frequency(tension=tension, mass_per_length=mass, span=span)
    assert belts.span_tension(frequency=note, mass_per_length=mass, span=span) == pytest.approx(tension)


def test_whole_teeth() -> None:
    assert belts.teeth_in_mesh(teeth=12) == 6
    assert belts.teeth_in_mesh(teeth=13) == 6
    assert belts.teeth_in_mesh(teeth=24, wrap=np.pi / 2) == 6


def test_tension_limits() -> None:
    assert belts.tension_limit(allowed=1000.0, pretension=300.0) == 700.0
    assert belts.tension_limit(allowed=200.0, pretension=300.0) == 0.0
    assert belts.needed_pretension(force=250.0) == 250.0


def test_stage_by_hand() -> None:
    """Two spans of 0.1 m of a 60 kN belt on a 15 mm arm: 2 x 6e5 x 2.25e-4 = 270 N m/rad."""
    assert belts.stage_stiffness(specific_stiffness=60e3, span=0.1, pulley_radius=0.015) == pytest.approx(270.0)
    assert belts.travel_per_turn(pitch=0.005, teeth=20) == pytest.approx(0.1)

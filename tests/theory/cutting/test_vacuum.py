import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting.vacuum import (
    AIR_PRESSURE,
    CHOKED,
    board_flow,
    expansion_factor,
    held_pressure,
    open_area,
    opening_flow,
    slot_width,
)

PUMP = {"blocked_pressure": 25e3, "open_flow": 200 / 3600}
BOARD = {"permeability": 3e-13, "board_area": 0.72, "thickness": 0.018}


def test_little_suction_leaks_like_a_liquid() -> None:
    flow = board_flow(permeability=3e-13, area=0.5, thickness=0.018, pressure=10.0)
    assert flow == pytest.approx(3e-13 * 0.5 * 10.0 / (1.82e-5 * 0.018), rel=1e-4)


def test_full_vacuum_draws_half_of_what_a_liquid_would() -> None:
    flow = board_flow(permeability=3e-13, area=0.5, thickness=0.018, pressure=AIR_PRESSURE)
    assert flow == pytest.approx(3e-13 * 0.5 * AIR_PRESSURE / (1.82e-5 * 0.018) / 2)


def test_small_gap_flow_is_that_of_a_liquid_and_chokes_when_far_evacuated() -> None:
    assert expansion_factor(pressure=10.0) == pytest.approx(1.0, abs=1e-4)
    at_choke, beyond = (opening_flow(area=1e-4, pressure=AIR_PRESSURE * lost) for lost in (1 - CHOKED, 0.9))
    assert beyond == pytest.approx(at_choke, rel=1e-9)


def test_choked_gap_passes_air_at_the_speed_of_sound() -> None:
    """Mass flow A rho* c*: 0.5787 of the air's speed of sound, as a volume of air around (k = 1.4)."""
    sound = np.sqrt(1.4 * AIR_PRESSURE / 1.204)
    assert opening_flow(area=1.0, pressure=0.6 * AIR_PRESSURE, discharge=1.0) == pytest.approx(0.5787 * sound, rel=1e-4)


@given(blocked=st.floats(5e3, 8e4), flow=st.floats(0.005, 0.2), gap=st.floats(0.0, 2e-3), field=st.floats(0.0, 2.0))
def test_pump_draws_what_leaks(blocked: float, flow: float, gap: float, field: float) -> None:
    held = held_pressure(
        blocked_pressure=blocked, open_flow=flow, permeability=3e-13, board_area=field, thickness=0.018, gap_area=gap
    )
    leaks = board_flow(permeability=3e-13, area=field, thickness=0.018, pressure=held) + opening_flow(area=gap, pressure=held)
    assert leaks == pytest.approx(flow * (1 - held / blocked), rel=1e-6, abs=1e-9)


def test_without_leaks_the_pump_holds_what_it_can() -> None:
    assert held_pressure(**PUMP) == pytest.approx(25e3)


@given(less=st.floats(0.0, 2e-3), more=st.floats(1e-5, 1e-3))
def test_every_cut_that_comes_through_costs_pressure(less: float, more: float) -> None:
    assert held_pressure(**PUMP, **BOARD, gap_area=less + more) < held_pressure(**PUMP, **BOARD, gap_area=less)


def test_curve_of_the_pump_counts() -> None:
    """A pump that keeps its pressure up to nearly its full flow holds more than one that falls straight."""
    stiff = held_pressure(**PUMP, **BOARD, curve=((0.0, 1.0), (0.9, 0.9), (1.0, 0.0)))
    assert stiff > 1.2 * held_pressure(**PUMP, **BOARD)
    assert held_pressure(**PUMP, **BOARD, curve=((0.0, 1.0), (0.5, 0.5), (1.0, 0.0))) == pytest.approx(
        held_pressure(**PUMP, **BOARD)
    )


def test_samples_are_each_worked_alone() -> None:
    many = np.array([1e-13, 3e-13, 6e-13])
    got = held_pressure(**{**PUMP, **BOARD, "permeability": many})
    np.testing.assert_allclose(got, [held_pressure(**{**PUMP, **BOARD, "permeability": one}) for one in many])


def test_wide_slot_is_an_open_field_with_two_edges() -> None:
    wide = slot_width(width=0.2, thickness=0.018)
    assert wide == pytest.approx(open_area(area=0.2, perimeter=2.0, thickness=0.018), rel=1e-9)


@given(width=st.floats(1e-4, 0.1), thickness=st.floats(0.003, 0.05))
def test_slot_leaks_more_than_its_width_and_less_than_two_whole_edges(width: float, thickness: float) -> None:
    assert (
        width
        < slot_width(width=width, thickness=thickness)
        < open_area(area=width, perimeter=2.0, thickness=thickness) * (1 + 1e-9)
    )


def test_slot_scales_with_the_board() -> None:
    assert slot_width(width=0.012, thickness=0.036) == pytest.approx(2 * slot_width(width=0.006, thickness=0.018))

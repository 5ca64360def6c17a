import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import lead_screws as s

threads = st.fixed_dictionaries({
    "lead": st.floats(0.001, 0.012), "pitch_diameter": st.floats(0.007, 0.04), "flank": st.floats(0.0, 0.6), "friction": st.floats(0.02, 0.2),
})  # fmt: skip


@given(threads)
def test_efficiency_is_the_work_of_one_turn(thread: dict[str, float]) -> None:
    torque = s.raising_torque(force=1000.0, **thread)
    assert s.efficiency(**thread) == pytest.approx(1000.0 * thread["lead"] / (2 * np.pi * torque))


@given(threads)
def test_locks_where_it_must_be_turned_down(thread: dict[str, float]) -> None:
    lowering, back = float(s.lowering_torque(force=1000.0, **thread)), float(s.back_efficiency(**thread))
    assert (back > 0) == (lowering < 0)
    assert back == pytest.approx(max(0.0, -lowering * 2 * np.pi / (1000.0 * thread["lead"])), abs=1e-9)
    if back == 0:
        assert s.efficiency(**thread) < 0.5


@given(threads)
def test_sloping_flanks_rub_more(thread: dict[str, float]) -> None:
    square = {**thread, "flank": 0.0}
    assert s.raising_torque(force=1.0, **thread) >= s.raising_torque(force=1.0, **square) - 1e-12


def test_pressure_times_speed_of_a_nut_by_hand() -> None:
    """S-20 end to end: Tr16x4, 800 N, 32 mm nut, 300 turns a minute."""
    diameter = s.pitch_diameter(diameter=0.016, pitch=0.004)
    pressure = s.flank_pressure(force=800.0, flank_area=s.flank_area(pitch_diameter=diameter, nut_length=0.032))
    sliding = s.sliding_speed(pitch_diameter=diameter, lead_angle=np.arctan(0.004 / (np.pi * diameter)), turning_speed=10 * np.pi)
    assert s.pressure_speed(pressure=pressure, sliding_speed=sliding) == pytest.approx(0.251e6, rel=3e-3)

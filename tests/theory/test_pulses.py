"""Step pulses."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import pulses as theory


@given(st.floats(1e-3, 1.0), st.floats(1e3, 1e6))
def test_rate_and_speed_are_each_others_inverse(speed: float, steps: float) -> None:
    rate = theory.pulse_frequency(speed=speed, steps_per_metre=steps)
    assert theory.pulse_speed(frequency=rate, steps_per_metre=steps) == pytest.approx(speed)


def test_a_pulse_moves_a_step() -> None:
    steps = theory.steps_per_metre(travel_per_radian=0.01 / 6.283185307179586, pole_pairs=50, microsteps=16)
    assert theory.step_length(steps_per_metre=steps) == pytest.approx(0.01 / 3200)


def test_a_timer_makes_steps_of_speed() -> None:
    near = [theory.timer_speed(clock=1e6, count=n, steps_per_metre=320e3) for n in (20, 21)]
    assert near[0] / near[1] - 1 == pytest.approx(1 / 20)

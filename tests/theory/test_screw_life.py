import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import screw_life as s


@given(st.floats(100.0, 5000.0))
def test_twice_the_force_is_an_eighth_of_the_life(force: float) -> None:
    one = s.life_turns(dynamic_rating=8000.0, mean_force=force)
    assert s.life_turns(dynamic_rating=8000.0, mean_force=2 * force) == pytest.approx(one / 8)


def test_no_force_no_end() -> None:
    assert np.isinf(s.life_turns(dynamic_rating=8000.0, mean_force=0.0))


@given(st.floats(50.0, 1000.0), st.floats(1.0, 5000.0))
def test_preload_never_makes_a_nut_live_longer(preload: float, force: float) -> None:
    held = s.preloaded_life_turns(dynamic_rating=8000.0, preload=preload, force=force)
    assert held <= s.life_turns(dynamic_rating=8000.0, mean_force=force) * (1 + 1e-9)


@given(st.floats(50.0, 1000.0), st.floats(0.0, 5000.0))
def test_halves_of_a_nut_balance_the_force(preload: float, force: float) -> None:
    one, two = s.loaded_side(preload=preload, force=force), s.unloaded_side(preload=preload, force=force)
    assert one - two == pytest.approx(force, abs=1e-6)


def test_equal_forces_are_their_own_mean() -> None:
    assert s.cube_mean_force(forces=np.full(3, 250.0), speeds=np.arange(1.0, 4.0), time_shares=np.ones(3)) == pytest.approx(250.0)


def test_mean_keeps_the_samples() -> None:
    forces = np.array([[100.0, 100.0], [200.0, 0.0]])
    assert s.cube_mean_force(forces=forces, speeds=np.ones(2), time_shares=np.ones(2)) == pytest.approx(
        [100.0, 200.0 * 0.5 ** (1 / 3)]
    )


def test_two_like_parts_live_shorter_than_one() -> None:
    assert s.either_life(first=100.0, second=100.0) == pytest.approx(100.0 * 2 ** (-0.9))
    assert s.either_life(first=100.0, second=np.inf) == pytest.approx(100.0)

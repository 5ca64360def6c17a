"""Run-out: which tooth cuts how much; true paths stand in tests/against."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting import run_out as ro


def chips(flutes: int, run_out: float, turned: float = 0.0, stop: float = np.pi) -> np.ndarray:
    return np.asarray(
        ro.largest_chips(flutes=flutes, feed_per_tooth=50e-6, run_out=run_out, run_out_angle=turned, start=0.0, stop=stop)
    )


def test_an_indicator_shows_twice_the_eccentricity() -> None:
    assert ro.from_reading(reading=20e-6) == pytest.approx(10e-6)
    assert chips(2, float(ro.from_reading(reading=20e-6))) == pytest.approx([70e-6, 30e-6])


@given(flutes=st.integers(1, 5), run_out=st.floats(0, 100e-6), turned=st.floats(0, 6.3))
def test_all_teeth_together_advance_by_the_feed_of_a_turn(flutes: int, run_out: float, turned: float) -> None:
    """Where the chip is thickest the teeth share what the cutter moves on in a turn."""
    assert chips(flutes, run_out, turned).sum() == pytest.approx(flutes * 50e-6)


def test_a_shallow_cut_has_thinner_chips() -> None:
    shallow = chips(2, 5e-6, stop=np.radians(30))
    assert shallow == pytest.approx([35e-6, 15e-6])


def test_teeth_at_work() -> None:
    assert ro.teeth_at_work(largest_chips=chips(2, 10e-6)) == 2
    assert ro.teeth_at_work(largest_chips=chips(2, 26e-6)) == 1
    assert ro.teeth_at_work(largest_chips=np.array([chips(2, 10e-6), chips(2, 26e-6)])) == pytest.approx([2, 1])


def test_run_out_across_two_teeth_does_nothing() -> None:
    assert chips(2, 30e-6, np.pi / 2) == pytest.approx([50e-6, 50e-6])
    assert ro.reach(flutes=2, run_out=30e-6, run_out_angle=np.pi / 2) == pytest.approx(0.0, abs=1e-12)
    assert ro.reach(flutes=2, run_out=30e-6, run_out_angle=0.0) == pytest.approx(30e-6)


def test_marks_of_every_tooth_and_of_one() -> None:
    def ridge(run_out: float) -> float:
        return float(ro.wall_ridge(flutes=2, feed_per_tooth=0.3e-3, diameter=6e-3, run_out=run_out, run_out_angle=0.0))

    assert ridge(0.0) == pytest.approx(3.75e-6, rel=1e-3)
    assert ridge(50e-6) == pytest.approx(15.0e-6, rel=1e-3)
    assert ridge(0.0) < ridge(2e-6) < ridge(50e-6)
    assert ridge(8e-6) == pytest.approx(ridge(50e-6))  # though the other tooth still cuts, it leaves no mark
    assert ro.teeth_at_work(largest_chips=chips(2, 8e-6)) == 2


def test_samples_are_answered_one_by_one() -> None:
    feed, run_out, turned = np.array([2e-5, 5e-5]), np.array([3e-6, 20e-6]), np.array([0.1, 2.0])
    angles = np.linspace(0, np.pi, 7)
    together = np.asarray(ro.signed_chips(flutes=3, feed_per_tooth=feed, run_out=run_out, run_out_angle=turned, angles=angles))
    ridges = np.asarray(ro.wall_ridge(flutes=3, feed_per_tooth=feed, diameter=6e-3, run_out=run_out, run_out_angle=turned))
    assert together.shape == (2, 3, 7)
    for i in range(2):
        alone = ro.signed_chips(flutes=3, feed_per_tooth=feed[i], run_out=run_out[i], run_out_angle=turned[i], angles=angles)
        np.testing.assert_allclose(together[i], alone)
        ridge = ro.wall_ridge(flutes=3, feed_per_tooth=feed[i], diameter=6e-3, run_out=run_out[i], run_out_angle=turned[i])
        assert ridges[i] == pytest.approx(ridge)

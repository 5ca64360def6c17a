"""What a reading says of a spring: against springs in a row, a mass on two springs, and a normal pair in closed form."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.readings import spring_factor_of_frequency, spring_factor_of_stiffness, updated

SOME = st.floats(0.1, 10.0)


@given(SOME, SOME, SOME)
def test_a_spring_in_a_row_is_found_again(one: float, other: float, factor: float) -> None:
    """Two springs in a row, of which one is another than was believed."""
    before, after = 1 / (1 / one + 1 / other), 1 / (1 / (one * factor) + 1 / other)
    found = spring_factor_of_stiffness(measured=after, predicted=before, share=before / one)
    assert float(found) == pytest.approx(factor, rel=1e-6)


@given(SOME, SOME, SOME)
def test_a_spring_beside_another_is_found_again(one: float, other: float, factor: float) -> None:
    """A mass on two springs side by side; each holds of the strain what it has of the stiffness."""
    before, after = (one + other) ** 0.5, (one * factor + other) ** 0.5
    found = spring_factor_of_frequency(measured=after, predicted=before, share=one / (one + other))
    assert float(found) == pytest.approx(factor, rel=1e-6)


def test_a_spring_that_holds_too_little_explains_nothing() -> None:
    """Even rigid, a tenth of the give cannot make it twice as stiff; even gone, a tenth of the strain cannot halve a frequency."""
    stiff = float(spring_factor_of_stiffness(measured=2.0, predicted=1.0, share=0.1))
    slow = float(spring_factor_of_frequency(measured=0.5, predicted=1.0, share=0.1))
    assert not stiff > 0
    assert not slow > 0


def test_a_normal_pair_is_updated_as_the_textbook_says() -> None:
    """y is N(1, 2^2), p = y + N(0, 1), read as 4 with sigma 1: the middle moves by 4/6 of 3, the variance falls to 4 (1 - 4/6)."""
    rng = np.random.default_rng(3)
    count = 40_000
    y = 1 + 2 * rng.standard_normal(count)
    p = (y + rng.standard_normal(count))[:, None]
    seen = 4 + rng.standard_normal((count, 1))
    after = np.asarray(updated(samples=y, predicted=p, seen=seen, variance=np.array([1.0])))
    assert after.mean() == pytest.approx(1 + 4 / 6 * 3, abs=0.03)
    assert after.var() == pytest.approx(4 * (1 - 4 / 6), rel=0.03)


def test_two_readings_of_one_thing_count_as_their_mean() -> None:
    rng = np.random.default_rng(4)
    y = rng.standard_normal(40_000)
    both = np.stack((y, y), axis=1)
    seen = np.array([1.0, 2.0]) + 0.5 * rng.standard_normal(both.shape)
    after = np.asarray(updated(samples=y, predicted=both, seen=seen, variance=np.array([0.25, 0.25])))
    assert after.mean() == pytest.approx(1.5 / (1 + 0.125), abs=0.02)
    assert after.var() == pytest.approx(0.125 / 1.125, rel=0.03)


def test_what_does_not_go_with_a_reading_stays_as_it_was() -> None:
    rng = np.random.default_rng(5)
    y, p = rng.standard_normal((2, 40_000))
    after = np.asarray(updated(samples=y, predicted=p[:, None], seen=np.full((40_000, 1), 3.0), variance=np.array([0.1])))
    assert np.abs(after - y).max() < 0.1

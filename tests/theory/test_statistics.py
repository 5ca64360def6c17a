"""Samples have the points that the spread states, whatever else is drawn with them."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.base.errors import OutOfRange
from gantrywright.base.spread import Spread
from gantrywright.theory.statistics import draw, first_order_shares, value_at

POINTS = (0.05, 0.5, 0.95)


@given(
    typical=st.floats(1e-3, 1e9), down=st.floats(1.01, 20.0), up=st.floats(1.01, 20.0), shape=st.sampled_from(["band", "normal"])
)
def test_the_three_points_of_a_spread_come_back(typical: float, down: float, up: float, shape: str) -> None:
    spread = Spread(typical / down, typical, typical * up, shape)  # type: ignore[arg-type]
    samples = draw({"a": spread}, 2000)["a"]
    np.testing.assert_allclose(
        np.quantile(samples, POINTS), (spread.low, typical, spread.high), rtol=1e-2, atol=2e-3 * (spread.high - spread.low)
    )


def test_a_band_through_zero_is_linear_on_both_sides() -> None:
    samples = draw({"ratio": Spread(-0.2, 0.1, 0.4)}, 4000)["ratio"]
    np.testing.assert_allclose(np.quantile(samples, POINTS), (-0.2, 0.1, 0.4), atol=2e-3)
    assert abs(samples.mean() - 0.1) < 1e-3


def test_a_band_from_zero_is_never_negative() -> None:
    samples = draw({"play": Spread(0.0, 0.02e-3, 0.05e-3)}, 1000)["play"]
    assert samples.min() == 0.0
    assert np.quantile(samples, 0.95) == pytest.approx(0.05e-3, rel=1e-2)


def test_log_normal_halves() -> None:
    # two 95 % steps above the median of 10 with high 20 is 40; the same below with low 4 is 1.6
    steps = np.array([2.0, -2.0]) * 1.6448536269514722
    np.testing.assert_allclose(value_at(Spread(4.0, 10.0, 20.0), steps), (40.0, 1.6))


def test_a_choice_gives_each_word_its_share() -> None:
    drawn = draw({"ends": Spread(0, 0, 2, "choice", ("fixed", "supported", "free"))}, 300)["ends"]
    assert [int(np.sum(drawn == word)) for word in range(3)] == [100, 100, 100]


def test_one_more_input_does_not_move_the_others() -> None:
    one = draw({"a": Spread(1, 2, 3)}, 256)["a"]
    both = draw({"b": Spread(1, 2, 3), "a": Spread(1, 2, 3)}, 256)
    np.testing.assert_array_equal(one, both["a"])
    assert abs(np.corrcoef(both["a"], both["b"])[0, 1]) < 0.15
    assert np.any(draw({"a": Spread(1, 2, 3)}, 256, seed=2)["a"] != one)


def test_stratified_mean_beats_plain_monte_carlo() -> None:
    spreads = {name: Spread(0.5, 1.0, 2.0) for name in "abcd"}
    sums = [sum(draw(spreads, 256, seed).values()).mean() for seed in range(1, 9)]  # type: ignore[attr-defined]
    plain = np.std(sum(draw(spreads, 256).values())) / 16  # type: ignore[arg-type]
    assert np.std(sums) < plain / 50


def test_shares_of_a_linear_sum_are_its_variances() -> None:
    spreads = {name: Spread(-1.0, 0.0, 1.0, "normal") for name in ("big", "small", "idle")}
    samples = draw(spreads, 4096)
    shares = first_order_shares(samples, 3 * samples["big"] + samples["small"])
    assert shares["big"] == pytest.approx(0.9, abs=0.02)
    assert shares["small"] == pytest.approx(0.1, abs=0.02)
    assert shares["idle"] == pytest.approx(0.0, abs=0.01)


def test_shares_of_a_product_leave_a_rest() -> None:
    """y = x1 x2 about zero: neither explains anything alone, all is interaction."""
    samples = draw({name: Spread(-1.0, 0.0, 1.0, "normal") for name in "ab"}, 4096)
    assert sum(first_order_shares(samples, samples["a"] * samples["b"]).values()) < 0.03


def test_share_of_a_choice_counts_its_words() -> None:
    samples = draw({"ends": Spread(0, 0, 1, "choice", ("x", "y")), "a": Spread(-1.0, 0.0, 1.0, "normal")}, 4000)
    shares = first_order_shares(samples, samples["ends"] * 2)
    assert shares["ends"] == pytest.approx(1.0, abs=1e-3)
    assert first_order_shares(samples, np.ones(4000)) == {"ends": 0.0, "a": 0.0}


def test_percentiles_stand_still_at_512() -> None:
    """The promise of the study: 5 % and 95 % points of a product of six bands move with the seed by about 5 % of the band at most."""
    spreads = {name: Spread(0.7, 1.0, 1.5) for name in "abcdef"}
    edges = np.array([np.quantile(np.prod(list(draw(spreads, 512, seed).values()), axis=0), POINTS) for seed in range(1, 13)])
    band = edges[:, 2].mean() - edges[:, 0].mean()
    assert np.all(edges.std(axis=0) < 0.07 * band)
    assert all(a < b for a, b in pairwise(edges.mean(axis=0)))


def test_one_sample_is_refused() -> None:
    with pytest.raises(OutOfRange, match="count = 1"):
        draw({}, 1)

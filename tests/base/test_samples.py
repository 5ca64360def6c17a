"""Values that may be samples."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.samples import along_grid, columns, ends, greatest, least, ranked, ranks, typical


@dataclass(frozen=True, slots=True)
class Pair:
    one: float | np.ndarray
    word: str


def test_typical_is_the_number_or_the_median() -> None:
    assert typical(3.0) == 3.0
    assert typical(np.array([1.0, 2.0, 30.0])) == 2.0


def test_only_samples_become_columns() -> None:
    assert along_grid(2.0) == 2.0
    assert np.shape(along_grid(np.ones(3))) == (3, 1)
    many, one = Pair(np.ones(3), "a"), Pair(1.0, "a")
    assert np.shape(columns(many).one) == (3, 1)
    assert columns(one) is one


def test_least_and_greatest_go_sample_by_sample() -> None:
    samples = np.array([1.0, 5.0])
    assert list(least(samples, 3.0)) == [1.0, 3.0]
    assert list(greatest(samples, 3.0, 4.0)) == [4.0, 5.0]


def test_ends_are_the_quantiles_of_a_general_library() -> None:
    """numpy.quantile, with samples whose ends fall between two of them and on one."""
    for size in (2, 21, 512):
        values = np.random.default_rng(size).normal(size=(3, size))
        for ours, theirs in zip(ends(values), np.quantile(values, (0.05, 0.95), axis=-1), strict=True):
            np.testing.assert_allclose(ours, theirs)


def test_typical_of_an_even_number_is_the_middle_of_two() -> None:
    for size in (1, 2, 7, 512):
        values = np.random.default_rng(size).normal(size=size)
        assert typical(values) == np.median(values)


def test_ranks_undo_an_order() -> None:
    values = np.random.default_rng(4).normal(size=(2, 50))
    np.testing.assert_array_equal(ranks(values), np.argsort(np.argsort(values, axis=1), axis=1))


def test_leading_input_is_the_one_that_matters() -> None:
    rng = np.random.default_rng(3)
    samples = {"small": rng.normal(size=500), "large": rng.normal(size=500)}
    inputs = ranked(samples)
    assert inputs.leading(0.1 * samples["small"] + np.exp(samples["large"])) == "large"
    assert inputs.leading(np.ones(500)) == ""
    assert ranked({}).leading(np.arange(3.0)) == ""

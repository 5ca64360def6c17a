"""Values that may be samples."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.samples import along_grid, columns, greatest, least, typical


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

"""One limit in words."""

import pytest

from gantrywright.results.jobs import Limit
from gantrywright.study.limit_words import idle, sizes, used


def limit(value: float | None, most: float | None, unit: str = "N") -> Limit:
    return Limit("axis-force", "force of Z at the feed", value, most, unit, "depth", None)


@pytest.mark.parametrize(
    ("value", "most", "words"),
    [
        (50.0, 100.0, "50 %"),
        (0.5, 100.0, "< 1 %"),
        (100.2, 100.0, "just over 100 %"),
        (999.0, 100.0, "999 %"),
        (1000.0, 100.0, "over 10 times"),
        (300.0, 0.0, "over 10 times"),
        (1.15e-16, 100.0, "0 %"),
        (None, 100.0, "unknown"),
    ],
)
def test_what_is_used_is_told_without_odd_numbers(value: float | None, most: float, words: str) -> None:
    assert used(limit(value, most)) == words


def test_a_force_that_nobody_feels_is_none() -> None:
    assert sizes(limit(1.15e-16, 100.0)) == (0.0, 100.0)
    assert idle(limit(1.15e-16, 100.0))
    assert not idle(limit(1.0, 100.0))
    assert not idle(limit(0.0, 0.0))
    assert sizes(limit(20e-6, 300e-6, "m")) == (20e-6, 300e-6)  # small, but a wall shows it

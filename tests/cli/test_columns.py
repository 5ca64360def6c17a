"""One unit a column."""

import pytest

from gantrywright.cli.columns import banded, number, one_unit


@pytest.mark.parametrize(
    ("values", "unit", "system", "said"),
    [
        ((30.7e-6, 0.279e-3), "m", "metric", "um"),
        ((-6.6e-6, 2.5, None), "m", "metric", "mm"),
        ((0.254e3, 1.2e6), "N/m", "metric", "N/mm"),
        ((0.5e6, 1.2e6), "N/m", "metric", "N/um"),
        ((0.0, 0.0), "m", "metric", "mm"),
        ((0.0, None), "s", "metric", "s"),
        ((1e-6, 2e-4), "m", "inch", "thou"),
    ],
)
def test_the_unit_is_that_of_the_least_unless_the_largest_grows_too_long(
    values: tuple[float | None, ...], unit: str, system: str, said: str
) -> None:
    assert one_unit(values, unit, system) == said


def test_numbers_stand_without_their_unit() -> None:
    assert number(0.279e-3, "m", "metric", "um") == "279"
    assert number(None, "N/m", "metric", "N/um") == "unknown"
    assert number(0.0, "m", "metric", "um") == "0"
    assert banded(5e5, (4e5, 6e5), "N/m", "metric", "N/um") == "0.5\n(0.4 .. 0.6)"
    assert banded(5e5, None, "N/m", "metric", "N/um") == "0.5"

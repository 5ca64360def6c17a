import pytest

from gantrywright.theory import lead_accuracy as a


def test_letters_are_not_interchangeable() -> None:
    assert a.variation_300("C5") == pytest.approx(18e-6)
    assert a.variation_300("P5") == a.variation_300("t5") == pytest.approx(23e-6)


@pytest.mark.parametrize("text", ["", "rolled", "P4", "X7", "C"])
def test_unknown_grade_is_unknown(text: str) -> None:
    assert a.read_grade(text) is None
    assert a.variation_300(text) is None
    assert a.mean_travel_tolerance(text, 0.5) is None


def test_only_positioning_grades_hold_their_mean_travel() -> None:
    assert a.mean_travel_tolerance("P5", 1.0) == pytest.approx(40e-6)
    assert a.mean_travel_tolerance("P5", 1.0001) == pytest.approx(47e-6)
    assert a.mean_travel_tolerance("T5", 1.0) is None
    assert a.mean_travel_tolerance("C5", 1.0) is None
    assert a.mean_travel_tolerance("P5", 2.5) is None


def test_rate_adds_up() -> None:
    assert a.accumulated_error(variation_300=52e-6, length=0.6) == pytest.approx(104e-6)
    assert a.proportional_error(error_per_length=1e-4, length=1.5) == pytest.approx(1.5e-4)

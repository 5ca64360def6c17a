"""Series, parallel, unipolar."""

import pytest

from gantrywright.base.errors import OutOfRange
from gantrywright.theory.windings import rewire

HALF = {"resistance": 1.2, "inductance": 2e-3, "current": 4.0, "torque_constant": 0.3}


def test_back_and_forth_changes_nothing() -> None:
    series = rewire(**HALF, wired="parallel", to="series")
    back = rewire(
        resistance=series.resistance, inductance=series.inductance, current=series.current, torque_constant=series.torque_constant,
        wired="series", to="parallel",
    )  # fmt: skip
    assert (back.resistance, back.inductance, back.current, back.torque_constant) == pytest.approx(tuple(HALF.values()))


def test_unipolar_data_lead_to_the_same_pair() -> None:
    parallel, series = (rewire(**HALF, wired="unipolar", to=to) for to in ("parallel", "series"))
    again = rewire(
        resistance=parallel.resistance, inductance=parallel.inductance, current=parallel.current,
        torque_constant=parallel.torque_constant, wired="parallel", to="series",
    )  # fmt: skip
    assert (again.resistance, again.inductance, again.current, again.torque_constant) == pytest.approx(
        (series.resistance, series.inductance, series.current, series.torque_constant)
    )
    # the same copper heat in both, R I^2 of all four half-windings
    assert parallel.resistance * parallel.current**2 == pytest.approx(HALF["resistance"] * HALF["current"] ** 2)


def test_other_wirings_are_refused() -> None:
    with pytest.raises(OutOfRange, match="star"):
        rewire(**HALF, wired="star", to="series")

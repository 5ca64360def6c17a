"""A figure opens to its formula, inputs, units and source."""

import numpy as np
import pytest

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, MetrePerSecond, Second
from gantrywright.results.ledger import Ledger, Named, band


@formula("v = s / t", source="definition")
def speed(*, distance: Metre, time: Second) -> MetrePerSecond:
    """Mean speed over a distance"""
    return distance / time


def test_a_figure_writes_its_call_down() -> None:
    ledger = Ledger()
    assert ledger.figure("a.speed", speed, distance=Named("a.travel", 3.0), time=2.0) == 1.5
    found = ledger["a.speed"]
    assert (found.value, found.unit, found.formula, found.source) == (1.5, "m/s", "v = s / t", "definition")
    assert [(i.name, i.value, i.unit, i.path) for i in found.inputs] == [("distance", 3.0, "m", "a.travel"), ("time", 2.0, "s", "")]
    assert found.title == "Mean speed over a distance"


def test_a_later_figure_names_an_earlier_one() -> None:
    ledger = Ledger()
    ledger.figure("a.speed", speed, distance=3.0, time=2.0)
    named = ledger.named("a.speed")
    assert (named.path, named.value) == ("a.speed", 1.5)
    with pytest.raises(KeyError):
        ledger.named("a.acceleration")


def test_a_function_without_a_stamp_is_refused() -> None:
    with pytest.raises(AttributeError):
        Ledger().figure("a", lambda a: a, a=1.0)


def test_band_of_samples() -> None:
    assert band(2.0) is None
    assert band(np.linspace(0, 1, 101)) == pytest.approx((0.05, 0.95))

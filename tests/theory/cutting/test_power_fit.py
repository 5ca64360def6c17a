"""Coefficients from spindle power: exact readings give them back, scattered ones as often as the errors say."""

import numpy as np
import pytest

from gantrywright.base.errors import OutOfRange
from gantrywright.theory.cutting.engagement import engagement
from gantrywright.theory.cutting.forces import Coefficients, cutting_power
from gantrywright.theory.cutting.power_fit import PowerFit, fit_power, shaft_power

FEEDS = np.linspace(0.03, 0.17, 6)
SPEED = 600 * np.pi
CUT = Coefficients(35e6, 2.5e3, 0.0, 0.0)


def fitted(powers: np.ndarray, width: float = 2e-3) -> PowerFit:
    return fit_power(feeds=FEEDS, powers=powers, depth=5e-3, width=width, diameter=6e-3, flutes=2, speed=SPEED)


def exact(width: float = 2e-3) -> np.ndarray:
    return np.array([cutting_power(cut=CUT, flutes=2, depth=5e-3, width=width, diameter=6e-3, feed=f, speed=SPEED) for f in FEEDS])


@pytest.mark.parametrize("width", [0.3e-3, 2e-3, 6e-3])
def test_powers_of_the_model_give_its_coefficients_back(width: float) -> None:
    got = fitted(exact(width), width)
    assert (got.shear, got.edge) == pytest.approx((35e6, 2.5e3))
    assert got.scatter == pytest.approx(0.0, abs=1e-9)


def test_errors_are_those_of_many_repeated_tests() -> None:
    random = np.random.default_rng(5)
    fits = [fitted(exact() + random.normal(0.0, 2.0, FEEDS.size)) for _ in range(600)]
    found = np.array([(f.shear, f.edge) for f in fits])
    told = np.mean([f.covariance for f in fits], axis=0)
    np.testing.assert_allclose(np.cov(found.T), told, rtol=0.15)
    assert np.mean([f.scatter**2 for f in fits]) == pytest.approx(4.0, rel=0.1)


def test_too_few_feeds_or_equal_ones_are_refused() -> None:
    for feeds in ([0.1, 0.2], [0.1, 0.1, 0.1]):
        with pytest.raises(OutOfRange):
            fit_power(feeds=feeds, powers=feeds, depth=5e-3, width=2e-3, diameter=6e-3, flutes=2, speed=SPEED)  # type: ignore[arg-type]


def test_shaft_power_leaves_out_what_the_spindle_takes_in_the_air() -> None:
    assert shaft_power(inverter_power=400.0, idle_power=150.0, efficiency=0.85) == pytest.approx(212.5)


def test_the_edge_share_goes_by_the_arc() -> None:
    start, stop = engagement(diameter=6e-3, width=2e-3, way="climb")
    at_no_feed = 2.5e3 * 5e-3 * 2 * 300 * 3e-3 * (stop - start)
    assert cutting_power(cut=CUT, flutes=2, depth=5e-3, width=2e-3, diameter=6e-3, feed=0.0, speed=SPEED) == pytest.approx(
        at_no_feed
    )

import numpy as np
import pytest

from gantrywright.theory import drive_demand as d


def test_counterweight_carries() -> None:
    assert d.weight_along(mass=10.0, rise=1.0, counterweight=98.0665) == pytest.approx(0.0, abs=1e-9)
    assert d.weight_along(mass=10.0, rise=1.0, counterweight=150.0) == pytest.approx(51.9335)
    assert d.weight_along(mass=10.0, rise=0.0, counterweight=0.0) == 0.0


def test_shares_split_mass_and_cut() -> None:
    """0.6 x (40 x 1 + 0 + 20) + 0.8 x 80 = 100 N."""
    assert d.thrust(
        mass=40.0, acceleration=1.0, weight=0.0, friction=20.0, cutting=80.0, mass_share=0.6, force_share=0.8
    ) == pytest.approx(100.0)


def test_mean_force_by_hand() -> None:
    """50 N idle, 150 N cutting: cube root of (150^3 + 50^3)/2 = 120.5 N."""
    assert d.working_mean_force(weight=30.0, friction=20.0, cutting=100.0) == pytest.approx(120.51, rel=1e-4)
    assert d.working_mean_force(weight=np.zeros(5), friction=20.0, cutting=0.0) == pytest.approx([20.0] * 5)


def test_lever() -> None:
    assert d.worst_share(farthest=0.0, distance=1.0) == 0.5
    assert d.worst_share(farthest=0.6, distance=1.0) == pytest.approx(1.1)

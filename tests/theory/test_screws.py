import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import screws

slopes = st.floats(0.02, 0.5)
frictions = st.floats(0.001, 0.015)


@given(slopes, frictions)
def test_loss_forwards_is_about_the_loss_backwards(slope: float, friction: float) -> None:
    forwards = float(screws.driving_efficiency(lead_angle=slope, friction=friction))
    backwards = float(screws.backdriving_efficiency(lead_angle=slope, friction=friction))
    rubbing = np.arctan(friction)
    assert forwards < 1
    assert backwards == pytest.approx(np.tan(slope - rubbing) / np.tan(slope), rel=1e-9) if slope > rubbing else backwards == 0


@pytest.mark.parametrize("lead", [0.005, 0.010, 0.020])
def test_simple_form_of_back_driving_is_within_a_thousandth(lead: float) -> None:
    slope = screws.lead_angle(lead=lead, diameter=0.016)
    exact = screws.backdriving_efficiency(lead_angle=slope, friction=0.01)
    simple = screws.backdriving_from_driving(efficiency=screws.driving_efficiency(lead_angle=slope, friction=0.01))
    assert simple == pytest.approx(exact, rel=1e-3)


@given(slopes)
def test_no_friction_no_loss(slope: float) -> None:
    assert screws.driving_efficiency(lead_angle=slope, friction=0.0) == pytest.approx(1.0)
    assert screws.backdriving_efficiency(lead_angle=slope, friction=0.0) == pytest.approx(1.0)


@given(st.floats(1.0, 5000.0), st.floats(0.001, 0.05), st.floats(0.1, 1.0))
def test_work_of_one_turn(force: float, lead: float, efficiency: float) -> None:
    torque = screws.drive_torque(force=force, lead=lead, efficiency=efficiency)
    assert torque * 2 * np.pi * efficiency == pytest.approx(force * lead)


def test_half_an_efficiency_locks() -> None:
    assert screws.backdriving_from_driving(efficiency=np.array([0.4, 0.5, 0.8])) == pytest.approx([0.0, 0.0, 0.75])


def test_preload_torque_by_hand() -> None:
    """400 N at lead 5 on 16 mm: 0.05 / sqrt(0.09947) x 400 x 0.005 / 6.2832 = 0.0505 N m."""
    slope = screws.lead_angle(lead=0.005, diameter=0.016)
    assert screws.preload_torque(preload=400.0, lead=0.005, lead_angle=slope) == pytest.approx(0.0505, abs=1e-4)

"""Fits to points of a pull-out curve."""

import numpy as np
import pytest

from gantrywright.base.errors import OutOfRange
from gantrywright.theory.curve_fit import fit_pull_out_curve
from gantrywright.theory.steppers import pull_out_torque
from motor_cases import RPM, A

RPMS = np.array([60, 120, 240, 360, 480, 600, 900, 1200, 1500], dtype=float)
SHEET = {"resistance": 0.5, "voltage": 48.0, "current": 7.0, "pole_pairs": 50}


def test_points_of_a_sheet() -> None:
    # check value D14
    torques = np.array([4.40, 4.40, 4.30, 3.90, 3.25, 2.80, 1.90, 1.40, 1.10])
    fitted = fit_pull_out_curve(speeds=RPMS * RPM, torques=torques, **SHEET)
    assert fitted.torque_constant == pytest.approx(0.622, rel=2e-2)
    assert fitted.inductance == pytest.approx(4.24e-3, rel=2e-2)
    assert fitted.deviation == pytest.approx(0.057, rel=2e-2)


def test_points_of_the_model_come_back() -> None:
    torques = np.asarray(pull_out_torque(speed=RPMS * RPM, voltage=50.0, **A))
    fitted = fit_pull_out_curve(
        speeds=RPMS * RPM, torques=torques, resistance=0.45, voltage=50.0, current=A["current"], pole_pairs=50
    )
    assert fitted.torque_constant == pytest.approx(A["torque_constant"], rel=1e-4)
    assert fitted.inductance == pytest.approx(A["inductance"], rel=1e-4)
    assert fitted.deviation < 1e-4


def test_a_curve_without_a_level_part_takes_the_constant_of_the_sheet() -> None:
    falling = np.array([600, 900, 1200, 1500]) * RPM
    torques = np.asarray(pull_out_torque(speed=falling, voltage=50.0, **A))
    fitted = fit_pull_out_curve(
        speeds=falling, torques=torques, resistance=0.45, voltage=50.0, current=A["current"], pole_pairs=50,
        torque_constant=A["torque_constant"],
    )  # fmt: skip
    assert fitted.torque_constant == A["torque_constant"]
    assert fitted.inductance == pytest.approx(A["inductance"], rel=1e-3)


def test_two_points_are_no_curve() -> None:
    with pytest.raises(OutOfRange, match="at least 3"):
        fit_pull_out_curve(speeds=np.array([1.0, 2.0]), torques=np.array([1.0, 0.5]), **SHEET)

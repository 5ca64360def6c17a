"""Torque of servos."""

import numpy as np
import pytest

from gantrywright.theory.servos import datasheet_torque, inertia_ratio, rms_torque, winding_torque
from motor_cases import RPM

SHEET = {"torque": 2.39, "rated_speed": 3000 * RPM, "top_speed": 5000 * RPM, "top_torque": 1.4}


def test_level_then_falling_then_nothing() -> None:
    speeds = np.array([0.0, 3000, 4000, 5000, 5001]) * RPM
    assert list(np.asarray(datasheet_torque(speed=speeds, **SHEET))) == pytest.approx([2.39, 2.39, (2.39 + 1.4) / 2, 1.4, 0.0])


def test_the_winding_gives_up_where_its_voltage_is_all_back_emf() -> None:
    winding = {"torque_per_rms": 0.5, "resistance": 1.2, "inductance": 6.5e-3, "pole_pairs": 4, "current_rms": 14.4}
    flux = 2**0.5 * 0.5 / 12
    speed = 310 / 3**0.5 / flux / 4
    assert winding_torque(speed=0.999 * speed, voltage=310.0, **winding) > 0
    assert winding_torque(speed=1.001 * speed, voltage=310.0, **winding) == 0.0


def test_a_steady_torque_heats_as_itself() -> None:
    assert rms_torque(torques=np.array([1.3, -1.3]), times=np.array([0.2, 0.7])) == pytest.approx(1.3)


def test_ratio_is_load_over_rotor() -> None:
    assert inertia_ratio(load=6e-4, rotor=2e-4) == pytest.approx(3.0)

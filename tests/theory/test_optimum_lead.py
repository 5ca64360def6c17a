"""Which lead is quickest."""

import numpy as np
import pytest

from gantrywright.theory.optimum_lead import least_move_time, move_time, optimum_travel_per_radian
from gantrywright.theory.steppers import pull_out_torque
from motor_cases import A

SPEEDS = np.linspace(0.5, 1500.0, 4000)


def times(leads_mm: list[float]) -> list[float]:
    torques = 0.5 * np.asarray(pull_out_torque(speed=SPEEDS, voltage=50.0, **A)) - 0.08
    return list(
        least_move_time(
            stroke=0.1, travel_per_radian=np.array(leads_mm) * 1e-3 / (2 * np.pi), motor_speeds=SPEEDS, torques=torques, inertia=2.8e-4,
            mass=60.0, force=30.0, efficiency=0.9,
        )
    )  # fmt: skip


def test_time_of_a_move_over_leads() -> None:
    # check value A6: the best lead is about 42 mm, four times that of constant torque, and the optimum is flat
    assert times([5, 10, 20, 40, 80]) == pytest.approx([0.7886, 0.5485, 0.4394, 0.4072, 0.4496], rel=1e-2)
    leads = list(np.arange(30.0, 56.0, 1.0))
    assert leads[int(np.argmin(times(leads)))] == pytest.approx(42.0, abs=2.0)


def test_without_force_the_reflected_load_equals_the_inertia() -> None:
    radius = optimum_travel_per_radian(torque=2.0, inertia=4e-4, mass=60.0, force=0.0, efficiency=1.0)
    assert 60.0 * radius**2 == pytest.approx(4e-4)


def test_a_short_move_never_reaches_the_speed() -> None:
    assert move_time(stroke=0.01, speed=1.0, acceleration=1.0) == pytest.approx(0.2)
    assert move_time(stroke=0.01, speed=1.0, acceleration=-1.0) == np.inf


def test_a_cap_on_speed_costs_time() -> None:
    given = {
        "stroke": 0.5, "travel_per_radian": np.array([0.01 / 6.28]), "motor_speeds": SPEEDS, "torques": np.full(SPEEDS.size, 1.0),
        "inertia": 2e-4, "mass": 30.0, "force": 20.0, "efficiency": 0.9,
    }  # fmt: skip
    assert least_move_time(**given, speed_cap=0.05)[0] > least_move_time(**given)[0]

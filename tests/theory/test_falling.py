import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import falling, rotation

RADIAN = 0.01 / (2 * np.pi)


@given(st.floats(2.0, 40.0), st.floats(0.0, 0.2))
def test_never_faster_than_free_fall(mass: float, torque: float) -> None:
    a = falling.fall_acceleration(mass=mass, force=mass * 9.80665, travel_per_radian=RADIAN, back_efficiency=0.95, resisting_torque=torque,
                                  inertia=1e-5)  # fmt: skip
    assert 0 <= a < 9.80665


def test_a_thread_that_locks_holds() -> None:
    assert falling.fall_acceleration(mass=50.0, force=490.0, travel_per_radian=RADIAN, back_efficiency=0.0, resisting_torque=0.01,
                                     inertia=1e-5) == 0.0  # fmt: skip
    assert np.isinf(falling.fall_time(acceleration=0.0, distance=0.1))


def test_two_half_drives_are_one() -> None:
    """Two drives with half the inertia and half the drag each fall like one."""
    one = falling.fall_acceleration(
        mass=12.0, force=117.0, travel_per_radian=RADIAN, back_efficiency=0.9, resisting_torque=0.06, inertia=4e-5
    )
    two = falling.fall_acceleration_of_several(
        mass=12.0, force=117.0, holding_force=2 * 0.03 / (RADIAN * 0.9), apparent_mass=2 * 2e-5 / (RADIAN**2 * 0.9)
    )
    assert two == pytest.approx(one)


def test_inertia_behind_a_reduction() -> None:
    assert rotation.through_reduction(inertia=9e-5, ratio=3.0) == pytest.approx(1e-5)

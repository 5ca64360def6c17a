"""A machine on its feet: moments by hand, the lever rule, and laws."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.base.units import GRAVITY
from gantrywright.theory.tipping import foot_forces, tipping_acceleration, tipping_lines, tipping_use

CORNERS = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 0.8], [0.0, 0.8]])


def test_the_use_is_one_at_the_acceleration_that_tips() -> None:
    own = {"moving": 25.0, "height": 0.9, "mass": 90.0, "lever": 0.3}
    limit = tipping_acceleration(**own)
    assert limit == pytest.approx(90 * GRAVITY * 0.3 / (25 * 0.9))
    assert tipping_use(**own, acceleration=limit) == pytest.approx(1.0)
    assert tipping_use(**own, acceleration=limit / 4) == pytest.approx(0.25)
    assert np.isinf(tipping_use(**(own | {"lever": -0.01}), acceleration=1.0))
    assert tipping_acceleration(**(own | {"lever": -0.01})) == 0.0


def test_samples_give_samples() -> None:
    masses = np.array([80.0, 90.0, 100.0])
    assert tipping_use(moving=25.0, height=0.9, mass=masses, lever=0.3, acceleration=2.0).shape == (3,)
    forces = foot_forces(feet=CORNERS, stiffness=1e7, weight=masses * GRAVITY, centre=(0.5, 0.4))
    np.testing.assert_allclose(forces, np.repeat(masses[:, None] * GRAVITY / 4, 4, axis=1))


def test_lines_are_the_outline_of_the_feet_with_levers_inwards() -> None:
    inner = np.vstack([CORNERS, [[0.5, 0.4], [0.5, 0.0]]])  # a foot in the middle and one on a side make no line of their own
    normals, distances = tipping_lines(inner)
    levers = normals @ np.array([0.3, 0.2]) - distances
    assert sorted(levers) == pytest.approx([0.2, 0.3, 0.6, 0.7])
    assert np.linalg.norm(normals, axis=1) == pytest.approx(np.ones(len(normals)))
    assert (normals @ np.array([1.2, 0.4]) - distances).min() == pytest.approx(-0.2)
    with pytest.raises(ValueError, match="one line"):
        tipping_lines(np.array([[0.0, 0.0], [1.0, 1.0], [2.0, 2.0]]))


@given(st.floats(0.05, 0.95), st.floats(0.05, 0.75), st.floats(-100, 100), st.floats(-100, 100))
def test_forces_of_the_feet_balance_weight_and_moments(x: float, y: float, about_x: float, about_y: float) -> None:
    springs = np.array([1e7, 2e7, 3e7, 1.5e7])
    forces = foot_forces(feet=CORNERS, stiffness=springs, weight=800.0, centre=(x, y), moment=(about_x, about_y))
    assert forces.sum() == pytest.approx(800.0)
    assert (forces * CORNERS[:, 1]).sum() - 800.0 * y + about_x == pytest.approx(0.0, abs=1e-8)
    assert -(forces * CORNERS[:, 0]).sum() + 800.0 * x + about_y == pytest.approx(0.0, abs=1e-8)


def test_three_feet_bear_by_levers_whatever_their_stiffness() -> None:
    feet = np.array([[0.0, 0.0], [1.0, 0.0], [0.5, 1.0]])
    forces = foot_forces(feet=feet, stiffness=np.array([1e6, 5e7, 2e7]), weight=900.0, centre=(0.5, 1 / 3))
    assert forces == pytest.approx([300.0, 300.0, 300.0])


def test_the_far_feet_come_free_just_when_the_use_is_one() -> None:
    """Acceleration along +y presses the feet at small y; those at y = 0.8 are without load at the limit."""
    limit = tipping_acceleration(moving=25.0, height=0.9, mass=90.0, lever=0.3)
    forces = foot_forces(feet=CORNERS, stiffness=1e7, weight=90 * GRAVITY, centre=(0.5, 0.3), moment=(25 * limit * 0.9, 0.0))
    assert forces[2:] == pytest.approx([0.0, 0.0], abs=1e-9)
    assert forces[:2] == pytest.approx([90 * GRAVITY / 2] * 2)

"""Stops: energy by hand, and a bump integrated in time."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import stops


def test_energy_with_rotors() -> None:
    # 20 kg at 0.2 m/s is 0.4 J; 1e-4 kg m2 at 0.2/0.0016 = 125 rad/s is 0.78125 J
    turning = stops.reflected_mass(inertia=1e-4, travel_per_radian=0.0016)
    assert turning == pytest.approx(39.0625)
    assert stops.moving_energy(mass=20.0, reflected=turning, speed=0.2) == pytest.approx(1.18125)


def bump(mass: float, speed: float, thrust: float, stiffness: float, stroke: float) -> tuple[float, float]:
    """Deepest place and greatest force of a mass that is pushed into a spring, the push growing with it; small steps in time."""
    step, place, greatest = 2e-7, 0.0, 0.0
    while speed > 0:
        force = stiffness * place
        greatest = max(greatest, force)
        speed += (thrust * min(place / stroke, 1.0) - force) / mass * step
        place += speed * step
    return place, greatest


@pytest.mark.parametrize(("mass", "speed", "thrust", "allowed"), [(20.0, 0.2, 100.0, 600.0), (60.0, 0.15, 700.0, 1500.0)])
def test_bumper_of_the_stroke_ends_at_the_allowed_force(mass: float, speed: float, thrust: float, allowed: float) -> None:
    stroke = float(stops.bumper_stroke(energy=mass * speed**2 / 2, thrust=thrust, allowed=allowed))
    place, force = bump(mass, speed, thrust, allowed / stroke, stroke)
    assert force == pytest.approx(allowed, rel=2e-3)
    assert place == pytest.approx(stroke, rel=2e-3)


def test_no_bumper_helps_where_the_thrust_alone_is_too_much() -> None:
    got = stops.bumper_stroke(energy=np.array([1.0, 1.0]), thrust=1000.0, allowed=np.array([1000.0, 1200.0]))
    np.testing.assert_allclose(got, (np.inf, 0.01))


@given(energy=st.floats(0.01, 50), thrust=st.floats(0, 400))
def test_stroke_grows_with_energy_and_thrust(energy: float, thrust: float) -> None:
    base = stops.bumper_stroke(energy=energy, thrust=thrust, allowed=1000.0)
    assert stops.bumper_stroke(energy=2 * energy, thrust=thrust, allowed=1000.0) == pytest.approx(2 * base)
    assert stops.bumper_stroke(energy=energy, thrust=thrust + 10, allowed=1000.0) > base


@given(energy=st.floats(0.01, 50), thrust=st.floats(0, 400))
def test_a_bumper_of_the_stroke_that_is_needed_ends_at_the_force_that_is_allowed(energy: float, thrust: float) -> None:
    stroke = float(stops.bumper_stroke(energy=energy, thrust=thrust, allowed=1000.0))
    assert stops.bumper_force(energy=energy, thrust=thrust, stroke=stroke) == pytest.approx(1000.0)


def test_torque_as_force() -> None:
    assert stops.force_of_torque(torque=3.0, travel_per_radian=0.0016) == pytest.approx(1875.0)

"""Pull-out torque by trying all current vectors, and by the simulated chopper."""

import numpy as np
import pytest

from gantrywright.theory.step_loss import SimulatedMotor, forced_run
from gantrywright.theory.steppers import pull_out_torque, pull_out_torque_at_amplitude
from gantrywright.theory.supplies import stepper_power
from motor_cases import RPM, SQUARE, A, B

RADII, ANGLES = np.linspace(0.0, 1.0, 400)[:, None], np.linspace(-np.pi / 2, 3 * np.pi / 2, 1440)[None, :]


def by_grid(motor: dict[str, float], speed: float, amplitude: float) -> float:
    """Greatest torque of all current vectors that the voltage can drive."""
    direct, quadrature = motor["current"] * RADII * np.cos(ANGLES), motor["current"] * RADII * np.sin(ANGLES)
    reactance, emf = motor["pole_pairs"] * motor["inductance"] * speed, motor["torque_constant"] * speed
    across = motor["resistance"] * direct - reactance * quadrature
    along = motor["resistance"] * quadrature + reactance * direct + emf
    able = across**2 + along**2 <= amplitude**2
    return float(motor["torque_constant"] * np.max(np.where(able, quadrature, 0.0)))


@pytest.mark.parametrize("motor", [A, B])
@pytest.mark.parametrize("volts", [36.0, 70.0])
@pytest.mark.parametrize("rpm", [60, 300, 420, 600, 1500])
def test_closed_form_against_all_current_vectors(motor: dict[str, float], volts: float, rpm: float) -> None:
    closed = float(pull_out_torque_at_amplitude(speed=rpm * RPM, amplitude=volts * SQUARE, **motor))
    assert by_grid(motor, rpm * RPM, volts * SQUARE) == pytest.approx(closed, rel=1e-2)


def simulated(rpm: float, lead: float) -> tuple[float, float]:
    motor = SimulatedMotor(**A, voltage=50.0, inertia=5.6e-4)
    run = forced_run(motor=motor, speed=rpm * RPM, lead=lead)
    return float(run.torque), float(run.power)


@pytest.mark.parametrize(("rpm", "expected"), [(420, 3.984), (500, 3.516), (600, 2.995), (900, 2.012), (1200, 1.509)])
def test_blend_of_voltage_against_the_chopper(rpm: float, expected: float) -> None:
    # check value D7: an earlier simulation of the same motor; ours must meet it, and the closed form must meet ours
    best = max(simulated(rpm, lead)[0] for lead in np.linspace(0.8, 3.4, 40))
    assert best == pytest.approx(expected, rel=1e-2)
    assert float(pull_out_torque(speed=rpm * RPM, voltage=50.0, **A)) == pytest.approx(best, rel=4.5e-2)


@pytest.mark.parametrize(("rpm", "torque"), [(120, 1.0), (240, 2.0), (600, 1.5), (1000, 1.0), (1500, 0.4)])
def test_power_against_the_chopper(rpm: float, torque: float) -> None:
    runs = [simulated(rpm, lead) for lead in np.linspace(-0.6, 3.2, 60)]
    rising = int(np.argmax([t for t, _ in runs])) + 1
    power = np.interp(torque, [t for t, _ in runs[:rising]], [p for _, p in runs[:rising]])
    assert float(stepper_power(torque=torque, speed=rpm * RPM, voltage=50.0, **A)) == pytest.approx(power, rel=3e-2)

"""Steps in load, and the swing of the rotor, by integrating the equation of motion; ramps by the simulated chopper."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from gantrywright.theory.load_angle import magnetic_stiffness, natural_frequency, start_speed, step_limit
from gantrywright.theory.optimum_lead import optimum_travel_per_radian, ramp_acceleration
from gantrywright.theory.step_loss import SimulatedMotor, keeps_step, loss_factor
from gantrywright.theory.steppers import corner_speed, pull_out_torque
from motor_cases import A


def survives(before: float, after: float) -> bool:
    """A frictionless rotor, angle in electrical radians, time in swings."""

    def swing(_: float, state: np.ndarray) -> list[float]:
        return [state[1], after - np.sin(state[0])]

    slipped = lambda _, state: state[0] - np.pi  # noqa: E731
    slipped.terminal = True
    found = solve_ivp(swing, (0.0, 60.0), [np.arcsin(before), 0.0], events=slipped, rtol=1e-9, atol=1e-11)
    return found.status == 0


@pytest.mark.parametrize("before", [-0.2, 0.0, 0.2, 0.5])
def test_step_limit_against_integration(before: float) -> None:
    limit = float(step_limit(load_ratio=before))
    assert survives(before, limit - 2e-3)
    assert not survives(before, limit + 2e-3)


def test_ring_down_against_integration() -> None:
    inertia, peak, poles = 5.6e-4, 4.5, 50
    swing = lambda _, s: [s[1], -peak * np.sin(poles * s[0]) / inertia]  # noqa: E731
    crossed = lambda _, s: s[0]  # noqa: E731
    crossed.direction = -1
    found = solve_ivp(swing, (0.0, 0.2), [1e-4, 0.0], events=crossed, rtol=1e-10, atol=1e-14, max_step=1e-4)
    periods = np.diff(found.t_events[0])
    stiffness = magnetic_stiffness(torque=0.0, peak_torque=peak, pole_pairs=poles)
    assert 1 / np.mean(periods) == pytest.approx(float(natural_frequency(stiffness=stiffness, inertia=inertia)), rel=1e-3)


def test_start_without_ramp_is_the_separatrix() -> None:
    inertia, peak, poles = 5.6e-4, 4.5, 50
    frequency = natural_frequency(stiffness=peak * poles, inertia=inertia)
    limit = float(start_speed(frequency=frequency, pole_pairs=poles))
    for factor, slips in ((0.98, False), (1.02, True)):  # seen from the field, the rotor starts backwards at the field's speed
        swing = lambda _, s: [s[1], -peak * np.sin(poles * s[0]) / inertia]  # noqa: E731
        found = solve_ivp(swing, (0.0, 0.1), [0.0, -factor * limit], rtol=1e-9, atol=1e-12)
        assert (np.min(found.y[0]) * poles < -np.pi) is np.bool_(slips)


def ramp(times_corner: float, ratio: float, damping: float) -> bool:
    """Whether a ramp that asks for a part of the pull-out torque at its end keeps step."""
    motor = SimulatedMotor(**A, voltage=50.0, inertia=5.6e-4, friction=0.4)
    speed = times_corner * float(corner_speed(amplitude=50.0, **A))
    torque = float(pull_out_torque(speed=speed, voltage=50.0, **A))
    return bool(keeps_step(motor=motor, speed=speed, acceleration=(ratio * torque - 0.4) / 5.6e-4, damping=damping))


@pytest.mark.parametrize("times_corner", [1.0, 1.15, 1.3])
def test_the_promised_part_of_the_torque_keeps_step_up_to_the_reliable_speed(times_corner: float) -> None:
    assert ramp(times_corner, 0.7, 0.0)
    assert not ramp(times_corner, 1.15, 0.0)


def test_damping_helps_beyond_the_corner() -> None:
    motor = SimulatedMotor(**A, voltage=50.0, inertia=5.6e-4, friction=0.4)
    speed = 1.7 * float(corner_speed(amplitude=50.0, **A))
    factors = [loss_factor(motor=motor, speed=speed, acceleration=3000.0, damping=d) for d in (0.0, 0.05)]
    assert factors[1] > 1.1 * factors[0]


def test_more_weight_than_torque_never_keeps_step() -> None:
    motor = SimulatedMotor(**A, voltage=50.0, inertia=5.6e-4, weight=4.6)
    assert not keeps_step(motor=motor, speed=20.0, acceleration=100.0, damping=0.05)


@pytest.mark.parametrize(
    ("torque", "inertia", "mass", "force", "efficiency"), [(2.0, 4e-4, 60.0, 200.0, 0.9), (1.0, 1e-4, 30.0, 100.0, 0.9)]
)
def test_lead_against_trying_all(torque: float, inertia: float, mass: float, force: float, efficiency: float) -> None:
    given = {"torque": torque, "inertia": inertia, "mass": mass, "force": force, "efficiency": efficiency}
    tried = np.linspace(1e-4, 2e-2, 200_001)
    best = tried[int(np.argmax(ramp_acceleration(travel_per_radian=tried, **given)))]
    assert optimum_travel_per_radian(**given) == pytest.approx(best, rel=1e-3)

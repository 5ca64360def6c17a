"""What a stop leaves at the tip, by modes, against a frame whose drive is really moved, in time steps and in the machine's own frame."""

import numpy as np
import pytest
from scipy.signal import lsim

from gantrywright.theory.frames.assembly import stiffness, stretches
from gantrywright.theory.frames.frame import Frame, Lumps
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.modes import Modes, modes
from gantrywright.theory.frames.transients import (
    carried_field,
    left_by_ramp,
    left_by_stop,
    ringing,
    settling_time,
    swing_per_acceleration,
)
from small_gantry import RHO, X, bars_of, rectangle, springs_of

A, SPEED, ZETA = 2.0, 0.2, 0.03
DRIVE = 6 + 6  # coefficient of the drive: one bar first, then the first way of the second spring


@pytest.fixture(scope="module")
def frame() -> Frame:
    """Bed of 60 kg on soft feet, gantry of 15 kg on a drive along X, a slender column on it with 4 kg on top."""
    nodes = np.array([[0.0, 0, 0], [0.0, 0, 0], [0.0, 0, 0.5]])
    bars = bars_of(nodes, [(1, 2)], [rectangle(0.03, 0.03)], [X], mass=[RHO * 9e-4], rotary=[(5e-4, 5e-4)])
    springs = springs_of([(-1, 0), (0, 1)], [(3e6, 3e6, 1e7, 1e6, 1e6, 1e6), (6e6, 1e9, 1e9, 1e7, 1e7, 1e7)])
    lumps = Lumps(
        np.array([0, 1, 2]), np.zeros((3, 3)), np.array([60.0, 15.0, 4.0]), np.array([4.0, 0.5, 0.01])[:, None, None] * np.eye(3)
    )
    return Frame(nodes, bars, springs, lumps)


def acceleration(time: np.ndarray, ramp: float) -> np.ndarray:
    """From the cruise to a halt, the deceleration coming and going over a ramp; ends at time 0."""
    hold = SPEED / A
    corners = [-hold - ramp, -hold, -ramp, 0.0] if ramp else [-hold - 1e-9, -hold, -1e-9, 0.0]
    return np.interp(time, corners, [0.0, -A, -A, 0.0])


def driven(frame: Frame, ramp: float, after: float) -> tuple[np.ndarray, np.ndarray]:
    """Time since the stop, and motion of the top against its place at rest, by moving the far end of the drive's spring."""
    rows = stretches(frame)
    stiff, mass = stiffness(rows, frame.coefficients).toarray(), mass_matrix(frame).toarray()
    found = modes(stiffness(rows, frame.coefficients), mass_matrix(frame), 18)
    damper = mass @ found.shapes @ np.diag(2 * ZETA * np.sqrt(found.squares)) @ found.shapes.T @ mass
    step = 2e-5
    time = np.arange(-SPEED / A - ramp - 0.001, after, step)
    speed = SPEED + np.concatenate([[0.0], np.cumsum((acceleration(time, ramp)[1:] + acceleration(time, ramp)[:-1]) / 2 * step)])
    way = np.concatenate([[0.0], np.cumsum((speed[1:] + speed[:-1]) / 2 * step)])
    pull = rows.toarray()[DRIVE] * frame.coefficients[DRIVE]  # force per metre that the drive's far end is moved
    field = carried_field(moves=np.array([False, True, True]), direction=X)
    np.testing.assert_allclose(stiff @ field, pull, atol=1e-6 * np.abs(pull).max())  # carried along, nothing else gives
    size = len(stiff)
    inverse = np.linalg.inv(mass)
    system = np.block([[np.zeros((size, size)), np.eye(size)], [-inverse @ stiff, -inverse @ damper]])
    # the drive's damper works on its stretch as its spring does, so the far end drags through it, too
    inputs = np.block([[np.zeros((size, 2))], [(inverse @ np.stack([pull, damper @ field], axis=1))]])
    start = np.concatenate([np.zeros(size), SPEED * field])
    _, _, states = lsim(
        (system, inputs, np.eye(2 * size), np.zeros((2 * size, 2))), np.stack([way, speed], axis=1), time - time[0], X0=start
    )
    top = states[:, 12] - way
    return time, top


def predicted(frame: Frame, found: Modes) -> np.ndarray:
    momentum = mass_matrix(frame) @ carried_field(moves=np.array([False, True, True]), direction=X)
    return swing_per_acceleration(at_tip=found.shapes[[12]], shapes=found.shapes, momentum=momentum, squares=found.squares)


@pytest.mark.parametrize("ramp", [0.0, 0.01, 0.04, 0.09])
def test_ringing_after_a_stop(frame: Frame, ramp: float) -> None:
    found = modes(stiffness(stretches(frame), frame.coefficients), mass_matrix(frame), 18)
    circular = np.sqrt(found.squares)
    time, top = driven(frame, ramp, 0.8)
    swings = A * predicted(frame, found)
    left = np.abs(swings) * left_by_stop(circular=circular, damping=ZETA, ramp=ramp, braking=SPEED / A)
    after = time >= 0
    ours = ringing(swings=left[:, None, :], circular=circular, damping=np.full(18, ZETA), time=time[after][:, None, None])
    bound = np.squeeze(ours)
    simulated = np.abs(top[after])
    assert np.all(simulated <= bound * (1 + 1e-3) + 1e-9)
    main = 2 * np.pi / circular[np.argmax(np.abs(swings[0]))]
    early = time[after] < 1.5 * main
    assert simulated[early].max() > 0.45 * bound[0]  # phases of the two ends and of the modes are bounded, not followed
    tolerance = 0.2 * bound[0]
    settled = settling_time(swings=left, circular=circular, damping=np.full(18, ZETA), tolerance=tolerance)[0]
    last = time[after][simulated > tolerance][-1]
    assert last <= settled < 2.0 * last + main


def test_the_end_of_a_stop_alone_is_followed_exactly(frame: Frame) -> None:
    """One mode, held in its static swing and let go over a ramp, in time steps of its own equation."""
    w, zeta, step = 2 * np.pi * 20.0, 0.05, 1e-5
    for ramp in (0.0, 0.013, 0.05, 0.08):
        time = np.arange(0.0, ramp + 0.2, step)
        pull = np.clip(1 - time / ramp, 0.0, 1.0) if ramp else np.where(time > 0, 0.0, 1.0)
        pull = pull if ramp else np.zeros_like(time)
        system = (np.array([[0, 1.0], [-w * w, -2 * zeta * w]]), np.array([[0.0], [w * w]]), np.eye(2), np.zeros((2, 1)))
        _, _, states = lsim(system, pull, time, X0=[1.0, 0.0])
        x, v = states[np.searchsorted(time, ramp + 1e-9)]
        later = time[np.searchsorted(time, ramp + 1e-9)] - ramp
        envelope = np.hypot(x, (v + zeta * w * x) / (w * np.sqrt(1 - zeta**2))) * np.exp(zeta * w * later)
        assert left_by_ramp(circular=w, damping=zeta, ramp=ramp) == pytest.approx(envelope, rel=1e-3)

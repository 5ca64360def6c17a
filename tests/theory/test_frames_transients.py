"""What a stop leaves behind: laws of the ramp, of settling, and of what is fed back as a limit."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.frames.transients import (
    best_ramp,
    carried_field,
    left_at_most,
    left_by_ramp,
    quiet_acceleration,
    quiet_ramp,
    reached_part,
    ringing,
    settling_time,
    swing_per_acceleration,
    wait,
)

SWINGS = np.array([[40e-6, -10e-6, 2e-6], [0.0, 25e-6, 1e-6]])  # two directions, three modes
CIRCULAR = 2 * np.pi * np.array([20.0, 45.0, 130.0])
DAMPING = np.array([0.03, 0.02, 0.01])


@given(st.floats(1.0, 2000.0), st.floats(0.0, 0.3), st.floats(0.0, 0.5))
def test_no_ramp_leaves_more_than_its_bound(circular: float, damping: float, ramp: float) -> None:
    assert (
        left_by_ramp(circular=circular, damping=damping, ramp=ramp)
        <= left_at_most(circular=circular, damping=damping, ramp=ramp) + 1e-12
    )


@given(st.floats(1.0, 2000.0), st.floats(0.0, 0.3), st.floats(1e-5, 0.5), st.floats(1.0, 5.0))
def test_the_bound_falls_with_the_ramp(circular: float, damping: float, ramp: float, longer: float) -> None:
    near = left_at_most(circular=circular, damping=damping, ramp=ramp)
    assert left_at_most(circular=circular, damping=damping, ramp=ramp * longer) <= near + 1e-12


def test_a_step_leaves_all_and_a_ramp_of_whole_periods_nothing() -> None:
    assert left_by_ramp(circular=100.0, damping=0.0, ramp=0.0) == 1.0
    assert left_by_ramp(circular=100.0, damping=0.05, ramp=0.0) == pytest.approx(1 / np.sqrt(1 - 0.05**2))
    period = 2 * np.pi / 100.0
    assert left_by_ramp(circular=100.0, damping=0.0, ramp=period * np.array([1, 2, 3])) == pytest.approx(np.zeros(3), abs=1e-12)
    assert left_by_ramp(circular=100.0, damping=0.0, ramp=1.5 * period) == pytest.approx(2 / (3 * np.pi))
    assert left_by_ramp(circular=100.0, damping=0.0, ramp=1e-12) == pytest.approx(1.0, abs=1e-9)


def test_after_the_settling_time_it_rings_just_the_tolerance() -> None:
    times = settling_time(swings=SWINGS, circular=CIRCULAR, damping=DAMPING, tolerance=5e-6)
    assert ringing(swings=SWINGS, circular=CIRCULAR, damping=DAMPING, time=times) == pytest.approx([5e-6, 5e-6], rel=1e-9)
    one = settling_time(swings=SWINGS[:1, :1], circular=CIRCULAR[:1], damping=DAMPING[:1], tolerance=5e-6)
    assert one == pytest.approx([np.log(8.0) / (0.03 * CIRCULAR[0])])


def test_what_is_still_below_the_tolerance_need_not_settle_and_what_never_fades_never_settles() -> None:
    assert settling_time(swings=SWINGS, circular=CIRCULAR, damping=DAMPING, tolerance=1e-4).tolist() == [0.0, 0.0]
    still = np.array([0.0, 0.02, 0.01])
    times = settling_time(swings=SWINGS, circular=CIRCULAR, damping=still, tolerance=5e-6)
    assert np.isinf(times[0])
    assert 0 < times[1] < 1
    lasting = settling_time(swings=SWINGS, circular=CIRCULAR, damping=still, tolerance=45e-6)
    assert ringing(swings=SWINGS, circular=CIRCULAR, damping=still, time=lasting)[0] == pytest.approx(45e-6)


def test_the_quiet_ramp_keeps_to_the_tolerance_and_so_does_every_longer_one() -> None:
    ramp = quiet_ramp(swings=SWINGS, circular=CIRCULAR, damping=DAMPING, tolerance=5e-6)
    assert ramp.shape == (2,)
    for factor in (1.0, 1.07, 1.3, 2.0, 7.7):
        left = left_by_ramp(circular=CIRCULAR, damping=DAMPING, ramp=factor * ramp[:, None])
        assert np.all((np.abs(SWINGS) * left).sum(axis=1) <= 5e-6 * (1 + 1e-9))
    bound = left_at_most(circular=CIRCULAR, damping=DAMPING, ramp=0.999 * ramp[:, None])
    assert np.all((np.abs(SWINGS) * bound).sum(axis=1) > 5e-6)
    assert quiet_ramp(swings=SWINGS, circular=CIRCULAR, damping=DAMPING, tolerance=1e-4).tolist() == [0.0, 0.0]


def test_the_quiet_acceleration_rings_just_the_tolerance() -> None:
    per_acceleration = SWINGS / 2.0
    for ramp, time in ((0.0, 0.0), (0.03, 0.0), (0.03, 0.1)):
        found = quiet_acceleration(
            swings=per_acceleration, circular=CIRCULAR, damping=DAMPING, tolerance=5e-6, ramp=ramp, time=time
        )
        left = left_by_ramp(circular=CIRCULAR, damping=DAMPING, ramp=ramp)
        rings = ringing(swings=per_acceleration * left * found[:, None], circular=CIRCULAR, damping=DAMPING, time=time)
        assert rings == pytest.approx([5e-6, 5e-6])
    nothing = quiet_acceleration(swings=0 * SWINGS, circular=CIRCULAR, damping=DAMPING, tolerance=5e-6)
    assert np.all(np.isinf(nothing))


def test_the_best_ramp_loses_no_more_time_than_any_other() -> None:
    own = {"swings": SWINGS, "circular": CIRCULAR, "damping": DAMPING, "tolerance": 5e-6}
    best = best_ramp(**own, longest=0.2)
    ramps = np.linspace(0.0, 0.2, 41)
    lost = best + wait(**own, ramp=np.array([best]))[0]
    assert lost <= (ramps + wait(**own, ramp=ramps)).min() + 1e-3
    assert lost < wait(**own, ramp=np.array([0.0]))[0] / 2
    assert best == pytest.approx(2 * np.pi / CIRCULAR[0], rel=0.15)  # about one period of the mode that binds


def test_samples_lead() -> None:
    rng = np.random.default_rng(5)
    circular = CIRCULAR * rng.lognormal(0, 0.1, (7, 3))
    damping = DAMPING * rng.lognormal(0, 0.3, (7, 3))
    swings = SWINGS * (CIRCULAR / circular)[:, None, :] ** 2
    times = settling_time(swings=swings, circular=circular, damping=damping, tolerance=5e-6)
    ramps = quiet_ramp(swings=swings, circular=circular, damping=damping, tolerance=5e-6)
    found = quiet_acceleration(swings=swings, circular=circular, damping=damping, tolerance=5e-6, ramp=0.02)
    assert times.shape == ramps.shape == found.shape == (7, 2)
    for k in range(7):
        own = {"swings": swings[k], "circular": circular[k], "damping": damping[k], "tolerance": 5e-6}
        assert times[k] == pytest.approx(settling_time(**own))
        assert ramps[k] == pytest.approx(quiet_ramp(**own))
        assert found[k] == pytest.approx(quiet_acceleration(**own, ramp=0.02))


def test_static_parts_of_all_modes_make_the_static_lag() -> None:
    """Two masses on springs, the outer one and the inner one both carried: the lag is K^-1 M s."""
    field = carried_field(moves=np.array([False, True]), direction=np.array([0.0, 1.0, 0.0]))
    assert field.tolist() == [0.0] * 7 + [1.0] + [0.0] * 4
    stiff, mass = np.array([[3e6, -1e6], [-1e6, 1e6]]), np.diag([5.0, 2.0])
    squares, shapes = np.linalg.eigh(np.diag(np.diag(mass) ** -0.5) @ stiff @ np.diag(np.diag(mass) ** -0.5))
    shapes = np.diag(np.diag(mass) ** -0.5) @ shapes
    swings = swing_per_acceleration(at_tip=shapes[1:], shapes=shapes, momentum=mass @ np.ones(2), squares=squares)
    assert swings.sum() == pytest.approx(-np.linalg.solve(stiff, mass @ np.ones(2))[1])
    free = swing_per_acceleration(at_tip=shapes[1:], shapes=shapes, momentum=mass @ np.ones(2), squares=np.array([0.0, squares[1]]))
    assert free[0, 0] == 0.0


def test_a_short_change_of_speed_reaches_a_part_of_the_acceleration() -> None:
    """Two ramps of s tau to s a and back change the speed by s a s tau."""
    accel, ramp = np.array([1.0, 4.0, 2.0]), np.array([0.1, 0.05, 0.0])
    speed = np.array([0.025, 0.5, 0.1])
    part = np.asarray(reached_part(accel=accel, speed=speed, ramp=ramp))
    assert part == pytest.approx([0.5, 1.0, 1.0])
    assert (part * accel * part * ramp)[0] == pytest.approx(speed[0])
    assert reached_part(accel=2.0, speed=0.0, ramp=0.05) == 0.0
    edge = reached_part(accel=2.0, speed=0.1, ramp=0.05)
    assert edge == pytest.approx(1.0)

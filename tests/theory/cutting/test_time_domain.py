import numpy as np
import pytest

from chatter_cases import TURN, head_modes
from gantrywright.theory.cutting import forces as cf
from gantrywright.theory.cutting import time_domain as td
from gantrywright.theory.cutting.engagement import Way, engagement
from gantrywright.theory.cutting.modes import FeedModes, feed_modes

CUT = cf.Coefficients(750e6, 15e3, 225e6, 15e3)


def run(modes: FeedModes, rpm: float, *, width: float = 0.1, way: Way = "climb", depth: float = 2e-3, turns: int = 120,
        helix: float = 0.0, cut: cf.Coefficients = CUT, **more: float) -> td.SimulatedCut:  # fmt: skip
    start, stop = engagement(diameter=6e-3, width=width * 6e-3, way=way)
    return td.simulate_cut(
        modes=modes, cut=cut, flutes=2, diameter=6e-3, start=start, stop=stop, helix=helix, depth=depth,
        feed_per_tooth=40e-6, speed=rpm * TURN, turns=turns, slices=8 if helix else 1, **more,
    )  # fmt: skip


def rigid() -> FeedModes:
    return feed_modes(frequencies=np.full(2, 3000.0), stiffness=np.full(2, 1e12), damping=np.full(2, 0.1), directions=np.eye(2))


@pytest.mark.parametrize(("rpm", "wall", "swing"), [(12000, -9.28, 17.9), (16200, -45.2, 127.0), (24000, 0.07, 6.6)])
def test_wall_and_swing_of_a_stable_cut(rpm: float, wall: float, swing: float) -> None:
    """CU-25: worked out there from the receptance and the harmonics of a rigid cut."""
    found = run(head_modes(), rpm)
    assert found.right[-1].mean() * 1e6 == pytest.approx(wall, rel=0.02, abs=0.1)
    assert found.swing(5)[1] * 1e6 == pytest.approx(swing, rel=0.02)
    assert found.scatter(10) < 0.05e-6


@pytest.mark.parametrize(("width", "way"), [(1.0, "climb"), (0.1, "climb"), (0.3, "conventional")])
def test_forces_of_a_rigid_machine_are_those_of_the_force_model(width: float, way: Way) -> None:
    found = run(rigid(), 12000, width=width, way=way, turns=3, fineness=4.0)
    start, stop = engagement(diameter=6e-3, width=width * 6e-3, way=way)
    means = cf.mean_forces(cut=CUT, flutes=2, depth=2e-3, feed_per_tooth=40e-6, diameter=6e-3, start=start, stop=stop)
    mean = found.force[-found.per_turn :].mean(axis=0)
    np.testing.assert_allclose(mean, (means.along_feed, means.across), atol=5e-3 * np.hypot(means.along_feed, means.across))


def test_helix_leaves_the_mean_and_lowers_the_peak() -> None:
    straight, twisted = (run(rigid(), 12000, turns=3, helix=helix, fineness=4.0) for helix in (0.0, 0.6))
    last = slice(-straight.per_turn, None)
    np.testing.assert_allclose(twisted.force[last].mean(axis=0), straight.force[last].mean(axis=0), rtol=0.02)
    assert np.hypot(*twisted.force[last].T).max() < 0.9 * np.hypot(*straight.force[last].T).max()


def test_period_doubling_of_two_teeth_shows_from_tooth_to_tooth_only() -> None:
    wild = run(head_modes(), 12000, width=1.0, depth=1.29e-3, helix=0.5, turns=300, cut=cf.Coefficients(750e6, 1e3, 225e6, 1e3))
    assert wild.scatter(20) < 1e-9
    assert wild.unlikeness(20) > 10e-6
    calm = run(head_modes(), 12000, width=1.0, depth=0.7e-3, helix=0.5, turns=300)
    assert calm.unlikeness(20) < 1e-9


def test_no_engagement_no_force() -> None:
    found = run(head_modes(), 12000, width=0.0, turns=5)
    assert not found.force.any()
    assert not found.motion.any()


def test_force_goes_with_the_coefficients() -> None:
    twice = cf.Coefficients(1.5e9, 30e3, 450e6, 30e3)
    one, two = (run(rigid(), 12000, turns=3, cut=c) for c in (CUT, twice))
    np.testing.assert_allclose(two.force, 2 * one.force, rtol=1e-3, atol=1e-3)


def test_run_out_as_large_as_the_chip_leaves_one_tooth_cutting() -> None:
    """Once 2 e reaches the feed per tooth the other of two teeth does nothing, and the peak doubles (edge forces aside)."""
    sharp = cf.Coefficients(750e6, 0.0, 225e6, 0.0)
    even = run(rigid(), 12000, width=1.0, turns=6, cut=sharp)
    uneven = run(rigid(), 12000, width=1.0, turns=6, cut=sharp, eccentricity=21e-6)
    last = np.hypot(*uneven.force[-uneven.per_turn :].T)
    quarter = uneven.per_turn // 4
    peaks = last[quarter], last[3 * quarter]
    assert min(peaks) == pytest.approx(0.0, abs=0.05)
    assert max(peaks) == pytest.approx(2 * np.hypot(*even.force[-uneven.per_turn + quarter]), rel=0.02)


def test_marks_leave_a_wall_with_cusps_between_them() -> None:
    places, wall = td.wall_left(marks=np.zeros(6), spacing=0.3e-3, diameter=6e-3, count=100)
    inside = wall[:500]
    assert inside.max() == pytest.approx(0.0)
    assert -inside.min() == pytest.approx(0.3e-3**2 / (4 * 6e-3), rel=1e-3)
    assert places[100] == pytest.approx(0.3e-3)
    _, deep = td.wall_left(marks=np.array([0, 50e-6, 0.0]), spacing=0.3e-3, diameter=6e-3, count=50)
    assert deep[50] == pytest.approx(50e-6)
    assert deep[0] == pytest.approx(50e-6 - 0.3e-3**2 / 6e-3)  # the deep mark has taken its neighbour away

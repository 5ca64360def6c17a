import numpy as np
import pytest

from chatter_cases import TURN, slow_modes
from gantrywright.theory.cutting import lobes as lb
from gantrywright.theory.cutting import low_frequency as lf
from gantrywright.theory.cutting import modes as md

FAST = np.array([12000.0, 18000.0, 24000.0]) * TURN


def limit(modes: md.FeedModes, factors: np.ndarray, shear: float = 700e6) -> np.ndarray:
    lines = md.worth_scanning(frequencies=modes.frequencies, damping=modes.damping, lowest=2.0, highest=400.0, even=600)
    on = lb.lobe_curves(frequencies=lines, receptance=md.feed_receptance(modes=modes, frequencies=lines), factors=factors)
    return lf.low_frequency_limit(curves=on, shear=shear, flutes=2, speeds=FAST).depth


def by_eigenvalues(modes: md.FeedModes, factors: np.ndarray, speed: float) -> float:
    """First depth at which an eigenvalue of the equations of motion crosses to the right, tried in steps of 0.2 %."""
    period, count = 2 * np.pi / (2 * speed), len(modes.squares)
    driven = modes.shapes.T @ factors @ modes.shapes
    damping = np.diag(2 * modes.damping * np.sqrt(modes.squares))
    for depth in np.geomspace(0.2e-3, 30e-3, 2500):
        gain = depth * 700e6 * 2 / (4 * np.pi)
        mass = np.linalg.inv(np.eye(count) + gain * period**2 / 2 * driven)
        move = np.block([
            [np.zeros((count, count)), np.eye(count)],
            [-mass @ np.diag(modes.squares), -mass @ (damping - gain * period * driven)],
        ])  # fmt: skip
        if np.linalg.eigvals(move).real.max() > 0:
            return float(depth)
    return np.inf


@pytest.mark.parametrize(("count", "depth", "by_delay"), [(1, 4.61, 4.74), (2, 4.70, 4.98)])
def test_gantry_modes(count: int, depth: float, by_delay: float) -> None:
    """CU-23, CU-23b: on the safe side of the delay method."""
    factors = lb.directional_factors(start=0.0, stop=np.pi / 2, radial_ratio=0.3)
    found = limit(slow_modes(count), factors)[1] * 1e3
    assert found == pytest.approx(depth, rel=3e-3)
    assert 0.85 < found / by_delay < 0.98


@pytest.mark.parametrize("stop", [0.6, 1.2, np.pi / 2, np.pi])
@pytest.mark.parametrize("angle", [0.0, 0.7, 1.5])
def test_against_eigenvalues_of_the_motion(stop: float, angle: float) -> None:
    modes, factors = slow_modes(2).turned(angle), lb.directional_factors(start=0.0, stop=stop, radial_ratio=0.3)
    found = limit(modes, factors)
    brute = [by_eigenvalues(modes, factors, speed) for speed in FAST]
    for one, other in zip(found, brute, strict=True):
        if one < 29e-3:
            assert one == pytest.approx(other, rel=5e-3)
        else:
            assert np.isinf(other)


def test_one_mode_is_the_closed_form() -> None:
    factors = lb.directional_factors(start=0.0, stop=np.pi / 2, radial_ratio=0.3)
    closed = lf.one_mode_limit(
        frequency=40.0, mass=30.0, damping=0.03, factor=lf.factor_along(factors=factors, angle=np.pi / 2), shear=700e6, speed=FAST
    )
    np.testing.assert_allclose(limit(slow_modes(1), factors), closed, rtol=2e-3)


def test_a_cut_that_damps_never_chatters() -> None:
    factors = lb.directional_factors(start=0.0, stop=np.pi / 2, radial_ratio=0.3)
    along = slow_modes(1).turned(np.pi / 2)  # the mode is now along the feed, which half up-milling damps
    assert lf.factor_along(factors=factors, angle=0.0) < 0
    assert np.isinf(limit(along, factors)).all()


def test_factor_along_many_directions() -> None:
    factors = lb.directional_factors(start=0.0, stop=1.0, radial_ratio=0.3)
    angles = np.linspace(0, np.pi, 5)
    found = lf.factor_along(factors=factors, angle=angles)
    assert found[0] == pytest.approx(factors[0, 0])
    assert found[2] == pytest.approx(factors[1, 1])
    assert found[1] == pytest.approx(factors.sum() / 2)


def test_which_modes_are_slow() -> None:
    slow = lf.far_below_teeth(frequencies=np.array([40.0, 75.0, 76.0]), flutes=2, speed=300 * 2 * np.pi)
    assert slow.tolist() == [True, True, False]

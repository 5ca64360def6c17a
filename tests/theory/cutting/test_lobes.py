import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad_vec

from chatter_cases import TURN, head_modes, two_modes
from gantrywright.theory.cutting import lobes as lb
from gantrywright.theory.cutting import modes as md
from gantrywright.theory.cutting.engagement import Way, engagement

SPEEDS = np.linspace(5000, 20000, 31) * TURN


def curves(modes: md.FeedModes, width: float, way: Way, ratio: float = 0.07, highest: float = 6000.0) -> lb.LobeCurves:
    start, stop = engagement(diameter=1.0, width=width, way=way)
    frequencies = np.ravel(modes.frequencies)[: modes.squares.shape[-1]]
    lines = md.worth_scanning(frequencies=frequencies, damping=np.full(len(frequencies), 0.035), lowest=5.0, highest=highest)
    factors = lb.directional_factors(start=start, stop=stop, radial_ratio=ratio)
    return lb.lobe_curves(frequencies=lines, receptance=md.feed_receptance(modes=modes, frequencies=lines), factors=factors)


@pytest.mark.parametrize(("width", "depth", "frequency"), [(0.5, 1.0196, 624.9), (1.0, 0.7247, 618.2)])
def test_least_depth_of_the_textbook_example(width: float, depth: float, frequency: float) -> None:
    """CU-18."""
    least = lb.least_limit(curves=curves(two_modes(), width, "conventional"), shear=600e6, flutes=3)
    assert least.depth * 1e3 == pytest.approx(depth, rel=2e-3)
    assert least.frequency == pytest.approx(frequency, rel=5e-3)


@pytest.mark.parametrize(
    ("width", "way", "speeds", "depths"),
    [
        (0.5, "conventional", (8000, 10000, 12000, 14000), (1.021, 1.322, 4.283, 2.482)),  # CU-19
        (1.0, "conventional", (8000, 10000, 12000, 14000), (0.7264, 0.9462, 2.806, 1.721)),  # CU-19b
        (0.1, "climb", (9000, 12000, 16000), (34.9, 59.4, 14.2)),  # CU-21: three times what the cut can bear
    ],
)
def test_limits_at_speeds(width: float, way: Way, speeds: tuple[float, ...], depths: tuple[float, ...]) -> None:
    found = lb.zero_order_limit(curves=curves(two_modes(), width, way), shear=600e6, flutes=3, speeds=np.array(speeds) * TURN)
    np.testing.assert_allclose(found.depth * 1e3, depths, rtol=5e-3 if way == "conventional" else 0.015)


def test_loop_is_on_the_verge_at_the_limit() -> None:
    """The determinant, from the receptance at the frequency found, with nothing of the eigenvalues and lags that led there."""
    modes, start, stop = head_modes(), 0.3, 2.2
    lines = md.worth_scanning(frequencies=modes.frequencies, damping=modes.damping, lowest=5.0, highest=5000.0)
    factors = lb.directional_factors(start=start, stop=stop, radial_ratio=0.3)
    found = lb.zero_order_limit(
        curves=lb.lobe_curves(frequencies=lines, receptance=md.feed_receptance(modes=modes, frequencies=lines), factors=factors),
        shear=750e6, flutes=2, speeds=SPEEDS,
    )  # fmt: skip
    answer = md.feed_receptance(modes=modes, frequencies=found.frequency)
    delay = np.exp(-2j * np.pi * found.frequency * 2 * np.pi / (2 * SPEEDS))
    gain = 2 * found.depth * 750e6 / (4 * np.pi) * (1 - delay)
    verge = np.linalg.det(np.eye(2) - gain[:, None, None] * (factors @ answer))
    assert np.abs(verge).max() < 0.02


def test_factors_are_the_integral_over_the_arc() -> None:
    def at(angle: float) -> np.ndarray:
        s, c, kr = np.sin(2 * angle), np.cos(2 * angle), 0.3
        return np.array([[-(s + kr * (1 - c)), -((1 + c) + kr * s)], [(1 - c) - kr * s, s - kr * (1 + c)]])

    np.testing.assert_allclose(lb.directional_factors(start=0.4, stop=2.3, radial_ratio=0.3), quad_vec(at, 0.4, 2.3)[0], rtol=1e-9)


@given(arc=st.floats(0.01, np.pi), ratio=st.floats(-1.0, 1.0))
def test_mirrored_cut_is_a_cut_with_the_spindle_reversed(arc: float, ratio: float) -> None:
    up = lb.directional_factors(start=0.0, stop=arc, radial_ratio=-ratio)
    down = lb.directional_factors(start=np.pi - arc, stop=np.pi, radial_ratio=ratio)
    mirror = np.diag([1.0, -1.0])
    np.testing.assert_allclose(down, -mirror @ up @ mirror, atol=1e-12)


@given(factor=st.floats(0.05, 20.0))
def test_limit_goes_with_one_over_the_cutting_stiffness(factor: float) -> None:
    on = curves(two_modes(), 0.5, "climb")
    one, other = (lb.zero_order_limit(curves=on, shear=k, flutes=3, speeds=SPEEDS).depth for k in (600e6, 600e6 * factor))
    np.testing.assert_allclose(other * factor, one, rtol=1e-9)


@given(factor=st.floats(0.3, 3.0))
def test_frequencies_and_speeds_scale_together(factor: float) -> None:
    modes = two_modes()
    lines = md.worth_scanning(frequencies=modes.frequencies, damping=modes.damping, lowest=5.0, highest=6000.0)
    factors = lb.directional_factors(start=0.0, stop=np.pi / 2, radial_ratio=0.2)
    limits = []
    for by in (1.0, factor):
        answer = md.feed_receptance(modes=modes.quicker(by), frequencies=lines * by)
        on = lb.lobe_curves(frequencies=lines * by, receptance=answer, factors=factors)
        limits.append(lb.zero_order_limit(curves=on, shear=600e6, flutes=3, speeds=SPEEDS * by).depth)
    np.testing.assert_allclose(limits[1], limits[0], rtol=1e-6)


def test_no_engagement_never_chatters() -> None:
    found = lb.zero_order_limit(curves=curves(two_modes(), 0.0, "climb"), shear=600e6, flutes=3, speeds=SPEEDS)
    assert np.isinf(found.depth).all()
    assert np.isnan(found.frequency).all()
    assert np.isinf(lb.least_limit(curves=curves(two_modes(), 0.0, "climb"), shear=600e6, flutes=3).depth)


def test_no_speed_is_below_the_least_limit_and_one_comes_near() -> None:
    on = curves(two_modes(), 0.5, "conventional")
    depth = lb.zero_order_limit(curves=on, shear=600e6, flutes=3, speeds=np.linspace(2000, 20000, 400) * TURN).depth
    least = lb.least_limit(curves=on, shear=600e6, flutes=3).depth
    assert depth.min() >= least * (1 - 1e-9)
    assert depth.min() < least * 1.01


def test_scan_is_fine_enough() -> None:
    modes = two_modes()
    coarse = lb.zero_order_limit(curves=curves(modes, 1.0, "climb"), shear=600e6, flutes=3, speeds=SPEEDS).depth
    lines = np.linspace(5.0, 6000.0, 60000)
    factors = lb.directional_factors(start=0.0, stop=np.pi, radial_ratio=0.07)
    fine = lb.lobe_curves(frequencies=lines, receptance=md.feed_receptance(modes=modes, frequencies=lines), factors=factors)
    np.testing.assert_allclose(coarse, lb.zero_order_limit(curves=fine, shear=600e6, flutes=3, speeds=SPEEDS).depth, rtol=5e-3)


def test_limits_deeper_than_asked_are_left_out_and_the_others_stay() -> None:
    found = lb.zero_order_limit(curves=curves(two_modes(), 1.0, "climb"), shear=600e6, flutes=3, speeds=SPEEDS).depth
    deepest = float(np.median(found))
    short = lb.zero_order_limit(
        curves=curves(two_modes(), 1.0, "climb"), shear=600e6, flutes=3, speeds=SPEEDS, deepest=deepest
    ).depth
    np.testing.assert_allclose(short, np.where(found <= deepest, found, np.inf), rtol=1e-12)


def test_directions_and_samples_are_as_one_by_one() -> None:
    modes = head_modes()
    angles, shears, ratios = np.radians([0.0, 45.0, 90.0]), np.array([500e6, 700e6]), np.array([0.1, 0.4])
    lines = md.worth_scanning(frequencies=modes.frequencies, damping=modes.damping, lowest=5.0, highest=5000.0)
    answer = md.turned_receptance(receptance=md.feed_receptance(modes=modes, frequencies=lines), angle=angles)
    factors = lb.directional_factors(start=0.0, stop=np.pi / 2, radial_ratio=ratios)
    on = lb.lobe_curves(frequencies=lines, receptance=answer[:, None], factors=factors)
    speeds = SPEEDS / np.array([[1.0], [1.05]])  # frequencies 5 % higher in the second sample
    both = lb.zero_order_limit(curves=on, shear=shears, flutes=2, speeds=speeds).depth
    assert both.shape == (3, 2, len(SPEEDS))
    alone = lb.lobe_curves(
        frequencies=lines,
        receptance=md.feed_receptance(modes=modes.turned(angles[1]), frequencies=lines),
        factors=lb.directional_factors(start=0.0, stop=np.pi / 2, radial_ratio=0.4),
    )
    np.testing.assert_allclose(
        both[1, 1], lb.zero_order_limit(curves=alone, shear=700e6, flutes=2, speeds=SPEEDS / 1.05).depth, rtol=1e-9
    )


def test_best_speed_is_that_which_bears_doubt() -> None:
    on = curves(head_modes(), 1.0, "conventional", ratio=0.3)

    def limits(speeds: np.ndarray) -> np.ndarray:
        return lb.zero_order_limit(curves=on, shear=750e6, flutes=2, speeds=speeds).depth

    worst = lb.worst_limits(limits, SPEEDS)
    assert (worst <= limits(SPEEDS) + 1e-15).all()
    np.testing.assert_allclose(lb.worst_limits(limits, SPEEDS, doubt=0.0), limits(SPEEDS))
    near = np.linspace(SPEEDS[20] / 1.04, SPEEDS[20] / 0.96, 400)
    assert worst[20] == pytest.approx(limits(near).min(), rel=0.02)


def test_recommended_is_a_share_of_the_limit() -> None:
    assert lb.recommended_depth(limit=2e-3) == pytest.approx(1.4e-3)

from dataclasses import replace

import numpy as np
import pytest

from chatter_cases import TURN, head_modes, one_mode, slow_modes, two_modes
from gantrywright.theory.cutting import delay as dl
from gantrywright.theory.cutting import delay_steps as ds
from gantrywright.theory.cutting.engagement import Way, engagement
from gantrywright.theory.cutting.modes import FeedModes


def cut(width: float, way: Way, *, shear: float = 600e6, ratio: float = 0.07, flutes: int = 3, **more: float) -> dl.DelayCut:
    start, stop = engagement(diameter=6e-3, width=width * 6e-3, way=way)
    return dl.DelayCut(shear, ratio, flutes, 6e-3, float(start), float(stop), **more)


def limits(modes: FeedModes, of: dl.DelayCut, *rpm: float, deepest: float = 60e-3, fineness: float = 1.0) -> np.ndarray:
    speeds = np.array(rpm) * TURN
    return np.asarray(dl.delay_limits(modes=modes, cut=of, speeds=speeds, shallowest=0.2e-3, deepest=deepest, fineness=fineness)[0])


@pytest.mark.parametrize(
    ("width", "way", "rpm", "depths", "tolerance"),
    [
        (0.5, "conventional", (8000, 10000, 12000, 14000), (1.027, 1.350, 4.566, 2.442), 0.01),  # CU-19
        (1.0, "conventional", (8000, 10000, 12000, 14000), (0.7327, 0.9594, 2.885, 1.688), 0.01),  # CU-19b
        (0.1, "climb", (9000, 12000, 16000), (14.83, 39.9, 12.58), 0.02),  # CU-21
    ],
)
def test_limits_of_the_textbook_modes(
    width: float, way: Way, rpm: tuple[float, ...], depths: tuple[float, ...], tolerance: float
) -> None:
    np.testing.assert_allclose(limits(two_modes(), cut(width, way), *rpm) * 1e3, depths, rtol=tolerance)
    np.testing.assert_allclose(limits(two_modes(), cut(width, way), *rpm, fineness=3.0) * 1e3, depths, rtol=1.5e-3)


def test_multiplier_of_one_mode() -> None:
    """CU-20; the value that is remembered from the literature is 1.0726."""
    of = cut(1.0, "conventional", ratio=1 / 3, flutes=2)
    two, four = (
        dl.multipliers(modes=one_mode(), cut=of, speeds=np.array([5000 * TURN]), depths=np.array([0.5e-3]), fineness=f)[0]
        for f in (2.0, 4.0)
    )
    assert four == pytest.approx(1.0740, rel=2e-3)
    assert four + (four - two) / 3 == pytest.approx(1.07398, rel=1e-4)  # error falls with the square of the steps


@pytest.mark.parametrize(("count", "depth"), [(1, 4.74), (2, 4.98)])
def test_gantry_modes(count: int, depth: float) -> None:
    """CU-23, CU-23b."""
    of = cut(0.5, "conventional", shear=700e6, ratio=0.3, flutes=2)
    assert limits(slow_modes(count), of, 18000)[0] * 1e3 == pytest.approx(depth, rel=5e-3)


@pytest.mark.parametrize("modes", [two_modes(), head_modes(), one_mode(), slow_modes(2)])
@pytest.mark.parametrize(("width", "way"), [(1.0, "climb"), (0.1, "climb"), (0.2, "conventional")])
@pytest.mark.parametrize("rpm", [2500, 9000, 20000])
def test_block_finds_the_greatest_of_all_multipliers(modes: FeedModes, width: float, way: Way, rpm: float) -> None:
    of, speed = cut(width, way, shear=700e6, ratio=0.3, flutes=2), rpm * TURN
    nodes = dl._nodes(of, dl._steps(modes, of, speed, 0.5))
    plain = dl._plain(modes, of, nodes, speed)
    for depth in (0.3e-3, 2e-3):
        found = ds.greatest_multiplier(*plain, depth, dl._block(modes, nodes, speed), False)[0]
        rows = 2 * len(modes.squares) + 2 * (len(nodes) - 1)
        weights = plain[5] * depth * ds.step_means(nodes, plain[7], 2, of.start, of.stop, 0.0, 1)[:, :4].reshape(-1, 2, 2)
        whole = np.empty((rows, rows))
        ds.drive_through(np.eye(rows), plain[2], ds.mode_steps(nodes, speed, *plain[3:5]), weights, np.zeros_like(weights), whole)
        assert found == pytest.approx(np.abs(np.linalg.eigvals(whole)).max(), rel=3e-4)


def test_where_many_multipliers_are_of_like_size_all_are_looked_at() -> None:
    """Six waves of one mode between teeth, process damping: a block alone went astray by a fifth here."""
    of = dl.DelayCut(700e6, 0.46, 3, 6e-3, 1.4785, np.pi, ploughing=5e4)
    modes, speed = one_mode().turned(0.161), 2912.6 * TURN
    limit = dl.delay_limits(modes=modes, cut=of, speeds=np.array([speed]), shallowest=1e-3, deepest=30e-3)[0][0]
    sizes = dl.multipliers(modes=modes, cut=of, speeds=np.full(4, speed), depths=limit * np.array([0.9, 0.95, 0.995, 1.005]))
    assert limit == pytest.approx(8.577e-3, rel=2e-3)
    np.testing.assert_allclose(sizes, [0.9648, 0.9822, 0.9962, 1.0038], rtol=1e-3)


def test_means_of_a_step_are_those_of_a_helical_edge() -> None:
    nodes, start, stop, span, flutes, ratio = np.linspace(0, np.pi, 31), 0.4, 2.6, 1.7, 2, 0.3
    means = ds.step_means(nodes, ratio, flutes, start, stop, span, 400)

    heights = (np.arange(2000) + 0.5) / 2000
    for step in (0, 7, 18, 29):
        angles = nodes[step] + (np.arange(64) + 0.5) / 64 * (nodes[step + 1] - nodes[step])
        phi = np.mod(angles[:, None, None] + np.pi * np.arange(flutes)[:, None] - span * heights, 2 * np.pi)
        s, c, on = np.sin(phi), np.cos(phi), (phi > start) & (phi < stop)
        s2, c2 = 2 * s * c, c * c - s * s
        parts = (-s2 - ratio * (1 - c2), -(1 + c2) - ratio * s2, 1 - c2 - ratio * s2, s2 - ratio * (1 + c2), s * s, s * c, c * c)
        np.testing.assert_allclose(means[step], [(part * on).sum() / (64 * 2000) for part in parts], atol=4e-3)


def test_a_hardly_twisted_cutter_is_a_straight_one() -> None:
    straight = limits(two_modes(), cut(0.3, "climb"), 9000, 13000, fineness=4.0)
    twisted = limits(two_modes(), cut(0.3, "climb", helix=1e-4), 9000, 13000, fineness=4.0)
    np.testing.assert_allclose(twisted, straight, rtol=5e-3)


def test_limit_goes_with_one_over_the_cutting_stiffness() -> None:
    one = limits(two_modes(), cut(0.3, "climb"), 9000, 13000)
    other = limits(two_modes(), cut(0.3, "climb", shear=200e6), 9000, 13000, deepest=180e-3)
    np.testing.assert_allclose(other / 3, one, rtol=1e-3)


def test_frequencies_and_speeds_scale_together() -> None:
    one = limits(two_modes(), cut(0.5, "climb"), 9000, 13000)
    np.testing.assert_allclose(limits(two_modes().quicker(1.7), cut(0.5, "climb"), 9000 * 1.7, 13000 * 1.7), one, rtol=1e-3)


def test_no_engagement_never_chatters() -> None:
    of = replace(cut(0.5, "climb"), start=np.pi, stop=np.pi)
    depth, frequency = dl.delay_limits(modes=two_modes(), cut=of, speeds=np.array([1000.0]), shallowest=1e-3, deepest=1.0)
    assert np.isinf(depth).all()
    assert np.isnan(frequency).all()
    fade = dl.multipliers(modes=two_modes(), cut=of, speeds=np.array([1000.0]), depths=np.array([5e-3]))[0]
    slowest = np.exp(-0.035 * 2 * np.pi * 600 * 2 * np.pi / 3000)
    assert fade == pytest.approx(slowest, rel=1e-3)


def test_process_damping_only_helps_and_most_where_waves_are_short() -> None:
    bare, held = (limits(two_modes(), cut(1.0, "climb", ploughing=c), 3000, 12000) for c in (0.0, 1e5))
    gain = held / bare
    assert (gain > 1).all()
    assert gain[0] > 1.2 * gain[1]


def test_process_damping_is_a_dashpot_where_nothing_regenerates() -> None:
    """No cutting stiffness, a whole turn of contact by two teeth: the mode sees the mean damping, as its swing is slow against the tooth."""
    modes, speed, depth, coefficient = slow_modes(1), 18000 * TURN, 5e-3, 4e5
    of = dl.DelayCut(1e-3, 0.0, 2, 6e-3, 0.0, np.pi, ploughing=coefficient)
    found = dl.multipliers(modes=modes, cut=of, speeds=np.array([speed]), depths=np.array([depth]))[0]
    per_time = 2 * 0.03 * 2 * np.pi * 40 + depth * 2 * coefficient / (4 * speed * 3e-3) / 30.0
    assert np.log(found) == pytest.approx(-per_time / 2 * 2 * np.pi / (2 * speed), rel=5e-3)


def test_chatter_frequency_is_that_of_the_lobes_less_whole_teeth() -> None:
    of, speed = cut(0.5, "conventional"), 10000 * TURN
    frequency = dl.delay_limits(modes=two_modes(), cut=of, speeds=np.array([speed]), shallowest=0.2e-3, deepest=20e-3)[1][0]
    teeth = 3 * speed / (2 * np.pi)
    assert abs(652.0 - teeth - frequency) < 3.0  # 652 Hz by the zero-order solution

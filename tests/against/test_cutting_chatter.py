"""Chatter by four routes: delay method, a disturbed run in time, collocation by Chebyshev polynomials, and lobes where they are known to hold."""

from itertools import pairwise

import numpy as np
import pytest

from chatter_cases import TURN, head_modes, one_mode, slow_modes, two_modes
from gantrywright.theory.cutting import delay as dl
from gantrywright.theory.cutting import forces as cf
from gantrywright.theory.cutting import lobes as lb
from gantrywright.theory.cutting import modes as md
from gantrywright.theory.cutting import time_domain as td
from gantrywright.theory.cutting.engagement import Way, engagement
from gantrywright.theory.cutting.perturbation import growth


def cut(width: float, way: Way, *, shear: float = 600e6, ratio: float = 0.07, flutes: int = 3, **more: float) -> dl.DelayCut:
    start, stop = engagement(diameter=6e-3, width=width * 6e-3, way=way)
    return dl.DelayCut(shear, ratio, flutes, 6e-3, float(start), float(stop), **more)


def chebyshev(count: int) -> tuple[np.ndarray, np.ndarray]:
    """Points from 0 to 1 and the matrix that takes values there to derivatives."""
    points = np.cos(np.pi * np.arange(count + 1) / count)
    ends = np.r_[2.0, np.ones(count - 1), 2.0] * (-1.0) ** np.arange(count + 1)
    apart = points[:, None] - points
    matrix = np.outer(ends, 1 / ends) / (apart + np.eye(count + 1))
    matrix -= np.diag(matrix.sum(axis=1))
    return (1 - points) / 2, -2 * matrix


def by_collocation(modes: md.FeedModes, of: dl.DelayCut, speed: float, depth: float, count: int = 24) -> float:
    """Greatest multiplier: x' = A(t) x - B(t) x(t - T) holds at the points of each piece between entries and exits."""
    pitch, size = 2 * np.pi / of.flutes, 2 * len(modes.squares)
    zero, one = np.zeros((size // 2,) * 2), np.eye(size // 2)
    free = np.block([[zero, one], [-np.diag(modes.squares), -np.diag(2 * modes.damping * np.sqrt(modes.squares))]])
    ends = np.array(sorted({0.0, pitch, *(round(angle % pitch, 12) for angle in (of.start, of.stop))}))
    ends = ends[np.r_[True, np.diff(ends) > 1e-9]]
    cycles = float(modes.frequencies.max()) * pitch / speed
    points, derive = chebyshev(count + int(6 * cycles))
    rows = len(points) * size
    now, then = np.zeros((rows * (len(ends) - 1),) * 2), np.zeros((rows * (len(ends) - 1),) * 2)
    for piece, (low, high) in enumerate(pairwise(ends)):
        at, teeth = piece * rows, (low + high) / 2 + pitch * np.arange(of.flutes)
        on = (teeth > of.start) & (teeth < of.stop)
        block = slice(at, at + rows)
        now[block, block] = np.kron(derive, np.eye(size)) / ((high - low) / speed)
        for number, point in enumerate(points):
            phi = (low + point * (high - low) + pitch * np.arange(of.flutes))[on]
            s, c, kr = np.sin(2 * phi), np.cos(2 * phi), of.radial_ratio
            factor = np.array(
                [[-(s + kr * (1 - c)).sum(), -(1 + c + kr * s).sum()], [(1 - c - kr * s).sum(), (s - kr * (1 + c)).sum()]]
            )
            stiff = np.zeros((size, size))
            stiff[size // 2 :, : size // 2] = 0.5 * depth * of.shear * modes.shapes.T @ factor @ modes.shapes
            own = slice(at + number * size, at + (number + 1) * size)
            now[own, own] -= free + stiff
            then[own, own] -= stiff
        first = slice(at, at + size)
        now[first], then[first] = 0.0, 0.0
        now[first, first] = np.eye(size)
        (now if piece else then)[first, at - size : at or None] = -np.eye(size) if piece else np.eye(size)
    return float(np.abs(np.linalg.eigvals(np.linalg.solve(now, then))).max())


def by_delay(modes: md.FeedModes, of: dl.DelayCut, speed: float, depth: float) -> float:
    """With what is left of the error taken off, as it falls with the square of the step."""
    one, two = (
        dl.multipliers(modes=modes, cut=of, speeds=np.array([speed]), depths=np.array([depth]), fineness=f)[0] for f in (2.0, 4.0)
    )
    return float(two + (two - one) / 3)


CASES = [
    (one_mode(), cut(1.0, "climb", ratio=1 / 3, flutes=2), 5000, 0.5e-3),  # CU-20
    (two_modes(), cut(1.0, "climb"), 8000, 0.7e-3),
    (two_modes(), cut(0.5, "conventional"), 12000, 4.5e-3),
    (two_modes(), cut(0.5, "climb"), 14000, 2e-3),
    (two_modes(), cut(0.3, "climb"), 9000, 4e-3),
    (two_modes(), cut(0.1, "climb"), 16000, 13e-3),
    (two_modes(), cut(0.05, "conventional"), 12000, 5e-3),
    (head_modes(), cut(0.7, "climb", shear=750e6, ratio=0.3, flutes=2), 16500, 3e-3),
    (slow_modes(2), cut(0.5, "conventional", shear=700e6, ratio=0.3, flutes=2), 18000, 5e-3),
    (head_modes().turned(0.6), cut(0.2, "climb", shear=750e6, ratio=0.3, flutes=1), 15000, 6e-3),
]


@pytest.mark.parametrize(("modes", "of", "rpm", "depth"), CASES)
def test_multipliers_by_three_methods(modes: md.FeedModes, of: dl.DelayCut, rpm: float, depth: float) -> None:
    third = by_collocation(modes, of, rpm * TURN, depth)
    assert by_delay(modes, of, rpm * TURN, depth) == pytest.approx(third, rel=2e-4)
    assert growth(modes=modes, cut=of, speed=rpm * TURN, depth=depth, periods=400) == pytest.approx(third, rel=1.5e-3)


def test_one_mode_by_collocation() -> None:
    """CU-20."""
    modes, of, rpm, depth = CASES[0]
    assert by_collocation(modes, of, rpm * TURN, depth) == pytest.approx(1.07398, rel=2e-5)


@pytest.mark.parametrize(
    ("width", "way"), [(1.0, "climb"), (0.5, "conventional"), (0.5, "climb"), (0.1, "climb"), (0.05, "conventional")]
)
@pytest.mark.parametrize("rpm", [8000, 13000])
def test_limits_are_where_the_others_turn(width: float, way: Way, rpm: float) -> None:
    of, speed = cut(width, way), rpm * TURN
    limit = float(dl.delay_limits(modes=two_modes(), cut=of, speeds=np.array([speed]), shallowest=0.1e-3, deepest=0.2)[0][0])
    for method in (by_collocation, lambda m, c, s, d: growth(modes=m, cut=c, speed=s, depth=d)):
        assert method(two_modes(), of, speed, 0.98 * limit) < 1 < method(two_modes(), of, speed, 1.02 * limit)


@pytest.mark.parametrize(
    ("width", "way", "least", "most"),
    [(1.0, "climb", 0.95, 1.03), (0.5, "conventional", 0.93, 1.03), (0.5, "climb", 0.81, 1.03), (0.1, "climb", 1.03, 2.8)],
)
def test_where_lobes_hold_and_where_they_flatter(width: float, way: Way, least: float, most: float) -> None:
    modes, of, speeds = two_modes(), cut(width, way), np.linspace(4000, 20000, 9) * TURN
    lines = md.worth_scanning(frequencies=modes.frequencies, damping=modes.damping, lowest=5.0, highest=8000.0)
    on = lb.lobe_curves(
        frequencies=lines,
        receptance=md.feed_receptance(modes=modes, frequencies=lines),
        factors=lb.directional_factors(start=of.start, stop=of.stop, radial_ratio=0.07),
    )
    flat = lb.zero_order_limit(curves=on, shear=600e6, flutes=3, speeds=speeds).depth
    exact = dl.delay_limits(modes=modes, cut=of, speeds=speeds, shallowest=0.1e-3, deepest=0.2, fineness=2.0)[0]
    ratio = flat / exact
    assert ratio.min() > least
    assert ratio.max() < most
    if width == 0.1:
        assert ratio.max() > 2.0


def test_best_speed_under_doubt() -> None:
    """CU-38: the peak of the lobe is not the speed to choose."""
    of = cut(1.0, "climb", shear=750e6, ratio=0.3, flutes=2)
    rpm = np.arange(15500.0, 18001.0, 500.0)

    def limits(speeds: np.ndarray) -> np.ndarray:
        return np.asarray(dl.delay_limits(modes=head_modes(), cut=of, speeds=speeds, shallowest=0.5e-3, deepest=20e-3)[0])

    plain, worst = limits(rpm * TURN), lb.worst_limits(limits, rpm * TURN)
    assert rpm[plain.argmax()] == 17000
    assert plain.max() * 1e3 == pytest.approx(4.17, rel=0.02)
    assert rpm[worst.argmax()] == 16500
    np.testing.assert_allclose(worst[[2, 3]] * 1e3, [2.71, 2.65], rtol=0.02)


@pytest.mark.parametrize(
    ("width", "way", "helix", "ploughing", "rpm"),
    [
        (1.0, "climb", 0.0, 0.0, 9000),
        (1.0, "climb", 0.5, 0.0, 12000),
        (0.3, "climb", 0.5, 0.0, 9000),
        (1.0, "climb", 0.0, 1e5, 6000),
    ],
)
def test_simulated_cut_runs_below_the_limit_and_chatters_above(
    width: float, way: Way, helix: float, ploughing: float, rpm: float
) -> None:
    """The non-linear run, which knows nothing of directional factors: with helix and process damping as well."""
    of = cut(width, way, shear=750e6, ratio=0.3, flutes=2, helix=helix, ploughing=ploughing)
    limit = dl.delay_limits(modes=head_modes(), cut=of, speeds=np.array([rpm * TURN]), shallowest=0.1e-3, deepest=50e-3)[0][0]
    calm, wild = (
        td.simulate_cut(
            modes=head_modes(), cut=cf.Coefficients(750e6, 1e3, 225e6, 1e3), flutes=2, diameter=6e-3, start=of.start, stop=of.stop,
            helix=helix, depth=share * limit, feed_per_tooth=60e-6, speed=rpm * TURN, turns=300, slices=16 if helix else 1,
            ploughing=ploughing,
        ).unlikeness(20)
        for share in (0.65, 1.15)
    )  # fmt: skip
    assert calm < 0.2e-6
    assert wild > 10e-6

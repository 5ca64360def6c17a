"""Sheets on bearers against semi-analytic strips: waves along the bearers, exact plate solution across, summed over all waves."""

import numpy as np
import pytest
from numpy.typing import NDArray

from gantrywright.theory.plate_strip import RUNS_ON, overhang_give, sheet_give, strip_give

NU = 0.3


def piece(k: float, length: float) -> NDArray[np.float64]:
    """Edge forces of a strip of plate for edge motions (deflection, slope at both edges), wave number k along it, D = 1."""
    motions, forces = [], []
    for x, side in ((0.0, -1.0), (length, 1.0)):
        near, far = np.exp(-k * x), np.exp(-k * (length - x))
        w = np.array([near, k * x * near, far, k * (length - x) * far])
        w1 = k * np.array([-near, (1 - k * x) * near, far, (k * (length - x) - 1) * far])
        w2 = k**2 * np.array([near, (k * x - 2) * near, far, (k * (length - x) - 2) * far])
        w3 = k**3 * np.array([-near, (3 - k * x) * near, far, (k * (length - x) - 3) * far])
        motions += [w, w1]
        forces += [-side * (w3 - (2 - NU) * k**2 * w1), side * (w2 - NU * k**2 * w)]
    return np.array(forces) @ np.linalg.inv(np.array(motions))


def give(low: float, high: float, bearers: list[float], load: float) -> float:
    """Deflection under a unit load of an endless sheet from low to high with free edges, on rigid bearers; D = 1."""
    nodes = sorted({low, high, load, *bearers})
    free = [n for n in range(2 * len(nodes)) if n not in {2 * nodes.index(bearer) for bearer in bearers}]
    at = free.index(2 * nodes.index(load))
    points, weights = np.polynomial.legendre.leggauss(120)
    t = (points + 1) / 2
    total = 0.0
    for k, step in zip(t / (1 - t) * 6 / (high - low), weights / 2 * 6 / (high - low) / (1 - t) ** 2, strict=True):
        whole = np.zeros((2 * len(nodes),) * 2)
        for n in range(len(nodes) - 1):
            whole[2 * n : 2 * n + 4, 2 * n : 2 * n + 4] += piece(float(k), nodes[n + 1] - nodes[n])
        unit = np.zeros(len(free))
        unit[at] = 1.0
        total += float(np.linalg.solve(whole[np.ix_(free, free)], unit)[at]) * step
    return total / np.pi


@pytest.mark.parametrize("part", [0.1, 0.25, 0.5, 0.8])
def test_single_span(part: float) -> None:
    assert strip_give(plate=1.0, span=1.0, place=part) == pytest.approx(give(0.0, 1.0, [0.0, 1.0], part), rel=2e-3)


@pytest.mark.parametrize(("spans", "middle"), [(2, 0.5), (3, 0.5), (3, 1.5), (4, 1.5)])
def test_spans_that_run_on(spans: int, middle: float) -> None:
    lines = [float(n) for n in range(spans + 1)]
    exact = give(0.0, float(spans), lines, middle)
    assert sheet_give(plate=1.0, bearers=np.array(lines), place=middle) == pytest.approx(exact, rel=0.02)
    assert RUNS_ON[0] == 1.0


@pytest.mark.parametrize("overhang", [0.1, 0.3, 0.6, 1.0])
@pytest.mark.parametrize("part", [0.25, 0.5, 0.75, 1.0])
def test_overhang(overhang: float, part: float) -> None:
    exact = give(0.0, 1.0 + overhang, [0.0, 1.0], 1.0 + part * overhang)
    assert overhang_give(plate=1.0, span=1.0, place=part * overhang, overhang=overhang) == pytest.approx(exact, rel=0.15)
    if part == 1.0:
        assert overhang_give(plate=1.0, span=1.0, place=overhang) == pytest.approx(exact, rel=0.02)

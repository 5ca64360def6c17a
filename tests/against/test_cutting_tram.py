"""Ridges of a tilted cutter against the lower envelope of many passes, point by point."""

import numpy as np
import pytest

from gantrywright.theory.cutting.spoilboard import tram_step

POINTS = 200_001
PASSES = 12


def envelope(across: float, along: float, diameter: float, spacing: float) -> float:
    """Highest over lowest place of one period amid many passes."""
    radius = diameter / 2
    place = np.linspace(0.0, spacing, POINTS)
    lowest = np.full(POINTS, np.inf)
    for number in range(-PASSES, PASSES + 1):
        off = place - number * spacing
        under = np.abs(off) <= radius
        swept = across * off - abs(along) * np.sqrt(np.maximum(radius**2 - off**2, 0.0))
        lowest = np.minimum(lowest, np.where(under, swept, np.inf))
    return float(lowest.max() - lowest.min())


@pytest.mark.parametrize("number", range(40))
def test_ridge_is_that_of_the_envelope(number: int) -> None:
    random = np.random.default_rng(number)
    across, along = random.uniform(-2e-3, 2e-3, 2) * (random.random(2) > 0.1)
    diameter = random.uniform(0.01, 0.05)
    spacing = random.uniform(0.1, 0.98) * diameter
    got = float(tram_step(across=across, along=along, diameter=diameter, spacing=spacing))
    assert got == pytest.approx(envelope(across, along, diameter, spacing), rel=1e-3, abs=2e-9)

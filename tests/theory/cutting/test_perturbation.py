import numpy as np
import pytest

from chatter_cases import TURN, one_mode, two_modes
from gantrywright.theory.cutting.delay import DelayCut
from gantrywright.theory.cutting.perturbation import growth


def test_growth_of_one_mode() -> None:
    """CU-20."""
    cut = DelayCut(600e6, 1 / 3, 2, 6e-3, 0.0, np.pi)
    assert growth(modes=one_mode(), cut=cut, speed=5000 * TURN, depth=0.5e-3) == pytest.approx(1.0740, rel=3e-4)


def test_nothing_engaged_fades_by_its_damping() -> None:
    cut = DelayCut(600e6, 0.3, 3, 6e-3, 1.0, 1.0)
    fade = growth(modes=one_mode(), cut=cut, speed=9000 * TURN, depth=1e-3)
    assert fade == pytest.approx(np.exp(-0.011 * 2 * np.pi * 922 / 450), rel=1e-4)


@pytest.mark.parametrize("depth", [0.5e-3, 2e-3])
def test_scales_with_frequencies_and_speeds(depth: float) -> None:
    cut = DelayCut(600e6, 0.07, 3, 6e-3, 0.0, np.pi / 2)
    one = growth(modes=two_modes(), cut=cut, speed=9000 * TURN, depth=depth)
    assert growth(modes=two_modes().quicker(1.5), cut=cut, speed=13500 * TURN, depth=depth) == pytest.approx(one, rel=1e-6)

"""Cutting at an angle to the grain against quadrature over the engaged arc."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting import grain
from gantrywright.theory.cutting.engagement import engagement

ANGLES = st.floats(-np.pi, np.pi)


@given(grain_angle=ANGLES, start=st.floats(0.0, 3.0), arc=st.floats(0.01, np.pi))
def test_shares_against_quadrature(grain_angle: float, start: float, arc: float) -> None:
    stop = min(start + arc, np.pi)
    around = np.linspace(start, stop, 4001)
    velocity = np.array([np.cos(around), -np.sin(around)])
    along = velocity.T @ (np.cos(grain_angle), np.sin(grain_angle))
    across = 1 - along**2
    chip = np.trapezoid(np.sin(around) * across, around) / np.trapezoid(np.sin(around), around)
    assert grain.chip_share(grain_angle=grain_angle, start=start, stop=stop) == pytest.approx(chip, abs=1e-5)
    edge = np.trapezoid(across, around) / (stop - start)
    assert grain.edge_share(grain_angle=grain_angle, start=start, stop=stop) == pytest.approx(edge, abs=1e-5)
    np.testing.assert_allclose(grain.across_share(angle=around, grain_angle=grain_angle), across, atol=1e-12)


def test_a_slot_along_the_grain_is_cut_harder_than_one_across() -> None:
    along, across = (grain.chip_share(grain_angle=g, start=0.0, stop=np.pi) for g in (0.0, np.pi / 2))
    assert (along, across) == pytest.approx((2 / 3, 1 / 3))


def test_only_a_light_pass_along_the_grain_meets_the_fibres_lengthwise() -> None:
    start, stop = engagement(diameter=6e-3, width=0.1e-3, way="climb")
    assert grain.chip_share(grain_angle=0.0, start=start, stop=stop) < 0.04


@given(grain_angle=ANGLES, width=st.floats(1e-6, 6e-3))
def test_climb_at_an_angle_is_conventional_at_the_other(grain_angle: float, width: float) -> None:
    climb, conventional = (engagement(diameter=6e-3, width=width, way=way) for way in ("climb", "conventional"))
    for share in (grain.chip_share, grain.edge_share):
        mirrored = share(grain_angle=-grain_angle, start=conventional[0], stop=conventional[1])
        assert share(grain_angle=grain_angle, start=climb[0], stop=climb[1]) == pytest.approx(mirrored, abs=1e-6)


def test_nothing_engaged_has_the_share_of_the_place_of_entering() -> None:
    assert grain.chip_share(grain_angle=0.3, start=1.0, stop=1.0) == pytest.approx(np.sin(1.3) ** 2, abs=1e-3)


def test_samples_are_answered_one_by_one() -> None:
    gamma, stop = np.array([0.1, -0.8, 1.2]), np.array([1.0, 2.0, 3.0])
    got = grain.effective(along=14e6, across=35e6, grain_angle=gamma, start=0.0, stop=stop)
    alone = [grain.effective(along=14e6, across=35e6, grain_angle=g, start=0.0, stop=s) for g, s in zip(gamma, stop, strict=True)]
    np.testing.assert_allclose(got, alone)

"""Walls of welded tubes: fits, ends of the table, and what must grow with what. The rows themselves are in tests/values."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.tube_joints import turned_springs, wall_coefficients, wall_springs

SLENDER = st.floats(14.0, 26.7)
RATIOS = st.floats(0.5, 1.0)


@given(slenderness=SLENDER)
def test_fits_of_full_width(slenderness: float) -> None:
    """0.0171 (20 t/W)^1.05 and 0.0033 (20 t/W)^2.3 run through the rows within 7 %."""
    in_plane, out_of_plane, _ = wall_coefficients(slenderness=slenderness, width_ratio=1.0)
    assert in_plane == pytest.approx(0.0171 * (20 / slenderness) ** 1.05, rel=0.04)
    assert out_of_plane == pytest.approx(0.0033 * (20 / slenderness) ** 2.3, rel=0.07)


@given(slenderness=SLENDER, ratio=RATIOS, more=st.floats(1.001, 1.3))
def test_thicker_walls_and_wider_branches_are_stiffer(slenderness: float, ratio: float, more: float) -> None:
    at = np.array(wall_coefficients(slenderness=slenderness, width_ratio=ratio))
    assert np.all(np.array(wall_coefficients(slenderness=max(slenderness / more, 14.0), width_ratio=ratio)) >= at * (1 - 1e-12))
    assert np.all(np.array(wall_coefficients(slenderness=slenderness, width_ratio=min(ratio * more, 1.0))) >= at * (1 - 1e-12))


@given(thickness=st.floats(1.0, 1.3))
def test_a_narrow_branch_bends_the_wall_as_a_plate(thickness: float) -> None:
    thin = np.array(wall_coefficients(slenderness=20.0, width_ratio=0.6))
    thick = np.array(wall_coefficients(slenderness=20.0 / thickness, width_ratio=0.6))
    assert thick / thin == pytest.approx(thickness**3)


def test_outside_the_table_its_nearest_row_counts() -> None:
    assert wall_coefficients(slenderness=60.0, width_ratio=1.4) == pytest.approx(
        wall_coefficients(slenderness=26.7, width_ratio=1.0)
    )
    assert wall_coefficients(slenderness=8.0, width_ratio=0.1) == pytest.approx(
        wall_coefficients(slenderness=14.0, width_ratio=0.5)
    )


@given(scale=st.floats(0.3, 3))
def test_tubes_alike_in_shape(scale: float) -> None:
    """Forces by the first power of size, moments by the third."""
    one, other = (
        wall_springs(elastic_modulus=210e9, width=0.08 * s, wall=0.004 * s, along=0.06 * s, across=0.06 * s) for s in (1.0, scale)
    )
    assert np.array(other) / np.array(one) == pytest.approx(np.array([scale] * 3 + [scale**3] * 3))


def test_samples_of_the_modulus() -> None:
    many = wall_springs(elastic_modulus=np.array([200e9, 210e9]), width=0.08, wall=0.004, along=0.08, across=0.08)
    alone = wall_springs(elastic_modulus=210e9, width=0.08, wall=0.004, along=0.08, across=0.08)
    assert [spring[1] for spring in many] == pytest.approx(list(alone))  # type: ignore[index]


def test_half_of_a_wall_is_half_as_stiff() -> None:
    whole, half = (
        wall_springs(elastic_modulus=210e9, width=0.08, wall=0.004, along=0.08, across=0.08, share=share) for share in (1.0, 0.5)
    )
    assert np.array(half) * 2 == pytest.approx(np.array(whole))


@pytest.mark.parametrize(
    ("across", "in_plane", "out_of_plane"), [(0.080, 1368.1 / 1956.2, 147.7 / 496.2), (0.042, 42.3 / 51.2, 40.1 / 66.8)]
)
def test_an_open_end_of_the_chord(across: float, in_plane: float, out_of_plane: float) -> None:
    """Shell models of a chord of 80 x 80 x 4 under pure moments, branch at an open end over branch in the middle."""
    middle, end = (
        wall_springs(elastic_modulus=210e9, width=0.08, wall=0.004, along=across, across=across, at_end=at) for at in (0.0, 1.0)
    )
    assert end[5] / middle[5] == pytest.approx(in_plane, rel=0.03)
    assert end[4] / middle[4] == pytest.approx(out_of_plane, rel=0.1)


def test_turning_the_axes_exchanges_them() -> None:
    springs = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0)
    assert turned_springs(springs=springs, share=1.0) == springs
    assert turned_springs(springs=springs, share=0.0) == (1.0, 3.0, 2.0, 4.0, 6.0, 5.0)
    assert turned_springs(springs=springs, share=0.5) == (1.0, 2.5, 2.5, 4.0, 5.5, 5.5)

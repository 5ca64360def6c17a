"""Walls of welded tubes: fits, ends of the table, and what must grow with what. The rows themselves are in tests/values."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.joint_stiffness import seat_springs
from gantrywright.theory.tube_joints import (
    beyond_range,
    known_range,
    open_end_share,
    turned_springs,
    wall_coefficients,
    wall_springs,
)

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


def test_a_narrow_branch_bends_thin_walls_as_a_plate() -> None:
    """Towards the third power of the wall as it gets thinner, well below it where it is thick."""
    for kind in (0, 1, 2):
        thin, thinner, thick, thicker = (wall_coefficients(slenderness=s, width_ratio=0.5)[kind] for s in (80.0, 160.0, 4.0, 2.0))
        assert 2.6 < np.log2(thin / thinner) < 3.0
        assert np.log2(thicker / thick) < 2.2


def test_beyond_the_table_full_width_goes_on_as_membrane_and_as_beam_on_a_bed() -> None:
    """The first power of the wall in plane and of pull, the power of 2.5 out of plane."""
    for one, other in ((80.0, 160.0), (4.0, 2.5)):
        at, there = (np.array(wall_coefficients(slenderness=s, width_ratio=1.0)) for s in (one, other))
        assert np.log(at / there) / np.log(other / one) == pytest.approx([1.0, 2.5, 1.0], abs=0.05)


@given(
    walls=st.tuples(st.floats(2.3, 150.0), st.floats(1.0001, 3.0)), across=st.floats(0.02, 0.12), to_end=st.sampled_from((0.02, 0.04, 0.07, 0.3, np.inf)),
)  # fmt: skip
def test_thicker_walls_are_never_softer(walls: tuple[float, float], across: float, to_end: float) -> None:
    thin, thick = (
        wall_springs(elastic_modulus=70e9, width=0.08, wall=wall, along=min(across, 0.08), across=across, to_end=to_end)
        for wall in (0.08 / walls[0] / walls[1], 0.08 / walls[0])
    )
    assert np.all(np.array(thick) >= np.array(thin) * (1 - 1e-9))


@given(slenderness=st.floats(2.1, 200.0), across=st.floats(0.005, 0.12), to_end=st.floats(0.0, 0.3))
def test_small_steps_of_wall_width_and_end_are_small_steps_of_stiffness(slenderness: float, across: float, to_end: float) -> None:
    """Nowhere a jump, and no step across the ends of the table: a hundred-thousandth gives less than a thousandth."""

    def springs(wall: float, across: float, to_end: float) -> np.ndarray:
        return np.array(wall_springs(elastic_modulus=70e9, width=0.08, wall=wall, along=across, across=across, to_end=to_end))

    wall, step = 0.08 / slenderness, 1 + 1e-5
    at = springs(wall, across, to_end)
    for other in (springs(wall * step, across, to_end), springs(wall, across * step, to_end), springs(wall, across, to_end * step)):
        assert other == pytest.approx(at, rel=1e-3)


def test_no_wall_holds_better_than_solid_metal() -> None:
    solid = seat_springs(elastic_modulus=210e9, along_a=0.08, along_b=0.08)
    tube = wall_springs(elastic_modulus=210e9, width=0.08, wall=0.039, along=0.08, across=0.08)
    assert np.all(np.array(tube) <= np.array(solid) * (1 + 1e-12))
    assert tube[4] == pytest.approx(solid[4])


def test_how_far_beyond_the_table() -> None:
    (thick, thin), (least, _) = known_range()
    assert beyond_range(slenderness=np.array([thick, 20.0, thin]), width_ratio=least).tolist() == [1, 1, 1]
    assert beyond_range(slenderness=np.array([thick / 2, thin * 3]), width_ratio=1.0) == pytest.approx([2, 3])
    assert beyond_range(slenderness=20.0, width_ratio=least / 1.5) == pytest.approx(1.5)


@pytest.mark.parametrize("slenderness", [8.0, 20.0, 40.0])
@pytest.mark.parametrize("to_end", [0.0, 0.02, 0.06, 0.2])
def test_open_end_against_a_row_of_springs(slenderness: float, to_end: float) -> None:
    """A beam on a bed by finite differences, loaded at a distance from its free end, beside the same far from any end."""
    decay = 2.0 / (0.08 * np.sqrt(slenderness))
    step = 0.04 / decay
    count = 601

    def give(place: int) -> float:
        second = np.zeros((count - 2, count))
        for k in range(count - 2):
            second[k, k : k + 3] = (1.0, -2.0, 1.0)
        energy = second.T @ second / step**3 + np.eye(count) * 4 * decay**4 * step
        energy[0, 0] -= 2 * decay**4 * step  # half a piece of bed at the end
        load = np.zeros(count)
        load[place] = 1.0
        return float(np.linalg.solve(energy, load)[place])

    place = round(to_end / step)
    expected = give(count // 2) / give(place)
    assert open_end_share(to_end=place * step, width=0.08, wall=0.08 / slenderness) == pytest.approx(min(expected, 1.0), rel=0.03)


def test_side_walls_that_stand_beside_the_chord_carry_less_out_of_plane() -> None:
    """100 on 80: shells give 0.61, 0.77 and 0.85 of what a branch of full width holds, at width over wall 8, 14 and 20."""
    for slenderness, share in ((8.0, 0.0175 / 0.0289), (14.0, 0.0054 / 0.0070), (20.0, 0.00244 / 0.00288)):
        full, wide = (
            wall_springs(elastic_modulus=1.0, width=0.08, wall=0.08 / slenderness, along=0.08, across=across)
            for across in (0.08, 0.1)
        )
        assert wide[4] / full[4] == pytest.approx(share, rel=0.06)
        assert wide[5] == pytest.approx(full[5])


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


@pytest.mark.parametrize(("across", "in_plane", "out_of_plane"), [(0.080, 1368.1 / 1956.2, 147.7e3), (0.042, 42.3 / 51.2, 40.1e3)])
def test_an_open_end_of_the_chord(across: float, in_plane: float, out_of_plane: float) -> None:
    """Shell models of a chord of 80 x 80 x 4 under pure moments; in plane over a branch in the middle, out of plane N m/rad as it is.

    What those models give in the middle out of plane is too stiff, since their chord was held six widths further.
    """
    middle, end = (
        wall_springs(elastic_modulus=210e9, width=0.08, wall=0.004, along=across, across=across, to_end=at) for at in (np.inf, 0.04)
    )
    assert end[5] / middle[5] == pytest.approx(in_plane, rel=0.03)
    assert end[4] == pytest.approx(out_of_plane, rel=0.1)


def test_turning_the_axes_exchanges_them() -> None:
    springs = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0)
    assert turned_springs(springs=springs, share=1.0) == springs
    assert turned_springs(springs=springs, share=0.0) == (1.0, 3.0, 2.0, 4.0, 6.0, 5.0)
    assert turned_springs(springs=springs, share=0.5) == (1.0, 2.5, 2.5, 4.0, 5.5, 5.5)

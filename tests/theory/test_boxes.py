"""Overlap of boxes and cylinders: cases that can be read off, and laws."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.boxes import Boxes, deepest, extent, overlap

UPRIGHT = np.eye(3)
TILTED = np.array([[np.cos(0.6), np.sin(0.6), 0], [-np.sin(0.6), np.cos(0.6), 0], [0, 0, 1.0]])


def box(centre: object, size: object, axes: object = UPRIGHT, round_: bool = False) -> Boxes:
    return Boxes(
        np.array([centre], dtype=float), np.array([axes], dtype=float), np.array([size], dtype=float), np.array([float(round_)])
    )


STILL = np.zeros((1, 1, 3))


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [
        (box((0, 0, 0), (2, 2, 2)), box((1.7, 0.5, 0), (2, 2, 2)), 0.3),
        (box((0, 0, 0), (2, 2, 2)), box((2.5, 0, 0), (2, 2, 2)), -0.5),
        # corner first: a unit square on its corner reaches sqrt(1/2) along x
        (box((0, 0, 0), (2, 2, 2)), box((1.6, 0, 0), (1, 1, 1), [[2**-0.5, 2**-0.5, 0], [-(2**-0.5), 2**-0.5, 0], [0, 0, 1]]), 1 + 0.5**0.5 - 1.6),
        # crossed bars, one on the other, 1 mm apart
        (box((0, 0, 0), (1, 0.04, 0.04)), box((0, 0, 0.041), (0.04, 1, 0.04)), -0.001),
        # a cylinder passes a corner that its own box would hit
        (box((0, 0, 0), (2, 2, 2)), box((0, 1.9, 1.9), (1, 2, 2), UPRIGHT, True), 0.1),
    ],
)  # fmt: skip
def test_depth_that_can_be_read_off(first: Boxes, second: Boxes, expected: float) -> None:
    assert overlap(first, second, STILL)[0, 0] == pytest.approx(expected, abs=1e-9)


def test_cylinder_reaches_its_radius_in_every_direction() -> None:
    least, most = extent(box((0, 0, 0), (1.0, 0.2, 0.2), [[1, 0, 0], [0, 0.6, 0.8], [0, -0.8, 0.6]], True))
    np.testing.assert_allclose(most - least, [[1.0, 0.2, 0.2]])
    least, most = extent(box((0, 0, 0), (1.0, 0.2, 0.2), [[1, 0, 0], [0, 0.6, 0.8], [0, -0.8, 0.6]]))
    np.testing.assert_allclose(most - least, [[1.0, 0.28, 0.28]])


@given(seed=st.integers(0, 10_000))
def test_overlap_does_not_care_who_is_first_or_how_the_world_is_turned(seed: int) -> None:
    random = np.random.default_rng(seed)
    turn, _ = np.linalg.qr(random.normal(size=(3, 3)))
    axes = [np.linalg.qr(random.normal(size=(3, 3)))[0] for _ in range(2)]
    centres, sizes = random.normal(size=(2, 3)), random.uniform(0.2, 2, size=(2, 3))
    a, b = (box(c, s, x) for c, s, x in zip(centres, sizes, axes, strict=True))
    ta, tb = (box(turn @ c, s, x @ turn.T) for c, s, x in zip(centres, sizes, axes, strict=True))
    depth = overlap(a, b, STILL)
    np.testing.assert_allclose(overlap(b, a, STILL), depth, atol=1e-9)
    np.testing.assert_allclose(overlap(ta, tb, STILL), depth, atol=1e-9)


def test_a_small_part_between_two_grid_points_is_found() -> None:
    """A 2 mm pin passes a 2 mm pin half way somewhere on a metre of travel, off by half a millimetre."""
    pin, other = box((0, 0, 0), (0.002, 0.002, 0.1)), box((-0.375, 0.0005, 0), (0.002, 0.002, 0.1))
    depth, where = deepest(
        pin, other, movements=np.array([[[1.0, 0, 0], [0, 0, 1.0]]]), low=np.array([0.0, 0.0]), high=np.array([1.0, 0.0])
    )
    assert depth[0] == pytest.approx(0.0015, abs=1e-5)
    assert where[0, 0] == pytest.approx(0.375, abs=2e-3)


def test_pairs_are_answered_one_by_one() -> None:
    first = Boxes(np.zeros((2, 3)), np.array([UPRIGHT, TILTED]), np.ones((2, 3)), np.zeros(2))
    second = Boxes(np.array([[0.9, 0, 0], [3.0, 0, 0]]), np.array([UPRIGHT, UPRIGHT]), np.ones((2, 3)), np.zeros(2))
    got = overlap(first, second, np.zeros((2, 1, 3)))
    assert got[0, 0] == pytest.approx(0.1)
    assert got[1, 0] < -1
    assert len(first.take(np.array([1])).centres) == 1


def test_pairs_that_only_touch_are_left_at_their_bound() -> None:
    slab, rider = box((0, 0, 0), (2, 1, 0.1)), box((0, 0, 0.1), (0.2, 0.2, 0.1))
    depth, _ = deepest(slab, rider, movements=np.array([[[1.0, 0, 0]]]), low=np.array([-0.5]), high=np.array([0.5]), ignore=5e-4)
    assert depth[0] == pytest.approx(0.0, abs=1e-12)

"""A bar: its classical matrix, its inner motions and its give between held ends, against cut bars and quadrature."""

import itertools

import numpy as np
import pytest
from scipy.linalg import block_diag

from gantrywright.theory.frames.bars import clamped_give, inner_motion, natural_coefficients, natural_rows, shear_parameter

LENGTH = 1.3
OWN = {"axial": 3.1e8, "torsion": 4.2e4, "bend_height": 9.1e5, "bend_width": 3.3e5, "shear_height": 2.1e7, "shear_width": 4.4e7}
SOFTNESS = {
    "shear_height": shear_parameter(bending=OWN["bend_height"], shear=OWN["shear_height"], length=LENGTH),
    "shear_width": shear_parameter(bending=OWN["bend_width"], shear=OWN["shear_width"], length=LENGTH),
}


def matrix(length: float) -> np.ndarray:
    rows = natural_rows(length=np.array([length]))[0]
    return rows.T @ np.diag(natural_coefficients(length=length, **OWN)) @ rows


def cut(places: list[float]) -> np.ndarray:
    """Stiffness of one bar cut at places: nodes in the order along it."""
    spots = [0.0, *places, LENGTH]
    whole = np.zeros((6 * len(spots), 6 * len(spots)))
    for number, (near, far) in enumerate(itertools.pairwise(spots)):
        whole[6 * number : 6 * number + 12, 6 * number : 6 * number + 12] += matrix(far - near)
    return whole


@pytest.mark.parametrize(("plane", "shift", "turn", "sign"), [("height", 1, 5, 1.0), ("width", 2, 4, -1.0)])
def test_natural_motions_make_the_classical_matrix(plane: str, shift: int, turn: int, sign: float) -> None:
    stiffness, p, bend, size = matrix(LENGTH), SOFTNESS[f"shear_{plane}"], OWN[f"bend_{plane}"], LENGTH
    unit = bend / (1 + p)
    assert stiffness[shift, shift] == pytest.approx(12 * unit / size**3, rel=1e-13)
    assert stiffness[shift, turn] == pytest.approx(sign * 6 * unit / size**2, rel=1e-13)
    assert stiffness[shift, turn + 6] == pytest.approx(sign * 6 * unit / size**2, rel=1e-13)
    assert stiffness[turn, turn] == pytest.approx((4 + p) * unit / size, rel=1e-13)
    assert stiffness[turn, turn + 6] == pytest.approx((2 - p) * unit / size, rel=1e-13)
    assert np.linalg.matrix_rank(stiffness) == 6


def test_the_odd_coefficient_splits_into_bending_and_shear() -> None:
    d = natural_coefficients(length=LENGTH, **OWN)
    for at, plane in ((3, "height"), (5, "width")):
        assert 1 / d[at] == pytest.approx(LENGTH / (3 * OWN[f"bend_{plane}"]) + 4 / (OWN[f"shear_{plane}"] * LENGTH), rel=1e-13)


def test_coefficients_take_samples_and_bars() -> None:
    samples = np.array([[1.0], [2.0], [5.0]])
    length = np.array([0.5, 1.5])
    many = natural_coefficients(length=length, **{key: value * samples for key, value in OWN.items()})
    assert many.shape == (3, 2, 6)
    np.testing.assert_allclose(many[2, 1], 5 * natural_coefficients(length=1.5, **OWN), rtol=1e-13)


@pytest.mark.parametrize("place", [0.0, 0.13, 0.5, 0.91, 1.0])
def test_inner_motion_is_that_of_a_cut_bar(place: float) -> None:
    found = inner_motion(place=np.array(place), length=LENGTH, **SOFTNESS)
    if place in (0.0, 1.0):
        expected = np.hstack([np.eye(6), np.zeros((6, 6))]) if place == 0 else np.hstack([np.zeros((6, 6)), np.eye(6)])
    else:
        whole = cut([place * LENGTH])
        inner, ends = np.arange(6, 12), np.r_[0:6, 12:18]
        expected = -np.linalg.solve(whole[np.ix_(inner, inner)], whole[np.ix_(inner, ends)])
    np.testing.assert_allclose(found, expected, atol=1e-12)


def test_inner_motion_takes_many_places() -> None:
    places = np.linspace(0, 1, 7).reshape(7)
    many = inner_motion(place=places, length=LENGTH, **SOFTNESS)
    for place, one in zip(places, many, strict=True):
        np.testing.assert_array_equal(one, inner_motion(place=place, length=LENGTH, **SOFTNESS))


@pytest.mark.parametrize("places", [[0.31], [0.2, 0.7], [0.1, 0.11, 0.6, 1.2]])
def test_clamped_give_is_that_of_a_chain_of_cut_bars(places: list[float]) -> None:
    whole = cut(places)
    expected = np.linalg.inv(whole[6:-6, 6:-6])
    found = clamped_give(places=np.array(places), length=LENGTH, **OWN)
    scale = np.sqrt(np.outer(np.diag(expected), np.diag(expected)))
    np.testing.assert_allclose(found / scale, expected / scale, atol=1e-9)


def test_clamped_give_for_one_place_is_the_give_of_both_halves_side_by_side() -> None:
    place = 0.4
    halves = matrix(place)[6:, 6:] + matrix(LENGTH - place)[:6, :6]
    np.testing.assert_allclose(clamped_give(places=np.array([place]), length=LENGTH, **OWN) @ halves, np.eye(6), atol=1e-10)


def test_places_may_coincide_or_stand_at_an_end() -> None:
    give = clamped_give(places=np.array([0.0, 0.5, 0.5, LENGTH]), length=LENGTH, **OWN)
    one = clamped_give(places=np.array([0.5]), length=LENGTH, **OWN)
    tiny = 1e-12 * np.abs(one).max()
    np.testing.assert_allclose(give[6:12, 12:18], one, atol=tiny)
    np.testing.assert_allclose(give[:6], 0.0, atol=tiny)
    np.testing.assert_allclose(give[18:], 0.0, atol=tiny)


def test_clamped_give_takes_poses_and_samples() -> None:
    poses, samples = np.array([[0.2, 0.5], [0.3, 0.6], [0.4, 0.7]])[:, None], np.array([1.0, 2.0])
    many = clamped_give(places=poses, length=LENGTH, **{key: value * samples for key, value in OWN.items()})
    assert many.shape == (3, 2, 12, 12)
    np.testing.assert_allclose(many[1, 1], clamped_give(places=poses[1, 0], length=LENGTH, **OWN) / 2, rtol=1e-9, atol=1e-22)


def test_a_contact_inside_an_element_is_the_cut_bar_with_the_contact_on_a_node() -> None:
    """Spring to the ground at a place of a bar on soft ends; its own give in series with that of the bar between its ends."""
    place, spring = 0.37, np.diag([0.0, 2e7, 5e7, 1e4, 3e4, 0.0])
    feet = block_diag(*[np.diag([1e8, 1e8, 2e8, 1e5, 1e5, 2e5])] * 2)
    load = np.zeros(12)
    load[6:] = (10.0, -300.0, 120.0, 5.0, 7.0, -11.0)

    whole = cut([place])
    whole[np.ix_(np.r_[0:6, 12:18], np.r_[0:6, 12:18])] += feet
    whole[6:12, 6:12] += spring
    meshed = np.linalg.solve(whole, np.r_[load[:6], np.zeros(6), load[6:]])

    give = clamped_give(places=np.array([place]), length=LENGTH, **OWN)
    series = np.linalg.solve(np.eye(6) + spring @ give, spring)
    motion = inner_motion(place=np.array(place / LENGTH), length=LENGTH, **SOFTNESS)
    ends = np.linalg.solve(matrix(LENGTH) + feet + motion.T @ series @ motion, load)
    np.testing.assert_allclose(ends, np.r_[meshed[:6], meshed[12:]], rtol=1e-9)

    stretch = motion @ ends
    pull = series @ stretch
    np.testing.assert_allclose(stretch - give @ pull, meshed[6:12], rtol=1e-9, atol=1e-13)

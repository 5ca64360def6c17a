"""Motions kept as space and amounts against the same motions written out."""

import numpy as np

from gantrywright.theory.frames.motions import Motions

RANDOM = np.random.default_rng(7)
SPACE = RANDOM.normal(size=(12, 3))
AMOUNTS = RANDOM.normal(size=(5, 3, 2))
EXACT = RANDOM.normal(size=(2, 12, 2))
NUMBERS = np.array([4, 1])
KEPT = Motions(AMOUNTS, SPACE, NUMBERS, EXACT)
MATRIX = RANDOM.normal(size=(4, 12))


def written_out() -> np.ndarray:
    whole = np.stack([SPACE @ amounts for amounts in AMOUNTS])
    whole[NUMBERS] = EXACT
    return whole


def test_whole_motions_have_the_better_known_samples_in_place() -> None:
    np.testing.assert_allclose(KEPT.whole(), written_out())


def test_a_matrix_sees_what_it_would_see_of_the_whole() -> None:
    np.testing.assert_allclose(KEPT.through(MATRIX), MATRIX @ written_out())
    np.testing.assert_allclose(Motions(written_out()).through(MATRIX), MATRIX @ written_out())


def test_some_freedoms_and_some_cases() -> None:
    rows = np.array([7, 0, 3])
    np.testing.assert_allclose(KEPT.at(rows), written_out()[:, rows])
    np.testing.assert_allclose(KEPT.of(slice(1, 2)).at(rows), written_out()[:, rows, 1:])
    assert (KEPT.cases, KEPT.of(slice(1, 2)).cases) == (2, 1)


def test_one_set_of_stiffnesses_has_no_axis_of_samples() -> None:
    one = Motions(written_out()[0])
    assert one.through(MATRIX).shape == (4, 2)
    np.testing.assert_allclose(one.through(MATRIX), MATRIX @ written_out()[0])

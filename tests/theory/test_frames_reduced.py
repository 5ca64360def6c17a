"""Samples of a frame solved together: against exact answers of every one, and what happens where that is not good enough."""

import numpy as np
import pytest

from gantrywright.theory.frames import reduced
from gantrywright.theory.frames.assembly import stretches
from gantrywright.theory.frames.frame import load_at
from gantrywright.theory.frames.solver import Prepared, Unheld, prepare
from small_gantry import TIP, small_gantry

SAMPLES = 200


def frame(seed: int, groups: int, *, low: float = 0.2, high: float = 5.0) -> tuple[Prepared, np.ndarray, np.ndarray, np.ndarray]:
    """A gantry whose coefficients vary in random groups: what it is prepared as, its samples, loads, group of every coefficient."""
    random = np.random.default_rng(seed)
    gantry = small_gantry(parts=3)
    group = random.integers(0, groups, len(gantry.coefficients))
    factors = np.exp(random.uniform(np.log(low), np.log(high), (SAMPLES, groups)))
    ready = prepare(stretches(gantry), gantry.coefficients > 0)
    loads = np.concatenate((load_at(gantry, TIP, np.zeros(3)), random.normal(size=(len(ready.order), 1))), axis=1)
    return ready, gantry.coefficients * factors[:, group], loads, group


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("groups", [5, 20, 60])
def test_agrees_with_every_sample_solved_exactly(seed: int, groups: int) -> None:
    """Also where it was not proved: all samples, all loads."""
    ready, coefficients, loads, _ = frame(seed, groups)
    exact = ready.solve(coefficients, loads)
    found = reduced.solve_samples(ready, coefficients, loads, ties=4).whole()
    assert found.shape == exact.shape
    assert reduced.difference(loads, found, exact) < 1e-3
    assert reduced.force_difference(ready, coefficients, found, exact, 4) < reduced.FORCES_CLOSE


@pytest.mark.parametrize("groups", [5, 60])
def test_never_gives_more_than_the_exact_answer(groups: int) -> None:
    """Motions of least energy within a part of all motions: the give of a load is at most the exact one."""
    ready, coefficients, loads, _ = frame(11, groups)
    exact = np.einsum("ij,sij->sj", loads, ready.solve(coefficients, loads))
    found = np.einsum("ij,sij->sj", loads, reduced.solve_samples(ready, coefficients, loads).whole())
    assert np.all(found <= exact * (1 + 1e-8))


def test_is_not_the_exact_answer_in_disguise(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fewer than a third of the samples are solved exactly."""
    ready, coefficients, loads, _ = frame(3, 20)
    solved = []
    whole = Prepared._solve_one

    def counted(self: Prepared, one: np.ndarray, ordered: np.ndarray, number: int, polish: bool) -> np.ndarray:
        solved.append(number)
        return whole(self, one, ordered, number, polish)

    monkeypatch.setattr(Prepared, "_solve_one", counted)
    reduced.solve_samples(ready, coefficients, loads).whole()
    assert 0 < len(solved) < SAMPLES / 3


@pytest.mark.parametrize(("name", "value"), [("WIDEST", 8), ("CLOSE", 0.0), ("FORCES_CLOSE", 0.0)])
def test_solves_every_sample_where_no_space_is_good_enough(monkeypatch: pytest.MonkeyPatch, name: str, value: float) -> None:
    ready, coefficients, loads, _ = frame(4, 20)
    monkeypatch.setattr(reduced, name, value)
    assert np.array_equal(reduced.solve_samples(ready, coefficients, loads, ties=4).whole(), ready.solve(coefficients, loads))


def test_few_samples_are_solved_exactly() -> None:
    ready, coefficients, loads, _ = frame(5, 20)
    few = coefficients[: reduced.FEW]
    assert np.array_equal(reduced.solve_samples(ready, few, loads).whole(), ready.solve(few, loads))


def test_samples_that_do_not_differ() -> None:
    ready, coefficients, loads, _ = frame(6, 20)
    same = np.broadcast_to(coefficients[0], coefficients.shape)
    assert reduced.difference(loads, reduced.solve_samples(ready, same, loads).whole(), ready.solve(same, loads)) < 1e-8


def test_groups_what_varies_together() -> None:
    _, coefficients, _, group = frame(7, 12)
    coefficients = coefficients.copy()
    coefficients[:, group == 4] = coefficients[0, group == 4]  # one that does not vary
    found = reduced.grouped(coefficients)
    assert found is not None
    assert np.allclose(found.typical * found.ratios[:, found.group], coefficients, rtol=1e-8, atol=0)
    there = found.typical > 0
    assert found.ratios.shape == (SAMPLES, 12)
    assert set(found.group[(group == 4) & there]) == {0}
    pairs = {(int(a), int(b)) for a, b in zip(group[there], found.group[there], strict=True)}
    assert len(pairs) == 12


def test_a_sample_that_hangs_loose_is_told() -> None:
    ready, coefficients, loads, _ = frame(8, 20)
    loose = coefficients.copy()
    loose[37, -24:] = 0.0  # its four feet
    assert reduced.grouped(loose) is None
    with pytest.raises(Unheld) as caught:
        reduced.solve_samples(ready, loose, loads).whole()
    assert caught.value.sample == 37


def test_a_frame_that_hangs_loose_in_every_sample_is_told() -> None:
    ready, coefficients, loads, _ = frame(9, 20)
    loose = coefficients.copy()
    loose[:, -24:] = 0.0
    with pytest.raises(Unheld):
        reduced.solve_samples(ready, loose, loads).whole()

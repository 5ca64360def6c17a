"""Modes of many samples together: against every one of them found exactly from all degrees of freedom."""

from dataclasses import dataclass

import numpy as np
import pytest

from gantrywright.theory.frames.assembly import stiffness, stretches
from gantrywright.theory.frames.frame import load_at
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.modes import Modes, modal_loss, modes, sampled_frequencies, strain_shares
from gantrywright.theory.frames.response import own_receptance, receptance
from gantrywright.theory.frames.sampled_modes import SampledModes, parts_of, ritz_shapes, sampled_modes
from gantrywright.theory.frames.solver import prepare
from small_gantry import FEET, TIP, small_gantry

SAMPLES = 40


@dataclass(frozen=True)
class Case:
    """A gantry of which springs to the ground and some bars vary."""

    found: SampledModes
    exact: list[Modes]
    typical: Modes
    shapes: np.ndarray
    mass: object
    at_tip: np.ndarray
    coefficients: np.ndarray
    rows: object
    loss: np.ndarray


def case(spread: float, *, wanted: int = 26, kept: int = 8, samples: int = SAMPLES) -> Case:
    frame = small_gantry(parts=4, lump=True)
    random = np.random.default_rng(7)
    springs = 6 * len(FEET)
    typical = frame.coefficients
    group = np.concatenate((random.integers(0, 6, len(typical) - springs), 6 + np.arange(springs)))
    factors = np.exp(random.normal(0.0, 1.0, (samples, 6 + springs)) * np.where(np.arange(6 + springs) < 6, 0.15, spread))
    coefficients = typical * factors[:, group]
    loss = np.where(group < 6, 0.002, 0.08)
    rows, mass = stretches(frame), mass_matrix(frame)
    prepared = prepare(rows, typical > 0)
    lowest = modes(stiffness(rows, typical), mass, kept)
    loads = load_at(frame, TIP, np.zeros(3))[:, :3]
    parts = parts_of(typical, coefficients, loss)
    shapes = ritz_shapes(prepared, typical, mass, lowest.shapes, lowest.squares, loads, parts, wanted=wanted)
    exact = [modes(stiffness(rows, one), mass, 6) for one in coefficients]
    return Case(sampled_modes(prepared, shapes, parts), exact, lowest, shapes, mass, loads.T @ shapes, coefficients, rows, loss)


@pytest.mark.parametrize(("spread", "close"), [(0.2, 6e-3), (0.8, 1.2e-2), (1.5, 1.5e-2)])
def test_frequencies_of_every_sample_are_those_of_all_freedoms(spread: float, close: float) -> None:
    """Springs to the ground from a tenth to ten times the typical one at the widest; never too low, and close."""
    made = case(spread)
    own = np.sqrt(made.found.squares[:, :6]) / (2 * np.pi)
    true = np.array([one.frequencies for one in made.exact])
    assert np.all(own >= true * (1 - 1e-7))
    assert own == pytest.approx(true, rel=close)


def test_typical_shapes_alone_would_be_far_off() -> None:
    """So that the test above could fail: with the widest springs the first-order way misses by a quarter and more."""
    made = case(1.5)
    typical = small_gantry(parts=4, lump=True).coefficients
    shares = np.asarray(strain_shares(stretches=made.rows @ made.typical.shapes, coefficients=typical))
    ratios = made.coefficients / np.where(typical > 0, typical, 1.0)
    guess = sampled_frequencies(frequency=made.typical.frequencies, shares=shares, ratios=ratios)
    true = np.array([one.frequencies[0] for one in made.exact])
    assert np.max(np.sort(guess)[:, 0] / true) > 1.25


def test_loss_factors_are_weighted_by_the_energy_of_each_sample() -> None:
    made = case(0.8)
    for one, coefficients, own in zip(made.exact, made.coefficients, made.found.loss, strict=True):
        shares = strain_shares(stretches=made.rows @ one.shapes, coefficients=coefficients)
        assert own[:4] == pytest.approx(np.asarray(modal_loss(shares=shares, loss=made.loss))[:4], rel=0.05)


def test_shapes_are_square_to_each_other_and_start_with_the_typical_modes() -> None:
    made = case(0.8)
    assert made.shapes.T @ (made.mass @ made.shapes) == pytest.approx(np.eye(made.shapes.shape[1]), abs=1e-9)
    assert made.shapes[:, :8] == pytest.approx(made.typical.shapes)


def test_without_spread_modes_are_the_typical_ones_in_their_order() -> None:
    made = case(0.0)
    still = case(0.0, samples=3)
    assert made.found.like(6)[:, 0] == pytest.approx(np.zeros(SAMPLES))
    assert still.found.moved(still.at_tip).shape == (3, 3, still.shapes.shape[1])


def test_a_mode_is_followed_where_its_frequency_crosses_another() -> None:
    """Shapes 0 and 1 exchange their places in the second sample; each mode is given once."""
    turned = np.eye(3)[[1, 0, 2]]
    found = SampledModes(np.ones((2, 3)), np.stack((np.eye(3), turned)), np.zeros((2, 3)))
    assert found.like(3).tolist() == [[0, 1, 2], [1, 0, 2]]
    mixed = np.array([[0.8, 0.6, 0.0], [-0.6, 0.8, 0.0], [0.0, 0.0, 1.0]])[None]
    assert SampledModes(np.ones((1, 3)), mixed, np.zeros((1, 3))).like(2).tolist() == [[0, 1]]


def test_what_varies_together_is_one_part_and_nothing_is_lost() -> None:
    typical = np.array([2.0, 3.0, 0.0, 5.0])
    factors = np.array([[1.0, 1.0, 1.0, 2.0], [1.0, 1.0, 1.0, 0.5], [1.0, 1.0, 1.0, 1.0]])
    coefficients = typical * factors
    coefficients[:, 2] = [0.0, 7.0, 14.0]  # lets go in one sample
    parts = parts_of(typical, coefficients, np.array([0.01, 0.02, 0.01, 0.01]))
    assert parts.ratios.shape == (3, 4)  # the first two lose unlike each other
    assert parts.scale * parts.ratios[:, parts.group] == pytest.approx(coefficients)
    assert parts.losses[:, parts.group] == pytest.approx(np.tile([0.01, 0.02, 0.01, 0.01], (3, 1)))
    same = parts_of(typical, typical * factors, np.full(4, 0.01))
    assert len(set(same.group[[0, 1]])) == 1
    assert same.spread[same.group[0]] == pytest.approx(0.0, abs=1e-12)
    assert same.spread[same.group[3]] > 0


def test_answers_along_a_force_are_the_diagonal_of_the_whole_answer() -> None:
    random = np.random.default_rng(5)
    squares, damping = random.uniform(1e4, 1e6, (50, 4)), random.uniform(0.005, 0.05, (50, 4))
    at_tip = random.normal(size=(50, 3, 4))
    static = (at_tip**2 / squares[:, None]).sum(axis=-1) * 1.3
    grid = np.geomspace(5.0, 300.0, 9)
    found = own_receptance(frequencies=grid, squares=squares, at_tip=at_tip, damping=damping, static=static)
    for k in (0, 31, 32, 49):
        whole = receptance(frequencies=grid, squares=squares[k], at_tip=at_tip[k], damping=damping[k], static=np.diag(static[k]))
        assert found[k] == pytest.approx(np.diagonal(whole, axis1=-2, axis2=-1))
    each = own_receptance(
        frequencies=np.tile(grid, (50, 1)) * np.arange(1, 51)[:, None],
        squares=squares,
        at_tip=at_tip,
        damping=damping,
        static=static,
    )
    alone = own_receptance(frequencies=grid * 8, squares=squares[7:8], at_tip=at_tip[7:8], damping=damping[7:8], static=static[7:8])
    assert each[7] == pytest.approx(alone[0])
    still = own_receptance(frequencies=np.array([0.0]), squares=squares, at_tip=at_tip, damping=damping, static=static)
    assert still[:, 0] == pytest.approx(static + 0j)

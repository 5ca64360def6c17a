"""Modes: known frequencies, both ways of finding them, what holds them, what damps them."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.linalg import eigh

from gantrywright.theory.frames import modes as module
from gantrywright.theory.frames.assembly import stiffness, stretches
from gantrywright.theory.frames.frame import Frame
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.modes import Modes, kinetic_shares, modal_loss, modes, sampled_frequencies, strain_shares
from small_gantry import FEET, FOOT, RHO, X, Z, bars_of, held, no_lumps, rectangle, small_gantry, springs_of


def matrices(frame: Frame):
    return stiffness(stretches(frame), frame.coefficients), mass_matrix(frame)


def of(frame: Frame, count: int) -> Modes:
    return modes(*matrices(frame), count)


def shares_of(frame: Frame, found: Modes) -> np.ndarray:
    return strain_shares(stretches=stretches(frame) @ found.shapes, coefficients=frame.coefficients)


def columns(places: list[float], parts: int, *, support=(1e12,) * 6) -> Frame:
    """Square steel columns 60 x 60, 1 m high, side by side."""
    nodes = np.array([[x, 0, k / parts] for x in places for k in range(parts + 1)])
    ends = [(c * (parts + 1) + k, c * (parts + 1) + k + 1) for c in range(len(places)) for k in range(parts)]
    own = rectangle(0.06, 0.06)
    inertia = RHO * 0.06**4 / 12
    bars = bars_of(nodes, ends, [own] * len(ends), [X] * len(ends), mass=[RHO * 0.0036] * len(ends),
                   rotary=[(inertia, inertia)] * len(ends))  # fmt: skip
    return Frame(nodes, bars, held([c * (parts + 1) for c in range(len(places))], how=support), no_lumps())


def test_slender_cantilever() -> None:
    """S-10: 1.2 m, E I of 69 GPa x 1.185e-5 m4, 12.67 kg/m, shear and rotary inertia off: 98.720 Hz (Blevins, table 8-1)."""
    parts = 30
    nodes = np.array([[1.2 * k / parts, 0, 0] for k in range(parts + 1)])
    own = {"axial": 1e9, "torsion": 1e6, "bend_height": 69e9 * 1.185e-5, "bend_width": 1e8, "shear_height": 1.0, "shear_width": 1.0}
    bars = bars_of(nodes, [(k, k + 1) for k in range(parts)], [own] * parts, [Z] * parts, shear=False, mass=[12.67] * parts,
                   rotary=[(0.0, 1e-3)] * parts)  # fmt: skip
    found = of(Frame(nodes, bars, held([0], how=(1e14,) * 6), no_lumps()), 1)
    assert found.frequencies == pytest.approx([98.720], rel=5e-4)


def test_small_gantry_with_a_mass_at_the_ram() -> None:
    """S-19: 8 kg and 0.02 kg m2 at the tip, eight elements a member."""
    found = of(small_gantry(parts=8, lump=True), 6)
    assert found.frequencies == pytest.approx([27.920, 39.817, 93.753, 141.16, 164.14, 200.32], rel=2e-4)


def test_both_ways_find_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    frame = small_gantry(parts=4, lump=True)
    sparse = of(frame, 12)
    monkeypatch.setattr(module, "SMALL", frame.freedoms)
    dense = of(frame, 12)
    assert dense.frequencies == pytest.approx(sparse.frequencies, rel=1e-8)
    np.testing.assert_allclose(np.abs(dense.shapes.T @ (mass_matrix(frame) @ sparse.shapes)), np.eye(12), atol=1e-5)
    stiff, mass = matrices(frame)
    assert sparse.squares == pytest.approx(eigh(stiff.toarray(), mass.toarray(), eigvals_only=True)[:12], rel=1e-8)


@pytest.mark.parametrize("parts", [1, 6])
def test_shapes_have_unit_mass_and_are_repeated_to_the_last_digit(parts: int) -> None:
    frame = small_gantry(parts=parts, lump=True)
    first, again = of(frame, 8), of(frame, 8)
    np.testing.assert_array_equal(first.shapes, again.shapes)
    np.testing.assert_allclose(first.shapes.T @ (mass_matrix(frame) @ first.shapes), np.eye(8), atol=1e-8)
    stiff, mass = matrices(frame)
    left = stiff @ first.shapes - (mass @ first.shapes) * first.squares
    assert np.abs(left).max() < 1e-6 * np.abs(stiff @ first.shapes).max()


def test_modes_of_one_frequency_are_all_found() -> None:
    """Three square columns that stand alone: six bending modes of one frequency, near the clamped one of a slender beam."""
    frame = columns([0.0, 1.0, 2.0], 10)
    assert frame.freedoms > module.SMALL
    found = of(frame, 8).frequencies
    assert found[:6] == pytest.approx(np.full(6, found[0]), rel=1e-7)
    slender = 1.87510**2 / (2 * np.pi) * np.sqrt(rectangle(0.06, 0.06)["bend_height"] / (RHO * 0.0036))
    assert found[0] == pytest.approx(slender, rel=8e-3)
    assert found[6] > 5 * found[0]


@pytest.mark.parametrize("parts", [4, 30])
def test_what_moves_freely_has_no_frequency(parts: int) -> None:
    frame = columns([0.0], parts, support=(0.0,) * 6)
    found = of(frame, 8).frequencies
    assert np.all(found[:6] < 0.05)
    free = 4.73004**2 / (2 * np.pi) * np.sqrt(rectangle(0.06, 0.06)["bend_height"] / (RHO * 0.0036))
    assert found[6:8] == pytest.approx([free, free], rel=0.03)


def test_a_freedom_without_mass_adds_no_mode() -> None:
    """A mass on two springs in series whose joint weighs nothing: one mode a direction, k/2."""
    nodes = np.zeros((3, 3))
    springs = springs_of([(-1, 0), (0, 1)], [(1e6, 2e6, 4e6, 1e3, 1e3, 1e3)] * 2)
    frame = Frame(nodes[:2], _no_bars(), springs, replace(small_gantry(lump=True).lumps, node=np.array([1])))
    found = of(frame, 9).frequencies
    assert len(found) == 6
    assert found[-3:] == pytest.approx(np.sqrt(np.array([0.5e6, 1e6, 2e6]) / 8) / (2 * np.pi), rel=1e-9)
    assert found[:3] == pytest.approx(np.full(3, np.sqrt(500 / 0.02) / (2 * np.pi)), rel=1e-9)


def _no_bars():
    bars = small_gantry().bars
    fields = {name: getattr(bars, name) for name in type(bars).__slots__}
    return type(bars)(**{name: None if value is None else value[:0] for name, value in fields.items()})


def test_strain_shares_are_what_stiffness_does_to_a_frequency() -> None:
    frame = small_gantry(parts=2, lump=True)
    found = of(frame, 5)
    shares = shares_of(frame, found)
    assert shares.sum(axis=0) == pytest.approx(np.ones(5), abs=1e-12)
    for number in np.argsort(-shares.sum(axis=1))[:6]:
        ends = []
        for factor in (1 - 1e-4, 1 + 1e-4):
            coefficients = frame.coefficients.copy()
            coefficients[number] *= factor
            ends.append(modes(stiffness(stretches(frame), coefficients), mass_matrix(frame), 5).frequencies)
        slope = (np.log(ends[1]) - np.log(ends[0])) / 2e-4
        np.testing.assert_allclose(slope, shares[number] / 2, atol=1e-6)


def test_kinetic_shares_are_what_mass_does_to_a_frequency() -> None:
    frame = small_gantry(parts=2, lump=True)
    found = of(frame, 4)
    shares = kinetic_shares(frame=frame, shapes=found.shapes)
    bars = len(frame.bars.length)
    assert shares.shape == (bars + 1, 4)
    assert shares.sum(axis=0) == pytest.approx(np.ones(4), abs=1e-12)
    for number in (0, 5, 9, bars):
        ends = []
        for factor in (1 - 1e-4, 1 + 1e-4):
            factors = np.ones(bars + 1)
            factors[number] = factor
            heavy = replace(frame.bars, mass=frame.bars.mass * factors[:bars], rotary=frame.bars.rotary * factors[:bars, None])
            lump = replace(frame.lumps, mass=frame.lumps.mass * factors[bars], inertia=frame.lumps.inertia * factors[bars])
            ends.append(of(replace(frame, bars=heavy, lumps=lump), 4).frequencies)
        slope = (np.log(ends[1]) - np.log(ends[0])) / 2e-4
        np.testing.assert_allclose(slope, -shares[number] / 2, atol=1e-6)


def test_a_lump_on_the_ground_moves_not() -> None:
    frame = small_gantry(lump=True)
    lumps = frame.lumps
    two = type(lumps)(np.array([-1, 6]), np.zeros((2, 3)), np.array([50.0, 8.0]), np.repeat(lumps.inertia, 2, axis=0))
    found = of(replace(frame, lumps=two), 3)
    assert found.frequencies == pytest.approx(of(frame, 3).frequencies, rel=1e-9)
    assert kinetic_shares(frame=replace(frame, lumps=two), shapes=found.shapes)[-2] == pytest.approx(np.zeros(3), abs=1e-15)


def test_sampled_frequencies_are_right_at_first_and_never_too_low() -> None:
    frame = small_gantry(parts=2, lump=True)
    found = of(frame, 3)
    shares = shares_of(frame, found)
    draw = np.random.default_rng(3).lognormal(0.0, 1.0, size=(40, len(shares)))
    for spread, first_order in ((0.5, False), (0.002, True)):
        ratios = draw**spread
        guess = sampled_frequencies(frequency=found.frequencies, shares=shares, ratios=ratios)
        true = np.array(
            [modes(stiffness(stretches(frame), frame.coefficients * r), mass_matrix(frame), 3).frequencies for r in ratios]
        )
        assert guess.shape == (40, 3)
        assert np.all(guess[:, 0] >= true[:, 0] * (1 - 1e-9))  # Rayleigh bounds the lowest
        if first_order:
            np.testing.assert_allclose(guess, true, rtol=1e-5)
            assert np.abs(true / found.frequencies - 1).max() > 1e-4


def test_loss_of_a_mode_is_that_of_the_damped_frame() -> None:
    """Against the complex eigenvalues w^2 (1 + j eta) of the frame with lossy feet and slightly lossy steel."""
    frame = small_gantry(parts=2, lump=True)
    found = of(frame, 4)
    loss = np.full(len(frame.coefficients), 0.002)
    loss[-6 * len(FEET) :] = 0.05
    assert FOOT[0] in frame.coefficients[-6 * len(FEET) :]
    mass = mass_matrix(frame).toarray()
    complex_stiffness = stiffness(stretches(frame), frame.coefficients * (1 + 1j * loss)).toarray()
    values = np.linalg.eigvals(np.linalg.solve(mass, complex_stiffness))
    values = values[np.argsort(values.real)][:4]
    assert modal_loss(shares=shares_of(frame, found), loss=loss) == pytest.approx(values.imag / values.real, rel=2e-3)
    sampled = modal_loss(shares=shares_of(frame, found), loss=np.stack([loss, 2 * loss, 3 * loss]))
    assert sampled == pytest.approx(np.array([[1], [2], [3]]) * sampled[0])

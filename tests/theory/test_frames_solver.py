"""Whole frames against formulas of handbooks and of an independent program; what the solver refuses; what it checks in itself."""

from dataclasses import replace

import numpy as np
import pytest

from gantrywright.theory.frames.assembly import rigid_motions, stiffness, stretches
from gantrywright.theory.frames.frame import Frame, load_at
from gantrywright.theory.frames.selfcheck import SelfCheck, self_check
from gantrywright.theory.frames.solver import Unheld, cross_energies, energies, prepare
from small_gantry import FEET, FOOT, TIP, Z, bars_of, held, members, no_lumps, rectangle, small_gantry, springs_of


def solved(frame: Frame, loads: np.ndarray) -> np.ndarray:
    return prepare(stretches(frame)).solve(frame.coefficients, loads)


def moved(frame: Frame, node: int, axis: int, force: float) -> float:
    """Motion of a node along an axis under a force there."""
    load = force * load_at(frame, node, np.zeros(3))[:, [axis]]
    return float(solved(frame, load)[6 * node + axis, 0])


@pytest.mark.parametrize(("shear", "expected"), [(True, 2.264697e-3), (False, 2.258356e-3)])
def test_cantilever(shear: bool, expected: float) -> None:
    """S-01: steel 40 x 60, 1 m, 1000 N at the tip; F L^3/(3 E I) + F L/(G A_s). Cut in three: more nodes change nothing."""
    nodes = np.array([[0.0, 0, 0], [0.3, 0, 0], [0.55, 0, 0], [1.0, 0, 0]])
    bars = bars_of(nodes, [(0, 1), (1, 2), (2, 3)], [rectangle(0.04, 0.06)] * 3, [Z] * 3, shear=shear)
    assert moved(Frame(nodes, bars, held([0]), no_lumps()), 3, 2, 1000.0) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize(
    ("ends", "shear", "expected"),
    [("pinned", True, 1.51105e-5), ("pinned", False, 1.32086e-5), ("fixed", True, 5.20409e-6), ("fixed", False, 3.30215e-6)],
)
def test_beam_between_supports(ends: str, shear: bool, expected: float) -> None:
    """S-02, S-03: aluminium, 1.2 m, 300 N in the middle; Roark table 8.1 and F L/(4 G A_s)."""
    nodes = np.array([[0.0, 0, 0], [0.6, 0, 0], [1.2, 0, 0]])
    own = {"axial": 1e8, "torsion": 1e5, "bend_height": 69e9 * 1.185e-5, "bend_width": 1e5,
           "shear_height": 26e9 * 1.82e-3, "shear_width": 1e8}  # fmt: skip
    bars = bars_of(nodes, [(0, 1), (1, 2)], [own] * 2, [Z] * 2, shear=shear)
    how = {"fixed": (1e30,) * 6, "pinned": (1e30, 1e30, 1e30, 1e30, 0.0, 1e30)}[ends]
    assert moved(Frame(nodes, bars, held([0, 2], how=how), no_lumps()), 1, 2, 300.0) == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize(
    ("stretch", "shear", "expected", "tolerance"),
    [(1e8, False, 5.448884e-5, 1e-6), (1.0, False, 5.48739e-5, 1e-5), (1.0, True, 5.64066e-5, 1e-5)],
)
def test_portal(stretch: float, shear: bool, expected: float, tolerance: float) -> None:
    """S-04, S-05: fixed bases, 0.8 m high, 1.2 m wide; P h^3/(12 E I_c) (2 + 3 k)/(1 + 6 k), k = I_b h/(I_c l); then with axial give."""
    nodes = np.array([[0.0, 0, 0], [0.0, 0, 0.8], [1.2, 0, 0.8], [1.2, 0, 0]])
    column, beam = rectangle(0.06, 0.08), rectangle(0.06, 0.1)
    sections = [own | {"axial": own["axial"] * stretch} for own in (column, beam, column)]
    x = np.array([1.0, 0, 0])
    bars = bars_of(nodes, [(0, 1), (1, 2), (2, 3)], sections, [x, Z, x], shear=shear)
    frame = Frame(nodes, bars, held([0, 3]), no_lumps())
    load = 500.0 * sum(load_at(frame, node, np.zeros(3))[:, [0]] for node in (1, 2))
    motion = solved(frame, load)[[6, 12], 0]
    one = moved(frame, 1, 0, 1000.0)
    assert (one if stretch == 1 else motion.mean()) == pytest.approx(expected, rel=tolerance)


@pytest.mark.parametrize(
    ("shear", "expected"),
    [(False, (0.161536, 0.124506, 0.035758, 0.013485)), (True, (0.163901, 0.127237, 0.036667, 0.013881))],
)
def test_give_of_the_small_gantry(shear: bool, expected: tuple[float, ...]) -> None:
    """S-15, S-16 (derived, an independent program): um/N along x, y, z and between y and z."""
    frame = small_gantry(shear=shear)
    load = load_at(frame, TIP, np.zeros(3))[:, :3]
    give = 1e6 * load.T @ solved(frame, load)
    np.testing.assert_allclose([give[0, 0], give[1, 1], give[2, 2], give[1, 2]], expected, atol=6e-7)
    np.testing.assert_allclose(give[0, 1:], 0.0, atol=1e-12)


@pytest.mark.parametrize(
    ("axis", "parts", "springs"),
    [
        (1, (3.751, 22.892, 6.268, 32.945, 1.391), (0.333, 7.859, 24.561)),
        (0, (50.417, 6.677, 7.959, 25.576, 0.225), (7.720, 0.486, 0.940)),
    ],
)
def test_shares_of_the_small_gantry(axis: int, parts: tuple[float, ...], springs: tuple[float, ...]) -> None:
    """S-17, S-18 (derived, energy identity): percent of the give along y and along x."""
    frame = small_gantry()
    rows, load = stretches(frame), load_at(frame, TIP, np.zeros(3))[:, [axis]]
    motion = solved(frame, load)
    share = 100 * energies(rows, frame.coefficients, motion)[:, 0] / float((load.T @ motion)[0, 0])
    of_bars, of_springs = (
        share[: 6 * len(frame.bars.ends)].reshape(-1, 6).sum(axis=1),
        share[6 * len(frame.bars.ends) :].reshape(-1, 6),
    )
    found: dict[str, float] = {}
    for name, value in zip(members(), of_bars, strict=True):
        found[name] = found.get(name, 0.0) + float(value)
    np.testing.assert_allclose(list(found.values()), parts, atol=2e-3)
    np.testing.assert_allclose(of_springs.sum(axis=0)[:3], springs, atol=2e-3)
    assert share.sum() == pytest.approx(100.0, rel=1e-11)


def test_the_band_holds_the_whole_stiffness() -> None:
    frame = small_gantry()
    ready = prepare(stretches(frame))
    band, dense = ready.band(frame.coefficients), stiffness(stretches(frame), frame.coefficients).toarray()
    ordered = dense[np.ix_(ready.order, ready.order)]
    for below in range(len(dense)):
        expected = np.diagonal(ordered, -below)
        got = band[below, : len(expected)] if below <= ready.half_band else np.zeros(len(expected))
        np.testing.assert_allclose(got, expected, atol=1e-12 * dense.max())


def test_samples_are_solved_one_by_one() -> None:
    frame = small_gantry()
    ready, load = prepare(stretches(frame)), load_at(frame, TIP, np.zeros(3))[:, :3]
    many = frame.coefficients * np.linspace(0.5, 2.0, 3)[:, None, None] * np.ones((3, 2, 1))
    found = ready.solve(many, load)
    assert found.shape == (3, 2, frame.freedoms, 3)
    np.testing.assert_allclose(found[2, 1], ready.solve(frame.coefficients, load) / 2, rtol=1e-9, atol=1e-20)
    parts = energies(ready.rows, many, found)
    np.testing.assert_allclose(parts.sum(axis=-2), np.einsum("ik,...ik->...k", load, found), rtol=1e-10)


def test_cross_energies_sum_to_the_whole_give() -> None:
    frame = small_gantry()
    rows, load = stretches(frame), load_at(frame, TIP, np.zeros(3))[:, :3]
    motion = solved(frame, load)
    parts = cross_energies(rows, frame.coefficients, motion)
    np.testing.assert_allclose(parts.sum(axis=0), load.T @ motion, rtol=1e-10, atol=1e-18)
    np.testing.assert_allclose(np.einsum("ckk->ck", parts), energies(rows, frame.coefficients, motion))


def test_leaving_out_what_never_holds_changes_nothing() -> None:
    frame = small_gantry()
    rows, load = stretches(frame), load_at(frame, TIP, np.zeros(3))[:, :3]
    ready = prepare(rows, frame.coefficients != 0)
    np.testing.assert_allclose(ready.solve(frame.coefficients, load), solved(frame, load), rtol=1e-9, atol=1e-18)
    with pytest.raises(ValueError, match="not 0"):
        ready.solve(frame.coefficients + 1.0, load)


def feet(kx: float = FOOT[0]) -> tuple[Frame, np.ndarray]:
    frame = small_gantry()
    frame = replace(frame, springs=springs_of([(-1, node) for node in FEET], [(kx, *FOOT[1:], 0, 0, 0)] * 4))
    return frame, load_at(frame, TIP, np.zeros(3))[:, :3]


def test_a_free_direction_is_told_as_a_motion_of_everything_along_it() -> None:
    frame, load = feet(kx=0.0)
    with pytest.raises(Unheld) as caught:
        solved(frame, load)
    motion = caught.value.motion.reshape(-1, 6)
    np.testing.assert_allclose(np.abs(motion[:, 0]), 1.0, rtol=1e-6)
    np.testing.assert_allclose(motion[:, 1:], 0.0, atol=1e-6)


def test_a_node_that_nothing_holds_is_told_alone() -> None:
    frame, _ = feet()
    loose = replace(frame, nodes=np.vstack([frame.nodes, [[2.0, 2.0, 2.0]]]))
    with pytest.raises(Unheld) as caught:
        solved(loose, np.ones((loose.freedoms, 1)))
    motion = caught.value.motion.reshape(-1, 6)
    assert np.abs(motion[-1]).max() == pytest.approx(1.0)
    np.testing.assert_allclose(motion[:-1], 0.0, atol=1e-9)


def test_the_sample_that_is_free_is_named() -> None:
    frame, load = feet()
    many = np.repeat(frame.coefficients[None], 3, axis=0)
    many[1, 6 * len(frame.bars.ends) :] = 0.0
    with pytest.raises(Unheld) as caught:
        prepare(stretches(frame)).solve(many, load)
    assert caught.value.sample == 1
    stretch = stretches(frame)[: 6 * len(frame.bars.ends)] @ caught.value.motion
    np.testing.assert_allclose(stretch, 0.0, atol=1e-7)


def test_soft_feet_are_no_free_motion() -> None:
    """Rubber under 185 kg of steel is 10^4 softer than the frame and still holds it."""
    frame, load = feet(kx=3e4)
    assert solved(frame, load)[6 * TIP, 0] == pytest.approx(1 / (4 * 3e4), rel=0.05)


def test_a_sound_solution_passes_its_own_checks() -> None:
    frame, load = feet()
    told = self_check(frame, stretches(frame), load, solved(frame, load))
    assert told.broken == ()
    assert max(told.residual, told.balance, told.symmetry, told.shares) < 1e-9


def test_moments_of_springs_on_arms_balance_too() -> None:
    frame, _ = feet()
    arms = np.zeros((4, 2, 3))
    arms[:, 1] = (0.02, -0.03, -0.05)
    frame = replace(frame, springs=replace(frame.springs, arms=arms))
    load = load_at(frame, TIP, np.array([0.01, 0.02, -0.1]))
    assert self_check(frame, stretches(frame), load, solved(frame, load)).broken == ()


@pytest.mark.parametrize(("spoil", "word"), [("motion", "carry"), ("uneven", "both ways"), ("shares", "sum"), ("leak", "balance")])
def test_a_spoilt_solution_is_called_broken(spoil: str, word: str) -> None:
    frame, load = feet()
    rows, motion = stretches(frame), solved(frame, load)
    if spoil == "motion":
        motion[3, 0] += 1e-6 * np.abs(motion).max()
    elif spoil == "uneven":
        motion[:, 0] += 1e-6 * motion[:, 1]
    elif spoil == "shares":
        motion = motion * 1.000001
    else:  # a spring between points that lie apart across its force: it makes a moment out of nothing
        springs = springs_of([*[(-1, node) for node in FEET], (0, 5)], [*[(*FOOT, 0, 0, 0)] * 4, (0, 1e7, 1e7, 0, 0, 0)])
        frame = replace(frame, springs=springs)
        rows, motion = stretches(frame), solved(frame, load)
    assert any(word in told for told in self_check(frame, rows, load, motion).broken)


def test_a_solution_that_is_no_number_is_broken() -> None:
    assert len(SelfCheck(float("nan"), 0.0, 0.0, 0.0).broken) == 1


def test_rigid_motions_turn_about_the_origin() -> None:
    frame, _ = feet()
    motion = rigid_motions(frame).reshape(-1, 6, 6)
    for axis in range(3):
        np.testing.assert_allclose(motion[:, :3, 3 + axis], np.cross(np.eye(3)[axis], frame.nodes))

"""Mass of bars against quadrature of their inner motions; rigid masses; lumps; weight; frequencies of plain beams."""

import numpy as np
import pytest
from scipy.linalg import eigh

from gantrywright.theory.frames.assembly import rigid_motions, stiffness, stretches
from gantrywright.theory.frames.bars import inner_motion
from gantrywright.theory.frames.frame import Bars, Frame, Lumps
from gantrywright.theory.frames.mass import acceleration_load, bar_mass, mass_matrix
from small_gantry import RHO, Z, bars_of, held, no_lumps, rectangle, small_gantry, springs_of


def frequencies(frame: Frame, count: int) -> np.ndarray:
    """Lowest, Hz; from the inverse problem, so that freedoms without mass do no harm."""
    held_by = stiffness(stretches(frame), frame.coefficients).toarray()
    slow = eigh(mass_matrix(frame).toarray(), held_by, eigvals_only=True)[::-1][:count]
    return 1 / (2 * np.pi * np.sqrt(slow))


def test_mass_of_a_bar_is_the_quadrature_of_its_inner_motions() -> None:
    length, mass, rotary, shear = 0.7, 14.0, (0.03, 0.011), (0.8, 0.35)
    bars = Bars(np.array([[0, 1]]), np.zeros((1, 2, 3)), np.eye(3)[None], np.array([length]), np.ones((1, 6)), np.ones((1, 2)),
                np.array([mass]), np.array([rotary]), np.array([shear]))  # fmt: skip
    points, weights = np.polynomial.legendre.leggauss(6)
    expected = np.zeros((12, 12))
    density = np.diag([mass, mass, mass, sum(rotary), rotary[1], rotary[0]])
    for point, weight in zip((points + 1) / 2, weights * length / 2, strict=True):
        motion = inner_motion(place=np.array(point), length=length, shear_height=shear[0], shear_width=shear[1])
        expected += weight * motion.T @ density @ motion
    np.testing.assert_allclose(bar_mass(bars)[0], expected, atol=1e-14 * np.abs(expected).max())


def test_a_rigid_motion_feels_the_mass_centre_and_inertia_of_the_whole() -> None:
    frame = small_gantry(lump=True)
    whole = rigid_motions(frame).T @ mass_matrix(frame) @ rigid_motions(frame)
    members = [(frame.nodes[list(pair)], bar) for bar, pair in zip(frame.bars.mass, frame.bars.ends, strict=True)]
    pieces = [(bar * np.linalg.norm(ends[1] - ends[0]), ends.mean(axis=0)) for ends, bar in members]
    pieces.append((8.0, frame.nodes[6]))
    mass = sum(m for m, _ in pieces)
    np.testing.assert_allclose(whole[:3, :3], mass * np.eye(3), atol=1e-9)
    x, y, z = sum(m * at for m, at in pieces)
    np.testing.assert_allclose(whole[:3, 3:], [[0, z, -y], [-z, 0, x], [y, -x, 0]], atol=1e-9)


def test_inertia_of_a_straight_bar_and_of_a_lump_on_an_arm() -> None:
    nodes, size, depth, width = np.array([[0.0, 0, 0], [0.8, 0, 0]]), 0.8, 0.06, 0.04
    per_metre = RHO * depth * width
    rotary = [(RHO * width * depth**3 / 12, RHO * depth * width**3 / 12)]
    bars = bars_of(nodes, [(0, 1)], [rectangle(width, depth)], [Z], mass=[per_metre], rotary=rotary)
    arm, mass, inertia = np.array([[0.1, -0.2, 0.3]]), np.array([5.0]), np.diag([0.1, 0.2, 0.3])[None]
    frame = Frame(nodes, bars, held([]), Lumps(np.array([1]), arm, mass, inertia))
    turning = (rigid_motions(frame).T @ mass_matrix(frame) @ rigid_motions(frame))[3:, 3:]
    m, at = per_metre * size, nodes[1] + arm[0]
    of_bar = m * np.diag([(depth**2 + width**2) / 12, size**2 / 3 + depth**2 / 12, size**2 / 3 + width**2 / 12])
    of_lump = inertia[0] + 5.0 * (at @ at * np.eye(3) - np.outer(at, at))
    np.testing.assert_allclose(turning, of_bar + of_lump, rtol=1e-12, atol=1e-12)


def test_weight_is_carried_to_the_ends_with_its_moments() -> None:
    """m g L/2 and m g L^2/12 at each end of a bar, from any handbook of beams."""
    nodes = np.array([[0.0, 0, 0], [1.5, 0, 0]])
    frame = Frame(nodes, bars_of(nodes, [(0, 1)], [rectangle(0.04, 0.06)], [Z], mass=[10.0]), held([]), no_lumps())
    load = acceleration_load(mass_matrix(frame), np.array([0.0, 0.0, -9.80665])).reshape(2, 6)
    np.testing.assert_allclose(load[:, 2], -10 * 9.80665 * 1.5 / 2, rtol=1e-12)
    np.testing.assert_allclose(load[:, 4], np.array([1, -1]) * 10 * 9.80665 * 1.5**2 / 12, rtol=1e-12)
    both = acceleration_load(mass_matrix(frame), np.array([[0.0, 1.0], [0.0, 0.0], [-9.80665, 0.0]]))
    np.testing.assert_allclose(both[:, 0], load.ravel())


@pytest.mark.parametrize(
    ("ends", "expected"),
    [(("fixed",), 98.720), (("pinned", "pinned"), 277.110), (("fixed", "fixed"), 628.178)],
)
def test_first_frequency_of_a_slender_beam(ends: tuple[str, ...], expected: float) -> None:
    """Blevins, table 8-1 (blevins-1979): E 69 GPa, I 1.185e-5 m4, 12.67 kg/m, 1.2 m."""
    count = 24
    nodes = np.column_stack([np.linspace(0, 1.2, count + 1), np.zeros(count + 1), np.zeros(count + 1)])
    bend = 69e9 * 1.185e-5
    own = {
        "axial": 1e12,
        "torsion": 1e9,
        "bend_height": bend,
        "bend_width": 100 * bend,
        "shear_height": np.inf,
        "shear_width": np.inf,
    }
    bars = bars_of(nodes, [(i, i + 1) for i in range(count)], [own] * count, [Z] * count, mass=[12.67] * count)
    how = {"fixed": [1e30] * 6, "pinned": [1e30, 1e30, 1e30, 1e30, 0.0, 1e30]}
    springs = springs_of([(-1, node) for node in (0, count)[: len(ends)]], [how[end] for end in ends])
    assert frequencies(Frame(nodes, bars, springs, no_lumps()), 1)[0] == pytest.approx(expected, rel=2e-5)


def test_frequencies_of_the_small_gantry() -> None:
    """Steel portal on springs with 8 kg at the tip; figures of an independent program, converged (derived)."""
    expected = [27.920, 39.817, 93.753, 141.16, 164.14, 200.32]
    np.testing.assert_allclose(frequencies(small_gantry(parts=8, lump=True), 6), expected, rtol=2e-4)

"""Whole machines, thick bars and all, against a general finite element solver: gives at the tool to 1e-6, six modes to 0.2 %; left out
where it is not installed.

Bed, gantry, carriage, head, spindle, tool, joints, blocks, drives and feet go in as they are, each bar with its shear; the local give of
sheets on bearers is left out on both sides. Nodes, arms, springs, loads and masses are built anew (`placed_machine`), the bars are the
solver's own beam elements (`solver_deck`). Statics is exact on both sides for loads at nodes, so the solver's printed digits are all that
may differ. The beam has no mass in the solver: its answers to the forces of swinging lumps make the modes, by subspace iteration.
"""

from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.linalg import eigh

from gantrywright.disciplines.structure.statics import solved
from gantrywright.theory.frames.assembly import stiffness
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.modes import modes
from placed_machine import FREEDOMS, Placed, pose_at, skeleton_from
from solver_deck import PROGRAM, moved

pytestmark = pytest.mark.skipif(PROGRAM is None, reason="the finite element solver ccx is not installed")
PLACES = {"low": 0.1, "far": 0.8}
"""Part of each travel at which the machine stands."""
DIGITS = 1e-6
"""Of the mean of two gives; seven printed digits of motions leave up to 6e-7 here."""
SHORTEST = 2.5e-3
"""Shorter pieces are rigid arms, m: one of 1 mm of a thick bar is so stiff that rounding alone costs 2e-4 of the long bed's give."""
TRIED, ROUNDS, MODES = 14, 3, 6
"""Shapes of the subspace, how often they are swung, and how many modes then stand to 1e-4, whatever the start."""


@pytest.mark.parametrize("along", [(1, 0, 0), (0, 0, 1), (0.6, 0, -0.8)])
@pytest.mark.parametrize("turned", [0.0, 0.6])
def test_thick_cantilever(tmp_path: Path, along: tuple[float, float, float], turned: float) -> None:
    """The beam of the deck against the handbook: P L^3/3 E I + P L/G A_s, L/E A, L/G J; shear is 71 % of the give in one plane."""
    length, upright = 0.3, np.array((0, 1, 0))
    side = np.cross(along, upright)
    height, width = np.cos(turned) * upright + np.sin(turned) * side, np.cos(turned) * side - np.sin(turned) * upright
    bar = SimpleNamespace(
        axial=7e7, torsion=2e4, bend_height=7e4, bend_width=3e4, shear_height=1e7, shear_width=4e5, height_axis=height
    )
    nodes = np.outer((0, 0.1, length), along)
    held = [([1e14] * FREEDOMS, np.arange(FREEDOMS), np.eye(FREEDOMS))]
    placed = SimpleNamespace(nodes=nodes, pieces=lambda: [(bar, 0), (bar, 1)], springs=lambda: held)
    turn = np.kron(np.eye(2), np.array((along, height, width)))
    loads = np.vstack((np.zeros((2 * FREEDOMS, FREEDOMS)), turn.T))
    found = loads.T @ moved(placed, loads, tmp_path)
    expected = np.diag([length / 7e7, length**3 / 3 / 7e4 + length / 1e7, length**3 / 3 / 3e4 + length / 4e5, length / 2e4,
                        length / 3e4, length / 7e4])  # fmt: skip
    expected[1, 5] = expected[5, 1] = length**2 / 2 / 7e4
    expected[2, 4] = expected[4, 2] = -(length**2) / 2 / 3e4
    np.testing.assert_allclose(found, expected, rtol=2e-6, atol=1e-12)


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("name", ["as-built", "fixed_gantry", "long_bed"])
def test_give_at_the_tip(tmp_path: Path, name: str, place: str) -> None:
    """All 36 gives of the tool against the work."""
    held = skeleton_from(name)
    pose = pose_at(held, PLACES[place])
    here = solved(Mesher(held), pose)
    found = here.at_tip(here.under(here.mesh.load))
    placed = Placed(held, pose, longest=10.0, near=SHORTEST)
    loads = placed.loads()
    expected = loads.T @ moved(placed, loads, tmp_path)
    scale = np.sqrt(np.outer(np.diagonal(expected), np.diagonal(expected)))
    np.testing.assert_allclose(found / scale, expected / scale, atol=DIGITS)


@pytest.mark.parametrize("name", ["as-built", "fixed_gantry"])
def test_lowest_frequencies(tmp_path: Path, name: str) -> None:
    """Six modes; lumped pieces of 0.1 m cost up to 0.14 %, of 25 mm 0.02 %. The start is blind to our own shapes."""
    held = skeleton_from(name)
    pose = pose_at(held, 0.8)
    here = solved(Mesher(held), pose, longest=0.15)
    found = modes(stiffness(here.rows, here.coefficients), mass_matrix(here.mesh.frame), MODES).frequencies
    placed = Placed(held, pose, longest=0.1, near=SHORTEST)
    mass = placed.masses()
    shapes = np.random.default_rng(1).normal(size=(mass.shape[0], TRIED))
    for _ in range(ROUNDS):
        forces = mass @ shapes
        answer = moved(placed, forces, tmp_path)
        squares, mix = eigh(answer.T @ forces, answer.T @ (mass @ answer))
        shapes = answer @ mix
    np.testing.assert_allclose(found, np.sqrt(squares[:MODES]) / (2 * np.pi), rtol=2e-3)

"""Whole machines against a general frame program: nodes, arms, springs, loads and masses are built anew here, not by our mesher.

The program gives the stiffness of every bar and where it goes; it knows no shear, so here bars do not shear. Springs between points on
arms, which it lacks, are added as plain 6 x 12 kinematics. Mass is lumped at the nodes of a fine division.
"""

from dataclasses import replace

import numpy as np
import pytest
from scipy.sparse import lil_matrix
from scipy.sparse.linalg import eigsh, splu

from gantrywright.disciplines.structure.statics import solved
from gantrywright.theory.frames.assembly import stiffness
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.modes import modes
from gantrywright.theory.frames.skeleton import RIGID, Skeleton
from placed_machine import FREEDOMS, Placed, pose_at, skeleton_from

Pynite = pytest.importorskip("Pynite")
Member3D = pytest.importorskip("Pynite.Member3D").Member3D
PLACES = {"low": 0.1, "far": 0.8}
"""Part of each travel at which the machine stands."""
TOLERANCE = 2e-5
"""Of the mean of two gives; rounding of the stoutest short pieces costs 6e-6 here."""


def stiffness_of(placed: Placed):
    """Bars by the program, springs beside them."""
    model = Pynite.FEModel3D()
    for number, place in enumerate(placed.nodes):
        model.add_node(f"N{number}", *place)
    model.add_material("unit", 1.0, 1.0, 0.0, 0.0)
    model.add_section("bar", 1.0, 1.0, 1.0, 1.0)
    section = model.sections["bar"]
    whole = lil_matrix((len(placed.nodes) * FREEDOMS,) * 2)
    for bar, node in placed.pieces():
        section.A, section.J = float(bar.axial), float(bar.torsion)
        both = (float(bar.bend_height), float(bar.bend_width))
        member = Member3D(model, f"M{node}", model.nodes[f"N{node}"], model.nodes[f"N{node + 1}"], "unit", "bar")
        upright = abs(np.asarray(member.T())[1, :3] @ np.array(bar.height_axis))
        assert upright < 1e-6 or upright > 1 - 1e-6
        section.Iz, section.Iy = both if upright > 0.5 else both[::-1]
        places = np.arange(FREEDOMS * node, FREEDOMS * (node + 2))
        whole[np.ix_(places, places)] += np.asarray(member.Ke())
    for values, places, stretch in placed.springs():
        whole[np.ix_(places, places)] += stretch.T @ np.diag(values) @ stretch
    return whole.tocsc()


def slender(name: str) -> Skeleton:
    held = skeleton_from(name)
    return replace(held, bars=tuple(replace(bar, shear_height=RIGID, shear_width=RIGID) for bar in held.bars))


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("name", ["as-built", "fixed_gantry", "long_bed"])
def test_give_at_the_tip(name: str, place: str) -> None:
    """All 36 gives of the tool against the work; the local give of sheets is left out on both sides."""
    held = slender(name)
    pose = pose_at(held, PLACES[place])
    here = solved(Mesher(held), pose)
    found = here.at_tip(here.under(here.mesh.load))
    placed = Placed(held, pose, longest=10.0)
    loads = placed.loads()
    expected = loads.T @ splu(stiffness_of(placed)).solve(loads)
    scale = np.sqrt(np.outer(np.diagonal(expected), np.diagonal(expected)))
    np.testing.assert_allclose(found / scale, expected / scale, atol=TOLERANCE)


@pytest.mark.parametrize("name", ["as-built", "fixed_gantry"])
def test_lowest_frequencies(name: str) -> None:
    """Six modes; the lumps of the fine division cost up to 0.14 %. The long bed is left out: its lowest modes come out as 0 Hz here too."""
    held = slender(name)
    pose = pose_at(held, 0.8)
    here = solved(Mesher(held), pose, longest=0.15)
    found = modes(stiffness(here.rows, here.coefficients), mass_matrix(here.mesh.frame), 6).frequencies
    placed = Placed(held, pose, longest=0.1)
    squares = eigsh(stiffness_of(placed), 6, placed.masses(), sigma=-40.0, return_eigenvectors=False)
    expected = np.sqrt(np.sort(squares)) / (2 * np.pi)
    np.testing.assert_allclose(found, expected, rtol=3e-3)

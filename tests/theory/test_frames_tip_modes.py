"""High modes that a force at the tip stirs, against all natural modes of the same frame."""

import numpy as np
import pytest
from tests.invented_skeletons import moving_gantry

from gantrywright.theory.frames.assembly import stiffness, stretches
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.modes import modes
from gantrywright.theory.frames.tip_modes import tip_modes


@pytest.fixture(scope="module")
def frame():
    skeleton = moving_gantry()
    mesh = Mesher(skeleton).at({motion.axis: motion.drawn for motion in skeleton.motions}, longest=0.3)
    held = stiffness(stretches(mesh.frame), mesh.frame.coefficients)
    mass = mass_matrix(mesh.frame)
    return held, mass, mesh.load[:, :3], modes(held, mass, 10)


def test_static_answer_is_exact_and_modes_are_square(frame):
    held, mass, loads, lowest = frame
    found = tip_modes(held, mass, loads, lowest, about=300.0, blocks=8).modes
    at_tip = loads.T @ found.shapes
    static = loads.T @ np.linalg.solve(held.toarray(), loads)
    assert (at_tip / found.squares) @ at_tip.T == pytest.approx(static, rel=1e-6, abs=1e-9 * abs(static).max())
    assert found.shapes.T @ mass @ found.shapes == pytest.approx(np.eye(len(found.frequencies)), abs=1e-8)
    assert np.array_equal(found.frequencies[:10], lowest.frequencies)
    assert np.all(np.diff(found.frequencies) >= 0)


def test_natural_frequencies_lie_within_the_doubt(frame):
    held, mass, loads, lowest = frame
    every = modes(held, mass, 120).squares
    found = tip_modes(held, mass, loads, lowest, about=300.0, blocks=12)
    sure = found.doubt < 0.05
    assert sure[10:].sum() >= 5
    for square, doubt in zip(found.modes.squares[sure], found.doubt[sure], strict=True):
        assert np.abs(square / every - 1).min() <= doubt + 1e-6


def test_more_blocks_know_more(frame):
    held, mass, loads, lowest = frame
    known = [(tip_modes(held, mass, loads, lowest, about=300.0, blocks=n).doubt < 0.01).sum() for n in (3, 8, 14)]
    assert known[0] < known[1] < known[2]

"""Modes of a machine taken to another cutter."""

from typing import Any

import numpy as np
import pytest

from gantrywright.theory.cutting import cutter_give as cg
from gantrywright.theory.cutting import other_tool as ot
from gantrywright.theory.cutting import tool_modes as tm

SHORT: dict[str, Any] = {
    "shank_length": 0.009, "shank_diameter": 0.006, "flute_length": 0.021, "flute_diameter": 0.0048, "elastic_modulus": 600e9,
    "shear_modulus": 245e9,
}  # fmt: skip
LONG = SHORT | {"shank_length": 0.018, "flute_length": 0.032}
MASS = {"flute_area_share": 0.6, "cutting_diameter": 0.006, "density": 14500.0}
SLOW = 4.0
"""Hz: a machine that carries the collet without noticing the cutter."""


def gantry() -> tuple[tm.Swinging, np.ndarray]:
    """Two modes of 30 kg of a machine, seen at a tip 30 mm below the collet, and the give of all but the cutter there."""
    squares = (2 * np.pi * np.array([SLOW, 2 * SLOW])) ** 2
    at_collet = np.array([[1.0, 0.0], [0.0, 1.0], [0.1, 0.0], [0.0, 0.8], [-0.5, 0.0], [0.0, 0.0]]) / np.sqrt(30.0)
    at_tip = ot.moved_motions(motions=at_collet, by=np.array([0.0, 0.0, -0.03]))
    return tm.Swinging(squares, at_tip, np.array([0.03, 0.04])), (at_tip / squares) @ at_tip.T


def taken(other: dict[str, Any], out: float) -> tm.Swinging:
    swinging, rest = gantry()
    return tm.modes_with_other(
        drawn_modes=swinging, rest=rest, drawn=cg.first_mode(**MASS, **SHORT), other=cg.first_mode(**MASS, **other), cutter_damping=0.02,
        stick_out=0.03, other_stick_out=out,
    )  # fmt: skip


def test_slow_modes_go_with_the_collet_and_the_cutter_brings_its_own() -> None:
    swinging, _ = gantry()
    found, own = taken(LONG, 0.05), cg.first_mode(**MASS, **LONG)
    np.testing.assert_allclose(found.squares[:2], swinging.squares, rtol=2e-3)
    carried = ot.moved_motions(motions=swinging.at_tip, by=np.array([0.0, 0.0, -0.02]))
    signs = np.sign((found.at_tip[:, :2] * carried).sum(axis=0))
    np.testing.assert_allclose(found.at_tip[:, :2] * signs, carried, atol=3e-3 * np.abs(carried).max())
    np.testing.assert_allclose(found.damping[:2], swinging.damping, rtol=1e-3)
    # a heavy machine holds the collet: the cutter rings as in a stiff one
    np.testing.assert_allclose(np.sqrt(found.squares[2:4]) / (2 * np.pi), own.frequency, rtol=2e-3)
    np.testing.assert_allclose((found.at_tip[:2, 2:4] ** 2).sum(axis=0), 1 / own.mass, rtol=5e-3)
    np.testing.assert_allclose(found.damping[2:4], 0.02, rtol=1e-2)


def test_modal_masses_stay_one() -> None:
    """What the modes give at rest is what machine and first mode of the cutter give."""
    found, own = taken(LONG, 0.05), cg.first_mode(**MASS, **LONG)
    _, rest = gantry()
    static = (found.at_tip[:3] / found.squares) @ found.at_tip[:3].T
    expected = ot.moved_give(give=rest, by=np.array([0.0, 0.0, -0.02]))[:3, :3] + np.diag([1.0, 1.0, 0.0]) / own.stiffness
    np.testing.assert_allclose(static, expected, rtol=1e-4, atol=1e-6 * expected.max())


def test_a_longer_cutter_rings_lower() -> None:
    lowest = [taken(cutter, out).squares[2] for cutter, out in ((SHORT, 0.03), (LONG, 0.05))]
    assert lowest[1] < 0.5 * lowest[0]


def test_modes_in_feed_axes_keep_the_static_give() -> None:
    swinging, rest = gantry()
    give = rest + cg.tip_matrix(**SHORT)
    found = tm.in_feed_axes(modes=swinging, give=give, direction=np.array([0.0, 0.7]))
    assert found.shapes.shape == (2, 2, 2)
    whole = (found.shapes / found.squares) @ np.swapaxes(found.shapes, -1, -2) + found.residual
    np.testing.assert_allclose(whole, ot.give_in_feed_axes(give=give[:3, :3], direction=np.array([0.0, 0.7]))[:, :2, :2])
    np.testing.assert_allclose(found.shapes[0], swinging.at_tip[:2])
    assert found.residual[0, 0, 0] == pytest.approx(cg.tip_give(**SHORT), rel=1e-6)

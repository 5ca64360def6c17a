"""Modes taken from one cutter to another against the frame of the same machine drawn with the other."""

from dataclasses import replace

import numpy as np
import pytest

from gantrywright.model.machine import Machine
from gantrywright.theory.cutting import cutter_give as cg
from gantrywright.theory.cutting import other_tool as ot
from gantrywright.theory.cutting import tool_modes as tm
from gantrywright.theory.cutting.modes import feed_receptance
from gantrywright.theory.frames.assembly import stiffness, stretches
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.modes import modes
from gantrywright.theory.frames.solver import prepare
from held_spindle import CARBIDE, machine, skeleton

DAMPING = 0.03
REST = 0.01
"""Of every cutter within the collet, kg."""


def sizes(out: float, flutes: float, core: float) -> dict[str, float]:
    return {
        "shank_length": out - flutes, "shank_diameter": 0.006, "flute_length": flutes, "flute_diameter": core * 0.006,
        "elastic_modulus": CARBIDE.modulus, "shear_modulus": CARBIDE.shear_modulus,
    }  # fmt: skip


def first(out: float, flutes: float, core: float) -> cg.FirstMode:
    """The frame gives the fluted part the mass of the round bar that bends like it."""
    return cg.first_mode(**sizes(out, flutes, core), flute_area_share=core**2, cutting_diameter=0.006, density=CARBIDE.density)


def drawn(out: float, flutes: float, core: float) -> Machine:
    base = machine(cutter={"core": core, "flute_length": flutes})
    assert base.spindle is not None
    assert base.tool is not None
    x, y, z = base.spindle.nose
    mass = REST + float(first(out, flutes, core).whole[0])
    solids = tuple(replace(solid, mass=mass) if solid.path == "tool.cutter" else solid for solid in base.solids)
    return replace(base, tool=replace(base.tool, stick_out=out, tip=(x, y, z - out)), solids=solids)


def at_tip(of: Machine) -> tuple[tm.Swinging, np.ndarray]:
    mesh = Mesher(skeleton(of)).at({})
    rows, load = stretches(mesh.frame), mesh.tip_load
    give = load.T @ prepare(rows).solve(mesh.frame.coefficients, load)
    found = modes(stiffness(rows, mesh.frame.coefficients), mass_matrix(mesh.frame), 40)
    return tm.Swinging(found.squares, load.T @ found.shapes, np.full(len(found.squares), DAMPING)), give


@pytest.mark.parametrize("other", [(0.045, 0.02, 0.75), (0.02, 0.015, 0.8), (0.03, 0.021, 0.8)], ids=["longer", "shorter", "same"])
def test_answer_to_a_swinging_force(other: tuple[float, float, float]) -> None:
    own = (0.03, 0.021, 0.8)
    swinging, give = at_tip(drawn(*own))
    redrawn, whole = at_tip(drawn(*other))
    cutter = cg.tip_matrix(**sizes(*own))
    moved = ot.give_with_other(
        give=give, drawn=cutter, other=cg.tip_matrix(**sizes(*other)), stick_out=own[0], other_stick_out=other[0]
    )
    np.testing.assert_allclose(np.diag(moved), np.diag(whole), rtol=1e-3)
    taken = tm.modes_with_other(
        drawn_modes=swinging, rest=ot.without_cutter(give=give, cutter=cutter), drawn=first(*own), other=first(*other),
        cutter_damping=DAMPING, stick_out=own[0], other_stick_out=other[0],
    )  # fmt: skip
    # the modes that matter, up to the cutter's own
    holds = (redrawn.at_tip[0] ** 2 + redrawn.at_tip[1] ** 2) / redrawn.squares / whole[0, 0]
    for square in redrawn.squares[(holds > 0.05) & (redrawn.squares < (2 * np.pi * 4000) ** 2)]:
        assert np.abs(np.sqrt(taken.squares / square) - 1).min() < 0.01
    looked = np.linspace(10.0, 3000.0, 900)
    mine = feed_receptance(modes=tm.in_feed_axes(modes=taken, give=moved, direction=0.0), frequencies=looked)[:, 0, 0]
    frame = feed_receptance(modes=tm.in_feed_axes(modes=redrawn, give=whole, direction=0.0), frequencies=looked)[:, 0, 0]
    assert np.abs(mine).max() == pytest.approx(np.abs(frame).max(), rel=0.06)
    assert np.abs(mine - frame).max() < 0.2 * np.abs(frame).max()

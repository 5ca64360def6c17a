"""The formula of a stepped cutter against the frame that carries it: the tip with the cutter less the tip at the collet face."""

import numpy as np
import pytest

from gantrywright.theory.tools import bending_diameter, stepped_give
from held_spindle import give, machine

FIRM_COLLET = {"collet_stiffness": 1e13, "collet_tilt": 1e10}


@pytest.mark.parametrize("core", [0.7, 0.8, 1.0])
@pytest.mark.parametrize("flutes", [0.012, 0.021, 0.05])
def test_stepped_cutter(core: float, flutes: float) -> None:
    out, standing = 0.03, min(flutes, 0.03)
    bare = give(machine(tool=False))
    with_cutter = give(machine(cutter={"core": core, "flute_length": flutes}, **FIRM_COLLET))[0, 0]
    # what the collet face does to a rigid cutter: it shifts, and turns about y
    carried = bare[0, 0] - 2 * out * bare[0, 4] + out**2 * bare[4, 4]
    formula = stepped_give(
        shank_length=out - standing, shank_diameter=0.006, flute_length=standing,
        flute_diameter=bending_diameter(diameter=0.006, core=core), elastic_modulus=600e9,
    )  # fmt: skip
    shear = with_cutter - carried - formula
    assert 0 < shear < 0.03 * formula, "the formula leaves shear out, which is a few per cent at a ratio of 5"
    assert np.isclose(with_cutter - carried, formula, rtol=0.03)

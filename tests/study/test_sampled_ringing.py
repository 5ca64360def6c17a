"""How a whole machine rings with all that is uncertain tried together: against modes of single samples from all freedoms."""

from pathlib import Path

import numpy as np
import pytest

from gantrywright.disciplines.structure.dynamics import LONGEST
from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.disciplines.structure.statics import solved
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.study.analyses import analyse
from gantrywright.study.structured import structured
from gantrywright.study.study import run, settle
from gantrywright.theory.frames.assembly import stiffness
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.modes import modes
from gantrywright.theory.statistics import draw

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"
LOWEST = 9


@pytest.mark.parametrize(("name", "off"), [("bench", 0.03), ("as-built", 0.025)])
def test_the_lowest_modes_of_single_samples_are_those_of_all_freedoms(name: str, off: float) -> None:
    """Rocking on feet that are uncertain by factors included; each told mode is near one of the exact ones, and not too low."""
    resolve = again(read_document(DEMO / f"{name}.toml"))
    machine = resolve({}, ())
    typical = analyse(machine)
    spreads = {path: s for path, s in machine.spreads.items() if s.high > s.low and not s.placed}
    sampled = resolve(draw(spreads, 64), ())
    found = analyse(sampled, typical).structure
    own = np.array([mode.frequency for mode in found.modes[:LOWEST]])
    skeleton = skeleton_of(sampled).skeleton
    assert skeleton is not None
    assert typical.structure.worst is not None
    here = solved(Mesher(skeleton), typical.structure.worst.pose, longest=LONGEST)
    mass = mass_matrix(here.mesh.frame)
    for k in range(0, 64, 13):
        exact = modes(stiffness(here.rows, here.coefficients[k]), mass, LOWEST + 3).frequencies
        near = np.abs(own[:, k, None] / exact - 1).min(axis=1)
        assert near.max() < off, (k, own[:, k], exact)
        assert np.sort(own[:, k])[0] >= exact[0] * (1 - 1e-4)  # masses are medians of the samples here, typical there


def test_a_settled_study_tells_the_band_of_the_answer_at_the_tool() -> None:
    resolve = again(read_document(DEMO / "bench.toml"))
    study = run(resolve({}, ()))
    assert structured(study)["response"]["band"] is None
    study = settle(study, resolve, count=64)
    told = structured(study)["response"]
    low, middle, high = (np.array(told["band"][name]) for name in ("low", "middle", "high"))
    assert np.all(low <= middle)
    assert np.all(middle <= high)
    assert low.shape == (len(told["band"]["frequencies"]), 3)
    for k, letter in enumerate("xyz"):  # far below all modes it is the static give with its band
        stiff = study.bands[f"structure.tip.stiffness_{letter}"]
        assert low[0, k] == pytest.approx(1 / stiff[1], rel=0.15)
        assert high[0, k] == pytest.approx(1 / stiff[0], rel=0.15)
        assert told["peak_band"][k][0] < told["peak"][k] < told["peak_band"][k][1]
        assert told["lowest_real_band"][k][0] < told["lowest_real"][k] < told["lowest_real_band"][k][1] < 0
    assert study.bands["structure.mode.1.frequency"][1] > 1.5 * study.bands["structure.mode.1.frequency"][0]

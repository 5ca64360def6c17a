"""Samples of whole machines, solved together, against every sample solved exactly."""

from pathlib import Path

import numpy as np
import pytest

from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.disciplines.structure.statics import Solved, give_of, solved, tip_answer
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.results.structure import Tip
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.motions import Motions
from gantrywright.theory.frames.reduced import FORCES_CLOSE, force_difference
from gantrywright.theory.frames.skeleton import Skeleton
from gantrywright.theory.statistics import draw

ROOT = Path(__file__).parents[3]
DEMO = ROOT / "src" / "gantrywright" / "data" / "demo"
FILES = {name: DEMO / f"{name}.toml" for name in ("as-built", "bench")} | {
    "salvaged": ROOT / "tests" / "machines" / "salvaged.toml"
}
SAMPLES = 192


def sampled(name: str) -> tuple[Skeleton, dict[str, float], Solved]:
    """A machine with all its uncertain values sampled, somewhere in its travel."""
    resolve = again(read_document(FILES[name]))
    spreads = {path: spread for path, spread in resolve({}, ()).spreads.items() if spread.high > spread.low and not spread.placed}
    held = skeleton_of(resolve(draw(spreads, SAMPLES), ())).skeleton
    assert held is not None
    pose = {motion.axis: 0.8 * motion.travel for motion in held.motions}
    return held, pose, solved(Mesher(held), pose)


def by_part(tip: Tip) -> dict[str, np.ndarray]:
    """Share of every part along X, Y and Z, shape (3, samples)."""
    told: dict[str, np.ndarray] = {}
    for share in tip.shares:
        told[share.part] = told.get(share.part, 0.0) + np.array([np.broadcast_to(along, SAMPLES) for along in share.along])
    return told


@pytest.mark.parametrize("name", FILES)
def test_give_and_shares_of_every_sample_are_the_exact_ones(name: str) -> None:
    """Give within 0.1 %; shares of the parts, which err by more than the give does, within half a per cent of the whole."""
    held, pose, here = sampled(name)
    assert here.coefficients.shape[0] == SAMPLES
    exact = Motions(here.prepared.solve(here.coefficients, here.mesh.load))
    found = here.under(here.mesh.load)
    ties = len(here.mesh.frame.springs.ends)
    assert force_difference(here.prepared, here.coefficients, found.whole(), exact.whole(), ties) < FORCES_CLOSE
    ours, right = give_of(here, found), give_of(here, exact)
    own = np.sqrt(np.diagonal(right, axis1=-2, axis2=-1))
    assert np.abs((ours - right) / (own[..., :, None] * own[..., None, :])).max() < 1e-3
    of_found, of_exact = (by_part(tip_answer(held, pose, here, motions)) for motions in (found, exact))
    assert of_found.keys() == of_exact.keys()
    for part, share in of_exact.items():
        assert np.abs(of_found[part] - share).max() < 5e-3

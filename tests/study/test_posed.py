"""The give at one pose against the whole grid of poses."""

from itertools import product
from pathlib import Path

import numpy as np
import pytest

from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.study.posed import posed
from gantrywright.study.study import run

MACHINES = Path(__file__).parents[1] / "machines"


@pytest.mark.parametrize("name", ["fixed_gantry", "long_bed"])
def test_every_corner_is_that_of_the_grid(name: str) -> None:
    """The first has a table that moves: the tool may leave it although it stands still."""
    study = run(again(read_document(MACHINES / f"{name}.toml"))({}, ()))
    grid = study.results.structure.grid
    assert grid is not None
    for at in product(*((0, count - 1) for count in grid.over.shape)):
        found = posed(study, {axis: float(places[k]) for axis, places, k in zip(grid.axes, grid.places, at, strict=True)})
        assert found is not None
        assert found.over_table == bool(grid.over[at])
        assert found.least == pytest.approx(1 / float(np.linalg.eigvalsh(grid.give[at])[-1]), rel=1e-3)

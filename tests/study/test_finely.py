"""The fine map against the map of every study."""

from pathlib import Path

import numpy as np
import pytest

from gantrywright.intake.resolve import load_machine
from gantrywright.study import finely
from gantrywright.study.study import run


def test_agrees_with_the_coarse_map_where_both_look(monkeypatch: pytest.MonkeyPatch) -> None:
    machine = load_machine(Path(__file__).parents[1] / "machines" / "fixed_gantry.toml")
    grid = run(machine).results.structure.grid
    assert grid is not None
    monkeypatch.setattr(finely, "FINE", {"x": 13, "y": 7, "z": 3})
    steps: list[float] = []
    found = finely.fine_map(machine, lambda part, _: steps.append(part))
    assert found is not None
    assert steps == sorted(steps)
    assert steps[-1] == 1
    coarse = 1 / np.linalg.eigvalsh(np.asarray(grid.give)[..., :3, :3])[..., -1]
    fine = np.asarray(found["least"])
    assert found["axes"] == list(grid.axes)
    every = tuple(slice(None, None, 2) if name == "x" else slice(None) for name in found["axes"])
    np.testing.assert_allclose(fine[every], coarse, rtol=1e-9)
    over = np.asarray(found["over"])[every]
    np.testing.assert_array_equal(over, grid.over)
    assert 0 < over.sum() < over.size, "the front of this machine's work area lies beyond its table"

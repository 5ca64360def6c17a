"""What was measured of a material replaces the figure of its row, wherever it is used."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from gantrywright.base.samples import typical
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.model.machine import Machine

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo" / "as-built.toml"


def resolved(*edits: tuple[str, Any]) -> Machine:
    return resolve(revise(read_document(DEMO), edits))


def test_a_measured_coefficient_stands_in_the_material_with_its_own_band() -> None:
    told = resolved(
        ("measured.ply.path", "material.plywood-birch.shear_force"),
        ("measured.ply.value", "29 MPa +- 1 MPa"),
        ("measured.ply.with", "power meter"),
        ("measured.ply.on", date(2026, 11, 20)),
    )
    assert typical(told.jobs[0].material.shear_force) == pytest.approx(29e6)  # type: ignore[arg-type]
    spread = told.spreads["material.plywood-birch.shear_force"]
    assert (spread.low, spread.high) != (20e6, 65e6)
    assert 27e6 < spread.low < 29e6 < spread.high < 31e6


def test_other_figures_of_the_row_stay() -> None:
    plain = resolved()
    told = resolved(
        ("measured.ply.path", "material.plywood-birch.density"),
        ("measured.ply.value", "655 kg/m3"),
        ("measured.ply.with", "scale"),
        ("measured.ply.on", date(2026, 11, 20)),
    )
    assert told.jobs[0].material.density == pytest.approx(655)
    assert told.jobs[0].material.shear_force == plain.jobs[0].material.shear_force

"""Scenes of machines that nobody wrote down for these tests: first machines of all sizes, machines with uncertain inputs, odd changes."""

import json
from pathlib import Path

import numpy as np
import pytest

from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.intake.starter import Answers, starter_text
from gantrywright.scene import scene_of, to_json
from gantrywright.scene.picture import draw
from gantrywright.theory.statistics import draw as sampled
from scene_cases import FILES, machine, scene


@pytest.mark.parametrize("units", ["metric", "inch"])
@pytest.mark.parametrize(
    ("layout", "area"),
    [("moving-gantry", "150 x 150 x 40 mm"), ("moving-gantry", "1600 x 2000 x 250 mm"), ("fixed-gantry", "300 x 400 x 60 mm")],
)
def test_a_first_machine_is_drawn_whole(tmp_path: Path, layout: str, area: str, units: str) -> None:
    target = tmp_path / "machine.toml"
    target.write_text(starter_text(Answers("first", layout, area, "plywood-birch", units)), "utf-8")
    found = resolve(read_document(target))
    made = scene_of(found)
    assert {solid.path for solid in found.solids if all(extent > 0 for extent in solid.size)} == {p.solid for p in made.pieces} - {
        ""
    }
    json.dumps(to_json(made), allow_nan=False)
    picture = draw(made, wide=320, high=240)
    assert {"member", "rail", "spindle"} <= {made.pieces[number].kind for number in np.unique(picture.pieces) if number >= 0}


@pytest.mark.parametrize("name", ["as-built", "fixed_gantry"])
def test_uncertain_inputs_do_not_move_what_is_drawn(name: str) -> None:
    """Places are always typical; a mass of many samples is told by its middle."""
    samples = sampled(machine(name).spreads, 16)
    made = scene_of(resolve(read_document(FILES[name]), samples=samples))
    plain = scene(name)
    assert [piece.part for piece in made.pieces] == [piece.part for piece in plain.pieces]
    for one, other in zip(made.pieces, plain.pieces, strict=True):
        assert one.matrix == pytest.approx(other.matrix, abs=2e-3)
        assert one.mass is None or isinstance(one.mass, float)
    json.dumps(to_json(made), allow_nan=False)


@pytest.mark.parametrize(
    ("name", "path", "value"),
    [
        ("as-built", "gantry.beam.section", "tube-80x80x4"),
        ("as-built", "tool.stick_out", "60 mm"),
        ("as-built", "axis.z.drive.main.part", "ball-screw-2010"),
        ("as-built", "axis.x.blocks.per_rail", 1),
        ("long_bed", "axis.x.drive.main.runs", "fixed-belt"),
        ("salvaged", "machine.drawn_at", "0, 1400, 80 mm"),
    ],
)
def test_a_changed_machine_is_drawn_as_changed(name: str, path: str, value: object) -> None:
    found = resolve(revise(read_document(FILES[name]), ((path, value),)))
    made = scene_of(found)
    assert {solid.path for solid in found.solids if all(extent > 0 for extent in solid.size)} == {p.solid for p in made.pieces} - {
        ""
    }
    assert json.dumps(to_json(made), allow_nan=False) != json.dumps(to_json(scene(name)))

"""Nothing of the demo that was built stands in another part: bars, plates, motors, couplings, cabinet; but where an opening lets it through."""

from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

import gantrywright.data
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import resolve
from gantrywright.model.bodies import Plate, Solid
from gantrywright.model.machine import Machine

KINDS = ("member", "plate", "layer", "motor", "coupling", "cabinet", "spindle", "item")
THIN = 0.5e-3
DEMO = Path(gantrywright.data.__file__).parent / "demo"


def machine() -> Machine:
    return resolve(read_document(DEMO / "as-built.toml"))


def depth(a: Solid, b: Solid) -> float:
    """How far two boxes run into each other, by the axes that may separate them."""
    one, two = np.array(a.axes), np.array(b.axes)
    crossed = np.cross(one[:, None], two[None]).reshape(-1, 3)
    ways = np.vstack([one, two, crossed[np.linalg.norm(crossed, axis=1) > 1e-9]])
    ways /= np.linalg.norm(ways, axis=1)[:, None]
    reach = np.abs(ways @ one.T) @ np.array(a.size) / 2 + np.abs(ways @ two.T) @ np.array(b.size) / 2
    return float((reach - np.abs(ways @ (np.array(b.centre) - np.array(a.centre)))).min())


def let_through(plate: Plate, solid: Solid) -> bool:
    """Whether an opening of the plate is wider all round than what passes it."""
    shift = np.array(solid.centre) - np.array(plate.middle)
    for at_first, at_second, first, second in plate.openings:
        room = [
            wide / 2 - abs(shift @ np.array(way) - at) - np.abs(np.array(solid.axes) @ np.array(way)) @ np.array(solid.size) / 2
            for way, at, wide in ((plate.first, at_first, first), (plate.second, at_second, second))
        ]
        if min(room) > 0:
            return True
    return False


def test_nothing_runs_through_another_part() -> None:
    built = machine()
    plates = {plate.path: plate for plate in built.plates}
    solids = [solid for solid in built.solids if solid.kind in KINDS and min(solid.size) > 0]
    assert len(solids) > 20
    inside = [
        (a.path, b.path)
        for a, b in combinations(solids, 2)
        if depth(a, b) > THIN
        and not any(one.path in plates and let_through(plates[one.path], two) for one, two in ((a, b), (b, a)))
    ]
    assert inside == []


def test_the_motor_passes_the_upright_by_its_opening_alone() -> None:
    built = machine()
    plate = next(plate for plate in built.plates if plate.path == "gantry.upright-right")
    solid = next(solid for solid in built.solids if solid.path == plate.path)
    motor = next(solid for solid in built.solids if solid.path == "axis.x.drive.main.motor")
    assert depth(solid, motor) == pytest.approx(0.014, abs=2e-3)
    assert let_through(plate, motor)

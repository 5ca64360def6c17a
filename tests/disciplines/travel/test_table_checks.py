"""GEO-205: how far the work area hangs over, where, and what brings it back over the table."""

from pathlib import Path

import numpy as np
import pytest

from gantrywright.findings import Finding, Status
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.model.machine import Machine
from gantrywright.model.table import bearing_box, over_table, places_of
from gantrywright.study.study import run

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo"


def revised(name: str, *edits: tuple[str, str]) -> Machine:
    return resolve(revise(read_document(DEMO / f"{name}.toml"), edits))


def found(machine: Machine) -> Finding:
    return next(finding for finding in run(machine).findings if finding.id == "GEO-205")


@pytest.mark.parametrize("inches", [4.5, 2.0])
def test_a_portal_moved_over_the_table_takes_the_work_area_off_it(inches: float) -> None:
    """The table of the bench reaches 50.4 mm beyond the work area at the front: what the portal moves beyond that hangs over."""
    straight = found(revised("bench"))
    off = found(revised("bench", ("gantry.at", f"0, {28.5 - inches}, 0 in")))
    assert straight.verdict.value == pytest.approx(-0.0127)  # the nearest sides of all are left and right
    assert off.verdict.value == pytest.approx(inches * 0.0254 - 0.050425)
    assert off.status is Status.FAIL
    assert "front (Y at 0 in)" in off.verdict.note


@pytest.mark.parametrize(
    ("name", "edit"),
    [
        ("bench", ("gantry.at", "0, 24, 0 in")),
        ("bench", ("gantry.at", "1.5, 40, 0 in")),
        ("as-built", ("bed.top.at", "0, 1200 mm")),
        ("as-built", ("bed.top.size", "1100 x 1200 mm")),
    ],
)
def test_what_it_proposes_brings_it_over_the_table(name: str, edit: tuple[str, str]) -> None:
    bad = found(revised(name, edit))
    assert bad.status is Status.FAIL
    (change,) = bad.verdict.changes
    assert found(revised(name, edit, *change.edits)).status is Status.OK


def test_places_beyond_the_edge_are_not_over_the_table() -> None:
    machine = revised("bench")
    box = bearing_box(machine)
    assert box is not None
    x, y = (box.least[0] + box.most[0]) / 2, (box.least[1] + box.most[1]) / 2
    places = [(x, y, 0.0), (box.least[0], box.most[1], 0.3), (box.least[0] - 1e-4, y, 0.0), (x, box.most[1] + 1e-4, 0.0)]
    assert over_table(machine, np.array(places)).tolist() == [True, True, False, False], "a corner of it is on it"


@pytest.mark.parametrize("name", ["bench", "as-built"])
def test_both_ends_of_all_travels_are_the_corners_of_the_reach(name: str) -> None:
    machine = revised(name)
    names = tuple(axis.name for axis in machine.axes)
    ends = np.array([[0.0] * 3, [axis.travel for axis in machine.axes]])
    assert places_of(machine, names, ends) == pytest.approx(np.array([machine.reach.least, machine.reach.most]))
    assert machine.tool is not None
    drawn = np.array([axis.drawn for axis in machine.axes])
    assert places_of(machine, names, drawn) == pytest.approx(np.array(machine.tool.tip))

"""What gives locally under the work: a plate between its blocks, sheets on bearers, and that each place is worked out once."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from gantrywright.disciplines.structure import rest as room
from gantrywright.disciplines.structure.bars import STIFF
from gantrywright.disciplines.structure.carriers import Carriers
from gantrywright.disciplines.structure.rest import Give, rest_of
from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.model.machine import Machine
from gantrywright.theory.frames.skeleton import Rest
from gantrywright.theory.plate_strip import sheet_give

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo"


@pytest.fixture(scope="module")
def bench() -> Machine:
    return again(read_document(DEMO / "bench.toml"))({}, ())


def rest(machine: Machine) -> Rest:
    built = skeleton_of(machine)
    assert built.skeleton is not None
    found = rest_of(machine, Carriers(built.skeleton.bars, machine.solids))
    assert found is not None
    return found


def bare(machine: Machine, **changed: object) -> Machine:
    plates = tuple(replace(plate, **changed) if plate.path == "table.plate" else plate for plate in machine.plates)  # type: ignore[arg-type]
    return replace(machine, layers=(), plates=plates)


def test_a_bare_plate_bends_between_its_blocks(bench: Machine) -> None:
    found = rest(bare(bench))
    # 5/8 in of aluminium on rails 10 in apart: Timoshenko's long strip, 0.01696 a^2/D in the middle
    stiff = 70e9 * 0.015875**3 / 12 / 0.91
    assert found.give((0.1524, 0.2, 0.0))[2] == pytest.approx(0.01696 * 0.254**2 / stiff, rel=1e-3)
    assert found.part == "table.plate"
    for line in (0.0254, 0.2794):
        assert found.give((line, 0.2, 0.0))[2] == pytest.approx(0, abs=1e-15)
    assert found.give((0.0, 0.2, 0.0))[2] > 0


def test_the_strip_bends_along_itself_only_once(bench: Machine) -> None:
    give = rest(bare(bench)).give
    assert give((0.1, 0.0, 0.0)) == give((0.1, 0.4, 0.0))


def test_a_rigid_plate_gives_next_to_nothing(bench: Machine) -> None:
    soft, rigid = (rest(bare(bench, rigid=kind)).give((0.1524, 0.2, 0.0))[2] for kind in (False, True))
    assert soft == pytest.approx(STIFF * rigid)


def test_a_sheet_on_a_plate_bends_with_it(bench: Machine) -> None:
    with_sheet, without = (rest(machine).give((0.1524, 0.2, 0.0))[2] for machine in (bench, bare(bench)))
    sheet = 1e9 * 0.0127**3 / 12 / 0.91
    stiff = 70e9 * 0.015875**3 / 12 / 0.91
    assert without / with_sheet == pytest.approx(1 + sheet / stiff, rel=1e-9)


def test_edges_of_a_sheet_reach_the_give(bench: Machine) -> None:
    machine = again(read_document(DEMO / "as-built.toml"))({}, ())
    found = rest(machine)
    assert isinstance(found.give, Give)
    assert len(found.bars) > 1
    assert found.give.edges is not None
    place = found.give.lines[0] - 0.01
    ends_there = sheet_give(plate=found.give.plate, bearers=found.give.lines, place=place)
    assert found.give(tuple(place * np.array(found.across)))[2] < ends_there  # type: ignore[arg-type]


def test_each_place_across_is_worked_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[float] = []

    def counted(**given: object) -> object:
        asked.append(given["place"])  # type: ignore[arg-type]
        return sheet_give(**given)  # type: ignore[arg-type]

    monkeypatch.setattr(room, "sheet_give", counted)
    plate = np.array([900.0, 1500.0])
    give = Give(plate, (0.0, 1.0, 0.0), np.array([0.0, 0.3, 0.6]), (0.0, 0.0), (-0.1, 0.7))
    for y in (0.1, 0.45, 0.1):
        for x in (0.0, 0.2, 0.4):
            expected = sheet_give(plate=plate, bearers=np.array([0.0, 0.3, 0.6]), place=y, edges=(-0.1, 0.7))
            assert give((x, y, 0.3))[2] == pytest.approx(expected)
    assert asked == [0.1, 0.45]

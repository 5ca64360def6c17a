"""Welded corners tell how they were estimated: in a figure of each, and in the notes of the structure where that is beyond what is known."""

from itertools import pairwise
from pathlib import Path

import pytest

from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.disciplines.structure.welded import welded_figures
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.model.bodies import OUTSIDE
from gantrywright.model.machine import Machine
from gantrywright.results.ledger import Ledger

SALVAGED = Path(__file__).parents[2] / "machines" / "salvaged.toml"
CORNER = "bed.cross-2 + bed.left-side"


def side_bar(wall: str) -> Machine:
    """The machine with this wall in its side bars of 80 x 80."""
    section = {"shape": "tube", "width": "80 mm", "height": "80 mm", "wall": wall, "material": "steel-s235"}
    return resolve(revise(read_document(SALVAGED), [("bed.member.left-side.section", section)]))  # type: ignore[list-item]


def turning(machine: Machine) -> Ledger:
    ledger = Ledger()
    welded_figures(machine, ledger)
    return ledger


def test_each_welded_joint_has_a_figure_and_no_other() -> None:
    machine = side_bar("4 mm")
    welded = [f"structure.joint.{joint.path}.turning" for joint in machine.joints if joint.kind == "welded"]
    assert welded
    assert [figure.path for figure in turning(machine)] == welded


@pytest.mark.parametrize(("wall", "words"), [("20 mm", "W/t 4 against 5..60"), ("1 mm", "W/t 80 against 5..60")])
def test_beyond_the_range_is_told_in_figure_and_notes(wall: str, words: str) -> None:
    machine = side_bar(wall)
    joint = next(joint for joint in machine.joints if joint.path == CORNER)
    figure = turning(machine)[f"structure.joint.{CORNER}.turning"]
    assert figure.value == pytest.approx(min(joint.stiffness.rn, joint.stiffness.ra, joint.stiffness.rb))  # type: ignore[type-var]
    assert words in figure.title
    assert [given.path for given in figure.inputs] == ["bed.joint.welded.times", "bed.joint.welded.beyond"]
    assert words in skeleton_of(machine).notes[CORNER]
    assert "band is widened" in skeleton_of(machine).notes[CORNER]


def test_within_the_range_nothing_is_told() -> None:
    machine = side_bar("6 mm")
    figure = turning(machine)[f"structure.joint.{CORNER}.turning"]
    assert OUTSIDE not in figure.title
    assert [given.path for given in figure.inputs] == ["bed.joint.welded.times"]
    assert CORNER not in skeleton_of(machine).notes


def test_thicker_side_bars_never_soften_a_corner() -> None:
    """Out of and into the range of the estimate at both ends."""
    path = f"structure.joint.{CORNER}.turning"
    found = [turning(side_bar(f"{wall} mm"))[path].value for wall in (1, 1.3, 1.4, 3, 8, 15, 17, 25)]
    assert all(thin < thick for thin, thick in pairwise(found))

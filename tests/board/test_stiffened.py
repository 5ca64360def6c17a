"""What to stiffen first, as the page tells it."""

from dataclasses import replace
from pathlib import Path

import pytest

from gantrywright.board.stiffened import LITTLE, stiffened
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.study.stiffen import Stiffening, stiffen
from gantrywright.study.study import Study, run

DEMO = Path(__file__).parents[2] / "src/gantrywright/data/demo/bench.toml"


@pytest.fixture(scope="module")
def found() -> tuple[Stiffening, Study]:
    """The bench router, tried."""
    resolve = again(read_document(DEMO))
    study = run(resolve({}, ()))
    tried = stiffen(study, resolve)
    assert tried is not None
    return tried, study


def test_every_change_worth_it_is_told_in_the_units_of_the_machine(found: tuple[Stiffening, Study]) -> None:
    tried, study = found
    told = stiffened(tried, study)
    worth = [gain for gain in tried.gains if abs(gain.gain) >= LITTLE]
    assert [row["words"] for row in told["rows"]] == [gain.words for gain in worth]
    assert told["little"] == len(tried.gains) - len(worth)
    assert "lbf/in" in told["lead"]
    for row, gain in zip(told["rows"], worth, strict=True):
        assert [tuple(edit) for edit in row["edits"]] == list(gain.edits)
        assert row["stiffness"].endswith("lbf/in")
        assert row["give"].startswith("-" if gain.gain > 0 else "+")  # less give is what is wanted


def test_mass_and_cost_that_are_not_known_are_told_as_such(found: tuple[Stiffening, Study]) -> None:
    tried, study = found
    for row, gain in zip(stiffened(tried, study)["rows"], [g for g in tried.gains if abs(g.gain) >= LITTLE], strict=True):
        assert (row["cost"] == "unknown") is (gain.cost is None)
        assert (row["mass"] == "unknown") is (gain.mass is None)
        if gain.mass:
            assert row["mass"].startswith("+" if gain.mass > 0 else "-")
        if gain.cost is not None:
            assert row["cost"].startswith("about ") is gain.estimated
            assert row["cost"].endswith("USD")


def test_a_price_that_was_written_for_the_part_before_is_told_with_the_change(found: tuple[Stiffening, Study]) -> None:
    tried, study = found
    rows = {row["words"]: row for row in stiffened(tried, study)["rows"]}
    screw = rows["axis.y ball-screw-2005 instead of ball-screw-1605"]
    assert screw["cost"].startswith("about ")
    assert screw["notes"] == ["74 USD was written for ball-screw-1605, not for ball-screw-2005 (axis.y.drive.main.price)"]
    assert rows["axis.z blocks 4.1 in apart instead of 3-1/2 in"]["notes"] == []  # buys nothing


def test_an_estimated_cost_says_what_it_is(found: tuple[Stiffening, Study]) -> None:
    tried, study = found
    assert "grow with its mass" in stiffened(tried, study)["estimate"]
    free = replace(tried, gains=tuple(gain for gain in tried.gains if not gain.estimated))
    assert stiffened(free, study)["estimate"] == ""


def test_no_structure_tells_why(found: tuple[Stiffening, Study]) -> None:
    _, study = found
    told = stiffened(None, study)
    assert told["rows"] == []
    assert told["lead"] == ""

"""A second opinion on chatter in words."""

import math
from pathlib import Path

import numpy as np
import pytest

from gantrywright.base.samples import typical
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import resolve
from gantrywright.results.jobs import Second
from gantrywright.study.second_words import lower, over, second
from gantrywright.study.study import Study, run

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


@pytest.fixture(scope="module")
def study() -> Study:
    return run(resolve(read_document(DEMO / "as-built.toml")))


def opinion(*, here: float = 5e-3, first: float = 5e-3, growth: float = 0.5, unlike: float = 1e-6) -> Second:
    """Of fittings: 3 mm deep, one flute, 1.2 m/min at 16000 rpm, a chip of 75 um."""
    none = np.zeros(0)
    return Second("fittings", none, none, none, here, first, "along X", "climb", growth, 1e-6, unlike, (none, none))


def words(study: Study, found: Second) -> str:
    return "; ".join(second(study, found))


def test_the_job_is_the_one_that_the_cases_are_made_for(study: Study) -> None:
    job = next(job for job in study.machine.jobs if job.name == "fittings")
    chip = typical(job.feed) / (typical(job.speed) / (2 * math.pi) * (job.cutter.flutes or 0))
    assert typical(job.depth) == pytest.approx(3e-3)
    assert chip == pytest.approx(75e-6)


def test_teeth_that_differ_by_more_than_the_chip_are_told_though_nothing_chatters(study: Study) -> None:
    assert "forced swinging larger than the chip (75 um): it misbehaves before it chatters" in words(study, opinion(unlike=90e-6))
    assert "misbehaves" not in words(study, opinion(unlike=60e-6))
    assert "misbehaves" not in words(study, opinion(unlike=90e-6, growth=1.2))  # that is chatter


@pytest.mark.parametrize(
    ("growth", "told"),
    [
        (0.5, "0.5 times as large from tooth to tooth: the cut does not chatter"),
        (0.99, "dies away slowly"),
        (0.9999, "hardly smaller from tooth to tooth: the cut is on the edge of chatter"),
        (1.0001, "hardly larger"),
        (1.2, "1.2 times as large from tooth to tooth: the cut chatters"),
    ],
)
def test_growth_is_told_as_it_is(study: Study, growth: float, told: str) -> None:
    said = words(study, opinion(growth=growth))
    assert told in said
    assert "steady" not in said


def test_a_lower_second_opinion_says_so_and_whether_the_file_is_over(study: Study) -> None:
    found = opinion(here=4e-3)  # 0.7 of it is 2.8 mm, less than 3 mm
    assert "lower than the first: chatter begins at 4 mm, no more than 2.8 mm is advised; over it: the file uses 107 %" in lower(
        study, found
    )
    assert over(study, found)
    kept = opinion(here=4.5e-3)
    assert "kept: the file uses 95 %" in lower(study, kept)
    assert not over(study, kept)
    for same in (opinion(), opinion(here=6e-3), opinion(here=math.inf, first=math.inf)):
        assert lower(study, same) == ""
    assert "chatter begins at 4 mm" in lower(study, opinion(here=4e-3, first=math.inf))


def test_a_depth_without_a_limit_is_told_in_words(study: Study) -> None:
    said = words(study, opinion(here=math.inf, first=math.inf))
    assert "none of the depths that were looked at" in said
    assert "no limit" not in said

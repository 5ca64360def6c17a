"""What docs/cutting.md says of words, limits and numbers is what the program does."""

import re
from pathlib import Path

import pytest

from gantrywright.cli.main import parser
from gantrywright.disciplines.cutting.advice import RESERVE
from gantrywright.intake.document import read_document
from gantrywright.intake.grammar.measured import MEASURED
from gantrywright.intake.grammar.purpose import JOB
from gantrywright.intake.resolve import resolve
from gantrywright.results.jobs import Runs
from gantrywright.study.study import Study, run
from gantrywright.theory.cutting.lobes import HELD, SPEED_DOUBT

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "cutting.md").read_text("utf-8")


def rows(heading: str) -> list[str]:
    """First cells of the table below a heading."""
    part = PAGE.partition(f"## {heading}\n")[2].partition("\n## ")[0]
    return [row.strip() for row in re.findall(r"^\|([^|]+)\|", part, flags=re.M)][2:]


@pytest.fixture(scope="module")
def study() -> Study:
    return run(resolve(read_document(ROOT / "src/gantrywright/data/demo/as-built.toml")))


def test_the_four_words() -> None:
    assert rows("Four words") == [str(word) for word in Runs]


def test_every_limit_of_an_ordinary_job_has_its_row(study: Study) -> None:
    told = " ".join(rows("The table of limits")).lower()
    for answer in study.results.jobs.jobs.values():
        for limit in answer.limits:
            words = re.sub(r" \(.*|, 0\.7.*| against.*| for the spindle", "", limit.words).lower()
            words = re.sub(r"force of [xyz]", "force of x, y, z", words).replace("deflection at the bottom", "at the bottom")
            assert words in told, limit.words


def test_the_numbers() -> None:
    assert f"{HELD:g} of the depth at which it begins" in PAGE
    assert f"at most {RESERVE:g} of every known limit" in PAGE
    assert f"every frequency is {100 * SPEED_DOUBT:.0f} % off" in PAGE


def test_the_keys_to_measure_exist() -> None:
    measured, job = ({key.name for key in table.keys} for table in (MEASURED, JOB))
    part = PAGE.partition("## How to make it sharper")[2]
    assert {"observe", "feeds", "powers", "idle", "job"} <= measured & set(re.findall(r"`([a-z_]+)", part))
    assert {"run_out", "edge"} <= job & set(re.findall(r"`([a-z_]+)", part))


def test_the_flags_exist() -> None:
    commands = next(action for action in parser()._actions if action.choices and "cut" in action.choices).choices
    assert isinstance(commands, dict)
    flags = {flag for action in commands["cut"]._actions for flag in action.option_strings}
    assert {"--job", "--json", "--deep"} <= flags & set(re.findall(r"`(--[a-z]+)", PAGE))

"""``gantrywright cut``: the report and the data of every job."""

import contextlib
import io
import json
import os
from pathlib import Path
from typing import Any
from unittest.mock import patch

import pytest

from gantrywright.cli.main import main

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


def said(*words: str, columns: int = 80) -> tuple[int, str]:
    out = io.StringIO()
    with patch.dict(os.environ, {"COLUMNS": str(columns)}), contextlib.redirect_stdout(out):
        code = main(["cut", *words])
    return code, out.getvalue()


@pytest.fixture(scope="module")
def narrow() -> tuple[int, str]:
    return said(str(DEMO / "as-built.toml"))


@pytest.fixture(scope="module")
def data() -> dict[str, Any]:
    made: dict[str, Any] = json.loads(said(str(DEMO / "bench.toml"), "--json")[1])
    return made


def test_every_job_has_its_parts_within_the_width(narrow: tuple[int, str]) -> None:
    text = narrow[1]
    for words in (
        "frames",
        "fittings",
        "runs if",
        "What limits it",
        "Deflection and run-out alone",
        "Hold of the work",
        "Chatter",
        "why",
    ):
        assert words in text
    assert max(len(line) for line in text.splitlines()) <= 80
    assert "nan" not in text


def test_limits_stand_from_the_lowest_rate_to_the_highest(narrow: tuple[int, str]) -> None:
    table = narrow[1].partition("What limits it")[2].partition("Deflection and run-out")[0]
    rates = [float(line.split()[-2]) for line in table.splitlines() if line.rstrip().endswith((" depth", " feed"))]
    assert len(rates) > 8
    assert rates == sorted(rates)


def test_cautions_are_told_with_what_comes_first_and_no_promise(narrow: tuple[int, str]) -> None:
    told = narrow[1].partition("Cautions\n")[2]
    assert "local rules" in told
    assert "Metal chips never into the bin with wood dust" in told  # this machine cuts both
    assert " safe" not in narrow[1].lower()


def test_one_job_in_inches_with_bands_and_bars_where_there_is_room() -> None:
    code, text = said(str(DEMO / "bench.toml"), "--job", "escutcheons", columns=120)
    assert code in (0, 1, 3)
    assert "box-sides" not in text.partition("Cautions")[0]
    assert "in3/min" in text
    assert " mm" not in text.partition("Cautions")[0]
    assert "|==" in text


def test_a_wrong_name_is_told_with_those_that_there_are(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["cut", str(DEMO / "bench.toml"), "--job", "boxes"]) == 2
    message = capsys.readouterr().err
    assert message.count("\n") == 1
    assert "box-sides, escutcheons" in message


def test_the_data_holds_limits_walls_advice_and_lobes(data: dict[str, Any]) -> None:
    assert list(data["jobs"]) == ["box-sides", "escutcheons"]
    for job in data["jobs"].values():
        known = [limit["ceiling"] for limit in job["limits"] if limit["ceiling"] is not None]
        assert known == sorted(known)
        assert all(limit["band"][0] <= limit["band"][1] for limit in job["limits"] if limit["band"])
        assert len(job["lobes"]["speeds"]) == len(job["lobes"]["depth"]) == len(job["lobes"]["error"]) > 100
        assert job["advice"]["removal"] == pytest.approx(job["advice"]["depth"] * job["advice"]["width"] * job["advice"]["feed"])
        low, high = job["wall"]["band"]
        assert low < job["wall"]["value"] < high
        assert job["wall"]["value"] == pytest.approx(max(abs(wall["worst"]) for wall in job["walls"]))
    assert all(caution["sources"] and caution["words"] for caution in data["cautions"])

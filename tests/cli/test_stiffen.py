"""``gantrywright stiffen``: the table and the data."""

import json
import re
from pathlib import Path

import pytest

from gantrywright.cli.main import main

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


def test_the_table_tells_gain_mass_and_cost(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["stiffen", str(DEMO / "first-idea.toml")]) == 0
    said = capsys.readouterr().out
    for words in (
        "stiffen this first",
        "carriage.plate 20 mm thick",
        "% per",
        "100 EUR",
        "unknown",
        "free",
        "Together",
        "cost unknown",
        "N/um",
    ):
        assert words in said
    assert "nan" not in said
    assert "None" not in said
    assert max(len(line) for line in said.splitlines()) <= 120


def test_inches_are_kept(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["stiffen", "--by", "money", str(DEMO / "bench.toml")]) == 0
    said = capsys.readouterr().out
    assert "lbf/in" in said
    assert "5/8 in thick instead of 1/2 in" in " ".join(said.split())
    assert not re.search(r"\bkg\b|\bmm\b", said)


def test_the_data_is_the_same_along_an_axis(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["stiffen", "--json", "--along", "x", str(DEMO / "first-idea.toml")]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["along"] == "x"
    gains = data["gains"]
    assert gains
    for gain in gains:
        assert gain["gain"] == pytest.approx(1 - data["before"]["x"] / gain["stiffness"]["x"], abs=1e-9)
        assert gain["cost"] is not None or gain["per_money"] is None
        assert all(len(edit) == 2 for edit in gain["edits"])


def test_a_machine_without_a_structure_says_what_is_lacking(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (DEMO / "first-idea.toml").read_text("utf-8")
    plain = text.replace('part = "spindle-2.2kw-24k"', 'part = { part = "spindle-2.2kw-24k", bearing_radial = "unknown" }')
    assert plain != text
    path = tmp_path / "machine.toml"
    path.write_text(plain, "utf-8")
    assert main(["stiffen", str(path)]) == 3
    assert "Stiffness at the tool: not known without spindle" in capsys.readouterr().out

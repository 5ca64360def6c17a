"""``gantrywright structure``: the report, the data, and what a view animates."""

import json
from pathlib import Path

import numpy as np
import pytest

from gantrywright.cli.main import main

MACHINES = Path(__file__).parents[1] / "machines"
DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


def test_the_report_says_how_stiff_where_and_what_gives(capsys: pytest.CaptureFixture[str]) -> None:
    main(["structure", str(DEMO / "as-built.toml")])
    said = capsys.readouterr().out
    for words in ("at the softest place", "What gives", "gantry.beam", "torsion", "over the table", "Push-off", "fittings"):
        assert words in said
    assert "nan" not in said


def test_inches_are_kept(capsys: pytest.CaptureFixture[str]) -> None:
    main(["structure", "--quick", str(DEMO / "bench.toml")])
    said = capsys.readouterr().out
    assert "lbf/in" in said
    assert "N/um" not in said
    assert " mm" not in said


def test_the_data_has_bands_shares_and_the_map(capsys: pytest.CaptureFixture[str]) -> None:
    main(["structure", "--json", str(DEMO / "as-built.toml")])
    data = json.loads(capsys.readouterr().out)
    for letter, value in data["softest"]["stiffness"].items():
        low, high = data["softest"]["band"][letter]
        assert low < value < high
    assert np.array(data["map"]["give"]).shape == (7, 7, 3, 3, 3)
    assert len(data["over_table"]["values"]) == len(data["over_table"]["along"]["places"])
    assert sum(share["weakest"] for share in data["softest"]["shares"]) == pytest.approx(1, abs=0.01)


def test_each_direction_is_told_where_it_is_softest_itself(capsys: pytest.CaptureFixture[str]) -> None:
    """The softest Z lies where the top gives most, not where the softest direction of all does."""
    path = str(MACHINES / "tube_bridge.toml")
    main(["structure", "--quick", "--json", path])
    data = json.loads(capsys.readouterr().out)
    give, over = np.array(data["map"]["give"], dtype=float), np.array(data["map"]["over"])
    for k, letter in enumerate("xyz"):
        soft = data["softest_along"][letter]
        assert soft["stiffness"][letter] == pytest.approx(1 / give[over][:, k, k].max())
        at = [places.index(soft["pose"][name]) for name, places in zip(data["map"]["axes"], data["map"]["places"], strict=True)]
        assert 1 / give[(*at, k, k)] == pytest.approx(soft["stiffness"][letter])
    assert data["softest_along"]["z"]["stiffness"]["z"] < 0.5 * data["softest"]["stiffness"]["z"]
    main(["structure", "--quick", path])
    said = capsys.readouterr().out
    assert all(f"softest along {letter}" in said for letter in "XYZ")


def test_a_table_keeps_to_one_unit_and_hides_what_does_not_move(capsys: pytest.CaptureFixture[str]) -> None:
    main(["structure", "--quick", str(MACHINES / "tube_bridge.toml")])
    said = capsys.readouterr().out
    pushed = said[said.index("Push-off") : said.index("While an axis")]
    assert "um" in pushed
    assert "mm\n" not in pushed.replace("N/mm", "")
    warm = said[said.index("What warmth moves") : said.index("Natural modes")]
    assert "frame grows" in warm
    assert "drive grows" in warm
    rows = [line.split() for line in warm.splitlines() if line.startswith((" base.", " bridge.", " carriage.", " axis."))]
    assert rows
    assert not [row for row in rows if "0" in row]
    assert "base swaying along" in said


def test_a_view_can_be_written_beside_the_data(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "view.json"
    main(["structure", "--quick", "--json", "--deflected", str(path), str(DEMO / "bench.toml")])
    said = capsys.readouterr()
    assert "softest" in json.loads(said.out)
    assert "wrote" in said.err
    assert "drawings" in json.loads(path.read_text("utf-8"))


def test_what_a_view_animates_fits_together(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "deflected.json"
    main(["structure", "--quick", "--deflected", str(path), str(DEMO / "as-built.toml")])
    data = json.loads(path.read_text("utf-8"))
    first = data["drawings"][0]
    count = len(first["nodes"])
    assert all(0 <= end < count for line in first["lines"] for end in line[:2])
    assert all(len(shape["shift"]) == count and len(shape["turn"]) == count for shape in first["shapes"])
    names = [shape["name"] for shape in first["shapes"]]
    assert "weight" in names
    pushed = np.array(first["shapes"][names.index("1 N on the tool along Y")]["shift"])
    assert 1e-7 < np.abs(pushed[:, 1]).max() < 1e-4  # a newton moves the softest node by microns


def changed(folder: Path, name: str, *pairs: tuple[str, str]) -> str:
    """A demo machine with some of its words changed, as a file of its own."""
    text = (DEMO / f"{name}.toml").read_text("utf-8")
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    (folder / f"{name}.toml").write_text(text, "utf-8")
    return str(folder / f"{name}.toml")


def test_nothing_is_claimed_of_places_that_are_not_over_the_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = changed(tmp_path, "bench", ('at = "0, 28.5, 0 in"', 'at = "0, 24, 0 in"'))
    main(["structure", "--quick", path])
    assert "-: this place is not over the table" in capsys.readouterr().out
    main(["structure", "--quick", "--json", path])
    data = json.loads(capsys.readouterr().out)
    over = np.array(data["map"]["over"])
    y = data["map"]["axes"].index("y")
    front = np.moveaxis(over, y, 0)
    assert not front[0].any(), "the table ends 2.5 in behind the front of the work area"
    assert front[1:].all(), "a sixth of 16 in is more than that"
    give = np.array(data["map"]["give"], dtype=float)
    assert np.isnan(give[~over]).all()
    assert np.isfinite(give[over]).all()
    assert data["over_table"]["values"][0] == [None] * len(data["over_table"]["across"]["places"])
    assert data["softest"]["pose"]["y"] == pytest.approx(16 * 0.0254 / 6), "the front in the air is not looked at"
    main(["structure", "--at", "6, 0.5, 1 in", path])
    assert "no answer: this place is not over the table" in capsys.readouterr().out
    main(["structure", "--at", "6, 3, 1 in", path])
    assert "Stiffness between tool and work" in capsys.readouterr().out


def test_no_place_over_the_table_gives_no_answer(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = changed(tmp_path, "bench", ('at = "0, 28.5, 0 in"', 'at = "0, 3, 0 in"'))
    main(["structure", "--quick", path])
    said = capsys.readouterr().out
    assert "a place over table: the tool reaches none" in said
    assert "N/um" not in said


def test_any_place_that_the_tool_reaches_can_be_asked(capsys: pytest.CaptureFixture[str]) -> None:
    main(["structure", "--at", "100, 300, 20 mm", str(DEMO / "as-built.toml")])
    assert "gantry.beam" in capsys.readouterr().out
    assert main(["structure", "--at", "40, 5, 1 in", str(DEMO / "bench.toml")]) == 2
    said = capsys.readouterr().err
    assert "x = 40 in" in said
    assert "does not reach" in said

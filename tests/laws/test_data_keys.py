"""The tables of keys in docs/structure-data.md are what the commands print."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from gantrywright.cli.main import main

ROOT = Path(__file__).parents[2]
MACHINE = ROOT / "tests" / "machines" / "long_bed.toml"
"""Has readings, slotted profiles, bolted joints, jobs."""
NAMED = {
    "notes", "adrift", "unknowns", "pose", "stiffness", "band", "first_order", "ways", "others", "before",
}  # fmt: skip
"""Objects whose keys are data."""
ALIKE = {"middle", "together"}
"""Objects that have the keys of another one."""
LISTED = {"causes", "after_readings"}
"""Lists whose items are told in one row."""


def keys(value: Any, path: str = "") -> Iterator[str]:
    """Every key below a value as the page writes it."""
    last = path.rpartition(".")[2]
    if isinstance(value, list) and value and isinstance(value[0], dict) and last not in LISTED:
        for item in value:
            yield from keys(item, f"{path}[]")
    elif isinstance(value, dict) and (path == "" or path == "response.band" or last not in NAMED | ALIKE):
        for name, item in value.items():
            word = {"axes": "NAME", "softest_along": "LETTER"}.get(path, name)
            yield from keys(item, f"{path}.{word}".lstrip("."))
    else:
        yield path


def told(heading: str) -> set[str]:
    """Keys in the table below a heading; the heads of objects that have rows of their own left out."""
    page = (ROOT / "docs" / "structure-data.md").read_text("utf-8")
    rows = re.findall(r"^\| `([^`]+)` \|", page.partition(f"## {heading}\n")[2].partition("\n## ")[0], flags=re.M)
    assert len(rows) == len(set(rows)), "a key stands there twice"
    return {row for row in rows if not any(other.startswith((f"{row}.", f"{row}[")) for other in rows)}


def printed(capsys: pytest.CaptureFixture[str], *words: str) -> Any:
    main([*words, str(MACHINE)])
    return json.loads(capsys.readouterr().out)


def test_the_keys_of_the_structure(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed(capsys, "structure", "--json")
    for rows in ("jobs", "slotted", "modes", "bolted", "heat", "readings", "speeds"):
        assert data[rows], f"the machine of this test has no {rows}"
    assert set(keys(data)) == told("structure --json")
    assert data["middle"].keys() == data["softest"].keys()


def test_the_keys_of_what_a_view_animates(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "view.json"
    main(["structure", "--quick", "--deflected", str(path), str(MACHINE)])
    data = json.loads(path.read_text("utf-8"))
    assert set(keys(data)) == told("structure --deflected FILE")
    first, modes = data["drawings"]
    names = {shape["name"] for shape in first["shapes"]}
    assert {"1 N on the tool along X", "weight", "axis.x accelerating at 1 m/s2"} <= names
    largest = [max(sum(part**2 for part in row) for row in shape["shift"]) for shape in modes["shapes"]]
    assert largest == pytest.approx([1.0] * len(largest))


def test_the_keys_of_stiffen(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed(capsys, "stiffen", "--json")
    assert set(keys(data)) == told("stiffen --json")
    assert data["together"].keys() == data["gains"][0].keys()

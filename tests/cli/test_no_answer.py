"""``structure`` and ``stiffen`` of machines that cannot be built, or of which too little is known: said in the same words everywhere."""

import json
from pathlib import Path

import pytest

from gantrywright.cli.main import main

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"
FLOATS = ('top = "9 in"', 'top = "7 in"')
RUN_OFF = ('spacing = "5 in"', 'spacing = "50 in"')
NO_MOUNT = ('bolts = "4 x M6" }', 'bolts = "4 x M6", stiffness = { n = "unknown" } }')


def bench(folder: Path, *pairs: tuple[str, str]) -> str:
    text = (DEMO / "bench.toml").read_text("utf-8")
    for old, new in pairs:
        assert text.count(old) == 1
        text = text.replace(old, new)
    (folder / "bench.toml").write_text(text, "utf-8")
    return str(folder / "bench.toml")


def said(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    code = main(list(words))
    return code, " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("command", [("structure", "--quick"), ("structure", "--at", "6, 8, 1 in"), ("stiffen",)])
def test_numbers_of_a_machine_that_cannot_be_built_come_with_what_fails(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: tuple[str, ...]
) -> None:
    _, told = said(capsys, *command, bench(tmp_path, RUN_OFF))
    assert told.startswith("check: ")
    assert "findings fail that change these numbers: GEO-101 axis.x, GEO-102 axis.x" in told
    assert "lbf/in" in told
    assert "these numbers" not in said(capsys, *command, bench(tmp_path))[1]


@pytest.mark.parametrize("command", [("structure", "--quick", "--json"), ("stiffen", "--json")])
def test_the_data_names_what_fails(tmp_path: Path, capsys: pytest.CaptureFixture[str], command: tuple[str, ...]) -> None:
    main([*command, bench(tmp_path, RUN_OFF)])
    failing = json.loads(capsys.readouterr().out)["failing"]
    assert ["GEO-102", "axis.x"] in failing
    assert {id[:4] for id, _ in failing} == {"GEO-"}


def test_a_beam_in_the_air_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = bench(tmp_path, FLOATS)
    words = "no answer: gantry.beam, which carries rails, is joined to nothing"
    for command, code in ((("structure", "--quick"), 1), (("structure", "--at", "6, 8, 1 in"), 1), (("stiffen",), 3)):
        assert (found := said(capsys, *command, path))[0] == code
        assert words in found[1]
        assert "lbf/in" not in found[1]
    main(["structure", "--quick", "--json", path])
    data = json.loads(capsys.readouterr().out)
    assert data["adrift"] == {"gantry.beam": "carries rails"}
    assert data["softest"] is None


def test_what_is_not_known_is_said_as_the_check_says_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = bench(tmp_path, NO_MOUNT)
    words = "Stiffness at the tool: not known without spindle.mount.stiffness.n"
    for command in (("check", "--quick"), ("structure", "--quick"), ("structure", "--at", "6, 8, 1 in"), ("stiffen",)):
        assert words in said(capsys, *command, path)[1]
    _, told = said(capsys, "structure", "--quick", path)
    assert "What warmth moves" in told
    assert "gantry.beam" in told

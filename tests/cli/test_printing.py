"""Width of what is printed, and blanks at the ends of its lines."""

import io
from pathlib import Path

import pytest

from gantrywright.cli.main import main
from gantrywright.cli.printing import LEAST, MOST, Trimmed, console

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


@pytest.mark.parametrize(("said", "width"), [("", MOST), ("90", 90), ("40", LEAST), ("500", MOST), ("wide", MOST), ("0", MOST)])
def test_columns_are_honoured_within_reason(monkeypatch: pytest.MonkeyPatch, said: str, width: int) -> None:
    monkeypatch.setenv("COLUMNS", said)
    assert console().width == width


@pytest.mark.parametrize("columns", [72, 100, 120])
@pytest.mark.parametrize("command", ["stiffen", "structure"])
def test_no_line_is_wider_or_ends_in_a_blank(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], command: str, columns: int
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    main([command, str(DEMO / "bench.toml"), *(["--quick"] if command == "structure" else [])])
    lines = capsys.readouterr().out.splitlines()
    assert max(map(len, lines)) <= columns
    assert len(lines) > 20
    assert not [line for line in lines if line != line.rstrip()]


def test_blanks_before_a_change_of_colour_at_the_end_go_too() -> None:
    file = io.StringIO()
    Trimmed(file).write("a  b  \n\x1b[1mTitle   \x1b[0m\n \x1b[0m x\nlast  ")
    assert file.getvalue() == "a  b\n\x1b[1mTitle\x1b[0m\n \x1b[0m x\nlast"

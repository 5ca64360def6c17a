"""``gantrywright structure`` of a machine on which something was pushed and tapped."""

import json
from pathlib import Path

import pytest

from gantrywright.cli.main import main

PUSHED = Path(__file__).parents[1] / "machines" / "long_bed.toml"


def test_readings_stand_beside_what_was_expected(capsys: pytest.CaptureFixture[str]) -> None:
    main(["structure", "--quick", str(PUSHED)])
    said = capsys.readouterr().out
    for words in ("What was measured, beside what was expected", "pull-x", "80 N/mm", "sway", "9.5 Hz"):
        assert words in said
    assert "before and after" not in said  # there is no band yet that could be corrected


def test_the_data_has_the_band_the_place_in_it_and_what_is_believed_after(capsys: pytest.CaptureFixture[str]) -> None:
    main(["structure", "--json", str(PUSHED)])
    data = json.loads(capsys.readouterr().out)
    push, tap = data["readings"]
    for reading, unit in ((push, "N/m"), (tap, "Hz")):
        low, middle, high = reading["band"]
        assert low < middle < high
        assert reading["unit"] == unit
        assert 0 <= reading["percentile"] <= 1
        assert reading["status"] in ("ok", "watch")
        assert reading["used"]
    after = {each["path"]: each for each in data["after_readings"]}["structure.tip.stiffness_x"]
    assert after["after"][2] - after["after"][0] < after["before"][2] - after["before"][0]

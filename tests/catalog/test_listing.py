"""The tables as text for a face."""

from pathlib import Path

import pytest

from gantrywright.base.errors import NotFound
from gantrywright.catalog import listing
from gantrywright.catalog.kinds import KINDS
from gantrywright.catalog.tables import Catalog


def test_kinds_with_their_counts(tmp_path: Path) -> None:
    (tmp_path / "foot.csv").write_text("id,title,source,basis,load [N]\nfoot-mine,Mine,derived,measured,900\n", "utf-8")
    known = {kind: (count, title) for kind, count, title in listing.kinds(tmp_path)}
    assert set(known) == set(KINDS)
    assert known["foot"][0] == len(Catalog().names("foot")) + 1
    assert known["rail"] == (len(Catalog().names("rail")), "Profile rail")


def test_one_part_in_full() -> None:
    header, lines = listing.rows("ball-screw", "ball-screw-1605")
    assert header == ("field", "value", "meaning")
    assert ("lead", "5 mm", "Travel per turn") in lines
    assert lines[0][:2] == ("id", "ball-screw-1605")


def test_default_is_told_where_the_row_is_silent(tmp_path: Path) -> None:
    (tmp_path / "belt.csv").write_text("id,title,source,basis,pitch [mm]\nbelt-mine,Mine,derived,measured,5\n", "utf-8")
    _, lines = listing.rows("belt", "belt-mine", tmp_path)
    speed = next(line for line in lines if line[0] == "top_speed")
    assert speed[1] == "10 m/s (5..20)"
    assert "default, common practice, no source" in speed[2]


def test_start_of_a_name_lists_what_begins_so() -> None:
    header, lines = listing.rows("ball-screw", "ball-screw-16")
    assert header[0] == "id"
    assert "lead" in header
    assert len(lines) > 1
    assert all(line[0].startswith("ball-screw-16") and len(line) == len(header) for line in lines)
    assert len(listing.rows("ball-screw")[1]) == len(Catalog().names("ball-screw"))


def test_nothing_of_that_name() -> None:
    with pytest.raises(NotFound, match="nearest: ball-screw-16"):
        listing.rows("ball-screw", "ball-scrw-1605")
    with pytest.raises(NotFound, match="no kind of part"):
        listing.rows("screws")

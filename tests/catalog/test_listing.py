"""The tables as text for a face."""

from pathlib import Path

import pytest

from gantrywright.base.errors import NotFound
from gantrywright.base.sources import spell_out
from gantrywright.catalog import listing
from gantrywright.catalog.kinds import KINDS
from gantrywright.catalog.tables import Catalog


def test_kinds_with_their_counts(tmp_path: Path) -> None:
    own_feet(tmp_path)
    known = {kind: (count, own, title) for kind, count, own, title in listing.kinds(tmp_path)}
    assert set(known) == set(KINDS)
    assert known["foot"][:2] == (len(Catalog().names("foot")) + 1, 1)
    assert known["rail"] == (len(Catalog().names("rail")), 0, "Profile rail")


def own_feet(folder: Path) -> None:
    (folder / "foot.csv").write_text("id,title,source,basis,load [lbf]\nfoot-mine,Mine,derived,measured,200\n", "utf-8")


def test_one_part_in_full() -> None:
    found = listing.parts("ball-screw", "ball-screw-1605")
    assert found.header == ("field", "value", "meaning")
    assert ("lead", "5 mm", "Travel per turn") in found.lines
    assert ("dynamic", "10 kN (7..14) at 1e6 rev", "Dynamic rating of the nut, with its reference") in found.lines
    assert found.lines[0][:2] == ("id", "ball-screw-1605")


def test_source_of_one_part_is_spelt_out() -> None:
    source = next(value for field, value, _ in listing.parts("material", "plywood-birch").lines if field == "source")
    assert source == spell_out(Catalog().find("material", "plywood-birch").source)
    assert " " in source


def test_default_is_told_where_the_row_is_silent(tmp_path: Path) -> None:
    (tmp_path / "belt.csv").write_text("id,title,source,basis,pitch [mm]\nbelt-mine,Mine,derived,measured,5\n", "utf-8")
    speed = next(line for line in listing.parts("belt", "belt-mine", tmp_path).lines if line[0] == "top_speed")
    assert speed[1] == "10 m/s (5..20)"
    assert "default, common practice, no source" in speed[2]


def test_several_parts_have_columns_that_differ_and_hold_something() -> None:
    found = listing.parts("ball-screw", "ball-screw-20")
    assert [line[0] for line in found.lines] == ["ball-screw-2005", "ball-screw-2010", "ball-screw-2020"]
    assert all(len(line) == len(found.header) == len(found.units) for line in found.lines)
    assert [len(set(column)) for column in zip(*found.lines, strict=True)].count(1) == 0
    assert ("diameter", "20 mm") in found.same
    assert not {"diameter", "source", "mass", "price"} & set(found.header)


def test_units_stand_once_and_bands_are_marked() -> None:
    found = listing.parts("ball-screw", "20")
    units = dict(zip(found.header, found.units, strict=True))
    row = dict(zip(found.header, found.lines[1], strict=True))
    assert (units["lead"], row["lead"]) == ("mm", "10")
    assert (units["dynamic"], row["dynamic"]) == ("kN at 1e6 rev", "~12")
    assert found.banded


def test_rows_of_the_user_are_marked_and_keep_their_units(tmp_path: Path) -> None:
    own_feet(tmp_path)
    found = listing.parts("foot", folder=tmp_path)
    lines = [dict(zip(found.header, line, strict=True)) for line in found.lines]
    assert {line["id"]: line["table"] for line in lines if line["table"]} == {"foot-mine": "yours"}
    assert next(line for line in lines if line["id"] == "foot-mine")["load"] == "200 lbf"
    assert "table" not in listing.parts("foot").header
    assert listing.parts("foot", "foot-mine", tmp_path).lines[0][2].startswith("your ")


@pytest.mark.parametrize("kind", KINDS)
def test_every_part_is_listed_whole(kind: str) -> None:
    found = listing.parts(kind)
    names = Catalog().names(kind)
    if found.header[0] == "id":
        assert tuple(line[0] for line in found.lines) == names
        read = (cell for line in found.lines for cell in line[1:])
        assert not [cell for cell in read if "(" in cell and ".." in cell]


@pytest.mark.parametrize(
    ("kind", "start", "some", "none"),
    [
        ("ball-screw", "20", "ball-screw-2010", "ball-screw-1620"),
        ("motor", "23", "stepper-23-76", "stepper-17-40"),
        ("cutter", "6", "end-mill-6-2f", "v-bit-60-12"),
        ("section", "tslot-80", "tslot-80x160-heavy", "tslot-40x80-heavy"),
        ("ball-screw", "", "ball-screw-1204", ""),
    ],
)
def test_a_beginning_is_enough(kind: str, start: str, some: str, none: str) -> None:
    names = [line[0] for line in listing.parts(kind, start).lines]
    assert some in names
    assert none not in names


def test_a_beginning_that_only_one_part_has_shows_it_in_full() -> None:
    assert listing.parts("rail", "25") == listing.parts("rail", "rail-25")


@pytest.mark.parametrize(
    ("kind", "start", "told"),
    [
        ("ball-screw", "ball-scrw-1605", "nearest: ball-screw-16"),
        ("ball-screw", "2002", "nearest: ball-screw-20"),
        ("ball-screw", "99", "gantrywright parts ball-screw lists them all"),
        ("ball-screw", "zzz", "gantrywright parts ball-screw lists them all"),
        ("balscrew", "", "nearest: ball-screw"),
        ("stepper-23", "", "gantrywright parts motor stepper-23"),
        ("qqq", "", "gantrywright parts lists them"),
    ],
)
def test_nothing_of_that_name(kind: str, start: str, told: str) -> None:
    with pytest.raises(NotFound, match=told):
        listing.parts(kind, start)

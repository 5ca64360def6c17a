"""Edits of lists and dates, and of the last table below a header."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.base.errors import FileProblems
from gantrywright.intake.document import parse_toml, put, revise
from gantrywright.intake.edits import edited_text, typed_as
from gantrywright.intake.paths import Paths

TEXT = """\
format = 1
[bed.top]
layers = [ { material = "plywood-birch", thickness = "18 mm" }, { material = "mdf" } ]  # lowest first
[bed.member.spine]
ends = ["square", "mitre 45 deg left"]
openings = []
[axis.x.drive.main]
kind = "ball-screw"
"""
DOCUMENT = parse_toml(TEXT.encode(), Path("x.toml"))


def after(*edits: tuple[str, str | None]) -> dict[str, object]:
    """The tree that edits leave, the same on disk and in memory."""
    text = edited_text(DOCUMENT, edits)
    tree = tomllib.loads(text)
    memory = revise(DOCUMENT, [(path, None if new is None else typed_as(DOCUMENT.tree, path, new)) for path, new in edits]).tree
    for path, new in edits:
        if new is not None:
            assert memory["bed"] == tree["bed"], path
    assert "# lowest first" in text
    return tree


def test_the_number_after_the_last_item_writes_one_more() -> None:
    tree = after(("bed.top.layers.3.material", "steel"), ("bed.top.layers.3.thickness", "6 mm"))
    assert tree["bed"]["top"]["layers"][2] == {"material": "steel", "thickness": "6 mm"}  # type: ignore[index]
    tree = after(("bed.member.spine.ends.3", "square"))
    assert tree["bed"]["member"]["spine"]["ends"] == ["square", "mitre 45 deg left", "square"]  # type: ignore[index]
    with pytest.raises(FileProblems, match="cannot be made"):
        after(("bed.top.layers.4.material", "steel"))


@given(number=st.integers(1, 2))
def test_an_item_is_taken_out_alone(number: int) -> None:
    layers = list(DOCUMENT.tree["bed"]["top"]["layers"])
    del layers[number - 1]
    assert after((f"bed.top.layers.{number}", None))["bed"]["top"]["layers"] == layers  # type: ignore[index]


def test_a_list_is_written_whole_where_its_key_wants_one() -> None:
    tree = after(("bed.member.spine.ends", '["square", "square"]'))
    assert tree["bed"]["member"]["spine"]["ends"] == ["square", "square"]  # type: ignore[index]
    assert typed_as(DOCUMENT.tree, "joint.new.between", '["a", "b"]') == ["a", "b"]
    assert typed_as(DOCUMENT.tree, "machine.note", '["a"]') == '["a"]'
    assert typed_as(DOCUMENT.tree, "joint.new.between", "[broken") == "[broken"


def test_a_date_is_written_without_quotes_where_its_key_wants_one() -> None:
    assert "on = 2026-03-07\n" in edited_text(DOCUMENT, [("measured.sag.on", "2026-03-07")])
    assert 'revision = "2026-03-07"\n' in edited_text(DOCUMENT, [("machine.revision", "2026-03-07")])


def test_a_count_is_written_without_quotes_where_its_key_wants_nothing_else() -> None:
    assert "cross_members = 5\n" in edited_text(DOCUMENT, [("bed.cross_members", "5")])
    assert 'note = "5"\n' in edited_text(DOCUMENT, [("bed.note", "5")])


def test_the_last_table_below_a_header_that_was_never_written_can_go() -> None:
    assert "axis" not in tomllib.loads(edited_text(DOCUMENT, [("axis.x.drive.main", None)]))


def test_no_item_is_reached_by_a_number_below_one() -> None:
    for number in ("0", "-1"):
        with pytest.raises(FileProblems):
            edited_text(DOCUMENT, [(f"bed.top.layers.{number}.material", "steel")])


def test_a_component_of_a_place_may_be_measured_below_zero() -> None:
    tree: dict[str, object] = {"bed": {"member": {"spine": {"to": "0, 0, -40 mm"}}}}
    put(tree, ["bed", "member", "spine", "to", "z"], "-41 mm")
    found = Paths(parse_toml(TEXT.encode(), Path("x.toml")), ["bed"]).find("bed.member.spine.to.z")
    assert not isinstance(found, str)
    assert found is not None
    assert found.least is None

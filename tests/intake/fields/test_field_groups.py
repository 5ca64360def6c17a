"""Tables of a machine file as fields: everything in the grammar appears, and what is shown is what the machine takes."""

import time
from dataclasses import replace
from typing import Any

import pytest
from helper_fields import FILES, groups, opened
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gantrywright.base.errors import NotFound
from gantrywright.base.quantities import parse
from gantrywright.intake.document import parse_toml, revise
from gantrywright.intake.edits import typed_as
from gantrywright.intake.fields import Field, FieldGroup, check_text, fields_of
from gantrywright.intake.grammar import ROOT, axis
from gantrywright.intake.grammar.shape import Key
from gantrywright.intake.resolve import resolve
from gantrywright.scene import scene_of


def group(path: str, name: str = "as-built") -> FieldGroup:
    return fields_of(*opened(name), path)


def field(path: str, key: str, name: str = "as-built") -> Field:
    found = [each for each in group(path, name).fields if each.path in (f"{path}.{key}", f"{path}.{key}.part")]
    assert len(found) == 1, f"{path}.{key}"
    return found[0]


def same(one: Any, other: Any) -> bool:
    """Equal but for the five digits that a computed value is shown with."""
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, float) and isinstance(other, int | float):
        return abs(one - other) <= 1e-4 * abs(one) + 1e-9
    if hasattr(one, "basis"):
        return same(one.force, other.force) and one.basis == other.basis and same(one.reference, other.reference)
    if hasattr(one, "convention"):
        return same(one.value, other.value) and one.convention == other.convention
    return bool(one == other)


@pytest.mark.parametrize("name", FILES)
def test_every_key_of_the_grammar_is_a_field_of_its_table(name: str) -> None:
    tree = opened(name)[0].tree
    for sub in ROOT.subs:
        if sub.many or sub.name == "chain" or sub.name not in tree:
            continue
        shown = {each.path.split(".")[1] for each in group(sub.name, name).fields}
        assert shown >= {key.name for key in sub.table.keys}, sub.name


def test_a_new_key_of_the_grammar_appears_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    new = Key("colour_of_paint", "length", "How thick the paint is", default="0.1 mm", source="definition")
    monkeypatch.setitem(axis.RAIL.__dict__, "keys", (*axis.RAIL.keys, new))
    axis.RAIL.__dict__.pop("key_map", None)
    try:
        made = field("axis.x.rail.upper", "colour_of_paint")
    finally:
        axis.RAIL.__dict__.pop("key_map", None)
    assert (made.label, made.kind, made.unit) == ("Colour of paint", "quantity", "length")
    assert made.help.startswith("How thick the paint is")


def test_written_value_tells_its_text_its_line_and_both_systems() -> None:
    document = opened("as-built")[0]
    travel = field("axis.y", "travel")
    assert (travel.text, travel.effective, travel.other) == ("1250 mm", "1250 mm", "49.213 in")
    assert travel.origin == f"line {document.lines['axis.y.travel']} of the file"
    assert travel.needed
    assert travel.editable
    inch = field("axis.y", "travel", "bench")
    assert (inch.text, inch.effective, inch.other) == ("16 in", "16 in", "406.4 mm")


def test_silent_value_tells_its_default_with_band_and_source() -> None:
    bracket = field("axis.x.drive.main", "bracket")
    assert (bracket.text, bracket.effective, bracket.band) == ("", "100 N/um", "40..300 N/um")
    assert "common practice, no source" in bracket.origin
    assert not bracket.needed


@pytest.mark.parametrize(
    ("path", "key", "effective", "words"),
    [
        ("axis.y.rail.left", "length", "1640 mm", "as All Y rails"),
        ("axis.y.drive.right", "offset", "40, 0, -150 mm", "mirrored from Y drive, left"),
        ("axis.y.drive.right", "motor", "closed-loop-24-88", "mirrored from"),
        ("bed.member.left-side", "from", "-740, 0, -40 mm", "made by the recipe"),
        ("axis.x.drive.main.motor", "resistance", "0.44 ohm", "row closed-loop-24-88"),
    ],
)  # fmt: skip
def test_inherited_value_says_from_where_and_that_an_edit_writes_its_own(path: str, key: str, effective: str, words: str) -> None:
    found = field(path, key)
    assert (found.text, found.effective) == ("", effective)
    assert words in found.origin
    assert "a key of its own" in found.origin
    assert not found.needed


def test_an_edit_of_an_inherited_value_leaves_its_siblings() -> None:
    document, _ = opened("as-built")
    left = field("axis.y.rail.left", "length")
    machine = resolve(revise(document, [(left.path, "1600 mm")]))
    assert machine.stated["axis.y.rail.left.length"].value == pytest.approx(1.6)
    assert machine.stated["axis.y.rail.right.length"].value == pytest.approx(1.64)


def test_a_mirrored_motor_keeps_its_other_fields_when_its_part_changes() -> None:
    document, machine = opened("as-built")
    motor = field("axis.y.drive.right", "motor")
    after = resolve(revise(document, [(motor.path, "stepper-23-76")]))
    assert after.stated["axis.y.drive.right.motor.part"].value == "stepper-23-76"
    assert after.stated["axis.y.drive.right.motor.price"].value == machine.stated["axis.y.drive.left.motor.price"].value
    assert after.stated["axis.y.drive.left.motor.part"].value == "closed-loop-24-88"


@pytest.mark.parametrize("name", FILES)
def test_every_drawn_piece_leads_to_fields(name: str) -> None:
    document, machine = opened(name)
    for part in {piece.part for piece in scene_of(machine).pieces}:
        found = fields_of(document, machine, part)
        assert found.fields or found.groups, part


@pytest.mark.parametrize("name", FILES)
def test_every_stated_value_leads_to_fields(name: str) -> None:
    document, machine = opened(name)
    for path in machine.stated:
        assert fields_of(document, machine, path).fields, path


@pytest.mark.parametrize(
    ("piece", "path", "words"),
    [
        ("bed.left-side", "bed", "recipe ladder-frame makes left side"),
        ("bed.foot-left-1", "bed.feet", "recipe ladder-frame makes foot left 1"),
        ("gantry.beam", "gantry.beam", ""),
        ("gantry.upright-left", "gantry.uprights", "recipe beam-on-uprights makes upright left"),
        ("carriage.plate", "carriage", "recipe plate-on-blocks makes plate"),
        ("axis.x.block.upper-1", "axis.x.blocks", "All blocks of the axis share these keys"),
        ("bed.top.layer-2", "bed.top.layers.2", ""),
        ("axis.x.drive.main.motor", "axis.x.drive.main.motor", ""),
        ("axis.x.drive.main.nut", "axis.x.drive.main.nut", ""),
        ("purpose.work_area", "purpose", ""),
        ("bed.left-side + bed.cross-1", "bed", "recipe"),
    ],
)  # fmt: skip
def test_a_piece_leads_to_the_table_whose_keys_decide_it(piece: str, path: str, words: str) -> None:
    found = group(piece)
    assert found.path == path
    assert words in found.help


@pytest.mark.parametrize(
    ("name", "piece", "path", "words"),
    [
        ("salvaged", "carriage.slide-base", "axis.z.slide", "bought slide makes slide base"),
        ("salvaged", "axis.z.rail.left", "axis.z.slide", "bought slide makes left"),
        ("salvaged", "bed.cross-1", "bed.member.cross", "One of the copies of cross"),
        ("salvaged", "bed.cross-4", "bed.member.cross-4", ""),
        ("long_bed", "gantry.not-listed", "measured.gantry-weighed", "less the listed parts"),
        ("long_bed", "bed.top.skin-lower", "bed.top.skins", ""),
    ],
)  # fmt: skip
def test_what_slides_copies_and_scales_made_leads_to_them(name: str, piece: str, path: str, words: str) -> None:
    found = group(piece, name)
    assert found.path == path
    assert words in found.help


def test_a_usual_part_must_be_named_before_its_fields_can_be_written() -> None:
    nut = group("axis.x.drive.main.nut")
    part, other = nut.fields[0], nut.fields[1]
    assert part.editable
    assert part.kind == "part"
    assert part.part_kind == "nut"
    assert part.effective == "nut-2010"
    assert not other.editable
    assert "choose its part first" in other.why_not


@pytest.mark.parametrize(
    ("path", "title", "words"),
    [
        ("axis.x.rail", "X rails", "Rails of X: upper, lower; what they share"),
        ("axis.x.drive", "X drives", "Drives of X: main."),
        ("axis.y.rail.each", "All Y rails", "What all of them share"),
        ("job", "Kinds of cut", "Kinds of cut: frames, fittings."),
        ("joint", "Joints", "Named joints: none yet. One named joint; two parts that touch are joined without one."),
        ("supply", "Supplies", "Supplies: gantry, head."),
        ("bed.joint", "Bed, joints", "How joints are made"),
        ("bed.top.layers", "Bed, table top, table layers", "Lowest first: 2 of them."),
        ("bed.top.layers.2", "Bed, table top, table layer 2", "One layer"),
        ("axis.x.blocks.part", "X guide blocks, part", "Their part"),
        ("axis.x.rail.upper.part", "X rail, upper: part", "Its part"),
    ],
)  # fmt: skip
def test_a_table_of_several_is_called_by_its_plural_and_names_them(path: str, title: str, words: str) -> None:
    found = group(path)
    assert found.title == title
    assert found.help.startswith(words)


@pytest.mark.parametrize("name", FILES)
def test_no_table_is_without_help_and_no_collection_is_called_one(name: str) -> None:
    for made in groups(name):
        assert made.help, made.path
        assert made.fields or not made.help.startswith("One ") or made.path == "", made.path


def test_unknown_paths_are_refused_with_what_is_near() -> None:
    with pytest.raises(NotFound, match="nothing is called 'bad'; nearest: bed"):
        group("bad")
    with pytest.raises(NotFound, match="nearest: travel"):
        group("axis.x.travl")


def test_fields_are_there_without_a_machine() -> None:
    document = parse_toml(
        b'format = 1\n[machine]\nname = "x"\nlayout = "moving-gantry"\n[axis.x]\ntravel = "3 kg"\n', FILES["as-built"]
    )
    found = {each.path: each for each in fields_of(document, None, "axis.x").fields}
    assert found["axis.x.travel"].text == "3 kg"
    assert found["axis.x.travel"].effective == ""
    assert found["axis.x.stops"].effective == "5 mm"


def test_other_system_is_the_same_value() -> None:
    for name in ("as-built", "bench"):
        for each in (found for made in groups(name) for found in made.fields):
            if each.unit and each.unit not in ("money", "number", "count") and each.effective not in ("", "unknown") and each.other:
                here, there = parse(each.effective, each.unit).value, parse(each.other, each.unit).value
                assert here == pytest.approx(there, rel=1e-4, abs=1e-9), each.path


def test_fields_come_within_five_milliseconds() -> None:
    document, machine = opened("as-built")
    for path in ("bed", "axis.y.drive.right", "axis.x.drive.main.motor", "machine"):
        taken = []
        for _ in range(12):
            start = time.process_time()
            fields_of(document, machine, path)
            taken.append(time.process_time() - start)
        assert min(taken) < 0.005, (path, min(taken))


@pytest.mark.parametrize("name", ["as-built", "bench", "first-idea"])
def test_every_text_and_every_value_in_force_is_taken_by_the_quick_check(name: str) -> None:
    document = opened(name)[0]
    for each in (found for made in groups(name) for found in made.fields if found.editable):
        for text in {each.text, each.effective} - {""}:
            assert check_text(document, each.path, text) is None, (each.path, text)


@pytest.mark.parametrize("name", ["as-built", "bench"])
def test_all_written_texts_of_a_table_written_back_leave_the_machine(name: str) -> None:
    document, machine = opened(name)
    edits = {each.path: each.text for made in groups(name) for each in made.fields if each.text}
    after = resolve(revise(document, [(path, typed_as(document.tree, path, text)) for path, text in edits.items()]))
    assert set(after.stated) == set(machine.stated)
    assert all(after.stated[path].value == machine.stated[path].value for path in machine.stated)


@settings(max_examples=45, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_a_value_in_force_written_as_an_edit_leaves_the_machine(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(["as-built", "bench"]))
    document, machine = opened(name)
    silent = [each for made in groups(name) for each in made.fields if each.editable and each.effective and not each.text]
    each = data.draw(st.sampled_from(silent))
    after = resolve(revise(document, [(each.path, typed_as(document.tree, each.path, each.effective))]))
    moved = [
        path
        for path in machine.stated
        if path not in after.stated or not same(machine.stated[path].value, after.stated[path].value)
    ]
    assert not moved, (each.path, each.effective)


def test_a_field_is_plain_data() -> None:
    travel = field("axis.y", "travel")
    assert replace(travel, text="1 m").text == "1 m"
    assert all(isinstance(getattr(travel, name), str | bool | tuple) for name in travel.__dataclass_fields__)

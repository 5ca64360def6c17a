"""Keys that name another part of the machine: what may be named, with the words of it, and what is refused."""

import pytest
from helper_fields import FILES, groups, opened

from gantrywright.base.errors import FileProblems
from gantrywright.intake.document import revise
from gantrywright.intake.fields import check_text, choices_of, fields_of
from gantrywright.intake.resolve import resolve


def offered(name: str, path: str) -> dict[str, str]:
    document, machine = opened(name)
    return {row.name: row.title for row in choices_of(document, path, machine)}


@pytest.mark.parametrize("name", FILES)
def test_every_name_that_is_written_or_offered_is_one_that_the_quick_check_takes(name: str) -> None:
    document, machine = opened(name)
    looked = 0
    for made in groups(name):
        for field in made.fields:
            if field.kind != "name":
                continue
            names = [row.name for row in choices_of(document, field.path, machine)]
            assert not field.text or field.text.partition("@")[0] in names, field.path
            for text in names:
                problem = check_text(document, field.path, text)
                assert problem is None, problem
                looked += 1
            assert check_text(document, field.path, "nonsense.here") is not None, field.path
    assert looked > 100


def test_parts_bodies_rails_holes_and_siblings_are_offered_with_their_words() -> None:
    assert offered("as-built", "axis.y.rail.left.on")["bed.left-side"] == "Bed, left side"
    assert "bed.cross" not in offered("as-built", "axis.y.rail.left.on")
    assert offered("as-built", "bed.top.on")["bed.cross"] == "Bed, cross: all 5"
    assert list(offered("as-built", "axis.x.drive.main.on")) == ["bed", "gantry", "carriage", "head"]
    assert offered("as-built", "axis.y.drive.left.beside")["axis.y.rail.left"] == "Y rail, left"
    assert offered("as-built", "axis.y.drive.right.mirror") == {"left": "Y drive, left"}
    assert "bed.left-side.holes.old-row" in offered("salvaged", "joint.strip-left.bolts.use")
    assert offered("fixed_gantry", "cable.x-motor.to")["axis.x.drive.main.motor"] == "X drive: motor"


def test_the_size_of_a_part_is_told_in_the_units_of_the_machine() -> None:
    rows = {row.name: dict(row.numbers) for row in choices_of(opened("bench")[0], "axis.x.blocks.on", opened("bench")[1])}
    assert rows["table.plate"] == {"kind": "plate", "body": "table", "size": "13 in x 20 in x 0.625 in"}


def test_each_name_of_a_list_is_a_field_of_its_own() -> None:
    document, machine = opened("bench")
    fields = {field.path: field for field in fields_of(document, machine, "joint.foot-left").fields}
    assert "joint.foot-left.between" not in fields
    second = fields["joint.foot-left.between.2"]
    assert (second.kind, second.text, second.label) == ("name", "bed.slab", "Between, 2 of 2")
    refused = check_text(document, second.path, "bed.slap")
    assert refused is not None
    assert "bed.slap" in refused.message
    after = resolve(revise(document, [("joint.foot-left.between.1", "bed.slab"), (second.path, "gantry.upright-left")]))
    joint = next(joint for joint in after.joints if joint.path == "joint.foot-left")
    assert (joint.a, joint.b) == ("bed.slab", "gantry.upright-left")


@pytest.mark.parametrize(
    ("name", "path", "text", "words"),
    [
        ("as-built", "axis.y.rail.left.on", "bed.left-sid", ("nothing is called 'bed.left-sid'",)),
        ("as-built", "axis.y.rail.left.on", "bet.left-side", ("no body 'bet'", "nearest: bed")),
        ("as-built", "axis.y.rail.left.on", "bed", ("is a body", "bed.NAME")),
        (
            "as-built",
            "axis.x.drive.main.on",
            "gantri",
            ("no body 'gantri'", "nearest: gantry", "there are bed, gantry, carriage, head"),
        ),
        ("as-built", "axis.y.drive.right.mirror", "lefd", ("no axis y drive 'lefd'", "nearest: left")),
        ("salvaged", "joint.strip-left.bolts.use", "bed.left-side.holes.old", ("has no holes 'old'", "nearest: old-row")),
    ],
)
def test_a_name_of_nothing_is_refused_in_words(name: str, path: str, text: str, words: tuple[str, ...]) -> None:
    problem = check_text(opened(name)[0], path, text)
    assert problem is not None
    for word in words:
        assert word in problem.message, problem.message


@pytest.mark.parametrize(
    ("name", "path", "text", "words"),
    [
        ("fixed_gantry", "cable.x-motor.to", "axis.x.drive.mian.motor", "nothing is called 'axis.x.drive.mian.motor'; nearest: axis.x.drive.main"),
        ("fixed_gantry", "cable.x-motor.from", "cabinte", "nothing is called 'cabinte'; nearest: cabinet"),
        ("fixed_gantry", "axis.z.counterweight.on", "carriag", "nothing is called 'carriag'; nearest: carriage"),
        ("fixed_gantry", "bed.item.belt-housing.on", "bed.slap", "no part 'bed.slap'; nearest: bed.slab"),
        ("salvaged", "measured.right-side-bow.of", "bed.rigth-side", "no part 'bed.rigth-side'; nearest: bed.right-side"),
        ("salvaged", "measured.right-side-bow.of", "axis.w", "no axis 'w'; axes are"),
        ("as-built", "spindle.mount.bolts.use", "head.plate", "names no holes"),
    ],
)  # fmt: skip
def test_the_whole_file_is_refused_with_a_name_of_nothing(name: str, path: str, text: str, words: str) -> None:
    with pytest.raises(FileProblems) as raised:
        resolve(revise(opened(name)[0], [(path, text)]))
    assert words in raised.value.problems[0].message
    assert raised.value.problems[0].path == path

"""What changes what other tables mean may be added, too: own rows, copies, a bought slide, an axis; taking the edits back removes it."""

import pytest
from helper_fields import opened
from test_field_adding import added, offered

from gantrywright.intake.document import parse_toml
from gantrywright.intake.edits import edited_text
from gantrywright.intake.fields import check_text, fields_of
from gantrywright.intake.resolve import resolve


def test_a_motor_that_no_table_has_is_described_in_the_file() -> None:
    document, machine = opened("as-built")
    made = offered("as-built", "axis.x.drive.main.motor", "no table has")
    text = edited_text(document, made.edits)
    own = parse_toml(text.encode(), document.path)
    after = resolve(own)
    before, motor = machine.axis("x").drives[0].motor.part, after.axis("x").drives[0].motor.part
    assert motor.id == "own-motor"
    assert (motor.holding, motor.inertia, motor.mass) == (before.holding, before.inertia, before.mass)
    assert "own-motor" not in {drive.motor.part.id for drive in after.axis("y").drives}
    group = fields_of(own, after, "part.own-motor")
    fields = {field.path.rpartition(".")[2]: field for field in group.fields}
    assert fields["holding"].text == "3.1 N m (2.79..3.41)"
    assert fields["rated_torque"].text == ""  # a column that its row leaves open can be filled in
    assert "part.own-motor" in fields_of(own, after, "axis.x.drive.main.motor").groups
    assert check_text(own, "part.own-motor.holding", "2.4 kg") is not None
    stronger = parse_toml(edited_text(own, [("part.own-motor.holding", "4.2 N m")]).encode(), document.path)
    assert resolve(stronger).axis("x").drives[0].motor.part.holding == pytest.approx(4.2)


def test_a_part_that_is_described_here_already_is_not_offered_again() -> None:
    document, _ = opened("as-built")
    text = edited_text(document, offered("as-built", "axis.x.drive.main.motor", "no table has").edits)
    own = parse_toml(text.encode(), document.path)
    assert not [each for each in fields_of(own, resolve(own), "axis.x.drive.main.motor").can_add if "no table" in each.words]


def test_a_row_that_is_like_one_of_the_tables_has_the_columns_of_its_kind() -> None:
    document, _ = opened("as-built")
    own = parse_toml((document.text + '\n[part.mine]\nlike = "stepper-23-76"\n').encode(), document.path)
    names = {field.path.rpartition(".")[2] for field in fields_of(own, resolve(own), "part.mine").fields}
    assert {"holding", "inductance"} <= names
    assert "density" not in names


def test_a_row_of_any_kind_can_be_begun() -> None:
    words = [each.words for each in fields_of(*opened("as-built"), "part").can_add]
    assert {"a motor of your own", "a material of your own", "an inverter of your own"} <= set(words)


def test_a_part_that_nothing_names_gets_copies_beside_itself() -> None:
    document, _ = opened("fixed_gantry")
    made = offered("fixed_gantry", "bed.item.belt-housing", "copies")
    machine = added("fixed_gantry", made.edits)
    first, second = (next(s for s in machine.solids if s.path == f"bed.belt-housing-{n}") for n in (1, 2))
    assert first.size == second.size
    assert max(abs(a - b) for a, b in zip(first.centre, second.centre, strict=True)) >= min(first.size)
    named = fields_of(*opened("salvaged"), "bed.member.strip-left").can_add
    assert not [each for each in named if "copies" in each.words]  # a joint and a mirror name it
    assert document.text.count("repeat") == 0


def test_a_slide_takes_the_place_of_rails_blocks_and_screw_and_leaves_the_motor() -> None:
    before = opened("as-built")[1].axis("z")
    machine = added("as-built", offered("as-built", "axis.z", "bought slide").edits)
    axis = machine.axis("z")
    assert {solid.part for solid in axis.rails} != {solid.part for solid in before.rails}
    assert axis.drives[0].motor.part == before.drives[0].motor.part
    assert axis.travel == before.travel
    assert machine.stated["axis.z.slide.part"].value == "slide-160-r15"


def test_a_slide_is_not_offered_where_none_is_long_enough_or_one_is_there() -> None:
    for name, path in (("as-built", "axis.y"), ("salvaged", "axis.z")):
        assert not [each for each in fields_of(*opened(name), path).can_add if "slide" in each.words]


def test_an_axis_comes_with_a_body_and_a_slide() -> None:
    before = opened("as-built")[1]
    machine = added("as-built", offered("as-built", "machine", "another axis").edits)
    assert [axis.name for axis in machine.axes] == ["x", "y", "z", "z2"]
    assert {body.name for body in machine.bodies} - {body.name for body in before.bodies} == {"slide-body-2"}
    assert machine.tool_body == before.tool_body

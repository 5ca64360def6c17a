"""What may be added is really added: written to the file, it makes a machine that has it."""

import pytest
from helper_fields import groups, opened

from gantrywright.base.errors import FileProblems
from gantrywright.intake.document import parse_toml, revise
from gantrywright.intake.edits import edited_text, typed_as
from gantrywright.intake.fields import Addable, fields_of
from gantrywright.intake.resolve import resolve
from gantrywright.model.machine import Machine


def added(name: str, edits: tuple[tuple[str, str | None], ...]) -> Machine:
    """The machine of the file with edits, which must be the one with the same edits in memory."""
    document, _ = opened(name)
    machine = resolve(parse_toml(edited_text(document, edits).encode(), document.path))
    kept = resolve(
        revise(document, [(path, None if text is None else typed_as(document.tree, path, text)) for path, text in edits])
    )
    assert {path: machine.stated[path].value for path in machine.stated} == {path: kept.stated[path].value for path in kept.stated}
    return machine


def offered(name: str, path: str, words: str) -> Addable:
    found = [each for each in fields_of(*opened(name), path).can_add if words in each.words]
    assert len(found) == 1, (path, words)
    return found[0]


@pytest.mark.parametrize("name", ["as-built", "bench"])
def test_everything_that_is_offered_makes_a_machine(name: str) -> None:
    seen = set()
    for made in groups(name):
        assert len({each.words for each in made.can_add}) == len(made.can_add), made.path
        for each in made.can_add:
            if each.edits not in seen:
                seen.add(each.edits)
                added(name, each.edits)
    assert len(seen) > 30


def test_a_rail_a_bar_a_plate_a_lump_and_a_foot_are_placed() -> None:
    before = opened("as-built")[1]
    for path, words, kind in (
        ("axis.x.rail", "another rail", "rail"), ("bed", "a bar", "member"), ("carriage", "a plate", "plate"),
        ("head", "an added part", "item"), ("bed", "a foot", "foot"),
    ):  # fmt: skip
        after = added("as-built", offered("as-built", path, words).edits)
        count = [sum(solid.kind == kind for solid in machine.solids) for machine in (before, after)]
        assert count[1] == count[0] + 1, kind


def test_a_second_drive_is_the_mirror_image_of_one_that_steps_aside() -> None:
    machine = added("bench", offered("bench", "axis.y.drive", "mirror image").edits)
    drives = machine.axis("y").drives
    assert len(drives) == 2
    first, second = (machine.stated[f"{drive.path}.offset"].value for drive in drives)
    assert first[0] == pytest.approx(-second[0])
    assert abs(first[0]) >= 0.04
    assert first[1:] == second[1:]


def test_a_drive_along_x_has_no_mirror_image_but_may_have_a_companion() -> None:
    words = [each.words for each in fields_of(*opened("as-built"), "axis.x.drive").can_add]
    assert words == ["another drive like main"]
    assert len(added("as-built", offered("as-built", "axis.x.drive", "like main").edits).axis("x").drives) == 2


def test_a_job_a_joint_a_supply_a_load_an_outlet_and_a_layer_are_there() -> None:
    before = opened("as-built")[1]
    assert len(added("as-built", offered("as-built", "", "another job").edits).jobs) == len(before.jobs) + 1
    named = added("as-built", offered("as-built", "", "a joint").edits).joints
    assert any(joint.path.startswith("joint.") for joint in named)
    assert len(added("as-built", offered("as-built", "", "another supply").edits).supplies) == len(before.supplies) + 1
    assert len(added("as-built", offered("as-built", "site", "another load").edits).site.loads) == len(before.site.loads) + 1
    assert len(added("as-built", offered("as-built", "bed.top", "another table layer").edits).layers) == len(before.layers) + 1


def test_a_new_measurement_takes_no_part_until_the_builder_says_so() -> None:
    made = offered("as-built", "measured", "a measurement")
    assert dict(made.edits)["measured.new-reading.use"] == "false"
    assert added("as-built", made.edits).observations == opened("as-built")[1].observations


def test_a_reduction_can_be_added_where_the_drive_is_direct() -> None:
    machine = added("as-built", offered("as-built", "axis.x.drive.main", "reduction").edits)
    assert machine.axis("x").drives[0].reduction.kind == "belt"


def test_the_chain_of_bodies_can_be_written_out() -> None:
    before = opened("as-built")[1]
    machine = added("as-built", offered("as-built", "machine", "chain of bodies").edits)
    assert machine.layout == "own"
    assert machine.links == before.links


def test_one_block_gets_a_table_of_its_own() -> None:
    document, machine = opened("as-built")
    made = offered("as-built", "axis.x.block.upper-1", "a table for upper 1 alone")
    text = edited_text(document, made.edits)
    own = parse_toml(text.encode(), document.path)
    assert fields_of(own, resolve(own), "axis.x.block.upper-1").path == "axis.x.block.upper-1"
    after = resolve(own).stated
    assert all(after[path].value == machine.stated[path].value for path in machine.stated)


def test_a_part_of_a_recipe_can_be_left_out() -> None:
    machine = added("as-built", offered("as-built", "bed.stretcher-front", "leave stretcher front out").edits)
    assert "bed.stretcher-front" not in {solid.path for solid in machine.solids}


def test_a_cabinet_that_is_not_there_is_added_whole_before_its_devices() -> None:
    words = [each.words for each in fields_of(*opened("tube_bridge"), "cabinet").can_add]
    assert words == ["cabinet"]


@pytest.mark.parametrize("name", ["as-built", "tube_bridge"])
def test_what_can_be_removed_is_gone_or_names_what_still_needs_it(name: str) -> None:
    document, _ = opened(name)
    gone, needed = 0, list[str]()
    for made in groups(name):
        if made.can_remove and made.path.count(".") < 4:
            text = edited_text(document, [(made.path, None)])
            try:
                resolve(parse_toml(text.encode(), document.path))
                gone += 1
            except FileProblems as error:
                needed.extend(problem.message for problem in error.problems)
    assert gone > 5
    assert needed
    assert all(needed)


def test_bodies_axes_and_what_every_machine_has_cannot_be_removed() -> None:
    removable = {made.path for made in groups("as-built") if made.can_remove}
    assert not removable & {"bed", "gantry", "axis.x", "machine", "purpose", "spindle.mount", "axis.x.blocks"}
    assert {"axis.x.rail.upper", "axis.y.drive.right", "job.frames", "bed.top.layers.1", "axis.y.home"} <= removable


def test_another_layout_begins_anew_from_the_same_work_area() -> None:
    before = opened("bench")[1]
    machine = added("bench", offered("bench", "machine", "layout moving-gantry instead").edits)
    assert machine.layout == "moving-gantry"
    assert machine.purpose == before.purpose
    assert [job.path for job in machine.jobs] == [job.path for job in before.jobs]
    assert "table" not in {body.name for body in machine.bodies}


def test_a_layout_is_not_offered_where_the_work_area_is_beyond_its_proportions() -> None:
    assert not [each for each in fields_of(*opened("as-built"), "machine").can_add if "instead" in each.words]


def test_what_is_called_in_the_plural_is_added_without_an_article() -> None:
    document, machine = opened("as-built")
    paths = [
        "",
        *document.tree,
        *(f"{name}.{below}" for name, table in document.tree.items() if isinstance(table, dict) for below in table),
    ]
    words = {a.words for path in paths for a in fields_of(document, machine, path).can_add}
    assert {"holes"} & words
    assert not [each for each in words if each.startswith(("a ", "an ", "another ")) and each.endswith("s")]

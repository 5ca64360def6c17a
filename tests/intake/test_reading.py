"""Examples are read without a problem; layers come in their order; values carry origin and spread."""

from pathlib import Path

import numpy as np
import pytest
from helper_reading import EXAMPLES, MACHINES, MADE, example, read_whole, told, with_changes

from gantrywright.base.errors import FileProblems
from gantrywright.base.values import PhaseCurrent
from gantrywright.catalog.tables import Catalog
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.reading import Reading
from gantrywright.intake.resolve import resolve
from gantrywright.intake.values import Computed
from gantrywright.model.bodies import Link


@pytest.mark.parametrize("name", EXAMPLES)
def test_examples_are_read_without_a_problem(name: str) -> None:
    assert told(example(name).problems) == ""


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_value_of_the_file_has_a_line_that_shows_its_key(name: str) -> None:
    reading = example(name)
    lines = (MACHINES / f"{name}.toml").read_text("utf-8").splitlines()
    own = {
        path: origin
        for path, origin in reading.origins.items()
        if origin.kind in ("file", "each", "mirror") and origin.file.endswith(f"{name}.toml")
    }
    assert len(own) > 150
    for path, origin in own.items():
        assert origin.path.rpartition(".")[2] in lines[origin.line - 1], (path, origin)


def test_chain_of_a_moving_gantry() -> None:
    assert example("salvaged").links() == (
        Link("bed", "", "", 0), Link("gantry", "bed", "y", 1), Link("carriage", "gantry", "x", 1), Link("head", "carriage", "z", 1),
    )  # fmt: skip


def test_a_moving_table_lies_on_the_works_side() -> None:
    links = {link.body: link for link in example("fixed_gantry").links()}
    assert (links["table"].axis, links["table"].sign) == ("y", -1)
    assert (links["gantry"].axis, links["gantry"].sign) == ("", 0)
    assert (links["head"].axis, links["head"].sign) == ("z", 1)


def test_own_chain_gives_the_same_links(tmp_path: Path) -> None:
    chain = '[chain]\nbed = {}\ngantry = { on = "bed", axis = "y" }\ncarriage = { on = "gantry", axis = "x" }\nhead = { on = "carriage", axis = "z" }\nwork = "bed"\ntool = "head"\n[machine]'
    path, _ = with_changes(tmp_path, "salvaged", ('layout = "moving-gantry"', 'layout = "own"'), ("[machine]", chain))
    reading = read_whole(path, MADE["salvaged"])
    assert told(reading.problems) == ""
    assert reading.links() == example("salvaged").links()


# ---- layers


def test_each_then_own_table() -> None:
    bed = example("salvaged").body("bed")
    left, strip = bed.branches["member"].branches["left-side"], bed.branches["member"].branches["strip-left"]
    assert left["owned"] is True
    assert left.entries["owned"].origin.kind == "each"
    assert strip["owned"] is False
    assert strip.entries["owned"].origin.kind == "file"
    assert strip.entries["owned"].origin.over is not None
    assert strip.entries["owned"].origin.over.kind == "each"


def test_mirror_turns_points_at_the_middle_plane() -> None:
    members = example("salvaged").body("bed").branches["member"].branches
    assert members["right-side"]["from"] == pytest.approx((1.28, 0.0, 0.78))
    assert members["right-side"]["to"] == pytest.approx((1.28, 2.1, 0.78))
    assert members["right-side"].entries["from"].origin.kind == "mirror"
    assert members["strip-right"]["from"] == pytest.approx((1.326, 0.02, 0.78))


def test_mirror_takes_holes_along_and_removes_the_burnt_one() -> None:
    members = example("salvaged").body("bed").branches["member"].branches
    assert set(members["left-side"].branches["holes"].branches) == {"old-row", "burnt"}
    assert set(members["right-side"].branches["holes"].branches) == {"old-row"}


def test_mirror_exchanges_left_and_right_in_references_and_vectors() -> None:
    drives = dict(example("salvaged").axis("y").children("drive"))
    right = drives["right"]
    assert right["beside"] == "axis.y.rail.right"
    assert right["grip_on"] == "gantry.upright-right"
    assert right["supply"] == "y-right"
    assert right["offset"] == pytest.approx((0.04, 0.0, -0.13))
    assert right.branches["motor"]["part"] == "stepper-34-118"
    assert right.branches["motor"]["owned"] is False
    assert drives["left"].branches["motor"]["owned"] is True


def test_mirrored_joint_names_the_other_end() -> None:
    reading = example("salvaged")
    joints = reading.branch("joint")
    assert joints is not None
    assert joints.branches["brace-right"]["between"] == ("bed.brace@right", "bed.leg-right-3")


def test_mirroring_twice_gives_the_table_back(tmp_path: Path) -> None:
    path, _ = with_changes(
        tmp_path, "salvaged", ("[bed.member.brace]", '[bed.member.side-again]\nmirror = "right-side"\n[bed.member.brace]')
    )
    members = read_whole(path, MADE["salvaged"]).body("bed").branches["member"].branches
    for key in ("from", "to"):
        assert members["side-again"][key] == pytest.approx(members["left-side"][key])
    row = members["side-again"].branches["holes"].branches["old-row"]
    assert {key: row.get(key) for key in ("face", "first", "pitch", "count")} == {
        key: members["left-side"].branches["holes"].branches["old-row"].get(key) for key in ("face", "first", "pitch", "count")
    } | {"pitch": 0.075}  # the left one's pitch was measured, which is no part of what is copied


def test_repeat_makes_copies_and_an_own_table_changes_one() -> None:
    members = example("salvaged").body("bed").branches["member"].branches
    crosses = {name: branch for name, branch in members.items() if name.startswith("cross")}
    assert list(crosses) == [f"cross-{number}" for number in range(1, 6)]
    for number, branch in enumerate(crosses.values()):
        assert branch["from"] == pytest.approx((0.08, 0.04 + number * 0.505, 0.78))
    assert crosses["cross-4"].branches["section"]["wall"] == pytest.approx(0.003)
    assert crosses["cross-3"].branches["section"]["wall"] == pytest.approx(0.004)


def test_a_mirrored_repeat_is_repeated() -> None:
    members = example("salvaged").body("bed").branches["member"].branches
    assert members["leg-right-3"]["from"] == pytest.approx((1.28, 2.06, 0.0))


def test_recipe_lies_under_own_table_and_body_hands_its_ownership_on(tmp_path: Path) -> None:
    path, _ = with_changes(
        tmp_path, "salvaged", ('spacers = "12 mm"', 'spacers = "12 mm"\nowned = true\nplate.plate.size = "1 x 2 x 3 mm"')
    )
    reading = read_whole(path, MADE["salvaged"])
    made = {
        "plate": {
            "plate": {"size": Computed((0.1, 0.2, 0.01)), "normal": "front", "at": Computed((0.0, 0.0, 0.0)), "material": "al-6082"}
        }
    }
    plate = reading.body("carriage", made).branches["plate"].branches["plate"]
    assert plate["size"] == pytest.approx((0.001, 0.002, 0.003))
    assert plate.entries["size"].origin.kind == "file"
    assert plate.entries["normal"].origin.kind == "recipe"
    assert plate["owned"] is True
    assert plate["stock"] == "plate-15-offcut"


def test_stock_piece_lies_under_what_is_written() -> None:
    rails = dict(example("salvaged").axis("y").children("rail"))
    assert rails["left"]["length"] == pytest.approx(2.0)
    assert rails["left"]["first_hole"] == pytest.approx(0.02)
    assert rails["left"].entries["first_hole"].origin.over is not None
    assert rails["left"].entries["first_hole"].origin.over.kind == "stock"
    assert rails["left"]["owned"] is True
    assert rails["left"]["condition"].startswith("rust bloom")
    assert not rails["right"].has("first_hole")


def test_a_field_of_a_stock_piece_goes_to_the_part(tmp_path: Path) -> None:
    path, _ = with_changes(
        tmp_path,
        "long_bed",
        ('motor = { part = "stepper-23-76", owned = true }', 'motor = { part = "stepper-23-76", stock = "stepper-23-spare" }'),
        shop=(("1.05 ohm", "1.11 ohm"),),
    )
    reading = read_whole(path)
    assert told(reading.problems) == ""
    motor = dict(reading.axis("x").children("drive"))["main"].branches["motor"]
    assert motor["resistance"] == pytest.approx(1.11)
    assert motor.entries["resistance"].origin.kind == "stock"
    assert reading.spreads["axis.x.drive.main.motor.resistance"].shape == "normal"


def test_measured_value_wins_and_the_later_date_first() -> None:
    reading = example("long_bed")
    entry = dict(reading.axis("y").children("drive"))["main"].entries["pretension"]
    assert entry.value == pytest.approx(540.0)
    chain = [entry.origin]
    while chain[-1].over is not None:
        chain.append(chain[-1].over)
    assert [origin.text for origin in chain] == ["540 N +- 60 N", "610 N +- 60 N", "700 N (500..900)"]
    assert [origin.kind for origin in chain] == ["measured", "measured", "file"]
    assert "2026-06-02" in entry.origin.note


def test_measurement_that_is_taken_out_counts_no_more(tmp_path: Path) -> None:
    path, _ = with_changes(tmp_path, "long_bed", ("on = 2026-06-02 }", "on = 2026-06-02, use = false }"))
    assert dict(read_whole(path).axis("y").children("drive"))["main"]["pretension"] == pytest.approx(610.0)


def test_a_component_of_a_point_can_be_measured(tmp_path: Path) -> None:
    more = 'bow = { path = "bed.spine.to.z", value = "492 mm +- 0.4 mm", with = "tape-2m", on = 2026-02-21 }\nbus ='
    path, _ = with_changes(tmp_path, "long_bed", ("bus =", more))
    reading = read_whole(path)
    assert told(reading.problems) == ""
    assert reading.body("bed").branches["member"].branches["spine"]["to"] == pytest.approx((0.0, 3.6, 0.492))
    assert reading.spreads["bed.member.spine.to.z"].placed


# ---- parts


def test_part_with_a_changed_field_keeps_the_rest_of_its_row() -> None:
    part = dict(example("fixed_gantry").axis("y").children("drive"))["main"].branches["part"]
    assert part["lead"] == pytest.approx(0.0127)
    assert part.entries["lead"].origin.kind == "file"
    assert part.entries["lead"].origin.over is not None
    assert part.entries["lead"].origin.over.kind == "row"
    assert part["diameter"] == pytest.approx(0.032)
    assert part["kind"] == "ball-screw"


def test_catalog_default_fills_what_row_and_file_leave_out() -> None:
    part = dict(example("long_bed").axis("z").children("drive"))["main"].branches["driver"]
    assert part["current"] == PhaseCurrent(2.8, "peak")
    assert part.entries["microsteps"].origin.kind in ("row", "default")


def test_part_given_in_place_needs_no_name() -> None:
    reading = example("fixed_gantry")
    recipe = reading.recipe("gantry")
    assert recipe is not None
    section = recipe.branches["beam"].branches["section"]
    assert (section["shape"], section["height"], section["wall"]) == ("tube", pytest.approx(0.254), pytest.approx(0.009525))


def test_own_row_like_another(tmp_path: Path) -> None:
    more = '[part.my-stepper]\nlike = "stepper-23-76"\ninductance = "9 mH"\n[spindle]'
    path, _ = with_changes(
        tmp_path,
        "long_bed",
        ("[spindle]", more),
        ('motor = { part = "stepper-23-76", owned', 'motor = { part = "my-stepper", owned'),
    )
    reading = read_whole(path)
    assert told(reading.problems) == ""
    motor = dict(reading.axis("x").children("drive"))["main"].branches["motor"]
    assert motor["inductance"] == pytest.approx(9e-3)
    assert motor["holding"] == reading.catalog.find("motor", "stepper-23-76").cells["holding"].value
    assert reading.catalog.find("motor", "my-stepper").cells["inductance"].value == pytest.approx(9e-3)


@pytest.mark.parametrize("kind", ["", 'kind = "material"\n'])
def test_own_row_that_adds_columns_begins_as_the_row_of_its_name(tmp_path: Path, kind: str) -> None:
    more = f'[part.xps-foam]\n{kind}shear_strength = "0.31 MPa"\n[spindle]'
    path, _ = with_changes(tmp_path, "long_bed", ("[spindle]", more))
    reading = read_whole(path)
    assert told(reading.problems) == ""
    found = reading.material("xps-foam", "job.foam-core.material")
    packaged = Catalog().find("material", "xps-foam").cells
    assert found is not None
    assert found.shear_strength == pytest.approx(0.31e6)
    assert (found.density, found.group, found.shear_force) == (packaged["density"].value, "foam", packaged["shear_force"].value)


def test_own_row_of_a_new_name_says_what_it_lacks_and_where(tmp_path: Path) -> None:
    row = 'shear_strength = "0.31 MPa"\n'
    for words, lacking in (
        (f'kind = "material"\n{row}', "lacks density"),
        (row, "lacks kind, or like: no row of the parts tables is named 'mine'"),
    ):
        text = ('material = "xps-foam"', 'material = "mine"')
        path, written = with_changes(tmp_path, "long_bed", ("[spindle]", f"[part.mine]\n{words}[spindle]"), text)
        with pytest.raises(FileProblems) as caught:
            resolve(read_document(path))
        problems = [problem for problem in caught.value.problems if problem.path == "part.mine"]
        assert len(caught.value.problems) == len(problems) == 1
        assert lacking in problems[0].message
        assert problems[0].line == written[: written.index("[part.mine]")].count("\n") + 1


def test_a_faulty_row_of_a_material_that_bars_are_of_is_told_with_its_line() -> None:
    document = revise(read_document(MACHINES / "long_bed.toml"), (("part.steel.kind", "ball-screw"),))
    with pytest.raises(FileProblems) as caught:
        resolve(document)
    assert [problem.path for problem in caught.value.problems] == ["part.steel"]
    assert "lacks diameter, root, lead" in caught.value.problems[0].message


def test_users_table_beside_the_machine_wins(tmp_path: Path) -> None:
    path, _ = with_changes(tmp_path, "long_bed")
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "coupling.csv").write_text(
        "id,title,source,basis,stiffness [N m/rad]\ncoupling-mine,Mine,from memory,measured,77\n"
    )
    assert Reading(read_document(path)).catalog.find("coupling", "coupling-mine").cells["stiffness"].value == pytest.approx(77.0)


def test_blocks_are_made_for_every_rail() -> None:
    axis = example("salvaged").axis("y")
    blocks = dict(axis.children("block"))
    assert list(blocks) == ["left-1", "left-2", "right-1", "right-2"]
    assert blocks["left-2"]["remaining"] == pytest.approx(0.6)
    assert blocks["right-1"]["remaining"] == 1.0
    assert blocks["right-1"].branches["part"] is axis.branches["blocks"].branches["part"]


def test_money_is_brought_to_the_machines_currency() -> None:
    purpose = example("fixed_gantry").branch("purpose")
    assert purpose is not None
    assert purpose["budget"] == 9000.0
    stock_in_euro = example("salvaged").branch("purpose")
    assert stock_in_euro is not None
    assert stock_in_euro["budget"] == 2600.0


def test_foreign_money_goes_by_the_shops_rate(tmp_path: Path) -> None:
    path, _ = with_changes(tmp_path, "salvaged", ('budget = "2600 EUR"', 'budget = "1000 USD"'))
    purpose = Reading(read_document(path)).branch("purpose")
    assert purpose is not None
    assert purpose["budget"] == pytest.approx(920.0)


# ---- spreads and samples


def test_bands_doubts_and_defaults_are_in_the_spreads() -> None:
    reading = example("salvaged")
    assert reading.spreads["axis.y.drive.left.ends"].choices == ("fixed-supported", "supported-supported")
    assert reading.spreads["axis.y.drive.right.bracket"].low == pytest.approx(40e6)
    assert reading.spreads["site.ambient"].high == pytest.approx(303.15)
    assert reading.spreads["axis.y.block.left-1.remaining"].typical == pytest.approx(0.6)
    assert "axis.y.drive.left.motor.inductance" in reading.spreads
    assert "site.ambient" in reading.origins


def test_unknown_is_none_and_has_no_default() -> None:
    main = dict(example("long_bed").axis("x").children("drive"))["main"]
    assert main.has("pretension")
    assert main["pretension"] is None


def test_samples_take_the_place_of_uncertain_values() -> None:
    document = read_document(MACHINES / "salvaged.toml")
    samples = {"axis.y.drive.left.ends": np.array([0.0, 1.0, 1.0]), "axis.y.drive.left.bracket": np.array([1e8, 2e8, 3e8]),
               "site.ambient": np.array([280.0, 285.0, 290.0])}  # fmt: skip
    reading = Reading(document, samples=samples)
    left = dict(reading.axis("y").children("drive"))["left"]
    assert list(left["ends"]) == ["fixed-supported", "supported-supported", "supported-supported"]
    assert list(left["bracket"]) == [1e8, 2e8, 3e8]
    site = reading.branch("site")
    assert site is not None
    assert list(site["ambient"]) == [280.0, 285.0, 290.0]


def test_geometry_stays_a_plain_number_and_says_so(tmp_path: Path) -> None:
    path, _ = with_changes(tmp_path, "long_bed", ('length = "820 mm"', 'length = "820 mm (815..825)"'))
    place = "axis.x.drive.main.length"
    reading = Reading(read_document(path), samples={place: np.array([1.0, 2.0])})
    assert dict(reading.axis("x").children("drive"))["main"]["length"] == pytest.approx(0.82)
    assert reading.spreads[place].placed


def test_revised_document_is_read_with_the_new_value() -> None:
    document = revise(
        read_document(MACHINES / "salvaged.toml"),
        [("axis.x.drive.main.part", "ball-screw-2010"), ("axis.y.drive.right.motor.part", "stepper-34-150"), ("axis.x.drive.main.motor_end", None),
         ("bed.member.left-side.to.y", "2.2 m"), ("axis.z.drive.main.driver.current", "2 A rms")],
    )  # fmt: skip
    reading = Reading(document)
    assert dict(reading.axis("x").children("drive"))["main"].branches["part"]["diameter"] == pytest.approx(0.02)
    assert not dict(reading.axis("x").children("drive"))["main"].has("motor_end")
    drives = dict(reading.axis("y").children("drive"))
    assert (drives["left"].branches["motor"]["part"], drives["right"].branches["motor"]["part"]) == (
        "stepper-34-118",
        "stepper-34-150",
    )
    assert reading.body("bed").branches["member"].branches["left-side"]["to"] == pytest.approx((0.04, 2.2, 0.78))
    assert document.tree != read_document(MACHINES / "salvaged.toml").tree

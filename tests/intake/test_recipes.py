"""Recipes give what a builder would list."""

from pathlib import Path

import pytest
from placed import document, machine, mm, problems_of, replaced, revised

from gantrywright.base.errors import FileProblems
from gantrywright.intake.document import revise
from gantrywright.intake.grammar.recipes import RECIPES
from gantrywright.intake.reading import Reading
from gantrywright.intake.recipes import recipes
from gantrywright.intake.resolve import resolve
from gantrywright.model.bodies import Solid
from gantrywright.model.machine import Machine


def solid(found: Machine, path: str) -> Solid:
    return next(s for s in found.solids if s.path == path)


def test_every_recipe_of_the_grammar_has_its_file() -> None:
    assert set(recipes()) == set(RECIPES)


def test_slab_stands_on_three_feet_two_in_front() -> None:
    """30 x 74 in; inset a tenth of the width, a fifth of the length: 3 in and 14.8 in."""
    found = machine("fixed_gantry")
    x0, y0, _ = found.bodies[0].origin
    feet = [(round((f.at[0] - x0) / 0.0254, 3), round((f.at[1] - y0) / 0.0254, 3)) for f in found.feet]
    assert feet == [(-12.0, 14.8), (12.0, 14.8), (0.0, 59.2)]
    assert {f.on for f in found.feet} == {"bed.slab"}
    assert found.feet[0].vertical == pytest.approx(300_000 * 4.4482216152605 / 0.0254)
    assert found.feet[0].horizontal == pytest.approx(100_000 * 4.4482216152605 / 0.0254)


def test_slab_fills_its_size() -> None:
    slab = solid(machine("fixed_gantry"), "bed.slab")
    assert slab.size == pytest.approx((74 * 0.0254, 8 * 0.0254, 30 * 0.0254))


def test_portal_beam_lies_on_its_uprights() -> None:
    found = machine("fixed_gantry")
    left, beam = solid(found, "gantry.upright-left"), solid(found, "gantry.beam")
    assert beam.centre[2] - beam.size[1] / 2 == pytest.approx(left.centre[2] + left.size[0] / 2)
    assert left.size == pytest.approx((24 * 0.0254, 8 * 0.0254, 6 * 0.0254))


def test_portal_beam_over_the_outside_or_between() -> None:
    over = solid(revised("fixed_gantry", ("gantry.beam.length", None)), "gantry.beam")
    assert over.size[0] == pytest.approx(42 * 0.0254)
    between = solid(revised("fixed_gantry", ("gantry.beam.length", None), ("gantry.beam.sits", "between")), "gantry.beam")
    assert between.size[0] == pytest.approx(30 * 0.0254)


def test_spacers_move_a_plate_off_its_blocks_and_all_that_hangs_on_it() -> None:
    before, after = machine("salvaged"), revised("salvaged", ("carriage.spacers", "20 mm"))
    step = solid(after, "carriage.plate").centre[1] - solid(after, "gantry.beam").centre[1]
    assert step - (solid(before, "carriage.plate").centre[1] - solid(before, "gantry.beam").centre[1]) == pytest.approx(-0.008)


def test_uprights_on_spacers_make_the_beam_longer() -> None:
    found = revised("salvaged", ("gantry.uprights.spacers", "5 mm"))
    assert solid(found, "gantry.beam").size[0] == pytest.approx(1.404 + 0.010)


def test_an_own_key_changes_what_the_recipe_made() -> None:
    found = revised("salvaged", ("gantry.member.beam.section", "tslot-80x160-light"))
    assert next(m for m in found.members if m.path == "gantry.beam").section.name == "tslot-80x160-light"


def test_a_new_name_must_be_whole_and_hears_what_the_recipe_made() -> None:
    told = problems_of(
        "salvaged", ("gantry.plate.upright-lefd.thickness", "12 mm"), ("gantry.plate.upright-lefd.material", "steel")
    )
    assert any("gantry.plate.upright-lefd" in line for line in told)


def test_remove_takes_one_away() -> None:
    document_ = revise(document("fixed_gantry"), [("bed.foot.foot-3.remove", True)])  # type: ignore[list-item]
    assert len(resolve(document_).feet) == 2


def test_legs_must_stand_in_pairs() -> None:
    edits = [("bed.recipe", "ladder-frame"), ("bed.side", "tube-80x80x4"), ("bed.length", "2100 mm"), ("bed.width", "1320 mm"),
             ("bed.height", "820 mm"), ("bed.cross_members", 5), ("bed.legs", 5)]  # fmt: skip
    told = problems_of("salvaged", *edits)  # type: ignore[arg-type]
    assert any(line.startswith("bed.legs") and "pairs" in line for line in told)


LADDER = (
    ("bed.recipe", "ladder-frame"), ("bed.side", "tube-80x80x4"), ("bed.length", "2100 mm"), ("bed.width", "1320 mm"),
    ("bed.height", "820 mm"), ("bed.cross_members", 5), ("bed.legs", 4), ("bed.stretcher_height", "200 mm"),
)  # fmt: skip


@pytest.mark.parametrize(
    ("name", "edits", "told"),
    [
        (
            "salvaged",
            (*LADDER, ("bed.width", "160 mm")),
            "bed.width: the sides are 80 mm wide each; nothing is left between them; width must be more than 160 mm",
        ),
        ("salvaged", (*LADDER, ("bed.length", "80 mm")), "bed.length: a cross is 80 mm wide and the outer ones are flush"),
        ("salvaged", (*LADDER, ("bed.height", "80 mm")), "nothing is left below them for legs; height must be more than 80 mm"),
        ("salvaged", (*LADDER, ("bed.leg", "tube-80x80x4"), ("bed.length", "160 mm")), "length must be more than 160 mm"),
        (
            "fixed_gantry",
            (("gantry.stance", "6 in"), ("gantry.beam.sits", "between"), ("gantry.beam.length", None)),
            "gantry.stance: an upright is 6 in wide; nothing is left between the two for the beam; stance must be more than 6 in",
        ),
        ("fixed_gantry", (("gantry.upright.top", "-7 in"),), "gantry.upright.top: the upright ends at -7 in, not above its lower end"),
    ],
)  # fmt: skip
def test_a_recipe_without_room_says_what_takes_it(name: str, edits: tuple[tuple[str, str | None], ...], told: str) -> None:
    found = problems_of(name, *edits)
    assert any(told in line for line in found), found
    assert not any("same point" in line for line in found)


def test_just_more_than_the_sides_is_taken() -> None:
    found = problems_of("salvaged", *LADDER, ("bed.width", "161 mm"))  # type: ignore[arg-type]
    assert not any("nothing is left" in line or "same point" in line for line in found), found


def test_plate_on_blocks_needs_a_guide() -> None:
    told = problems_of(
        "fixed_gantry", ("gantry.recipe", "plate-on-blocks"), ("gantry.size", "300 x 300 x 20 mm"), ("gantry.material", "steel")
    )
    assert any("needs an axis" in line for line in told)


def test_beam_by_its_lower_edge_stands_half_its_size_higher() -> None:
    axis = revised("long_bed", ("gantry.member.beam.by", "bottom"), ("measured.pull-x", None))  # the reading was taken lower
    edge = revised("long_bed", ("gantry.member.beam.by", "bottom front"), ("measured.pull-x", None))
    plain = solid(machine("long_bed"), "gantry.beam").centre
    assert solid(axis, "gantry.beam").centre[2] - solid(axis, "gantry.cross").centre[2] == pytest.approx(
        plain[2] - solid(machine("long_bed"), "gantry.cross").centre[2] + 0.040
    )
    assert solid(edge, "gantry.beam").centre[1] - solid(edge, "gantry.cross").centre[1] == pytest.approx(0.040)


def test_flat_bar_lying_on_its_side() -> None:
    """The spine: 160 goes from left to right."""
    spine = solid(machine("long_bed"), "bed.spine")
    assert [round(abs(part), 9) for part in spine.axes[1]] == [1, 0, 0]
    assert spine.size == pytest.approx((3.6, 0.16, 0.08))


ON_TOP = (
    ('face = "outer", across = "24 mm"', 'face = "top"'),
    ('left = { on = "bed.strip-left", stock = "rail-20-donor", first_hole = "20 mm" }', 'left = { on = "bed.left-side" }'),
    ('right = { on = "bed.strip-right", price = "74 EUR" }', 'right = { on = "bed.right-side" }'),
)


def test_uprights_that_touch_leave_no_beam(tmp_path: Path) -> None:
    """1240 mm apart over rails that look up: as thick as that, they touch."""
    with pytest.raises(FileProblems) as caught:
        replaced("salvaged", tmp_path, *ON_TOP, ("x 20 mm", "x 1240 mm"))
    told = [problem for problem in caught.value.problems if problem.path == "gantry.uprights.size"]
    assert len(told) == 1, caught.value.problems
    assert "stand 1240 mm apart, middle to middle, and are 1240 mm thick; nothing is left" in told[0].message


def test_uprights_may_stand_on_rails_that_look_up(tmp_path: Path) -> None:
    """Rails on top of the bed: the plates stand over them, the beam between reaches from one to the other."""
    found = replaced("salvaged", tmp_path, *ON_TOP)
    assert found.axis("y").normal == pytest.approx((0, 0, 1))
    plates = [solid(found, f"gantry.upright-{side}") for side in ("left", "right")]
    assert plates[1].centre[0] - plates[0].centre[0] == pytest.approx(1.240)
    assert solid(found, "gantry.beam").size[0] == pytest.approx(1.220)
    assert mm(found.bodies[1].origin)[2] == 820 + 30 - 857


class TestReferences:
    @pytest.mark.parametrize(
        ("path", "value", "words"),
        [
            ("axis.y.drive.left.grip_on", "gantry.upright-lefd", "no part 'gantry.upright-lefd'"),
            ("axis.x.drive.main.seats", ["gantry.baem"], "no part 'gantry.baem'"),
            ("axis.x.rail.upper.fix.holes", "gantry.beam.holes.old", "has no holes 'old'"),
            ("bed.top.on", "bed.crosses", "no part 'bed.crosses'"),
            ("spindle.mount.on", "hand.saddle", "no body 'hand'"),
            ("axis.y.cable_chain.on", "bed.right-sid", "no part 'bed.right-sid'"),
        ],
    )
    def test_what_leads_nowhere_is_told(self, path: str, value: object, words: str) -> None:
        assert any(words in line for line in problems_of("salvaged", (path, value))), problems_of("salvaged", (path, value))  # type: ignore[arg-type]

    def test_a_body_bolted_on_is_moved_by_its_place(self) -> None:
        before, after = machine("fixed_gantry"), revised("fixed_gantry", ("gantry.at", "0, 38, 0 in"))
        step = solid(after, "gantry.beam").centre[1] - solid(after, "bed.slab").centre[1]
        assert step - (solid(before, "gantry.beam").centre[1] - solid(before, "bed.slab").centre[1]) == pytest.approx(0.0254)

    def test_a_part_of_a_bolted_body_may_be_changed(self) -> None:
        found = revised("fixed_gantry", ("gantry.member.beam.fill", "mineral-casting"))
        assert next(m for m in found.members if m.path == "gantry.beam").fill == "mineral-casting"


def test_coupling_and_cable_chain_are_weighed() -> None:
    found = machine("salvaged")
    assert solid(found, "axis.x.drive.main.coupling").body == "gantry"
    fixed, moving = solid(found, "axis.y.cable_chain.fixed-half"), solid(found, "axis.y.cable_chain.moving-half")
    chain = found.axis("y").cable_chain
    assert chain is not None
    assert chain.part.mass_per_length is not None
    assert (fixed.body, moving.body) == ("bed", "gantry")
    assert fixed.mass == pytest.approx(chain.part.mass_per_length * (0.7 + 3.14159265 * 0.075) / 2)
    assert fixed.mass == moving.mass


def test_reading_is_asked_in_the_order_of_the_chain() -> None:
    assert Reading(document("salvaged")).bodies() == ("bed", "gantry", "carriage", "head")

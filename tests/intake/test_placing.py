"""Where things stand: check values placed by hand and by a throw-away reader before this code was written, and invariants."""

from pathlib import Path

import pytest
from placed import EXAMPLES, machine, mm, places, problems_of, replaced, revised

from gantrywright.intake.resolve import load_machine
from gantrywright.model.frame import dot, subtract
from gantrywright.model.machine import Machine, shifts

ORIGINS = {
    "salvaged": {"gantry": (500, 907, -53), "carriage": (500, 877, 327), "head": (500, 758, 357)},
    "fixed_gantry": {
        "gantry": (304.8, 705.7, -143.9), "carriage": (304.8, 593.5, 414.8), "head": (304.8, 541.2, 414.8), "table": (304.8, 705.7, -107.9),
    },
    "long_bed": {"gantry": (300, 1662, -327), "carriage": (300, 1598, 190), "head": (300, 1562, 215)},
}  # fmt: skip
BEAMS = {
    "salvaged": ((-202, 947, 327), (1202, 947, 327)),
    "fixed_gantry": ((-228.6, 705.7, 414.8), (838.2, 705.7, 414.8)),
    "long_bed": ((-100, 1662, 190), (700, 1662, 190)),
}
TIPS = {"salvaged": (500, 700, 141.5), "fixed_gantry": (304.8, 457.2, 121.5), "long_bed": (300, 1500, 112)}
REACHES = {
    "salvaged": ((0, 0, -18.5), (1000, 1400, 141.5)),
    "fixed_gantry": ((0, 0, -5.5), (609.6, 914.4, 146.9)),
    "long_bed": ((0, 0, -8), (600, 3000, 112)),
}
TOUCHING = {"salvaged": 37, "fixed_gantry": 6, "long_bed": 28}


def origins(machine: Machine) -> dict[str, tuple[float, ...]]:
    return {body.name: mm(body.origin) for body in machine.bodies}


def welds_of_legs(machine: Machine) -> int:
    pairs = [(joint.a, joint.b) for joint in machine.joints if not joint.path.startswith("joint.brace")]
    return sum("bed.leg" in a or "bed.leg" in b for a, b in pairs)


def member(machine: Machine, path: str) -> tuple[tuple[float, ...], tuple[float, ...]]:
    found = next(member for member in machine.members if member.path == path)
    return mm(found.start), mm(found.stop)


@pytest.mark.parametrize("name", EXAMPLES)
class TestCheckValues:
    def test_bodies_stand_where_the_stack_of_rails_and_blocks_puts_them(self, name: str) -> None:
        found = origins(machine(name))
        assert {body: found[body] for body in ORIGINS[name]} == ORIGINS[name]

    def test_beam_is_as_long_as_it_finds_room(self, name: str) -> None:
        assert member(machine(name), "gantry.beam") == BEAMS[name]

    def test_tip(self, name: str) -> None:
        tool = machine(name).tool
        assert tool is not None
        assert tool.tip == pytest.approx([part / 1e3 for part in TIPS[name]], abs=6e-5)

    def test_reach(self, name: str) -> None:
        reach = machine(name).reach
        for found, wanted in zip((reach.least, reach.most), REACHES[name], strict=True):
            assert found == pytest.approx([part / 1e3 for part in wanted], abs=6e-5)

    def test_parts_that_touch(self, name: str) -> None:
        """The reader took a torsion box for one solid, so joints between its own sheets are left out; slanted bars are joined by name."""
        inner = ("skin-lower", "skin-upper", "webs")
        joints = machine(name).joints
        pairs = [j for j in joints if not (any(w in j.a for w in inner) and any(w in j.b for w in inner)) and "brace" not in j.path]
        assert len(pairs) == TOUCHING[name]

    def test_nothing_strays(self, name: str) -> None:
        assert machine(name).stray == ()

    def test_zero_lies_on_the_top(self, name: str) -> None:
        box = machine(name).table_top
        assert box is not None
        assert box.most[2] == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("name", EXAMPLES)
def test_moving_the_drawn_pose_moves_the_tip_by_just_that(name: str) -> None:
    before = machine(name)
    pose = tuple(q + step for q, step in zip(before.drawn_at, (0.100, -0.070, -0.030), strict=True))
    after = revised(name, ("machine.drawn_at", ", ".join(f"{1e3 * q:.6f}" for q in pose) + " mm"))
    assert before.tool is not None
    assert after.tool is not None
    assert subtract(after.tool.tip, before.tool.tip) == pytest.approx((0.1, -0.07, -0.03), abs=1e-9)
    assert after.reach.least == pytest.approx(before.reach.least, abs=1e-9)
    assert after.reach.most == pytest.approx(before.reach.most, abs=1e-9)


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_redrawn_machine_is_the_old_one_shifted(name: str) -> None:
    """Each solid stands where `shifts` says that its body goes, but for the zero that rides with the work."""
    before = machine(name)
    pose = {axis.name: axis.drawn - 0.05 for axis in before.axes}
    drawn = dict(zip("xyz", before.drawn_at, strict=True))
    words = ", ".join(f"{1e3 * pose.get(letter, drawn[letter]):.6f}" for letter in "xyz") + " mm"
    after = revised(name, ("machine.drawn_at", words))
    moved = shifts(before, pose)
    old = {solid.path: solid for solid in before.solids}
    for solid in after.solids:
        was = old[solid.path]
        wanted = tuple(c + s - w for c, s, w in zip(was.centre, moved[was.body], moved[before.work_body], strict=True))
        assert solid.centre == pytest.approx(wanted, abs=1e-9), solid.path


def test_gantry_listed_as_its_recipe_would_is_the_same_machine(tmp_path: Path) -> None:
    recipe = """recipe = "beam-on-uprights"
beam = { section = "tslot-80x160-heavy", at = "0, 40, 380 mm", stock = "beam-160-piece" }
uprights = { size = "260 x 570 x 20 mm", material = "al-6082", at = "0, 185 mm", made = "cut", price = "62 EUR" }
"""
    listed = """middle = "0 mm"
member.beam = { section = "tslot-80x160-heavy", from = "-702, 40, 380 mm", to = "702, 40, 380 mm", stock = "beam-160-piece" }
[gantry.plate.upright-left]
size = "260 x 570 x 20 mm"
normal = "left"
at = "-712, 0, 185 mm"
material = "al-6082"
made = "cut"
price = "62 EUR"
[gantry.plate.upright-right]
mirror = "upright-left"
[gantry.joint]
kind = "end-tapped"
bolts = "8 x M8"
"""
    other = replaced("salvaged", tmp_path, (recipe + 'joint = { kind = "end-tapped", bolts = "8 x M8" }\n', listed))
    assert places(other) == places(machine("salvaged"))
    assert len(other.joints) == len(machine("salvaged").joints)


def test_ladder_frame_of_the_same_outer_sizes_carries_the_same_machine(tmp_path: Path) -> None:
    text = (Path(__file__).parents[1] / "machines" / "salvaged.toml").read_text("utf-8")
    start, stop = text.index("[bed]\n"), text.index("[bed.top]")
    frame = """[bed]
recipe = "ladder-frame"
side = "tube-80x80x4"
stretcher = "tube-40x40x3"
length = "2100 mm"
width = "1320 mm"
height = "820 mm"
cross_members = 5
legs = 6
stretcher_height = "180 mm"
feet = { part = "foot-m16-steel" }
[bed.member.strip-left]
section = "flat-80x12"
from = "-666, 20, -40 mm"
to = "-666, 2080, -40 mm"
up = "top"
[bed.member.strip-right]
mirror = "strip-left"
"""
    (tmp_path / "shop.toml").write_text((Path(__file__).parents[1] / "machines" / "shop.toml").read_text("utf-8"), "utf-8")
    cut = text[:start] + frame + text[stop:]
    cut = cut.replace('fixed_at = "1420, 1050, 690 mm"', 'fixed_at = "760, 1050, -130 mm"').replace(
        'at = "1500, 1700, 400 mm"', 'at = "840, 1700, -420 mm"'
    )
    cut = cut[: cut.index("[measured.right-side-bow]")]
    path = tmp_path / "ladder.toml"
    path.write_text(cut, "utf-8")
    found, known = load_machine(path), machine("salvaged")
    assert origins(found)["head"] == origins(known)["head"]
    assert found.reach == known.reach
    old, new = places(known), places(found)
    for part in ("left-side", "right-side", "cross-2", "leg-left-1", "leg-right-3", "stretcher-left-2"):
        assert new[f"bed.{part}"][:2] == old[f"bed.{part}"][:2], part
    assert new["bed.stretcher-front"][0] == old["bed.stretcher-end-1"][0]
    assert {mm(foot.at) for foot in found.feet} == {mm(foot.at) for foot in known.feet}
    assert welds_of_legs(found) == welds_of_legs(known) == 18


def test_own_chain_is_as_good_as_a_layout(tmp_path: Path) -> None:
    chain = """layout = "own"
"""
    tables = """[chain]
work = "bed"
tool = "head"
bed = {}
gantry = { on = "bed", axis = "y" }
carriage = { on = "gantry", axis = "x" }
head = { on = "carriage", axis = "z" }
[purpose]
"""
    other = replaced("salvaged", tmp_path, ('layout = "moving-gantry"\n', chain), ("[purpose]\n", tables))
    assert places(other) == places(machine("salvaged"))


def test_a_bigger_rail_makes_the_beam_longer_by_both_block_heights() -> None:
    other = revised("salvaged", ("axis.y.rail.each.part", "rail-25"), ("axis.y.blocks.part", "block-25-flange"),
                    ("axis.y.rail.left.stock", None))  # fmt: skip
    start, stop = member(other, "gantry.beam")
    assert stop[0] - start[0] == pytest.approx(1404 + 12)


def test_mirrored_parts_are_symmetric() -> None:
    found = machine("salvaged")
    middle = found.bodies[0].origin[0] + 0.660
    centres = {solid.path: solid.centre for solid in found.solids if solid.body == "bed"}
    pairs = [path for path in centres if path.startswith("bed.leg-left") or path == "bed.strip-left"]
    assert len(pairs) == 4
    for path in pairs:
        left, right = centres[path], centres[path.replace("left", "right")]
        assert right == pytest.approx((2 * middle - left[0], left[1], left[2]))


@pytest.mark.parametrize("name", EXAMPLES)
def test_blocks_sit_on_their_rails(name: str) -> None:
    for axis in machine(name).axes:
        rails = {rail.path: rail for rail in axis.rails}
        for block in axis.blocks:
            rail = rails[block.rail]
            offset = subtract(block.centre, rail.start)
            along = dot(offset, axis.direction)
            assert 0 < along < rail.length
            assert dot(offset, rail.normal) == pytest.approx(block.part.raceway, abs=1e-9)
            sideways = tuple(
                o - along * t - dot(offset, rail.normal) * n for o, t, n in zip(offset, axis.direction, rail.normal, strict=True)
            )
            assert sideways == pytest.approx((0, 0, 0), abs=1e-9)


@pytest.mark.parametrize("name", EXAMPLES)
def test_blocks_stay_on_their_rails_over_the_whole_travel(name: str) -> None:
    found = machine(name)
    for axis in found.axes:
        rails = {rail.path: rail for rail in axis.rails}
        for pose in (0.0, axis.travel):
            moved = shifts(found, {axis.name: pose})
            for block in axis.blocks:
                rail = rails[block.rail]
                centre = [c + s for c, s in zip(block.centre, moved[block.body], strict=True)]
                foot = [c + s for c, s in zip(rail.start, moved[rail.body], strict=True)]
                along = dot(subtract(tuple(centre), tuple(foot)), axis.direction)  # type: ignore[arg-type]
                assert block.part.length is not None
                assert block.part.length / 2 <= along <= rail.length - block.part.length / 2, (block.path, pose)


def test_riding_rails_stand_on_the_head() -> None:
    z = machine("fixed_gantry").axis("z")
    assert z.rails_ride
    assert {rail.body for rail in z.rails} == {"head"}
    assert {block.body for block in z.blocks} == {"carriage"}
    assert {block.on for block in z.blocks} == {"carriage.plate"}
    rail = z.rails[0]
    assert rail.normal == pytest.approx((0, 1, 0))


def test_upright_rails_on_a_front_face_follow_the_guide_frame() -> None:
    x = machine("salvaged").axis("x")
    assert x.direction == (1, 0, 0)
    assert x.normal == pytest.approx((0, -1, 0))
    assert x.across == pytest.approx((0, 0, 1))
    upper, lower = (next(rail for rail in x.rails if rail.path.endswith(word)) for word in ("upper", "lower"))
    assert upper.start[2] - lower.start[2] == pytest.approx(0.120)


def test_work_side_axis_turns_its_sign() -> None:
    found = machine("fixed_gantry")
    assert {axis.name: axis.sign for axis in found.axes} == {"x": 1, "y": -1, "z": 1}
    assert shifts(found, {"y": found.axis("y").drawn + 0.1})["table"] == pytest.approx((0, -0.1, 0))


def test_a_slide_is_placed_from_foot_to_face() -> None:
    found = machine("salvaged")
    solids = {solid.path: solid for solid in found.solids}
    base, saddle, plate = solids["carriage.slide-base"], solids["head.saddle"], solids["carriage.plate"]
    assert plate.centre[1] - plate.size[2] / 2 == pytest.approx(base.centre[1] + base.size[2] / 2)
    assert (base.centre[1] + base.size[2] / 2) - (saddle.centre[1] - saddle.size[2] / 2) == pytest.approx(0.092)
    assert solids["axis.z.rail.left"].mass == 0.0
    assert base.mass == pytest.approx(5.8)
    assert saddle.mass == pytest.approx(2.7)


def test_planned_parts_are_priced_but_not_placed() -> None:
    found = machine("long_bed")
    assert [solid.path for solid in found.planned] == ["head.camera"]
    assert "head.camera" not in {solid.path for solid in found.solids}


def test_rails_on_two_bodies_are_refused() -> None:
    told = problems_of("salvaged", ("axis.x.rail.upper.on", "carriage.plate"))
    assert any("all must lie on gantry or all on carriage" in line for line in told)


def test_dangling_reference_names_the_nearest() -> None:
    told = problems_of("salvaged", ("axis.y.rail.left.on", "bed.strip-lefd"))
    assert any("no part 'bed.strip-lefd'; nearest: strip-left" in line or "nearest: bed.strip-left" in line for line in told)


def test_an_unknown_place_is_told_as_such() -> None:
    told = problems_of("salvaged", ("bed.member.left-side.to", "unknown"))
    assert any("unknown" in line for line in told)

"""Stiffen this first: changes of the demos, what they gain, weigh and cost."""

from dataclasses import replace
from pathlib import Path

import pytest

from gantrywright.base.samples import typical
from gantrywright.disciplines.structure.analyse import grid_of, tip_at
from gantrywright.disciplines.structure.change_bodies import larger_sections
from gantrywright.disciplines.structure.changes import changes, proposals
from gantrywright.disciplines.structure.loose import why_loose
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.results.structure import LETTERS
from gantrywright.study.stiffen import Gain, Stiffening, exported, stiffen
from gantrywright.study.study import Again, Study, run

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"
MACHINES = Path(__file__).parents[1] / "machines"
EVERY = (DEMO / "first-idea.toml", DEMO / "as-built.toml", DEMO / "bench.toml", *(MACHINES / f"{n}.toml" for n in ("fixed_gantry", "long_bed", "salvaged")))  # fmt: skip


def studied(path: Path) -> tuple[Study, Again]:
    resolve = again(read_document(path))
    return run(resolve({}, ())), resolve


@pytest.fixture(scope="module")
def first() -> tuple[Study, Again, Stiffening]:
    study, resolve = studied(DEMO / "first-idea.toml")
    found = stiffen(study, resolve)
    assert found is not None
    return study, resolve, found


def gain_of(found: Stiffening, words: str) -> Gain:
    return next(gain for gain in found.gains if words in gain.words)


@pytest.mark.parametrize("path", EVERY, ids=lambda path: path.stem)
def test_nearly_every_change_can_be_made_in_the_file(path: Path) -> None:
    study, resolve = studied(path)
    found = stiffen(study, resolve)
    assert found is not None
    assert len(found.gains) >= 10
    assert len(found.refused) <= 0.25 * (len(found.gains) + len(found.refused))
    assert all(each.reason for each in found.refused)


def test_each_soft_part_of_the_demo_has_a_change(first: tuple[Study, Again, Stiffening]) -> None:
    groups = {group for gain in first[2].gains for group in gain.groups}
    assert {
        "gantry.beam",
        "carriage.plate",
        "head.plate",
        "tool.cutter",
        "axis.x.blocks",
        "axis.x.drive.main",
        "bed.cross-1",
        "bed.top",
    } <= groups


def test_a_gain_is_that_of_the_whole_study_with_the_edit(first: tuple[Study, Again, Stiffening]) -> None:
    """The full study looks for the softest place again; the change leaves it where it was."""
    study, resolve, found = first
    gain = gain_of(found, "carriage.plate 20 mm")
    after = run(resolve({}, gain.edits)).results.structure.worst
    before = study.results.structure.worst
    assert before is not None
    assert after is not None
    assert after.pose == before.pose
    assert gain.least == pytest.approx(after.least, rel=1e-9)
    assert gain.gain == pytest.approx(1 - before.least / after.least, rel=1e-9)
    assert gain.gain > 0.05


def test_a_filled_beam_is_stiffer_and_heavier_and_nobody_knows_its_price(first: tuple[Study, Again, Stiffening]) -> None:
    gain = gain_of(first[2], "gantry.beam filled")
    assert gain.gain > 0.02
    assert gain.mass is not None
    assert gain.mass == pytest.approx(gain.moving)
    assert gain.mass > 5
    assert gain.cost is None
    assert gain.per_money is None


def test_what_all_the_load_runs_through_gains_no_more_than_it_holds() -> None:
    """Along X nothing but its drive holds the carriage: a change there that moves nothing is bound by the share."""
    study, resolve = studied(DEMO / "first-idea.toml")
    found = stiffen(study, resolve, "x")
    assert found is not None
    drives = [gain for gain in found.gains if gain.groups == ("axis.x.drive.main",)]
    assert len(drives) >= 2
    for gain in drives:
        assert 0 < gain.gain <= gain.share * (1 + 1e-9)


def test_a_thicker_plate_costs_by_its_mass(first: tuple[Study, Again, Stiffening]) -> None:
    gain = gain_of(first[2], "carriage.plate 20 mm")
    assert gain.estimated
    assert gain.cost == pytest.approx(38 * (20 / 15 - 1), rel=1e-6)
    assert gain.mass == pytest.approx(0.23 * 0.33 * 0.005 * 2700, rel=0.02)
    assert gain.cost
    assert gain.mass
    assert gain.per_kilogram == pytest.approx(gain.gain / gain.mass)
    assert gain.per_money == pytest.approx(gain.gain / gain.cost)


def test_a_part_that_is_owned_is_bought_anew_at_an_unknown_price(first: tuple[Study, Again, Stiffening]) -> None:
    assert gain_of(first[2], "bed cross members tube-80x80x5").cost is None


def test_what_is_only_moved_costs_nothing(first: tuple[Study, Again, Stiffening]) -> None:
    gain = gain_of(first[2], "tool 23 mm")
    assert (gain.cost, gain.mass, gain.estimated) == (0.0, 0.0, False)


def test_a_tool_is_never_gripped_by_its_flutes() -> None:
    for path in EVERY:
        study, resolve = studied(path)
        found = stiffen(study, resolve)
        assert found is not None
        tool = study.machine.tool
        assert tool is not None
        for gain in found.gains:
            for key, _ in gain.edits:
                if key == "tool.stick_out":
                    shorter = resolve({}, gain.edits).tool
                    assert shorter is not None
                    assert typical(tool.cutter.flute_length or 0.0) < typical(shorter.stick_out) < typical(tool.stick_out)


def test_orders_put_the_free_first_and_the_unknown_last(first: tuple[Study, Again, Stiffening]) -> None:
    found = first[2]
    ordered = [gain for gain in found.by("money") if gain.gain > 0]
    kinds = [2 if gain.cost is None else int(gain.cost > 0) for gain in ordered]
    assert kinds == sorted(kinds)
    assert {0, 1, 2} == set(kinds)
    paid = [gain.per_money or 0.0 for gain in ordered if gain.cost]
    assert paid == sorted(paid, reverse=True)
    assert [gain.gain for gain in found.gains] == sorted((gain.gain for gain in found.gains), reverse=True)


def test_together_is_better_than_each_alone(first: tuple[Study, Again, Stiffening]) -> None:
    found = first[2]
    assert found.together is not None
    assert found.together.gain > found.gains[0].gain
    assert len({path for path, _ in found.together.edits}) == len(found.together.edits)


def test_along_an_axis_is_told_where_that_axis_is_softest() -> None:
    study, resolve = studied(MACHINES / "fixed_gantry.toml")
    made = study.results.structure.grid
    assert made is not None
    elsewhere = 0
    for number, letter in enumerate(LETTERS):
        found = stiffen(study, resolve, letter)
        assert found is not None
        most = made.give[made.over][:, number, number].max()
        assert 1 / found.before.stiffness[number] == pytest.approx(most, rel=2e-3)
        elsewhere += found.before.pose != study.results.structure.worst.pose  # type: ignore[union-attr]
    assert elsewhere


def test_where_bearers_move_the_place_that_is_then_softest_counts() -> None:
    """Two more cross members put one under the place that was softest between two: that alone would promise too much."""
    study, resolve = studied(DEMO / "as-built.toml")
    found = stiffen(study, resolve, "z")
    assert found is not None
    gain = gain_of(found, "7 cross members instead of 5")
    after = resolve({}, gain.edits)
    made = grid_of(after)
    assert made is not None
    softest = 1 / made.give[made.over][:, 2, 2].max()
    same = tip_at(after, found.before.pose)
    assert same is not None
    assert gain.stiffness[2] == pytest.approx(min(softest, same.stiffness[2]), rel=2e-3)
    assert gain.stiffness[2] < 0.98 * same.stiffness[2]
    assert any("softest then" in note for note in gain.notes)


def test_along_an_axis_counts_that_axis() -> None:
    study, resolve = studied(DEMO / "bench.toml")
    for number, letter in enumerate(LETTERS):
        found = stiffen(study, resolve, letter)
        assert found is not None
        best = found.gains[0]
        assert best.gain == pytest.approx(1 - found.before.stiffness[number] / best.stiffness[number])


def test_a_body_that_was_weighed_whole_hides_what_a_change_weighs() -> None:
    study, resolve = studied(MACHINES / "long_bed.toml")
    found = stiffen(study, resolve)
    assert found is not None
    assert gain_of(found, "gantry.beam filled").mass is None


def test_a_change_that_runs_into_another_part_is_refused_with_the_reason() -> None:
    study, resolve = studied(MACHINES / "long_bed.toml")
    found = stiffen(study, resolve)
    assert found is not None
    reasons = {each.words: each.reason for each in found.refused}
    assert any("gantry.cross" in words and "gantry.base" in reason for words, reason in reasons.items())


@pytest.fixture(scope="module")
def odd() -> tuple[Study, Again, Stiffening]:
    """A bridge whose side plates the beam stands between, on foot plates over the blocks."""
    study, resolve = studied(MACHINES / "tube_bridge.toml")
    found = stiffen(study, resolve)
    assert found is not None
    return study, resolve, found


def test_a_plate_grows_on_its_free_side(odd: tuple[Study, Again, Stiffening]) -> None:
    """To both sides it would go into the beam: its middle moves outwards, the face against the beam stays, and so does its sibling's."""
    study, resolve, found = odd
    gain = gain_of(found, "bridge.side-left and bridge.side-right 20 mm thick instead of 15 mm")
    assert gain.gain > 0.1
    assert gain.groups == ("bridge.side-left", "bridge.side-right")
    old, new = ({p.path: p for p in m.plates} for m in (study.machine, resolve({}, gain.edits)))
    for path, inner in (("bridge.side-left", 1), ("bridge.side-right", -1)):
        faces = [machine[path].middle[0] + inner * machine[path].size[2] / 2 for machine in (old, new)]
        assert faces[0] == pytest.approx(faces[1], abs=1e-9)
        assert new[path].size[2] == pytest.approx(0.020)


def test_a_plate_never_grows_into_the_blocks_that_bear_it(odd: tuple[Study, Again, Stiffening]) -> None:
    refused = next(each for each in odd[2].refused if "bridge.foot-left and bridge.foot-right" in each.words)
    assert "into bridge.side-left" in refused.reason
    assert refused.share > 0.01
    assert not [gain for gain in odd[2].gains if "bridge.foot" in gain.words]


def test_both_mirrored_bars_are_named_and_what_is_in_the_way(odd: tuple[Study, Again, Stiffening]) -> None:
    _, resolve, found = odd
    gain = gain_of(found, "base.left and base.right tube-80x80x5")
    after = {member.path: member.use.part for member in resolve({}, gain.edits).members}
    assert after["base.left"] == after["base.right"] == "tube-80x80x5"
    reasons = {each.words: each.reason for each in found.refused}
    assert reasons["base.left and base.right tube-80x100x4 instead of tube-80x80x4"] == "base.left goes 10 mm into base.leg-l1"
    shares = [each.share for each in found.refused]
    assert shares == sorted(shares, reverse=True)


def test_a_part_that_hangs_loose_is_named(odd: tuple[Study, Again, Stiffening]) -> None:
    """Legs that a taller side runs into no longer carry it."""
    study, resolve, found = odd
    loose = resolve({}, (("base.member.left.section", "tube-80x100x4"),))
    assert why_loose(study.machine, found.before.pose) == ""
    assert why_loose(loose, found.before.pose) == "base.left is then joined to nothing"
    unheld = replace(study.machine, joints=tuple(joint for joint in study.machine.joints if joint.a != "bridge.beam"))
    assert why_loose(unheld, found.before.pose).startswith("bridge.")
    assert "joined to nothing" in why_loose(unheld, found.before.pose)
    hinged = tuple(
        replace(joint, stiffness=replace(joint.stiffness, rn=0.0, ra=0.0, rb=0.0)) if joint.a == "bridge.beam" else joint
        for joint in study.machine.joints
    )
    assert "can then move freely" in why_loose(replace(study.machine, joints=hinged), found.before.pose)


@pytest.mark.parametrize(
    ("key", "typed", "words"),
    [
        ("tool.stick_out", "1-1/8 in", "instead of 1-1/8 in"),
        ("tool.stick_out", "2.8 cm (2.7..2.9)", "instead of 2.8 cm"),
        ("head.size", "7 x 9 x 3/4 in", "head.plate 1 in thick instead of 3/4 in"),
        ("axis.z.blocks.spacing", "4-1/4 in", "apart instead of 4-1/4 in"),
        ("base.top.layers.1.thickness", "3/4 in", "plywood-birch of the top 1 in thick instead of 3/4 in"),
    ],
)
def test_what_was_typed_is_echoed_in_its_own_unit(odd: tuple[Study, Again, Stiffening], key: str, typed: str, words: str) -> None:
    machine = odd[1]({}, ((key, typed),))
    tip = tip_at(machine, odd[2].before.pose)
    assert tip is not None
    assert any(words in change.words for change in changes(machine, tip))


def test_without_a_structure_there_is_no_answer(first: tuple[Study, Again, Stiffening]) -> None:
    study, resolve, _ = first
    lacking = replace(study, results=replace(study.results, structure=replace(study.results.structure, worst=None)))
    assert stiffen(lacking, resolve) is None
    assert exported(None, study.machine)["gains"] == []


def test_parts_that_hold_little_are_left_alone(first: tuple[Study, Again, Stiffening]) -> None:
    study = first[0]
    tip = study.results.structure.worst
    assert tip is not None
    small = {share.group for share in tip.shares} - {group for p in proposals(study.machine, tip) for group in p.groups}
    assert "bed.left-side" in small


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("tslot-40x80-light", "tslot-40x80-heavy"),
        ("tslot-80x160-heavy", "tslot-90x180-heavy"),
        ("tube-80x80x4", "tube-80x80x5"),
        ("tube-al-80x160x5", "tube-al-100x200x5"),
        ("hss-3x3x3/16", "hss-3x3x1/4"),
    ],
)
def test_the_next_larger_section_is_of_the_same_family(old: str, new: str) -> None:
    assert new in [row.id for row in larger_sections(old)]


def test_no_section_is_larger_than_one_that_is_not_in_the_tables() -> None:
    assert larger_sections("my-own-profile") == ()

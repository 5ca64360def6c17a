"""Stiffen this first: changes of the demos, what they gain, weigh and cost."""

from dataclasses import replace
from pathlib import Path

import pytest

from gantrywright.base.samples import typical
from gantrywright.disciplines.structure.change_bodies import larger_sections
from gantrywright.disciplines.structure.changes import proposals
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
    assert len(found.refused) <= 0.25 * len(found.gains)
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

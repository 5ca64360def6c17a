"""Mistakes that show only when the whole machine is placed: each told once, with its line and what to write."""

import re
from pathlib import Path

import pytest
from helper_reading import told, with_changes

from gantrywright.base.errors import FileProblems, Problem
from gantrywright.base.quantities import parse
from gantrywright.intake.resolve import load_machine
from gantrywright.intake.starter import Answers, starter_text
from gantrywright.model.drives.belt import BeltDrive

MACHINES = Path(__file__).parents[1] / "machines"
L, S, F = "long_bed", "salvaged", "fixed_gantry"

MISTAKES: list[tuple[str, str, str, str, tuple[str, ...]]] = [
    # ---- parts that cannot be unknown
    (L, 'pulley = { part = "pulley-5m-24" }', 'pulley = "unknown"', "axis.y.drive.main.pulley", ("cannot be unknown", "the name of a pulley", "pitch, teeth")),
    (F, 'pinion = { part = "pinion-m2-20-helical"', 'pinion = { part = "unknown"', "axis.x.drive.main.pinion.part", ("cannot be unknown", "module, teeth")),
    (S, 'part = "ball-screw-1610"', 'part = "unknown"', "axis.x.drive.main.part", ("the name of a ball-screw", "diameter, root, lead")),
    (S, 'part = "ball-screw-2010"', 'part = "unknown"', "axis.y.drive.each.part", ("inherited by axis.y.drive.right.part, axis.y.drive.left.part",)),
    (L, 'part = "lead-screw-tr12x3"', 'part = "unknown"', "axis.z.drive.main.part", ("the name of a lead-screw",)),
    (L, 'section = "tslot-80x160-heavy"', 'section = "unknown"', "bed.member.spine.section", ("the name of a section",)),
    (L, 'each = { section = "tslot-80x80-light" }', 'each = { section = "unknown" }', "bed.member.each.section", ("cannot be unknown",)),
    (L, 'part = "block-20-flange"', 'part = "unknown"', "axis.y.blocks.part", ("the name of a block", "size, height")),
    (S, 'slide = { part = "slide-160-r15"', 'slide = { part = "unknown"', "axis.z.slide.part", ("the name of a slide",)),
    (L, 'section = "tslot-80x160-heavy"', 'section = "tslot-80x160-havy"', "bed.member.spine.section", ("nearest: tslot-80x160-heavy",)),
    # ---- readings
    (L, 'along = "x", at = "300, 1500, 0 mm"', 'along = "x", at = "300, 5000, 0 mm"', "measured.pull-x.at", ("does not reach Y 5000 mm", "0 mm to 3000 mm")),
    # ---- what a recipe hands on
    (S, 'material = "al-6082"\nshift', 'material = "al-608x"\nshift', "carriage.material", ("nearest: al-6082",)),
    (F, 'material = "mineral-casting"', 'material = "mineral-castin"', "bed.material", ("nearest: mineral-casting",)),
]  # fmt: skip


def problems_of(file: Path) -> tuple[Problem, ...]:
    """What keeps a file from being a machine."""
    with pytest.raises(FileProblems) as caught:
        load_machine(file)
    return caught.value.problems


@pytest.mark.parametrize(("name", "text", "mistake", "path", "words"), MISTAKES, ids=[f"{m[3]}: {m[2][:40]}" for m in MISTAKES])
def test_a_mistake_is_told_once_at_its_line(
    tmp_path: Path, name: str, text: str, mistake: str, path: str, words: tuple[str, ...]
) -> None:
    file, changed = with_changes(tmp_path, name, (text, mistake))
    (problem,) = problems_of(file)
    assert problem.path == path, problem
    assert mistake.splitlines()[0].split(" = ")[0] in changed.splitlines()[problem.line - 1]
    for word in words:
        assert word in problem.message, problem


STARTED: list[tuple[str, str, str]] = [
    ('side = "', "bed.side", "the name of a section"),
    ('section = "', "gantry.beam.section", "the name of a section"),
    ('uprights = { size = ', "gantry.uprights.material", "the name of a material"),
]  # fmt: skip


@pytest.mark.parametrize(("key", "path", "words"), STARTED)
def test_what_a_recipe_cannot_do_without_is_told_once(tmp_path: Path, key: str, path: str, words: str) -> None:
    lines = starter_text(Answers("First")).splitlines()
    number = next(index for index, line in enumerate(lines) if key in line)
    what = "material" if "uprights" in key else key.split(" ")[0]
    before, after = lines[number].split(f'{what} = "', 1)
    lines[number] = f'{before}{what} = "unknown"{after[after.index(chr(34)) + 1 :]}'
    file = tmp_path / "machine.toml"
    file.write_text("\n".join(lines), "utf-8")
    problems = problems_of(file)
    assert [(problem.path, problem.line) for problem in problems] == [(path, number + 1)], told(list(problems))
    assert words in problems[0].message


def test_an_unknown_part_may_bring_its_figures_itself(tmp_path: Path) -> None:
    file, _ = with_changes(
        tmp_path, L, ('pulley = { part = "pulley-5m-24" }', 'pulley = { part = "unknown", pitch = "5 mm", teeth = 24 }')
    )
    belt = load_machine(file).axis("y").drives[0].drive
    assert isinstance(belt, BeltDrive)
    assert (belt.pulley.pitch, belt.pulley.teeth) == (pytest.approx(0.005), 24)


HEADER = "id,title,source,basis,pitch [mm],width [mm]\n"


@pytest.mark.parametrize(
    ("table", "line", "words"),
    [
        (HEADER + "belt-my-5m-25,Mine,from memory,measured,5\n", 2, "1 cell is missing"),
        (HEADER + "belt-my-5m-25,Mine\n", 2, "4 cells are missing"),
        (HEADER + "belt-my-5m-25,Mine,from memory,measured,5,25,9\n", 2, "1 too many"),
        ((HEADER + "belt-my-5m-25,Mine,from memory,measured,5,25\n").replace(",", ";"), 1, "parted by semicolons"),
        (HEADER + "belt-my-5m-25,Mine,from memory,measured,five,25\n", 2, "five"),
    ],
)
def test_of_an_own_table_only_its_fault_is_told(tmp_path: Path, table: str, line: int, words: str) -> None:
    file, _ = with_changes(tmp_path, L, ('part = "belt-5m-25-steel"', 'part = "belt-my-5m-25"'))
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "belt.csv").write_text(table, "utf-8")
    (problem,) = problems_of(file)
    assert problem.file.endswith("belt.csv")
    assert problem.line == line
    assert words in problem.message


def test_a_key_that_was_meant_is_no_heir_of_its_mistake(tmp_path: Path) -> None:
    file, _ = with_changes(tmp_path, L, ('accuracy = "0.3 mm"', 'acuracy = "0.3 mm"'))
    (problem,) = problems_of(file)
    assert problem.message == "no key 'acuracy' here; nearest: accuracy"


def bridge(tmp_path: Path, old: str, new: str) -> Path:
    """The tube bridge with one text in place of another."""
    text = (MACHINES / "tube_bridge.toml").read_text("utf-8")
    assert old in text
    file = tmp_path / "machine.toml"
    file.write_text(text.replace(old, new), "utf-8")
    return file


def test_a_wall_without_a_unit_is_told_once_and_not_of_every_bar_that_has_it(tmp_path: Path) -> None:
    file = bridge(
        tmp_path,
        '[base.member.left]\nsection = "tube-80x80x4"',
        '[base.member.left]\nsection = { shape = "tube", width = "80 mm", height = "80 mm", wall = "4", material = "steel" }',
    )
    (problem,) = problems_of(file)
    assert problem.path == "base.member.left.section.wall"
    assert "has no unit" in problem.message


@pytest.mark.parametrize("wall", ["", 'wall = "unknown", '])
def test_a_wall_that_is_missing_or_unknown_is_told_with_what_to_write(tmp_path: Path, wall: str) -> None:
    file = bridge(
        tmp_path,
        '[base.member.left]\nsection = "tube-80x80x4"',
        f'[base.member.left]\nsection = {{ shape = "tube", width = "80 mm", height = "80 mm", {wall}material = "steel" }}',
    )
    said = [problem.message for problem in problems_of(file)]
    assert said
    for words in said:
        assert "lacks wall" in words
        assert "cannot be unknown: write" in words
        example = re.search('wall = "(.*?)"', words)
        assert example is not None
        assert parse(example[1], "length").value > 0


def test_an_outline_that_two_mirrored_plates_share_is_told_once(tmp_path: Path) -> None:
    file = bridge(
        tmp_path,
        'material = "steel-s235"\n[bridge.plate.side-right]',
        'material = "steel-s235"\noutline = "side.dxf, mm"\n[bridge.plate.side-right]',
    )
    (tmp_path / "side.dxf").write_text("no drawing", "utf-8")
    (problem,) = problems_of(file)
    assert problem.path == "bridge.plate.side-left.outline"

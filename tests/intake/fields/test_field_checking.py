"""The quick check of one text, and the rows that may be named."""

import time

import pytest
from helper_fields import opened

from gantrywright.base.errors import NotFound
from gantrywright.intake.document import parse_toml
from gantrywright.intake.fields import check_text, choices_of


@pytest.mark.parametrize(
    ("path", "text", "words"),
    [
        ("purpose.rapid", "abc", ("'abc'", "a speed", "more than 0 m/min", "12 m/min")),
        ("purpose.rapid", "3 kg", ("'3 kg'", "unit of mass and a speed is wanted", "more than 0")),
        ("purpose.rapid", "3", ("has no unit", "m/min")),
        ("bed.length", "-3 mm", ("'-3 mm'", "cannot be negative", "greater than 0", "12.7 mm")),
        ("bed.length", "0 mm", ("cannot be zero", "greater than 0")),
        ("axis.y.blocks.mass", "-1 kg", ("cannot be negative", "from 0 on")),
        ("bed.legs", "2.5", ("whole number", "more than 0")),
        ("job.frames.share", "120 %", ("'120 %'", "cannot be more than 1", "1 at most")),
        ("purpose.accuracy", "1e9 m", ("cannot be more than 25 mm", "greater than 0")),
        ("purpose.rapid", "unknown", ("cannot be unknown", "12 m/min")),
        ("axis.x.drive.main.ends", "fixd-free", ("none of fixed-free", "nearest: fixed-free")),
        ("axis.x.drive.main.offset.x", "3 kg", ("'3 kg'", "write")),
        ("axis.x.drive.main.motor.current", "5 A", ("5 A peak", "5 A rms")),
        ("bed.side", "tube-80x80x44", ("no section 'tube-80x80x44'", "nearest: tube-80x80x4")),
        ("axis.x.drive.main.part", "ball-screw-201", ("no ball-screw", "nearest: ball-screw-2010")),
        ("carriage.material", "al-608", ("no material", "al-6082")),
        ("axis.x.drive.main.supply", "gan", ("no supply 'gan'", "nearest: gantry")),
        ("bed.owned", "perhaps", ("true or false",)),
        ("bed.foot-left-1.at", "1, 2 mm", ("3 numbers are wanted and 2 read",)),
        ("bed", "3", ("is a table", "recipe")),
        ("bad", "3", ("nothing is called 'bad'", "nearest: bed")),
    ],
)  # fmt: skip
def test_refusals_say_what_was_read_what_is_allowed_and_what_to_write(path: str, text: str, words: tuple[str, ...]) -> None:
    document = opened("as-built")[0]
    problem = check_text(document, path, text)
    assert problem is not None
    assert problem.path == path
    assert problem.file == str(document.path)
    assert problem.line == document.line(path)
    for word in words:
        assert word in problem.message, problem.message
    assert "\n" not in problem.message


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("purpose.rapid", "300 in/min"), ("purpose.accuracy", "unknown"), ("axis.x.drive.main.bracket", "120 N/um (80..200)"),
        ("axis.x.drive.main.ends", "fixed-supported or supported-supported"), ("axis.x.drive.main.offset.x", "-12 mm"),
        ("bed.member.left-side.section", "tube-60x60x3"), ("bed.left-side.section", "tube-60x60x3"), ("bed.owned", "true"),
        ("measured.new.on", "2026-03-07"), ("axis.x.rail.upper.joined_at", '["500 mm", "1 m"]'), ("carriage.material", "steel"),
        ("axis.x.drive.main.motor", "stepper-23-76"), ("machine.revision", "2026-03-07"), ("axis.x.rail.upper.across", "-3 mm"),
    ],
)  # fmt: skip
def test_what_the_reader_takes_is_taken(path: str, text: str) -> None:
    assert check_text(opened("as-built")[0], path, text) is None


def test_a_measurement_reads_what_it_observes() -> None:
    text = b'format = 1\n[machine]\nname = "x"\nlayout = "moving-gantry"\n[measured.tone]\nobserve = "frequency"\n'
    document = parse_toml(text, opened("as-built")[0].path)
    assert check_text(document, "measured.tone.value", "21 Hz") is None
    problem = check_text(document, "measured.tone.value", "21 mm")
    assert problem is not None
    assert "frequency is wanted" in problem.message


def test_a_check_takes_a_few_milliseconds() -> None:
    document = opened("as-built")[0]
    taken = []
    for _ in range(10):
        start = time.process_time()
        check_text(document, "axis.x.drive.main.motor", "stepper-23-76")
        taken.append(time.process_time() - start)
    assert min(taken) < 0.005


def test_rows_come_with_their_numbers_in_the_units_of_the_machine() -> None:
    metric = {row.name: row for row in choices_of(opened("as-built")[0], "axis.x.drive.main.part")}
    inch = {row.name: row for row in choices_of(opened("bench")[0], "axis.x.drive.main.part")}
    assert dict(metric["ball-screw-2010"].numbers)["diameter"] == "20 mm"
    assert dict(inch["ball-screw-2010"].numbers)["diameter"] == "0.7874 in"
    assert "common practice" in metric["ball-screw-2010"].source
    assert metric["ball-screw-2010"].title == "Rolled ball screw 20 x 10"


def test_rows_that_fit_the_rail_come_first() -> None:
    rows = choices_of(opened("as-built")[0], "axis.x.blocks.part")
    sizes = [dict(row.numbers)["size"] for row in rows]
    count = sizes.count("20 mm")
    assert count
    assert set(sizes[:count]) == {"20 mm"}


def test_only_the_kind_that_fits_is_offered_and_own_rows_too() -> None:
    text = opened("as-built")[0].text + '\n[part.my-motor]\nlike = "stepper-23-76"\n'
    document = parse_toml(text.encode(), opened("as-built")[0].path)
    names = [row.name for row in choices_of(document, "axis.x.drive.main.motor.part")]
    assert "my-motor" in names
    assert "stepper-23-76" in names
    assert "ball-screw-2010" not in names
    assert "steel" in [row.name for row in choices_of(document, "carriage.material")]
    assert choices_of(document, "bed.length") == ()
    with pytest.raises(NotFound):
        choices_of(document, "bed.nonsense")

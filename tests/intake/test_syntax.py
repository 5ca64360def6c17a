"""What is told of a file that is not TOML: the line, what it lacks, and what to write instead."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import gantrywright.data
from gantrywright.base.errors import FileProblems, Problem
from gantrywright.intake.document import parse_toml

DEMO = (Path(gantrywright.data.__file__).parent / "demo" / "as-built.toml").read_text("utf-8")
WORDS_OF_THE_READER = ("Illegal character", "Unclosed", "Invalid value", "Invalid statement", "Expected", "Unterminated", "(at ")


def problem(text: str) -> Problem:
    with pytest.raises(FileProblems) as caught:
        parse_toml(text.encode(), Path("router.toml"))
    (found,) = caught.value.problems
    return found


@pytest.mark.parametrize(
    ("line", "words", "better"),
    [
        ('name = "Router', "a quote was opened and not closed", 'name = "Router"'),
        ("name = 'Router", "a quote was opened and not closed", "name = 'Router'"),
        ('width = "12 mm  # a first guess', "a quote was opened and not closed", 'width = "12 mm"  # a first guess'),
        ('width = 12 mm"', "a quote was closed and not opened", 'width = "12 mm"'),
        ("width = “12 mm”", "quotes must be straight", 'width = "12 mm"'),
        ("width = 12 mm", "needs quotes", 'width = "12 mm"'),
        ("width = 12mm", "needs quotes", 'width = "12mm"'),
        ("material = plywood", "needs quotes", 'material = "plywood"'),
        ("at = -40, 0, -150 mm", "needs quotes", 'at = "-40, 0, -150 mm"'),
        ('width = "12" mm', "something follows the closing quote", 'width = "12 mm"'),
        ('width = "12 mm",', "nothing may follow a value", 'width = "12 mm"'),
        ("slot = True", "written true and false", "slot = true"),
        ('width "12 mm"', "the = between key and value is missing", 'width = "12 mm"'),
        ("width 12 mm", "the = between key and value is missing", 'width = "12 mm"'),
        ("width: 12 mm", "not a colon", 'width = "12 mm"'),
        ("work area = 3", "a key is one word", "work_area = 3"),
        ("width =", "width has no value", 'width = "..."'),
        ("[bed", "the bracket of a heading is not closed", "[bed]"),
        ("[[bed.layers]", "the bracket of a heading is not closed", "[[bed.layers]]"),
        ("[job hard wood]", "a name in a heading is one word", "[job-hard-wood]"),
        ("[]", "a heading needs a name", ""),
        ("at = [1 2]", "a comma is missing before 2]", "at = [1, 2]"),
        ('feet = { part = "foot" count = 3 }', "a comma is missing before count = 3 }", 'feet = { part = "foot", count = 3 }'),
        ("feet = { count = 3, }", "no comma may stand before the closing }", "feet = { count = 3 }"),
        ("feet = { count = 3", "the bracket { of a table is not closed", "feet = { count = 3 }"),
        ("at = [1, 2", "the bracket [ of a list is not closed", "at = [1, 2 ]"),
        ('file = "c:\\parts"', "a backslash inside double quotes", 'file = "c:\\\\parts"'),
        ('width = "24""', "an inch mark", ""),
        ("// a note", "a comment starts with #", "# a note"),
        ("width = 3 // a note", "a comment starts with #", "width = 3 # a note"),
        ("width\u00a0= 3", "a blank in this line", "width = 3"),
        ('width = "3\x07"', "cannot be printed", ""),
        ("? width", "neither a heading [table] nor key = value", ""),
        ('le]gth = "3 mm"', "letters, digits, - and _ only", ""),
        ('feet = { part "foot", count = 3 }', "inside { } every key has an =", ""),
        ('width == "3 mm"', "a second = before the value", ""),
        ("feet = { count = 3, count = 4 }", "count stands twice", ""),
    ],
)  # fmt: skip
def test_a_broken_line_is_told_with_its_number_and_its_mend(line: str, words: str, better: str) -> None:
    found = problem(f'format = 1\n[machine]\n{line}\n[site]\nrules = "IEC"\n')
    assert found.line == 3, found
    assert words in found.message
    assert not any(word in found.message for word in WORDS_OF_THE_READER), found.message
    if better:
        assert f"write {better}" in found.message or better in found.message
        assert tomllib.loads(better) is not None


@pytest.mark.parametrize(
    "text", ["Buy screws.\nAsk about the rails\n", "- rails\n- blocks\n", "<html>\n<body>\n", '{"name": 1}\n', "note"]
)
def test_a_file_that_is_no_machine_file_is_told_so_in_one_sentence(text: str) -> None:
    found = problem(text)
    assert (found.line, found.message) == (
        0,
        "is no machine file: it has neither headings such as [machine] nor lines such as format = 1",
    )


@settings(max_examples=150, deadline=None)
@given(
    at=st.integers(0, len(DEMO) - 1), letter=st.sampled_from(["", '"', "'", "[", "]", "{", "}", "=", ",", "\n", "#", "\\", "\x00"])
)
def test_a_slip_anywhere_is_told_in_plain_words(at: int, letter: str) -> None:
    text = DEMO[:at] + letter + DEMO[at + 1 :]
    try:
        parse_toml(text.encode(), Path("router.toml"))
    except FileProblems as error:
        (found,) = error.problems
        assert 1 <= found.line <= text.count("\n") + 1
        assert "no machine file" not in found.message
        assert "\n" not in found.message
        advice = found.message.rpartition("; write ")[2] if "; write " in found.message else ""
        assert not advice or advice.startswith("a value such as") or tomllib.loads(advice) is not None

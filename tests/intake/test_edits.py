"""Edits change the text of one value and nothing else, and a file is written whole or not at all."""

import errno
import os
import shutil
import signal
import subprocess
import sys
import tomllib
from copy import deepcopy
from pathlib import Path

import pytest
from helper_reading import EXAMPLES, MACHINES
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gantrywright.base.errors import FileProblems, Unwritable
from gantrywright.intake.document import put, read_document, revise
from gantrywright.intake.edits import write_edits, written

TEXT = """\
format = 1
# a machine with comments everywhere

[machine]   # head
name = "Router"   # of the shop
layout = "moving-gantry"

# ---- Y
[axis.y]
home = { at = "least", sensor = "microswitch" }  # left front
[axis.y.rail]
each = { part = "rail-20", joined_at = ["1720 mm", "2 m"] }
left = { on = "bed.left" }   # the donor's

# ---- bodies
[bed.member]
right = { mirror = "left" }
[bed.member.left]
from = "40, 0, 780 mm"
to = "40, 2100, 780 mm"   # taped
[bed.member.left.holes]
old = { face = "top", pattern = "points", points = ["1, 2 mm"] }
[measured]
bow = { path = "bed.left.to.z", value = "781 mm", on = 2026-03-07 }
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "router.toml"
    path.write_text(TEXT, "utf-8")
    return path


def changed_lines(before: str, after: str) -> tuple[list[str], list[str]]:
    old, new = before.splitlines(), after.splitlines()
    return [line for line in old if line not in new], [line for line in new if line not in old]


CASES = [
    ("machine.name", "Mill", 'name = "Mill"   # of the shop'),
    ("machine.revision", "B", 'revision = "B"'),
    ("axis.y.home.at", "most", 'home = { at = "most", sensor = "microswitch" }  # left front'),
    ("axis.y.home.each_drive", "true", 'home = { at = "least", sensor = "microswitch", each_drive = true }  # left front'),
    ("axis.y.home.sensor.repeat", "5 um", 'home = { at = "least", sensor = { part = "microswitch", repeat = "5 um" } }  # left front'),
    ("axis.y.rail.left.part", "rail-25", 'left = { on = "bed.left", part = "rail-25" }   # the donor\'s'),
    ("axis.y.rail.right.on", "bed.right", 'right.on = "bed.right"'),
    ("axis.y.rail.each.joined_at.2", "1900 mm", 'each = { part = "rail-20", joined_at = ["1720 mm", "1900 mm"] }'),
    ("bed.member.left.to.z", "781 mm", 'to = "40 mm, 2100 mm, 781 mm"   # taped'),
    ("bed.member.left.holes.old.size", '1/2"', "old = { face = \"top\", pattern = \"points\", points = [\"1, 2 mm\"], size = '1/2\"' }"),
    ("measured.bow.on", "2026-03-08", 'bow = { path = "bed.left.to.z", value = "781 mm", on = 2026-03-08 }'),
    ("measured.bow.use", "false", 'bow = { path = "bed.left.to.z", value = "781 mm", on = 2026-03-07, use = false }'),
    ("measured.bow.on", None, 'bow = { path = "bed.left.to.z", value = "781 mm" }'),
    ("axis.x.travel", "1 m", 'travel = "1 m"'),
]  # fmt: skip


@pytest.mark.parametrize(("path", "text", "line"), CASES, ids=[f"{c[0]}={c[1]}" for c in CASES])
def test_an_edit_changes_one_line(file: Path, path: str, text: str | None, line: str) -> None:
    write_edits(file, [(path, text)])
    after = file.read_text("utf-8")
    gone, come = changed_lines(TEXT, after)
    assert line in come
    assert len(gone) <= 1
    assert len([new for new in come if not new.startswith("[")]) == 1
    assert [c for c in TEXT.splitlines() if c.startswith("#")] == [c for c in after.splitlines() if c.startswith("#")]


def test_a_new_key_goes_after_the_last_key_and_not_behind_the_next_heading(file: Path) -> None:
    write_edits(file, [("machine.revision", "B")])
    lines = file.read_text("utf-8").splitlines()
    assert lines[lines.index('layout = "moving-gantry"') + 1] == 'revision = "B"'


def test_taking_out_a_table_leaves_the_others(file: Path) -> None:
    write_edits(file, [("bed.member.left.holes", None)])
    tree = tomllib.loads(file.read_text("utf-8"))
    assert "holes" not in tree["bed"]["member"]["left"]
    assert "bow" in tree["measured"]


def test_several_edits_at_once(file: Path) -> None:
    write_edits(
        file, [("machine.name", "Mill"), ("axis.y.travel", "2 m"), ("tool.cutter", "end-mill-6"), ("tool.stick_out", "30 mm")]
    )
    tree = tomllib.loads(file.read_text("utf-8"))
    assert (tree["machine"]["name"], tree["axis"]["y"]["travel"]) == ("Mill", "2 m")
    assert tree["tool"] == {"cutter": "end-mill-6", "stick_out": "30 mm"}


def test_line_ends_and_mode_stay(file: Path) -> None:
    file.write_bytes(TEXT.replace("\n", "\r\n").encode())
    file.chmod(0o640)
    write_edits(file, [("machine.name", "Mill")])
    raw = file.read_bytes()
    assert raw.count(b"\r\n") == raw.count(b"\n") == TEXT.count("\n")
    assert file.stat().st_mode & 0o777 == 0o640


def test_an_impossible_edit_writes_nothing(file: Path) -> None:
    with pytest.raises(FileProblems, match="nothing was written"):
        write_edits(file, [("machine.name", "Mill"), ("axis.y.rail.each.joined_at.7", "1 m")])
    assert file.read_text("utf-8") == TEXT


@pytest.mark.parametrize("fails", ["fsync", "replace", "fdopen"])
def test_a_full_disk_leaves_the_old_file_and_no_litter(file: Path, monkeypatch: pytest.MonkeyPatch, fails: str) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(f"gantrywright.base.files.os.{fails}", full)
    with pytest.raises(Unwritable, match="No space left on device"):
        write_edits(file, [("machine.name", "Mill")])
    assert file.read_text("utf-8") == TEXT
    assert [p.name for p in file.parent.iterdir()] == ["router.toml"]


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no SIGKILL here")
def test_a_killed_writer_leaves_the_old_file(file: Path) -> None:
    code = (
        "import os, signal, sys\n"
        "from gantrywright.base import files\n"
        "from gantrywright.intake import edits\n"
        "files.os.fsync = lambda _: os.kill(os.getpid(), signal.SIGKILL)\n"
        "edits.write_edits(sys.argv[1], [('machine.name', 'Mill')])\n"
    )
    source = str(Path(__file__).parents[2] / "src")
    done = subprocess.run([sys.executable, "-c", code, str(file)], env={**os.environ, "PYTHONPATH": source}, check=False)
    assert done.returncode == -signal.SIGKILL
    assert file.read_text("utf-8") == TEXT


def paths_of(tree: dict[str, object], prefix: str = "") -> list[str]:
    found = []
    for key, value in tree.items():
        path = f"{prefix}.{key}" if prefix else key
        found.extend(paths_of(value, path) if isinstance(value, dict) else [path])
    return found


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_value_of_an_example_can_be_set_and_taken_out(name: str, tmp_path: Path) -> None:
    original = MACHINES / f"{name}.toml"
    tree = tomllib.loads(original.read_text("utf-8"))
    file = tmp_path / original.name
    paths = paths_of(tree)
    for text in ("a 'new' value", None):
        for path in paths[text is None :: 9]:
            shutil.copy(original, file)
            write_edits(file, [(path, text)])
            intended = deepcopy(tree)
            put(intended, path.split("."), text)
            assert tomllib.loads(file.read_text("utf-8")) == intended
            assert file.read_text("utf-8").count("#") == original.read_text("utf-8").count("#")


@given(st.text(max_size=40))
def test_any_text_is_written_so_that_it_reads_back(text: str) -> None:
    if not any(0xD800 <= ord(c) <= 0xDFFF for c in text):
        assert tomllib.loads(f"x = {written(text)}")["x"] == text


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None)
@given(
    st.lists(
        st.sampled_from(["axis", "y", "rail", "left", "machine", "name", "bed", "member", "x", "home", "new"]),
        min_size=1,
        max_size=5,
    ),
    st.text(max_size=8),
)
def test_any_path_is_set_as_asked_or_refused(tmp_path: Path, keys: list[str], text: str) -> None:
    if any(0xD800 <= ord(c) <= 0xDFFF for c in text):
        return
    file = tmp_path / "router.toml"
    file.write_text(TEXT, "utf-8")
    try:
        write_edits(file, [(".".join(keys), text)])
    except FileProblems:
        assert file.read_text("utf-8") == TEXT
    else:
        intended = tomllib.loads(TEXT)
        put(intended, list(keys), text if text not in ("true", "false") else text == "true")
        assert tomllib.loads(file.read_text("utf-8")) == intended


def test_revising_in_memory_and_on_disk_agree(file: Path) -> None:
    edits = [
        ("axis.y.home.sensor.repeat", "5 um"),
        ("bed.member.left.to.z", "781 mm"),
        ("measured.bow", None),
        ("axis.z.travel", "1 m"),
    ]
    revised = revise(read_document(file), edits)
    write_edits(file, edits)
    assert read_document(file).tree == revised.tree

"""Files are written whole or not at all."""

import os
from pathlib import Path

import pytest

from gantrywright.base.errors import Unwritable
from gantrywright.base.files import write_new, write_whole


def test_a_file_is_replaced(tmp_path: Path) -> None:
    target = tmp_path / "a.toml"
    target.write_text("old", "utf-8")
    write_whole(target, "new µ\n")
    assert target.read_text("utf-8") == "new µ\n"
    assert [p.name for p in tmp_path.iterdir()] == ["a.toml"]


def test_a_full_disk_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "a.toml"
    target.write_text("old", "utf-8")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Unwritable, match="No space left on device"):
        write_whole(target, "new")
    assert target.read_text("utf-8") == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["a.toml"]


def test_a_new_file_never_replaces_one(tmp_path: Path) -> None:
    write_new(tmp_path / "deep" / "a.toml", "one")
    with pytest.raises(Unwritable, match="is there already"):
        write_new(tmp_path / "deep" / "a.toml", "two")
    assert (tmp_path / "deep" / "a.toml").read_text("utf-8") == "one"


def test_a_missing_folder_is_named_and_nothing_is_said_of_a_file_that_was_not_there(tmp_path: Path) -> None:
    with pytest.raises(Unwritable, match="there is no folder") as caught:
        write_whole(tmp_path / "none" / "view.json", "{}")
    assert "as it was" not in str(caught.value)

"""One machine file on the desk: changes, undo, what is refused, what others did to the file."""

from pathlib import Path

import pytest

from gantrywright.base.errors import FileProblems, Unwritable
from gantrywright.board import desk as desk_module
from gantrywright.board.book import Book
from gantrywright.board.desk import Desk, NothingToDo, Outside
from gantrywright.findings import Status
from gantrywright.intake.resolve import again, resolve
from gantrywright.study.promises import promises
from gantrywright.study.study import Study, run, settle

MACHINE = Path(__file__).parents[1] / "machines" / "fixed_gantry.toml"
WIDTH = "axis.x.drive.main.length"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    copy = tmp_path / "router.toml"
    copy.write_text(MACHINE.read_text() + "\n# my note at the end\n")
    for beside in ("shop.toml",):
        (tmp_path / beside).write_text((MACHINE.parent / beside).read_text())
    return copy


def rapid(desk: Desk) -> float | None:
    assert desk.sheet.study is not None
    return {(p.subject, p.what): p.value for p in promises(desk.sheet.study)}[("axis.x", "rapid")]


def setting(desk: Desk, path: str) -> str:
    tree = desk.sheet.document.tree  # type: ignore[union-attr]
    for key in path.split("."):
        tree = tree[key]
    return tree  # type: ignore[return-value]


def test_a_change_is_written_with_its_comments_and_answered(path: Path) -> None:
    desk = Desk(path)
    before, rev, text = rapid(desk), desk.sheet.rev, path.read_text()
    desk.edit([("purpose.accuracy", "0.07 mm")], "accuracy 0.07 mm")
    assert 'accuracy = "0.07 mm"' in path.read_text()
    assert path.read_text().endswith("# my note at the end\n")
    assert desk.sheet.rev > rev
    assert desk.sheet.answers == desk.sheet.rev
    assert rapid(desk) == before
    assert desk.undo() == "accuracy 0.07 mm"
    assert path.read_text() == text
    assert desk.redo() == "accuracy 0.07 mm"
    assert setting(desk, "purpose.accuracy") == "0.07 mm"


def test_what_makes_no_machine_is_refused_and_changes_nothing(path: Path) -> None:
    desk = Desk(path)
    text, sheet = path.read_text(), desk.sheet
    with pytest.raises(FileProblems, match=r"purpose\.accuracy"):
        desk.edit([("purpose.accuracy", "0.1 kg")], "a mistake")
    with pytest.raises(FileProblems):
        desk.preview([("purpose.accuracy", "1-1/")])
    assert path.read_text() == text
    assert desk.sheet is sheet
    with pytest.raises(NothingToDo):
        desk.undo()


def test_a_preview_answers_and_writes_nothing(path: Path) -> None:
    desk = Desk(path)
    text = path.read_text()
    study = desk.preview([("axis.x.rapid", "5 m/min")])
    assert study.machine.axis("x").rapid == pytest.approx(5 / 60)
    assert path.read_text() == text
    assert desk.sheet.study.machine.axis("x").rapid != pytest.approx(5 / 60)  # type: ignore[union-attr]


def test_a_change_that_was_previewed_is_not_worked_out_twice(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = Desk(path)
    desk.preview([("purpose.accuracy", "0.06 mm")])
    previewed = desk.preview([("purpose.accuracy", "0.07 mm")])
    monkeypatch.setattr(desk_module, "glance", lambda *_: pytest.fail("worked out again"))
    desk.edit([("purpose.accuracy", "0.07 mm")], "mine")
    assert desk.sheet.study.results is previewed.results  # type: ignore[union-attr]
    monkeypatch.undo()
    desk.edit([("purpose.accuracy", "0.06 mm")], "another")  # a preview of an older text does not count
    assert desk.sheet.study.machine.purpose.accuracy == pytest.approx(0.06e-3)  # type: ignore[union-attr]


def test_history_goes_on_where_it_was_left(path: Path) -> None:
    desk = Desk(path)
    desk.edit([("purpose.accuracy", "0.07 mm")], "first")
    desk.edit([("purpose.accuracy", "0.06 mm"), ("purpose.budget", "900 EUR")], "second")
    kept = desk.keep("thin", "the cheap one")
    desk.book.close()  # type: ignore[union-attr]
    again = Desk(path)
    assert again.undo() == "second"
    assert again.undo() == "first"
    with pytest.raises(NothingToDo):
        again.undo()
    one = again.book.kept_one(kept)  # type: ignore[union-attr]
    assert one is not None
    again.replace_text(one.text, "back to thin")
    assert setting(again, "purpose.accuracy") == "0.06 mm"
    assert again.undo() == "back to thin"


def test_two_quick_changes_of_one_value_are_one_step(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = Desk(path)
    monkeypatch.setattr(desk_module, "JOIN", 3600.0)  # quick enough on any machine
    for hundredths in (9, 8, 7):
        desk.edit([("purpose.accuracy", f"0.0{hundredths} mm")], "accuracy")
    assert len(desk.book.steps()) == 1  # type: ignore[union-attr]
    monkeypatch.setattr(desk_module, "JOIN", 0.0)
    desk.edit([("purpose.accuracy", "0.05 mm")], "accuracy")
    assert len(desk.book.steps()) == 2  # type: ignore[union-attr]


def test_a_file_that_others_changed_is_never_overwritten(path: Path) -> None:
    desk = Desk(path)
    theirs = path.read_text().replace("# my note at the end", "# their note")
    path.write_text(theirs)
    assert desk.disk() == "changed"
    with pytest.raises(Outside):
        desk.edit([("purpose.accuracy", "0.07 mm")], "mine")
    assert path.read_text() == theirs
    desk.take_theirs()
    assert desk.disk() == "same"
    assert desk.sheet.text == theirs
    assert "outside" in desk.undo()
    assert "# my note at the end" in path.read_text()


def test_a_file_that_is_gone_is_written_again_whole_by_the_next_change(path: Path) -> None:
    desk = Desk(path)
    mine = path.read_text()
    path.unlink()
    assert desk.disk() == "gone"
    desk.edit([("purpose.accuracy", "0.07 mm")], "after it was gone")
    assert desk.disk() == "same"
    assert 'accuracy = "0.07 mm"' in path.read_text()
    assert len(path.read_text().splitlines()) == len(mine.splitlines())
    path.unlink()
    assert desk.undo() == "after it was gone"
    assert path.read_text() == mine


def test_a_file_that_cannot_be_read_is_not_overwritten(path: Path) -> None:
    desk = Desk(path)
    path.write_bytes(b"\xff\xfe of another program")
    with pytest.raises(Outside, match="cannot be read"):
        desk.edit([("purpose.accuracy", "0.07 mm")], "mine")
    assert path.read_bytes() == b"\xff\xfe of another program"


def test_a_typo_from_outside_leaves_the_last_whole_text_to_look_at_and_to_go_back_to(path: Path) -> None:
    desk = Desk(path)
    desk.edit([("purpose.accuracy", "0.07 mm")], "accuracy 0.07 mm")
    whole = path.read_text()
    path.write_text(whole.replace("[purpose]", "[purpose"))
    desk.take_theirs()
    for seen in (desk, Desk(path)):  # also where it is opened like that
        assert seen.sheet.document is None
        assert seen.sheet.good is not None
        assert seen.sheet.good.text == whole
        assert seen.sheet.problems[0].line > 0
    assert desk.sheet.steps == 1  # of which the answers are; the typo is one more
    assert desk.book.count_done() == 2  # type: ignore[union-attr]
    desk.take_whole()
    assert path.read_text() == whole
    assert desk.sheet.problems == ()
    assert desk.sheet.steps == 3


def test_ours_can_win_and_theirs_is_set_aside(path: Path) -> None:
    desk = Desk(path)
    mine, theirs = path.read_text(), path.read_text() + "# theirs\n"
    path.write_text(theirs)
    desk.take_mine()
    assert path.read_text() == mine
    assert [one.text for one in desk.book.aside()] == [theirs]  # type: ignore[union-attr]


def test_a_change_while_nobody_looked_is_a_step(path: Path) -> None:
    desk = Desk(path)
    desk.edit([("purpose.accuracy", "0.07 mm")], "mine")
    desk.book.close()  # type: ignore[union-attr]
    path.write_text(path.read_text() + "# by hand\n")
    again = Desk(path)
    assert "outside" in again.undo()
    assert again.undo() == "mine"


def test_a_broken_file_keeps_the_last_answers_and_can_be_mended_here(path: Path) -> None:
    desk = Desk(path)
    good = desk.sheet.answers
    path.write_text(path.read_text().replace('layout = "fixed-gantry"', 'layout = "sideways"'))
    desk.take_theirs()
    assert desk.sheet.problems
    assert (desk.sheet.answers, desk.sheet.study is not None) == (good, True)
    desk.edit([("machine.layout", "fixed-gantry")], "layout mended")
    assert not desk.sheet.problems
    assert desk.sheet.answers == desk.sheet.rev


def test_a_full_disk_loses_nothing(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = Desk(path)
    text, sheet = path.read_text(), desk.sheet

    def full(where: Path, what: str) -> None:
        raise Unwritable(f"{where} could not be written (no space left on device); it is as it was")

    monkeypatch.setattr(desk_module, "write_whole", full)
    with pytest.raises(Unwritable, match="no space"):
        desk.edit([("purpose.accuracy", "0.07 mm")], "mine")
    assert (path.read_text(), desk.sheet) == (text, sheet)
    assert desk.book.steps() == []  # type: ignore[union-attr]


def test_a_history_that_cannot_be_written_does_not_stop_a_change(path: Path) -> None:
    path.with_name("router.history.sqlite").write_bytes(b"not a history at all, whatever it may be called")
    desk = Desk(path)
    assert "history" in desk.sheet.trouble
    desk.edit([("purpose.accuracy", "0.07 mm")], "mine")
    assert 'accuracy = "0.07 mm"' in path.read_text()
    assert "history" in desk.sheet.trouble


def test_a_history_that_fails_after_the_file_was_written_leaves_the_change(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The disk is full for the history alone: the file has the change, the desk shows it, the trouble is told."""
    desk = Desk(path)

    def full(*_: object, **__: object) -> None:
        raise Unwritable("the history cannot be used (database or disk is full)")

    monkeypatch.setattr(Book, "done", full)
    desk.edit([("purpose.accuracy", "0.07 mm")], "mine")
    assert 'accuracy = "0.07 mm"' in path.read_text()
    assert setting(desk, "purpose.accuracy") == "0.07 mm"
    assert "disk is full" in desk.sheet.trouble


def test_killed_between_book_and_file(path: Path) -> None:
    """The process was killed after the step was written down: the text of the file says what happened."""
    book = Book(path)
    text = path.read_text()
    book.mean("never written", (), text, text + "# new\n")
    book.close()
    desk = Desk(path)
    with pytest.raises(NothingToDo):
        desk.undo()
    assert desk.sheet.text == text


def test_an_old_settled_study_is_not_shown_as_new(path: Path) -> None:
    desk = Desk(path)
    old, study = desk.sheet.answers, desk.sheet.study
    desk.edit([("purpose.accuracy", "0.07 mm")], "mine")
    now = desk.sheet.study
    desk.settled(old, study)
    assert desk.sheet.study is now
    desk.settled(desk.sheet.answers, study)
    assert desk.sheet.study is study


def test_the_verdict_does_not_jump_while_the_spread_of_a_change_is_worked_out(path: Path) -> None:
    path.write_text((MACHINE.parents[2] / "src" / "gantrywright" / "data" / "demo" / "first-idea.toml").read_text())
    desk = Desk(path)

    def counts() -> dict[str, int]:
        assert desk.sheet.study is not None
        return {str(status): desk.sheet.study.count(status) for status in Status}

    def whole() -> tuple[Study, Study]:
        assert desk.sheet.document is not None
        typical = run(resolve(desk.sheet.document))
        return typical, settle(typical, again(desk.sheet.document), count=64)

    typical, spread = whole()
    desk.settled(desk.sheet.rev, spread)
    settled = counts()
    desk.edit([("purpose.feed", "3.99 m/min")], "a hair slower")
    assert counts() == settled
    typical, spread = whole()
    desk.settled(desk.sheet.rev, typical)
    assert desk.sheet.study is not None
    assert not desk.sheet.study.settled
    assert len(typical.findings) < len(spread.findings)
    assert counts() == settled
    assert desk.sheet.sure is not None
    desk.settled(desk.sheet.rev, spread)
    assert counts() == settled

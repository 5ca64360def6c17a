"""The history beside a machine file."""

import sqlite3
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.base.errors import Unwritable
from gantrywright.board.book import Book


@pytest.fixture
def machine(tmp_path: Path) -> Path:
    return tmp_path / "router.toml"


def changed(book: Book, before: str, after: str) -> int:
    number = book.mean("change", ("a",), before, after)
    book.done(number)
    return number


def test_lies_beside_the_file_and_survives_being_closed(machine: Path) -> None:
    book = Book(machine)
    changed(book, "one", "two")
    kept = book.keep("first idea", "before the plates", "two")
    book.close()
    again = Book(machine)
    assert again.path == machine.with_name("router.history.sqlite")
    step = again.last_done()
    assert step is not None
    assert (step.before, step.after, step.label, step.paths) == ("one", "two", "change", ("a",))
    one = again.kept_one(kept)
    assert one is not None
    assert (one.name, one.note, one.text) == ("first idea", "before the plates", "two")


def test_a_change_that_was_undone_can_be_redone_until_another_is_made(machine: Path) -> None:
    book = Book(machine)
    first = changed(book, "0", "1")
    second = changed(book, "1", "2")
    book.mark(second, "undone")
    book.mark(first, "undone")
    redo = book.first_undone()
    assert redo is not None
    assert redo.id == first
    changed(book, "0", "3")
    assert book.first_undone() is None
    assert {(step.id, step.state) for step in book.steps()} >= {(first, "left"), (second, "left")}


@pytest.mark.parametrize(("text", "there"), [("two", True), ("one", False), ("something else", False)])
def test_a_change_caught_by_a_power_cut_is_settled_by_what_the_file_says(machine: Path, text: str, there: bool) -> None:
    book = Book(machine)
    book.mean("change", (), "one", "two")
    book.close()  # the power went here: nobody knows whether the file was written
    again = Book(machine)
    again.reconciled(text)
    assert (again.last_done() is not None) is there
    assert len(again.steps()) == there


def test_two_quick_changes_of_one_value_are_one_step(machine: Path) -> None:
    book = Book(machine)
    first = changed(book, "1", "12")
    second = book.mean("change", ("a",), "12", "123")
    book.done(second, joins=first)
    assert [(step.before, step.after) for step in book.steps()] == [("1", "123")]


def test_a_dropped_state_is_set_aside(machine: Path) -> None:
    book = Book(machine)
    number = book.keep("thin plates", "", "text")
    book.forget(number)
    assert book.kept() == []
    assert [one.text for one in book.aside()] == ["text"]


def test_a_dropped_state_costs_no_step_and_its_number_is_not_given_again(machine: Path) -> None:
    book = Book(machine)
    changed(book, "one", "two")
    first = book.keep("first", "", "two")
    second = book.keep("second", "", "two")
    steps = book.steps()
    book.forget(second)
    assert book.steps() == steps
    book.close()
    again = Book(machine)
    third = again.keep("third", "", "two")
    assert third not in (first, second)
    assert again.names() == [(third, "third"), (first, "first")]


def test_two_kept_states_never_have_the_same_name(machine: Path) -> None:
    book = Book(machine)
    first, second, third = (book.keep("thin", "", text) for text in ("one", "two", "three"))
    assert book.names() == [(third, "thin (3)"), (second, "thin (2)"), (first, "thin")]
    assert book.rename(third, "thin") == "thin (3)"
    assert book.rename(first, "thick") == "thick"
    assert book.rename(third, "thin") == "thin"
    assert book.names() == [(third, "thin"), (second, "thin (2)"), (first, "thick")]
    assert [one.text for one in book.kept()] == ["three", "two", "one"]


def test_what_changes_are_told_against_is_remembered(machine: Path) -> None:
    book = Book(machine)
    assert book.chosen() is None
    first, second = book.keep("first", "", "one"), book.keep("second", "", "two")
    assert book.chosen() == second
    book.choose(first)
    book.close()
    assert Book(machine).chosen() == first


def test_a_history_of_before_there_was_a_choice_opens(machine: Path) -> None:
    book = Book(machine)
    kept = book.keep("first", "", "one")
    book._base.execute("DROP TABLE mark")
    book.close()
    again = Book(machine)
    assert (again.chosen(), again.names()) == (None, [(kept, "first")])


def test_trouble_is_told_in_words(machine: Path) -> None:
    machine.with_name("router.history.sqlite").write_bytes(b"this is no history of anything, but longer than a header")
    with pytest.raises(Unwritable, match=r"router\.history\.sqlite cannot be used"):
        Book(machine)


def test_a_newer_history_is_left_alone(machine: Path) -> None:
    Book(machine).close()
    base = sqlite3.connect(machine.with_name("router.history.sqlite"))
    base.execute("PRAGMA user_version = 9")
    base.close()
    with pytest.raises(Unwritable, match="newer program"):
        Book(machine)


def test_a_failed_change_leaves_no_trace(machine: Path) -> None:
    book = Book(machine)
    number = book.mean("change", (), "one", "two")
    book.never_mind(number)
    assert book.steps() == []


@given(st.lists(st.sampled_from(["change", "undo", "redo"]), max_size=30))
def test_undo_and_redo_walk_the_texts_that_were(tmp_path_factory: pytest.TempPathFactory, walk: list[str]) -> None:
    """Against two plain stacks of texts."""
    book = Book(tmp_path_factory.mktemp("walk") / "m.toml")
    text, past, future = "0", [], []  # type: str, list[str], list[str]
    for count, action in enumerate(walk, 1):
        if action == "change":
            changed(book, text, str(count))
            past.append(text)
            future.clear()
            text = str(count)
        elif action == "undo":
            step = book.last_done()
            assert (step is None) == (not past)
            if step is not None:
                book.mark(step.id, "undone")
                future.append(text)
                text = step.before
                assert text == past.pop()
        else:
            step = book.first_undone()
            assert (step is None) == (not future)
            if step is not None:
                book.mark(step.id, "done")
                past.append(text)
                text = step.after
                assert text == future.pop()
    book.close()

"""The history of one machine file: every step, every state that was kept, every text that was set aside. One SQLite file beside it.

A step is written down before the machine file is touched and marked as done after it, so that a crash between the two is told from the
text of the file when the book is opened again. The book itself is not forced to the disk at every step (the machine file is): a power cut
may cost it the last moments, which the file then tells of as a change made outside.
"""

import sqlite3
import time
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from threading import RLock

from gantrywright.base.errors import Unwritable

SUFFIX = ".history.sqlite"
FORMAT = 1
AS_OPENED = 0
"""Chosen in place of a kept state: the machine as it was opened."""

_TABLES = """
CREATE TABLE IF NOT EXISTS step (
    id INTEGER PRIMARY KEY, label TEXT NOT NULL, paths TEXT NOT NULL, before BLOB NOT NULL, after BLOB NOT NULL, at REAL NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('meant', 'done', 'undone', 'left'))
);
CREATE TABLE IF NOT EXISTS kept (id INTEGER PRIMARY KEY, name TEXT NOT NULL, note TEXT NOT NULL, text BLOB NOT NULL, at REAL NOT NULL);
CREATE TABLE IF NOT EXISTS aside (id INTEGER PRIMARY KEY, why TEXT NOT NULL, text BLOB NOT NULL, at REAL NOT NULL);
CREATE TABLE IF NOT EXISTS mark (name TEXT PRIMARY KEY CHECK (name IN ('chosen', 'forgotten')), kept INTEGER NOT NULL);
"""


@dataclass(frozen=True, slots=True)
class Step:
    """One change of the machine file."""

    id: int
    label: str
    paths: tuple[str, ...]
    """What it set; two quick changes of the same are one step."""
    before: str
    after: str
    at: float
    """Seconds since 1970."""
    state: str
    """done, undone (redo brings it back) or left (another change was made after it had been undone)."""

    def beside(self, *, before: bool) -> tuple[str, str]:
        """The text before it or after it, and what that is called."""
        return (self.before, f"the state before: {self.label}") if before else (self.after, f"the state after: {self.label}")


@dataclass(frozen=True, slots=True)
class Kept:
    """A text with a name: a state that somebody wanted to keep, or one that was set aside."""

    id: int
    name: str
    note: str
    text: str
    at: float


class Book:
    """The history beside a machine file. Every method raises `Unwritable` where the disk does not play along."""

    def __init__(self, machine: Path) -> None:
        """Open or start the history of a machine file."""
        self.path = machine.with_name(machine.stem + SUFFIX)
        self._lock = RLock()
        with self._told():
            self._base = sqlite3.connect(self.path, check_same_thread=False, isolation_level=None, timeout=5)
            self._base.execute("PRAGMA journal_mode = WAL")
            self._base.execute("PRAGMA synchronous = NORMAL")
            self._base.executescript(_TABLES)
            known = self._base.execute("PRAGMA user_version").fetchone()[0]
            if known > FORMAT:
                raise Unwritable(f"{self.path} was written by a newer program (format {known}); it is left as it is")
            self._base.execute(f"PRAGMA user_version = {FORMAT}")

    def close(self) -> None:
        """Let go of the file."""
        self._base.close()

    # ---- steps

    def mean(self, label: str, paths: tuple[str, ...], before: str, after: str) -> int:
        """Write down a change that is about to be made; returns its number."""
        with self._told(), self._whole():
            self._base.execute("DELETE FROM step WHERE state = 'meant'")
            made = self._base.execute(
                "INSERT INTO step (label, paths, before, after, at, state) VALUES (?, ?, ?, ?, ?, 'meant')",
                (label, "\n".join(paths), _packed(before), _packed(after), time.time()),
            )
            return int(made.lastrowid or 0)

    def done(self, step: int, *, joins: int | None = None) -> None:
        """The file carries the change now; what had been undone cannot be redone any more.

        Args:
            step: The change.
            joins: The step before it that it is one with.
        """
        with self._told(), self._whole():
            self._base.execute("UPDATE step SET state = 'left' WHERE state = 'undone'")
            self._base.execute("UPDATE step SET state = 'done' WHERE id = ?", (step,))
            if joins is not None:
                self._base.execute("UPDATE step SET before = (SELECT before FROM step WHERE id = ?) WHERE id = ?", (joins, step))
                self._base.execute("DELETE FROM step WHERE id = ?", (joins,))

    def never_mind(self, step: int) -> None:
        """The change was not made after all."""
        with self._told():
            self._base.execute("DELETE FROM step WHERE id = ? AND state = 'meant'", (step,))

    def mark(self, step: int, state: str) -> None:
        """A step was undone, or done again."""
        with self._told():
            self._base.execute("UPDATE step SET state = ? WHERE id = ?", (state, step))

    def last_done(self) -> Step | None:
        """What undo takes back."""
        return next(self._steps("state = 'done' ORDER BY id DESC LIMIT 1"), None)

    def count_done(self) -> int:
        """Of how many steps the file is made, those that were undone left out."""
        with self._told():
            return int(self._base.execute("SELECT COUNT(*) FROM step WHERE state = 'done'").fetchone()[0])

    def first_undone(self) -> Step | None:
        """What redo brings back."""
        return next(self._steps("state = 'undone' ORDER BY id LIMIT 1"), None)

    def steps(self, most: int = 200) -> list[Step]:
        """The newest steps, newest first."""
        return list(self._steps(f"state != 'meant' ORDER BY id DESC LIMIT {int(most)}"))

    def step(self, number: int) -> Step | None:
        """One step."""
        return next(self._steps(f"id = {int(number)}"), None)

    def reconciled(self, text: str) -> None:
        """Settle a change that a crash or power cut caught between the book and the file, from what the file says now."""
        meant = next(self._steps("state = 'meant' ORDER BY id DESC LIMIT 1"), None)
        if meant is None:
            return
        if meant.after == text:
            self.done(meant.id)
        else:
            self.never_mind(meant.id)

    def _steps(self, where: str) -> Iterator[Step]:
        with self._told():
            rows = self._base.execute(f"SELECT id, label, paths, before, after, at, state FROM step WHERE {where}").fetchall()
        for number, label, paths, before, after, at, state in rows:
            yield Step(number, label, tuple(paths.split("\n")) if paths else (), _text(before), _text(after), at, state)

    # ---- texts with names

    def keep(self, name: str, note: str, text: str) -> int:
        """Keep a state under a name; changes are told against it from now on. The number of a forgotten one is not given again.

        A name that another state has is numbered: two of one name could not be told apart.
        """
        name = self._free(name)
        with self._told(), self._whole():
            number = 1 + max(
                self._base.execute("SELECT COALESCE(MAX(id), 0) FROM kept").fetchone()[0], self._marked("forgotten") or 0
            )
            self._base.execute(
                "INSERT INTO kept (id, name, note, text, at) VALUES (?, ?, ?, ?, ?)",
                (number, name, note, _packed(text), time.time()),
            )
            self._mark("chosen", number)
            return int(number)

    def rename(self, number: int, name: str) -> str:
        """Give a kept state another name; returns it, numbered where another state has it."""
        name = self._free(name, number)
        with self._told():
            self._base.execute("UPDATE kept SET name = ? WHERE id = ?", (name, number))
        return name

    def _free(self, name: str, of: int | None = None) -> str:
        """A name that no other kept state has: itself, or with a number behind it."""
        taken = {known for number, known in self.names() if number != of}
        return name if name not in taken else next(f"{name} ({n})" for n in count(2) if f"{name} ({n})" not in taken)

    def forget(self, number: int) -> None:
        """Drop a kept state; its text is set aside, and no step is touched."""
        one = self.kept_one(number)
        if one is not None:
            with self._told(), self._whole():
                self.set_aside(f"kept state {one.name!r}, forgotten", one.text)
                self._base.execute("DELETE FROM kept WHERE id = ?", (number,))
                self._mark("forgotten", max(number, self._marked("forgotten") or 0))

    def choose(self, number: int) -> None:
        """The kept state that changes are told against, or `AS_OPENED`."""
        with self._told():
            self._mark("chosen", number)

    def chosen(self) -> int | None:
        """What was chosen last; None where nothing was."""
        with self._told():
            return self._marked("chosen")

    def names(self) -> list[tuple[int, str]]:
        """Number and name of all kept states, newest first."""
        with self._told():
            return [(number, name) for number, name in self._base.execute("SELECT id, name FROM kept ORDER BY id DESC")]

    def kept(self) -> list[Kept]:
        """All kept states, newest first."""
        return self._texts("kept", "name, note")

    def kept_one(self, number: int) -> Kept | None:
        """One kept state."""
        return next((one for one in self.kept() if one.id == number), None)

    def set_aside(self, why: str, text: str) -> int:
        """Save a text that is about to be replaced by something that is no step; returns its number."""
        with self._told():
            made = self._base.execute("INSERT INTO aside (why, text, at) VALUES (?, ?, ?)", (why, _packed(text), time.time()))
            return int(made.lastrowid or 0)

    def aside(self) -> list[Kept]:
        """All texts set aside, newest first."""
        return self._texts("aside", "why, ''")

    def _texts(self, table: str, columns: str) -> list[Kept]:
        with self._told():
            rows = self._base.execute(f"SELECT id, {columns}, text, at FROM {table} ORDER BY id DESC").fetchall()
        return [Kept(number, name, note, _text(text), at) for number, name, note, text, at in rows]

    def _mark(self, name: str, number: int) -> None:
        self._base.execute("INSERT OR REPLACE INTO mark (name, kept) VALUES (?, ?)", (name, number))

    def _marked(self, name: str) -> int | None:
        found = self._base.execute("SELECT kept FROM mark WHERE name = ?", (name,)).fetchone()
        return None if found is None else int(found[0])

    # ---- ways of the base

    @contextmanager
    def _whole(self) -> Iterator[None]:
        """All of it or none of it."""
        self._base.execute("BEGIN IMMEDIATE")
        try:
            yield
        except BaseException:
            self._base.execute("ROLLBACK")
            raise
        self._base.execute("COMMIT")

    @contextmanager
    def _told(self) -> Iterator[None]:
        """Trouble of the base in words."""
        with self._lock:
            try:
                yield
            except sqlite3.Error as error:
                raise Unwritable(
                    f"the history {self.path} cannot be used ({error}); the machine file is not touched by that"
                ) from error


def _packed(text: str) -> bytes:
    return zlib.compress(text.encode("utf-8"))


def _text(packed: bytes) -> str:
    return zlib.decompress(packed).decode("utf-8")

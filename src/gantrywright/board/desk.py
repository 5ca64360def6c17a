"""One machine file on the desk: what it says, what it was, what it answers. Every change goes through here.

A change is tried first (read, resolved, glanced at); only a text that makes a machine is written. File and history are written together,
see `book`. Answers come in tiers: at once from `glance`, settled from a process of its own (see `settling`).
"""

import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from threading import RLock
from typing import Any

from gantrywright.base.errors import FileProblems, GantrywrightError, Problem, Unwritable
from gantrywright.base.files import write_whole
from gantrywright.board.book import Book, Kept, Step
from gantrywright.intake.document import Document, check_format, parse_toml, revise
from gantrywright.intake.edits import edited_text, typed_as
from gantrywright.intake.resolve import resolve
from gantrywright.study.carried import carried_over
from gantrywright.study.glance import glance
from gantrywright.study.study import Study, run

JOIN = 0.8
"""Changes of the same values within this time are one step, s: a slider that is drawn."""

OUTSIDE = "changed outside the drawing board"
"""Label of a step that another program made."""

Edits = Iterable[tuple[str, str | None]]


class Outside(GantrywrightError):
    """The file was changed by somebody else; nothing was written."""


class NothingToDo(GantrywrightError):
    """There is no step to undo or redo."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """What the desk shows: one text with what it answers."""

    rev: int
    text: str
    document: Document | None
    """None where the text is not even TOML."""
    study: Study | None
    """Of the last text that made a machine."""
    answers: int
    """Revision that ``study`` is of; behind ``rev`` where the text makes no machine."""
    good: Document | None = None
    """The last text that made a machine."""
    steps: int = 0
    """How many steps that text is made of: its revision as the title block counts it."""
    settled: int | None = None
    """Revision that was settled last."""
    whole: Study | None = None
    """The whole study that was worked out last, with or without the spread."""
    sure: Study | None = None
    """The study that was settled last: it judges until the next one is."""
    problems: tuple[Problem, ...] = ()
    made: str = ""
    """What brought this revision, in words; empty as opened."""
    trouble: str = ""
    """What could not be settled, or could not be written to the history, in words."""


class Desk:
    """A machine file, its history and its answers. Safe to use from several threads."""

    def __init__(self, path: Path, changed: Callable[[], None] = lambda: None, *, after: int = 0) -> None:
        """Open a machine file.

        Args:
            path: The machine file.
            after: Revision that its own follow.
            changed: Called after every change of what the desk shows, with the desk locked: must not take long.

        Raises:
            FileProblems: It cannot be read at all.
        """
        self.path = path
        self.changed = changed
        self.lock = RLock()
        self.book: Book | None = None
        self._previewed: tuple[int, dict[str, Any], Study] | None = None
        trouble, text = "", _read(path)
        earlier = text
        try:
            self.book = Book(path)
            self.book.reconciled(text)
            earlier = self._seen_outside(text)
        except Unwritable as error:
            trouble = str(error)
        blank = Sheet(after, "", None, None, -1)
        looked = self._looked_at(blank, text)
        if looked.document is None and earlier != text:  # somebody made it unreadable: what it was still answers
            looked = self._looked_at(self._looked_at(blank, earlier), text)
        self.sheet = self._numbered(replace(looked, trouble=trouble))

    # ---- looking

    def disk(self) -> str:
        """How the file stands against the desk: same, changed or gone."""
        try:
            return "same" if _read(self.path) == self.sheet.text else "changed"
        except FileProblems:
            return "gone"

    def on_disk(self) -> str:
        """The text of the file as it is now; empty where it is gone."""
        try:
            return _read(self.path)
        except FileProblems:
            return ""

    def preview(self, edits: Edits) -> Study:
        """What a change would do, at a glance; nothing is written.

        Raises:
            FileProblems: The change makes no machine.
        """
        sheet = self.sheet
        if sheet.document is None:
            raise FileProblems(sheet.problems)
        typed = [(path, None if text is None else typed_as(sheet.document.tree, path, text)) for path, text in edits]
        looked_at = revise(sheet.document, typed)
        study = self._answer(looked_at, sheet)
        self._previewed = (sheet.rev, looked_at.tree, study)
        return study

    # ---- changing

    def edit(self, edits: Edits, label: str) -> None:
        """Make one change: one write, one step.

        Raises:
            FileProblems: It makes no machine, or cannot be made; nothing was written.
            Outside: The file was changed by somebody else meanwhile.
            Unwritable: The disk refused; file and desk are as they were.
        """
        edits = list(edits)
        with self.lock:
            self._alone()
            if self.sheet.document is None:
                raise FileProblems(self.sheet.problems)
            text = edited_text(self.sheet.document, edits)
            if text == self.sheet.text:
                return
            self._put(text, label, tuple(path for path, _ in edits), strict=not self.sheet.problems)

    def undo(self) -> str:
        """Take back the last step; returns its label."""
        with self.lock:
            self._alone()
            step = self.book.last_done() if self.book else None
            if step is None:
                raise NothingToDo("there is nothing to undo")
            self._walk(step, step.before, "undone")
            return step.label

    def redo(self) -> str:
        """Make the step again that was undone last; returns its label."""
        with self.lock:
            self._alone()
            step = self.book.first_undone() if self.book else None
            if step is None:
                raise NothingToDo("there is nothing to redo")
            self._walk(step, step.after, "done")
            return step.label

    def replace_text(self, text: str, label: str) -> None:
        """Put another whole text in place, as one step: a kept state, a text that was set aside."""
        with self.lock:
            self._alone()
            if text != self.sheet.text:
                self._put(text, label, (), strict=False)

    def at_hand(self) -> tuple[str | None, str | None]:
        """Labels of the step that undo takes back and of the one that redo brings; None where there is none, or no history."""
        if self.book is None:
            return None, None
        try:
            back, again = self.book.last_done(), self.book.first_undone()
        except Unwritable:
            return None, None
        return back.label if back else None, again.label if again else None

    def keep(self, name: str, note: str) -> int:
        """Keep what the desk shows under a name."""
        if self.book is None:
            raise Unwritable(self.sheet.trouble)
        with self.lock:
            number = self.book.keep(name, note, self.sheet.text)
            self.changed()
            return number

    def kept(self) -> list[Kept]:
        """All kept states, newest first."""
        return self.book.kept() if self.book else []

    def names_kept(self) -> list[tuple[int, str]]:
        """Number and name of all kept states, newest first; none where the history cannot be read."""
        try:
            return self.book.names() if self.book else []
        except Unwritable:
            return []

    def chosen(self) -> int | None:
        """The kept state that changes are told against, as it was chosen last."""
        return self.book.chosen() if self.book else None

    def choose(self, number: int) -> None:
        """Tell changes against a kept state, or against the machine as it was opened (`book.AS_OPENED`), after a restart too."""
        if self.book is None:
            raise Unwritable(self.sheet.trouble)
        self.book.choose(number)

    def rename(self, number: int, name: str) -> str:
        """Give a kept state another name; returns the name that it has now."""
        if self.book is None:
            raise Unwritable(self.sheet.trouble)
        return self.book.rename(number, name)

    def forget(self, number: int) -> None:
        """Drop a kept state; its text is set aside."""
        if self.book is None:
            raise Unwritable(self.sheet.trouble)
        self.book.forget(number)

    # ---- somebody else changed the file

    def take_theirs(self) -> None:
        """Show the file as it is now; what the desk showed is a step before it."""
        with self.lock:
            text = _read(self.path)
            if text != self.sheet.text:
                self._stepped(OUTSIDE, self.sheet.text, text)
                self.sheet = self._numbered(replace(self._looked_at(self.sheet, text), made=OUTSIDE))
                self.changed()

    def take_whole(self) -> None:
        """Put the last text that made a machine in place of one that makes none, as one step."""
        with self.lock:
            if self.sheet.good is None:
                raise NothingToDo("there is no earlier text that made a machine")
            self.replace_text(self.sheet.good.text, "back to the last whole text")

    def take_mine(self) -> None:
        """Write what the desk shows; what stood in the file is set aside."""
        with self.lock:
            try:
                theirs = _read(self.path)
            except FileProblems:
                theirs = ""
            if self.book and theirs:
                self.book.set_aside("changed outside, replaced by the drawing board", theirs)
            write_whole(self.path, self.sheet.text)
            self.changed()

    # ---- answers that come later

    def settled(self, rev: int, study: Study | None, trouble: str = "") -> None:
        """Take the settled study of a revision; an old one is only compared with, never shown as new."""
        with self.lock:
            if study is None:
                self.sheet = replace(self.sheet, trouble=trouble)
            elif rev == self.sheet.answers:
                sure = self.sheet.sure
                told = study if study.settled or sure is None else carried_over(study, sure)
                self.sheet = replace(self.sheet, study=told, whole=study, trouble="")
                if study.settled:
                    self.sheet = replace(self.sheet, sure=study, settled=rev)
            self.changed()

    # ---- inside

    def _put(self, text: str, label: str, paths: tuple[str, ...], *, strict: bool) -> None:
        """Try a text, write it down, write it, show it."""
        before = self.sheet.text
        looked = self._looked_at(self.sheet, text)
        if strict and looked.problems:
            raise FileProblems(looked.problems)
        joins = self._joins(paths, before)
        step, trouble = self._meant(label, paths, before, text)
        try:
            write_whole(self.path, text)
        except Unwritable:
            if step is not None and self.book:
                self.book.never_mind(step)
            raise
        if step is not None and self.book:
            trouble = self._noted(lambda book: book.done(step, joins=joins)) or trouble
        self.sheet = self._numbered(replace(looked, made=label, trouble=trouble or looked.trouble))
        self.changed()

    def _numbered(self, sheet: Sheet) -> Sheet:
        """The sheet with the number of its steps, where it answers for its own text."""
        if self.book is None or sheet.answers != sheet.rev:
            return sheet
        try:
            return replace(sheet, steps=self.book.count_done())
        except Unwritable:
            return sheet

    def _noted(self, write: Callable[[Book], None]) -> str:
        """Write to the history after the file was written: what goes wrong then is told, and the change stands."""
        if self.book is None:
            return self.sheet.trouble
        try:
            write(self.book)
        except Unwritable as error:
            return str(error)
        return ""

    def _meant(self, label: str, paths: tuple[str, ...], before: str, after: str) -> tuple[int | None, str]:
        """A history that cannot be written never stops a change: it is told instead."""
        if self.book is None:
            return None, self.sheet.trouble
        try:
            return self.book.mean(label, paths, before, after), ""
        except Unwritable as error:
            return None, str(error)

    def _joins(self, paths: tuple[str, ...], before: str) -> int | None:
        if not self.book or not paths or self.book.first_undone() is not None:
            return None
        last = self.book.last_done()
        near = last is not None and last.paths == paths and last.after == before and time.time() - last.at < JOIN
        return last.id if near and last is not None else None

    def _walk(self, step: Step, text: str, state: str) -> None:
        looked = self._looked_at(self.sheet, text)
        write_whole(self.path, text)
        made = f"{'Undone' if state == 'undone' else 'Done again'}: {step.label}"
        trouble = self._noted(lambda book: book.mark(step.id, state))
        self.sheet = self._numbered(replace(looked, made=made, trouble=trouble or looked.trouble))
        self.changed()

    def _alone(self) -> None:
        disk = self.disk()
        if disk == "gone" and not self.path.exists():
            return  # nobody's text is lost: the change writes the file again, whole
        if disk != "same":
            what = "was changed by another program" if disk == "changed" else "cannot be read"
            raise Outside(f"{self.path.name} {what} since it was opened here; choose what to go on with, nothing was written")

    def _seen_outside(self, text: str) -> str:
        """The text before this one; one that is not what the last step left was changed while nobody had it open here."""
        last = self.book.last_done() if self.book else None
        undone = self.book.first_undone() if self.book else None
        known = undone.before if undone is not None else last.after if last is not None else text
        if text != known:
            self._stepped(OUTSIDE, known, text)
            return known
        return last.before if last is not None else text

    def _stepped(self, label: str, before: str, after: str) -> None:
        if self.book:
            self.book.done(self.book.mean(label, (), before, after))

    def _looked_at(self, sheet: Sheet, text: str) -> Sheet:
        """The sheet of another text; where it makes no machine the last answers stay."""
        rev = sheet.rev + 1
        try:
            document = parse_toml(text.encode("utf-8"), self.path)
            check_format(document)
        except FileProblems as error:
            return replace(sheet, rev=rev, text=text, document=None, problems=error.problems)
        try:
            study = self._known(document, sheet) or self._answer(document, sheet)
        except FileProblems as error:
            return replace(sheet, rev=rev, text=text, document=document, problems=error.problems)
        return replace(sheet, rev=rev, text=text, document=document, study=study, answers=rev, good=document, problems=())

    def _known(self, document: Document, sheet: Sheet) -> Study | None:
        """What a preview just worked out of the same values; the machine is resolved again, since its lines may have moved."""
        known = self._previewed
        if known is None or known[0] != sheet.rev or known[1] != document.tree:
            return None
        return replace(known[2], machine=resolve(document))

    @staticmethod
    def _answer(document: Document, sheet: Sheet) -> Study:
        machine = resolve(document)
        known = sheet.whole or sheet.study
        study = run(machine) if known is None else glance(machine, known)
        return study if sheet.sure is None else carried_over(study, sheet.sure)


def _read(path: Path) -> str:
    try:
        raw = path.read_bytes()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise FileProblems([Problem(str(path), 0, "", f"cannot be read: {reason}")]) from error
    try:
        return raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise FileProblems([Problem(str(path), line, "", "is not UTF-8 text; save it as UTF-8")]) from error

"""The board at work: which machine is on the desk, who settles its answers, who has to be told of what."""

import secrets
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path
from threading import RLock, Thread
from time import sleep
from typing import Any

from gantrywright.base.errors import NotFound
from gantrywright.board import views
from gantrywright.board.against import Against, Values, against, chosen, values_of
from gantrywright.board.book import AS_OPENED
from gantrywright.board.desk import Desk, Sheet
from gantrywright.board.jobs import Jobs
from gantrywright.board.meant import must_be
from gantrywright.board.settling import Settler
from gantrywright.board.shelf import Shelf
from gantrywright.intake.fields import stage_of, stages
from gantrywright.study.parcel import unpacked
from gantrywright.study.priced import outdated_prices
from gantrywright.study.study import SAMPLES

LOOKS = 0.7
"""Seconds between two looks at the file for changes by others."""

Json = dict[str, Any]


class Office:
    """One board: at most one machine file is open, on as many pages as there are."""

    def __init__(self, shelf: Shelf) -> None:
        """Start without a machine."""
        self.shelf = shelf
        self.boot = secrets.token_hex(4)
        self.jobs = Jobs(self._changed)
        self.listeners: set[Callable[[], None]] = set()
        self._desk: Desk | None = None
        self._lock = RLock()
        self._settler = Settler(self._settled)
        self._asked = -1
        self._failed = ""
        self._parcels = 0
        self._mended = -1
        self._disk = "same"
        self._opened: Values = {}
        self._against = Against()
        self._closed = False
        Thread(target=self._watch, daemon=True).start()

    @property
    def desk(self) -> Desk:
        """The open machine.

        Raises:
            NotFound: None is open.
            OtherFile: The request at hand is meant for another one.
        """
        desk = self._desk
        if desk is None:
            raise NotFound("no machine is open yet; open one on the start page")
        must_be(desk.path)
        return desk

    @property
    def is_open(self) -> bool:
        """Whether a machine is open."""
        return self._desk is not None

    def open(self, file: Path) -> None:
        """Put a machine file on the desk, in place of what was there."""
        with self._lock:
            if self._desk is not None and self._desk.path == file:
                return
            # revisions go on: an answer or a shape of the file before is never taken for one of this file
            desk = Desk(file, self._changed, after=self._desk.sheet.rev if self._desk is not None else 0)
            if self._desk is not None and self._desk.book is not None:
                self._desk.book.close()
            self._desk, self._asked, self._mended, self._failed, self._disk = desk, -1, -1, "", "same"
            self.shelf.remember(file)
            self._opened = values_of(desk.sheet.study)
            self._against = chosen(desk, self._opened)
            self._changed()

    def close(self) -> None:
        """End all processes."""
        self._closed = True
        self._settler.close()
        self.jobs.close()
        if self._desk is not None and self._desk.book is not None:
            self._desk.book.close()

    # ---- what the page is told

    def state(self, told: Sequence[str] = ()) -> Json:
        """Everything that the page shows without asking further.

        Args:
            told: Sentences about a change that was just made; told once, with the answer to it.
        """
        desk = self.desk
        sheet, study = desk.sheet, desk.sheet.study
        undo, redo = desk.at_hand()
        return {
            **self.announced(), "made": sheet.made, "undo": undo, "redo": redo, "title": views.title(desk, sheet),
            "units": study.machine.show if study else "metric", "verdict": views.verdict(study),
            "promises": views.promised(study, sheet.sure, self._against.values) if study else [],
            "findings": views.findings(study) if study else [], "stages": self._stages(sheet),
            "problems": views.problems(sheet.problems, desk), "answers_rev": sheet.answers, "answers_revision": str(sheet.steps),
            "whole": sheet.good is not None and sheet.good.text != sheet.text,
            "told": list(told),
        }  # fmt: skip

    def edit(self, edits: list[tuple[str, str | None]], label: str) -> Json:
        """Make one change; the new state, with what the builder should know of it."""
        study = self.desk.sheet.study
        told = outdated_prices(study.machine, edits) if study is not None else []
        self.desk.edit(edits, label)
        return self.state(told)

    def announced(self) -> Json:
        """What is told to every open page when something moved."""
        sheet = self.desk.sheet
        return {
            "boot": self.boot, "rev": sheet.rev, "settled": self._settling(sheet), "disk": self._disk, "jobs": self.jobs.listed(),
            "trouble": sheet.trouble, "file": {"name": self.desk.path.name, "folder": str(self.desk.path.parent)},
            "kept": self._against.kept, "keeps": [{"id": number, "name": name} for number, name in self.desk.names_kept()],
        }  # fmt: skip

    def outside(self, choose: str) -> None:
        """Go on with the file as somebody else left it, with what the page shows, or with the last text that made a machine."""
        ways = {"theirs": self.desk.take_theirs, "mine": self.desk.take_mine, "whole": self.desk.take_whole}
        if choose not in ways:
            raise NotFound("choose theirs, mine or whole")
        ways[choose]()
        self._changed()

    def preview(self, edits: list[tuple[str, str | None]]) -> Json:
        """Promises and verdict of a change that is still being typed."""
        study = self.desk.preview(edits)
        return {
            "ok": True, "problems": [], "promises": views.promised(study, self.desk.sheet.sure, self._against.values),
            "verdict": views.verdict(study),
        }  # fmt: skip

    def _settling(self, sheet: Sheet) -> Json:
        """How far the answers are; ``parcels`` moves with each answer that arrives, ``remedies`` says whether more of them come."""
        if self._failed:
            return {"rev": sheet.settled, "state": "failed", "words": self._failed, "parcels": self._parcels, "remedies": "done"}
        done = sheet.settled is not None and sheet.settled == sheet.answers
        few = done and sheet.study is not None and 0 < sheet.study.samples < SAMPLES
        words = (
            f"spread of {sheet.study.samples} samples so far; of {SAMPLES} it follows" if few and sheet.study is not None
            else "settled with the spread of all inputs" if done
            else "with the spread of before the change; the new one is being worked out" if sheet.sure is not None
            else "typical values; the spread is being worked out"
        )  # fmt: skip
        mended = "done" if self._mended == sheet.answers else "pending"
        return {
            "rev": sheet.settled,
            "state": "done" if done else "pending",
            "words": words,
            "samples": sheet.study.samples if done and sheet.study is not None else 0,
            "parcels": self._parcels,
            "remedies": mended,
        }

    def _stages(self, sheet: Sheet) -> list[Json]:
        document = sheet.document or sheet.good
        if document is None:
            return []
        rows = stages(document, sheet.study.machine if sheet.study else None)
        found = sheet.study.findings if sheet.study else ()
        counted = Counter((stage, str(f.status)) for f in found for stage in (stage_of(f.subject, f.id), "findings"))
        return [
            {
                "id": row.id, "title": row.title, "words": row.words, "groups": [{"path": path, "title": title} for path, title in row.groups],
                "count": {status: counted[row.id, status] for status in ("fail", "watch", "unknown")},
            }
            for row in rows
        ]  # fmt: skip

    # ---- what a promise is compared with

    def keep(self, name: str, note: str) -> None:
        """Keep what the desk shows; changes are told against it from now on."""
        desk = self.desk
        number = desk.keep(name, note)
        whole = desk.sheet.study is not None and not desk.sheet.problems
        self._against = (
            Against({"id": number, "name": dict(desk.names_kept())[number]}, values_of(desk.sheet.study))
            if whole
            else chosen(desk, self._opened)
        )
        self._changed()

    def tell_against(self, number: int) -> None:
        """Tell changes against a kept state from now on, or against the machine as it was opened.

        Args:
            number: Of the kept state; `AS_OPENED` for none.

        Raises:
            NotFound: There is no such state.
            FileProblems: It makes no machine.
        """
        desk = self.desk
        one = next((each for each in desk.kept() if each.id == number), None)
        if one is None and number != AS_OPENED:
            raise NotFound(f"there is no kept state {number}")
        found = Against(None, self._opened) if one is None else against(desk, one)
        desk.choose(number)
        self._against = found
        self._changed()

    def rename(self, number: int, name: str) -> None:
        """Give a kept state another name."""
        desk = self.desk
        if number not in dict(desk.names_kept()):
            raise NotFound(f"there is no kept state {number}")
        name = desk.rename(number, name)
        if (self._against.kept or {}).get("id") == number:
            self._against = Against({"id": number, "name": name}, self._against.values)
        self._changed()

    def forget(self, number: int) -> None:
        """Drop a kept state; where changes were told against it, they are told against the newest one that is left."""
        desk = self.desk
        if number not in dict(desk.names_kept()):
            raise NotFound(f"there is no kept state {number}")
        desk.forget(number)
        self._against = chosen(desk, self._opened)
        self._changed()

    # ---- threads

    def _changed(self) -> None:
        """Something moved: settle what is new, tell the pages."""
        desk = self._desk
        if desk is not None:
            self._disk = desk.disk()
        if desk is not None and desk.sheet.answers != self._asked and not desk.sheet.problems and desk.sheet.study is not None:
            self._asked, self._failed = desk.sheet.answers, ""
            self._settler.ask(self._asked, desk.path, desk.sheet.text)
        for tell in tuple(self.listeners):
            tell()

    def _settled(self, rev: int, what: str, parcel: Any) -> None:
        desk = self._desk
        if desk is None:
            return
        with desk.lock:
            if rev != desk.sheet.answers or desk.sheet.study is None:
                return
            if what == "failed":
                self._failed = f"the spread could not be worked out: {parcel}"
                self._changed()
                return
            self._parcels += 1
            if what == "mended":
                self._mended = rev
            desk.settled(rev, unpacked(parcel, desk.sheet.study.machine))

    def _watch(self) -> None:
        """Look now and then whether somebody else changed the file."""
        while not self._closed:
            sleep(LOOKS)
            desk = self._desk
            if desk is None:
                continue
            seen = desk.disk()
            if seen != self._disk:
                self._disk = seen
                self._changed()

"""Changing the machine: previews, edits, undo, kept states, changes made outside."""

from time import perf_counter
from typing import Any

from fastapi import APIRouter
from pydantic import BaseModel, Field

from gantrywright.base.errors import FileProblems, NotFound
from gantrywright.board import views
from gantrywright.board.answer import Answer
from gantrywright.board.office import Office


class Preview(BaseModel):
    """Values that are being typed."""

    edits: list[tuple[str, str | None]] = Field(min_length=1, max_length=200)


class Change(Preview):
    """Values to write."""

    label: str = ""


class Keep(BaseModel):
    """A state to be kept."""

    name: str = Field(min_length=1, max_length=80)
    note: str = Field(default="", max_length=2000)


class Rename(BaseModel):
    """Another name for a kept state."""

    id: int
    name: str = Field(min_length=1, max_length=80)


class Restore(BaseModel):
    """A state to come back to: ``kept:3``, ``aside:1``, ``step:7`` or ``before:7`` for the text after or before a step."""

    id: str | int


class Which(BaseModel):
    """A kept state by its number; 0 for the machine as it was opened, where that can be meant."""

    id: int


class Choice(BaseModel):
    """Which text goes on: theirs, mine, or whole for the last one that made a machine."""

    choose: str


def routes(office: Office) -> APIRouter:
    """``/api/state`` and all that changes it."""
    router = APIRouter()

    @router.get("/state")
    def state() -> Any:
        return Answer(office.state())

    @router.post("/preview")
    def preview(given: Preview) -> Any:
        start = perf_counter()
        try:
            told = office.preview(given.edits)
        except FileProblems as error:
            told = {"ok": False, "problems": views.problems(error.problems, office.desk), "promises": [], "verdict": None}
        return Answer({**told, "ms": round(1e3 * (perf_counter() - start), 1)})

    @router.post("/edit")
    def edit(given: Change) -> Any:
        return Answer(office.edit(given.edits, given.label or _label(given.edits)))

    @router.post("/undo")
    def undo() -> Any:
        office.desk.undo()
        return Answer(office.state())

    @router.post("/redo")
    def redo() -> Any:
        office.desk.redo()
        return Answer(office.state())

    @router.get("/history")
    def history() -> Any:
        book = office.desk.book
        if book is None:
            return Answer({"steps": [], "kept": [], "backups": [], "words": office.desk.sheet.trouble})
        return Answer(
            {
                "steps": [{"id": s.id, "label": s.label, "when": views.when(s.at), "undone": s.state != "done", "state": s.state} for s in book.steps()],
                "kept": [{"id": k.id, "name": k.name, "note": k.note, "when": views.when(k.at)} for k in book.kept()],
                "backups": [{"id": f"aside:{k.id}", "label": k.name, "note": k.note, "when": views.when(k.at)} for k in book.aside()],
            }
        )  # fmt: skip

    @router.post("/keep")
    def keep(given: Keep) -> Any:
        office.keep(given.name.strip(), given.note.strip())
        return Answer(office.state())

    @router.post("/against")
    def against(given: Which) -> Any:
        office.tell_against(given.id)
        return Answer(office.state())

    @router.post("/rename")
    def rename(given: Rename) -> Any:
        office.rename(given.id, given.name.strip())
        return Answer(office.state())

    @router.post("/forget")
    def forget(given: Which) -> Any:
        office.forget(given.id)
        return Answer(office.state())

    @router.post("/restore")
    def restore(given: Restore) -> Any:
        text, name = _text_of(office, str(given.id))
        office.desk.replace_text(text, f"back to {name}")
        return Answer(office.state())

    @router.get("/outside")
    def outside() -> Any:
        return Answer({"mine": office.desk.sheet.text, "theirs": office.desk.on_disk()})

    @router.post("/outside")
    def choose(given: Choice) -> Any:
        office.outside(given.choose)
        return Answer(office.state())

    return router


def _text_of(office: Office, which: str) -> tuple[str, str]:
    """Text and name of a state in the history."""
    kind, _, number = which.rpartition(":")
    book = office.desk.book
    if book is not None and number.isdigit():
        if kind in ("step", "before"):
            step = book.step(int(number))
            if step is not None:
                return step.beside(before=kind == "before")
        else:
            found = next((one for one in (book.aside() if kind == "aside" else book.kept()) if one.id == int(number)), None)
            if found is not None:
                return found.text, found.name
    raise NotFound(f"the history holds no state {which!r}")


def _label(edits: list[tuple[str, str | None]]) -> str:
    """A change in words, as undo names it."""
    path, text = edits[0]
    more = f" and {len(edits) - 1} more" if len(edits) > 1 else ""
    return (f"{path}: {text}" if text is not None else f"without {path}") + more

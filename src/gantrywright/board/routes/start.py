"""Opening a machine: demos, recent files, a new one."""

from typing import Any

from fastapi import APIRouter
from pydantic import BaseModel
from starlette.requests import Request

from gantrywright.base.errors import NotFound
from gantrywright.board.answer import Answer, refusal
from gantrywright.board.office import Office
from gantrywright.intake.starterlimits import NotAnswered


class Wanted(BaseModel):
    """A file of the folder, or a demo machine."""

    path: str = ""
    demo: str = ""


class New(BaseModel):
    """Answers to the questions, and the folder to make."""

    answers: dict[str, str]
    folder: str


def routes(office: Office) -> APIRouter:
    """``/api/start``, ``/api/open``, ``/api/new``."""
    router = APIRouter()

    @router.get("/start")
    def start() -> Any:
        return Answer({**office.shelf.start(), "open": office.is_open})

    @router.post("/open")
    def open_machine(wanted: Wanted) -> Any:
        if not (wanted.path or wanted.demo):
            raise NotFound("name a file or a demo machine")
        office.open(office.shelf.demo(wanted.demo) if wanted.demo else office.shelf.found(wanted.path))
        return Answer(office.state())

    @router.post("/new")
    def new_machine(new: New, request: Request) -> Any:
        try:
            file = office.shelf.new(new.answers, new.folder)
        except NotAnswered as error:
            return refusal(request, {"detail": str(error), "field": error.key}, 422)
        office.open(file)
        return Answer(office.state())

    return router

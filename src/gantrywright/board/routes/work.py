"""Long work: started, followed, ended."""

from typing import Any

from fastapi import APIRouter
from pydantic import BaseModel

from gantrywright.base.errors import NotFound
from gantrywright.board import deep
from gantrywright.board.answer import Answer
from gantrywright.board.jobs import Job
from gantrywright.board.office import Office


class Wanted(BaseModel):
    """What is to be worked out."""

    kind: str


def routes(office: Office) -> APIRouter:
    """``/api/jobs``."""
    router = APIRouter()

    @router.post("/jobs")
    def begin(given: Wanted) -> Any:
        if given.kind not in deep.KINDS:
            raise NotFound(f"there is no long work {given.kind!r}; there is: {', '.join(deep.KINDS)}")
        kind = deep.KINDS[given.kind]
        desk = office.desk
        return Answer(_told(office.jobs.start(kind.words, kind.work, str(desk.path), desk.sheet.text)))

    @router.get("/jobs/{number}")
    def look(number: int) -> Any:
        return Answer(_told(_job(office, number)))

    @router.delete("/jobs/{number}")
    def end(number: int) -> Any:
        _job(office, number)
        return Answer(_told(office.jobs.cancel(number)))

    return router


def _job(office: Office, number: int) -> Job:
    try:
        return office.jobs.get(number)
    except KeyError:
        raise NotFound(f"there is no job {number}; finished ones are forgotten after a while") from None


def _told(job: Job) -> dict[str, Any]:
    return {"id": job.id, "name": job.name, "state": job.state, "fraction": job.fraction, "note": job.note, "result": job.result}

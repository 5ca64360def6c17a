"""The machine on paper."""

from fastapi import APIRouter
from starlette.responses import HTMLResponse

from gantrywright.board.office import Office
from gantrywright.board.paper import paper


def routes(office: Office) -> APIRouter:
    """The printable sheet; its address has no prefix, people see it."""
    router = APIRouter()

    @router.get("/sheet", response_class=HTMLResponse)
    def sheet() -> HTMLResponse:
        return HTMLResponse(paper(office.desk))

    return router

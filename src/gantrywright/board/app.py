"""The board's addresses. Each hands its words to the office and its answer to the page; none works anything out."""

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import orjson
from fastapi import Depends, FastAPI
from starlette.middleware.base import BaseHTTPMiddleware
from starlette.requests import Request
from starlette.responses import FileResponse, PlainTextResponse, Response
from starlette.staticfiles import StaticFiles

from gantrywright.base.errors import FileProblems, GantrywrightError, NotFound, Unwritable
from gantrywright.board import views
from gantrywright.board.answer import Answer, refusal
from gantrywright.board.desk import NothingToDo, Outside
from gantrywright.board.guard import Guard
from gantrywright.board.meant import OtherFile, forgotten, noted
from gantrywright.board.office import Office
from gantrywright.board.routes import answers, changes, sheet, start, work

STATIC = Path(__file__).parent / "static"
NO_PAGE = (
    "The page of the drawing board was not built. Install again with the npm registry reachable (pip install .), or build it by hand: "
    "npm ci && npm run build in web/."
)


def create_app(office: Office, guard: Guard | None = None) -> FastAPI:
    """The board as a web application.

    Args:
        office: Whose machine it shows.
        guard: Who may talk to it; this machine alone where none is given.
    """

    @asynccontextmanager
    async def life(_: FastAPI) -> AsyncIterator[None]:
        yield
        office.close()

    app = FastAPI(title="gantrywright drawing board", docs_url=None, redoc_url=None, lifespan=life)
    app.add_middleware(BaseHTTPMiddleware, dispatch=guard or Guard())
    _tell_errors(app, office)
    app.include_router(start.routes(office), prefix="/api")
    for room in (changes, answers, work):
        app.include_router(room.routes(office), prefix="/api", dependencies=[Depends(noted)])
    app.include_router(sheet.routes(office))
    app.get("/api/events")(_events(office))
    if (STATIC / "index.html").is_file():
        app.mount("/assets", StaticFiles(directory=STATIC / "assets"))

        @app.get("/{path:path}", include_in_schema=False)
        def page(path: str) -> Response:
            if path.startswith("api/"):
                return Answer({"detail": f"there is nothing at /{path}"}, 404)
            return FileResponse(STATIC / "index.html", headers={"Cache-Control": "no-cache"})
    else:
        app.get("/", include_in_schema=False)(lambda: PlainTextResponse(NO_PAGE, 503))
    return app


def _tell_errors(app: FastAPI, office: Office) -> None:
    """Every error that a user may meet, as one sentence with a fitting code."""

    def told(code: int, **more: Callable[[], Any]) -> Callable[[Request, Exception], Any]:
        async def handler(request: Request, error: Exception) -> Response:
            return refusal(request, {"detail": str(error), **{key: make() for key, make in more.items()}}, code)

        return handler

    async def refused(request: Request, error: Exception) -> Response:
        assert isinstance(error, FileProblems)
        listed = views.problems(error.problems, office.desk) if office.is_open else []
        return refusal(request, {"detail": error.problems[0].message if error.problems else str(error), "problems": listed}, 422)

    async def of_another(request: Request, error: Exception) -> Response:
        forgotten()
        return refusal(request, {"detail": str(error), **({"state": office.state()} if office.is_open else {})}, 409)

    app.add_exception_handler(FileProblems, refused)
    app.add_exception_handler(OtherFile, of_another)
    app.add_exception_handler(Outside, told(409, state=office.state))
    app.add_exception_handler(NothingToDo, told(409, state=office.state))
    app.add_exception_handler(NotFound, told(404))
    app.add_exception_handler(Unwritable, told(507))
    app.add_exception_handler(GantrywrightError, told(422))


def _events(office: Office) -> Callable[[Request], Any]:
    async def events(request: Request) -> Response:
        from starlette.responses import StreamingResponse

        loop, moved = asyncio.get_running_loop(), asyncio.Event()

        def tell() -> None:
            loop.call_soon_threadsafe(moved.set)

        async def stream() -> AsyncIterator[bytes]:
            office.listeners.add(tell)
            try:
                while not await request.is_disconnected():
                    if office.is_open:
                        yield b"data: " + orjson.dumps(office.announced(), option=orjson.OPT_NON_STR_KEYS) + b"\n\n"
                    moved.clear()
                    try:
                        await asyncio.wait_for(moved.wait(), 15)
                    except TimeoutError:
                        yield b": still here\n\n"
            finally:
                office.listeners.discard(tell)

        return StreamingResponse(stream(), media_type="text/event-stream", headers={"Cache-Control": "no-store"})

    return events

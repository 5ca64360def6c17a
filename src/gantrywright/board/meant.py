"""Which machine file a request is meant for. Two pages may stand on two files, and only one file is open: what is meant for the other is refused."""

from contextvars import ContextVar
from pathlib import Path
from urllib.parse import unquote

from starlette.requests import Request

from gantrywright.base.errors import GantrywrightError

HEADER = "x-machine-file"
"""Folder and name of the file as the state tells them, joined by a stroke, percent-encoded."""
NAMELESS = ("GET", "HEAD")
"""What changes nothing may leave the file out: pictures that are saved, the printed sheet."""

_meant: ContextVar[str] = ContextVar("meant", default="")


class OtherFile(GantrywrightError):
    """A request is meant for another file than the one that is open; nothing was done."""


def full_name(path: Path) -> str:
    """A file as requests name it."""
    return f"{path.parent}/{path.name}"


async def noted(request: Request) -> None:
    """Remember for the time of one request which file it is meant for (not in a thread: what it notes must reach the address).

    Raises:
        OtherFile: It changes something and names no file.
    """
    named = unquote(request.headers.get(HEADER, ""))
    if not named and request.method not in NAMELESS:
        raise OtherFile("this does not say which machine file it is meant for; load the page again, nothing was written")
    _meant.set(named)


def forgotten() -> None:
    """What follows is meant for whichever file is open."""
    _meant.set("")


def must_be(path: Path) -> None:
    """Raise `OtherFile` where the request is meant for another file than this one."""
    named = _meant.get()
    if named and named != full_name(path):
        name = named.replace("\\", "/").rpartition("/")[2]
        raise OtherFile(f"this was meant for {name}, but {path.name} is the file that is open now; nothing was written")

"""Who may talk to the board: this machine's own browser, on pages that the board itself sent; others only with the key."""

import secrets
from collections.abc import Awaitable, Callable
from typing import TypeAlias
from urllib.parse import urlsplit

from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response

Next: TypeAlias = Callable[[Request], Awaitable[Response]]

LOOPBACK = frozenset({"127.0.0.1", "localhost", "[::1]"})
POLICY = (
    "default-src 'self'; img-src 'self' data: blob:; style-src 'self' 'unsafe-inline'; connect-src 'self'; object-src 'none'; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)
COOKIE = "gantrywright"
FOREVER = "public, max-age=31536000, immutable"


class Guard:
    """Checks every request before any route sees it."""

    def __init__(self, hosts: frozenset[str] = LOOPBACK, key: str = "") -> None:
        """Take the names that this server answers to, and the key that the network needs; empty on loopback."""
        self.hosts = hosts
        self.key = key

    async def __call__(self, request: Request, go_on: Next) -> Response:
        """The answer, or a refusal; every answer carries the strict policy."""
        response = self._refused(request)
        if response is None:
            response = await go_on(request)
        response.headers["Content-Security-Policy"] = POLICY
        response.headers["X-Content-Type-Options"] = "nosniff"
        response.headers["Referrer-Policy"] = "no-referrer"
        response.headers["Cross-Origin-Resource-Policy"] = "same-origin"
        response.headers.setdefault("Cache-Control", FOREVER if request.url.path.startswith("/assets/") else "no-store")
        return response

    def _refused(self, request: Request) -> Response | None:
        host = request.headers.get("host", "")
        if name_of(host) not in self.hosts:  # a foreign name that was made to lead here
            return PlainTextResponse("The board does not answer to this name.", 421)
        origin = request.headers.get("origin")
        foreign = origin is not None and urlsplit(origin).netloc != host
        if foreign or request.headers.get("sec-fetch-site") in ("cross-site", "same-site"):
            if request.method in ("GET", "HEAD") and request.headers.get("sec-fetch-mode") == "navigate":
                return self._asked_for_key(request)  # a link that somebody clicked: it opens the page and tells the other nothing
            return PlainTextResponse("The board answers its own pages only.", 403)
        return self._asked_for_key(request)

    def _asked_for_key(self, request: Request) -> Response | None:
        if not self.key or self._same(request.cookies.get(COOKIE, "")):
            return None
        if not self._same(request.query_params.get("key", "")):
            return PlainTextResponse("Open the address with its key, as the program printed it.", 401)
        response = RedirectResponse(request.url.path, 303)
        response.set_cookie(COOKIE, self.key, httponly=True, samesite="strict")
        return response

    def _same(self, given: str) -> bool:
        return secrets.compare_digest(given.encode(), self.key.encode())


def name_of(host: str) -> str:
    """A host header without its port.

    Example:
        >>> name_of("127.0.0.1:8000"), name_of("[::1]:80"), name_of("localhost")
        ('127.0.0.1', '[::1]', 'localhost')
    """
    return host if host.endswith("]") else host.rpartition(":")[0] or host

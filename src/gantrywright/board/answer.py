"""Answers as JSON."""

from typing import Any

import orjson
from starlette.requests import Request
from starlette.responses import Response

REFUSALS = "x-refusals"
"""Header by which the page asks for refusals as answers: what is refused in words is no fault, and a browser logs none then."""
NORMAL = (404, 409, 422)
"""Codes of what is refused in the course of work; a disk that is full stays an error."""


class Answer(Response):
    """JSON, with arrays of numbers as they are."""

    media_type = "application/json"

    def render(self, content: Any) -> bytes:
        """The bytes of an answer."""
        return orjson.dumps(content, option=orjson.OPT_SERIALIZE_NUMPY | orjson.OPT_NON_STR_KEYS)


def refusal(request: Request, content: dict[str, Any], code: int) -> Answer:
    """What is refused, in words: with its code, or as an answer that tells the code where the page asked for that."""
    if code in NORMAL and request.headers.get(REFUSALS) == "answered":
        return Answer({**content, "refused_with": code})
    return Answer(content, code)

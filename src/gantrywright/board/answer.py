"""Answers as JSON."""

from typing import Any

import orjson
from starlette.responses import Response


class Answer(Response):
    """JSON, with arrays of numbers as they are."""

    media_type = "application/json"

    def render(self, content: Any) -> bytes:
        """The bytes of an answer."""
        return orjson.dumps(content, option=orjson.OPT_SERIALIZE_NUMPY | orjson.OPT_NON_STR_KEYS)

"""The register of published sources that formulas, defaults and table rows name by id."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

PLAIN = frozenset({"derived", "definition", "common practice, no source", "from memory", "example-only", ""})
"""Words that may stand in place of an id."""


@dataclass(frozen=True, slots=True)
class Source:
    """One published source."""

    id: str
    title: str
    author: str = ""
    year: int = 0
    seen: str = ""
    """``looked up``, ``from memory``, ``own measurement`` or ``common practice, no source``."""
    note: str = ""

    def __str__(self) -> str:
        who = f"{self.author}, " if self.author else ""
        when = f", {self.year}" if self.year else ""
        how = f" ({self.seen})" if self.seen else ""
        return f"{who}{self.title}{when}{how}"


@cache
def sources() -> Mapping[str, Source]:
    """All sources by id."""
    text = files("gantrywright.data").joinpath("sources.toml").read_text("utf-8")
    return {key: Source(id=key, **fields) for key, fields in tomllib.loads(text).items()}


def spell_out(text: str) -> str:
    """The full words of a source that is given by id; other texts come back as they are."""
    found = sources().get(text.split(",")[0].strip())
    return text.replace(found.id, str(found), 1) if found else text

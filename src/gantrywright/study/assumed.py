"""What was taken where the file is silent, grouped so that it can be read: an ordinary machine takes some hundreds of defaults."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from gantrywright.base.sources import spell_out
from gantrywright.base.spread import Stated
from gantrywright.intake.grammar.bodies import COLLECTIONS
from gantrywright.study.study import Study
from gantrywright.study.words import written

SILENT = "definition"
"""Source of what silence means in the format itself (it is fitted, it is not worn): no assumption about the machine."""
_NAMED = re.compile(rf"\b(axis|rail|block|drive|job|supply|load|outlet|openings|device|{'|'.join(COLLECTIONS)})\.([^.]+)")
_BODY_PART = re.compile(r"\A[^.]+\.(?=(?:member|plate|item|foot)\.)")


@dataclass(frozen=True, slots=True)
class Assumed:
    """One default, and every like part that took it."""

    path: str
    """With ``*`` for the names that differ."""
    text: str
    """Value and band as a builder would write them."""
    source: str
    paths: tuple[str, ...]
    low: float | None = None
    typical: float | None = None
    high: float | None = None
    unit: str = ""
    help: str = ""

    @property
    def count(self) -> int:
        """How many parts took it."""
        return len(self.paths)


def assumed(study: Study) -> tuple[Assumed, ...]:
    """Defaults by source, then by path; like parts in one."""
    groups: dict[tuple[str, str, str], list[Stated]] = {}
    for stated in _taken(study):
        text = written(stated)
        groups.setdefault((spell_out(stated.origin.source), _like(stated.path), text), []).append(stated)
    return tuple(_row(source, text, same) for (source, _, text), same in sorted(groups.items()))


def _taken(study: Study) -> Iterator[Stated]:
    stated = study.machine.stated
    return (found for path in stated if (found := stated[path]).origin.kind == "default")


def _like(path: str) -> str:
    return _NAMED.sub(r"\1.*", _BODY_PART.sub("*.", path))


def _row(source: str, text: str, same: list[Stated]) -> Assumed:
    first, paths = same[0], tuple(stated.path for stated in same)
    spread = first.spread if first.spread is not None and first.spread.shape != "choice" else None
    low, typical, high = (None, None, None) if spread is None else (spread.low, spread.typical, spread.high)
    return Assumed(_common(paths), text, source, paths, low, typical, high, first.unit, first.help)


def _common(paths: tuple[str, ...]) -> str:
    """One path for several: ``*`` where they differ."""
    columns = zip(*(path.split(".") for path in paths), strict=True)
    return ".".join(names[0] if len(set(names)) == 1 else "*" for names in columns)

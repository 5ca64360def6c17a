"""All values of a machine with their origins, gathered only when somebody asks: most machines are computed, not explained."""

import re
from collections.abc import Callable, Iterator, Mapping

import numpy as np

from gantrywright.base.quantities import about
from gantrywright.base.quantities.kinds import SCALARS
from gantrywright.base.spread import Origin, Stated
from gantrywright.intake.grammar.bodies import COLLECTIONS
from gantrywright.intake.grammar.shape import Key
from gantrywright.intake.tree import Entry

_COMPOUND = {"rating": "N", "phase-current": "A", "point": "m", "pair": "m", "size2": "m", "size3": "m", "range": "m"}
"""SI units of kinds that are more than one number."""
_OF_BLOCK = re.compile(r"(axis\.[^.]+)\.block\.[^.]+\.(.+)\Z")
_OF_CUTTER = re.compile(r"job\.[^.]+\.(cutter\..+|stick_out)\Z")


class StatedValues(Mapping[str, Stated]):
    """Values by full path; a short or an inherited path finds what it means as well."""

    __slots__ = ("_derive", "_find", "_found", "_gather")

    def __init__(
        self, gather: Callable[[], Mapping[str, Entry]], derive: Callable[[], Mapping[str, Stated]], find: Callable[[str], Key | str | None]
    ) -> None:  # fmt: skip
        """Take what gathers them.

        Args:
            gather: Gives what stands in the tree of the file.
            derive: Gives what no key holds: masses of parts, a job's own feed where the purpose says it.
            find: Gives the key at a path, for its unit and meaning.
        """
        self._gather = gather
        self._derive = derive
        self._find = find
        self._found: Mapping[str, Entry | Stated] | None = None

    def _all(self) -> Mapping[str, "Entry | Stated"]:
        if self._found is None:
            entries = self._gather()
            self._found = entries
            derived = {path: made for path, made in self._derive().items() if not self._says(path, made)}
            self._found = {**derived, **entries}
        return self._found

    def _says(self, path: str, made: Stated) -> bool:
        """Whether the tree holds that very value already, be it under another path."""
        full = self.full(path)
        return full is not None and (full == path or np.array_equal(self._all()[full].value, made.value))

    def full(self, path: str) -> str | None:
        """The path that a value really stands at; None where there is no such value.

        Example:
            ``axis.y.block.left-1.static`` may stand at ``axis.y.blocks.part.static``, ``bed.rib.mass`` at ``bed.member.rib.mass``.
        """
        known = self._all()
        return next((name for name in _candidates(path) if name in known), None)

    def __getitem__(self, path: str) -> Stated:
        full = self.full(path)
        if full is None:
            raise KeyError(path)
        found = self._all()[full]
        if isinstance(found, Stated):
            return found
        table, _, last = full.rpartition(".")
        key = next((key for place in (full, f"{table}.part.{last}") if isinstance(key := self._find(place), Key)), None)
        unit, words = (_unit(key), key.help) if key is not None else ("", "")
        return Stated(full, found.value, found.origin, found.spread, unit, words)

    def __iter__(self) -> Iterator[str]:
        return iter(self._all())

    def __len__(self) -> int:
        return len(self._all())


class Origins(Mapping[str, Origin]):
    """The origins alone."""

    __slots__ = ("_stated",)

    def __init__(self, stated: StatedValues) -> None:
        self._stated = stated

    def __getitem__(self, path: str) -> Origin:
        return self._stated[path].origin

    def __iter__(self) -> Iterator[str]:
        return iter(self._stated)

    def __len__(self) -> int:
        return len(self._stated)


def _candidates(path: str) -> Iterator[str]:
    """Paths that a value may stand at, the nearest first: its own, its part's, what it inherits from."""
    for place in _places(path):
        yield place
        table, _, key = place.rpartition(".")
        yield f"{table}.part.{key}"


def _places(path: str) -> Iterator[str]:
    yield path
    block = _OF_BLOCK.match(path)
    if block:
        yield f"{block[1]}.blocks.{block[2]}"
    cutter = _OF_CUTTER.match(path)
    if cutter:
        yield f"tool.{cutter[1]}"
    body, _, rest = path.partition(".")
    if rest.partition(".")[0] not in COLLECTIONS:
        for group in COLLECTIONS:
            yield f"{body}.{group}.{rest}"


def _unit(key: Key) -> str:
    if key.kind in _COMPOUND:
        return _COMPOUND[key.kind]
    return about(key.kind).si if key.kind in SCALARS else ""

"""The value in force under a key: what the machine takes, where from, and what lies under it."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from gantrywright.base.errors import UnreadableText
from gantrywright.base.spread import Origin, Stated
from gantrywright.intake.document import Document
from gantrywright.intake.fields.places import Place, Places, raw_at, table_of
from gantrywright.intake.fields.words import label, title
from gantrywright.intake.grammar.shape import Key
from gantrywright.intake.values import default_of, read_value
from gantrywright.model.machine import Machine

INHERITED = frozenset({"each", "mirror", "recipe", "stock", "row"})
"""Origins that lie under what is written in a part's own table."""
_ELSEWHERE = re.compile(r"\b(row|as|tool|purpose)\b")
"""Words of a key that takes what another place says."""
OWN = "an edit writes a key of its own"


@dataclass
class Force:
    """What holds in one document and the machine that it makes."""

    document: Document
    machine: Machine | None
    _below: dict[str, tuple[str, ...]] = field(default_factory=dict)

    @cached_property
    def places(self) -> Places:
        """The tables of the document."""
        return Places(self.document)

    @cached_property
    def system(self) -> str:
        """metric or inch."""
        return "inch" if table_of(self.document.tree.get("machine")).get("show") == "inch" else "metric"

    @cached_property
    def currency(self) -> str:
        """Of the machine."""
        return str(table_of(self.document.tree.get("machine")).get("currency", "EUR"))

    @cached_property
    def paths(self) -> tuple[str, ...]:
        """Every path that the machine has a value at."""
        return tuple(self.machine.stated) if self.machine is not None else ()

    @cached_property
    def _by_first(self) -> dict[str, list[str]]:
        found: dict[str, list[str]] = {}
        for path in self.paths:
            found.setdefault(path.partition(".")[0], []).append(path)
        return found

    def below(self, path: str) -> tuple[str, ...]:
        """Those below a table, in the order of the machine."""
        if not path:
            return self.paths
        if path not in self._below:
            start = f"{path}."
            known = self._by_first.get(path.partition(".")[0], ())
            self._below[path] = tuple(name for name in known if name.startswith(start))
        return self._below[path]

    def has(self, path: str) -> bool:
        """Whether a table is there: written, or taken over from elsewhere."""
        if self.raw(path) is not None:
            return True
        return self.machine is not None and any(
            self.machine.stated[name].origin.kind not in ("derived", "default") for name in self.below(path)
        )

    def raw(self, path: str) -> Any:
        """What is written at a path."""
        return raw_at(self.document.tree, path)

    def value(self, place: Place, key: Key) -> Stated | None:
        """What the machine takes for a key; of a part the name of its row."""
        if self.machine is None:
            return self._alone(place, key)
        stated: Mapping[str, Stated] = self.machine.stated
        path = f"{place.path}.{key.name}" if place.path else key.name
        if key.part_kind:
            return stated.get(f"{path}.part")
        full = self.machine.stated.full(path)  # type: ignore[attr-defined]
        if full is None or (full != path and not _ELSEWHERE.search(key.otherwise)):
            return self._alone(place, key)
        return stated[full]

    def _alone(self, place: Place, key: Key) -> Stated | None:
        """Without a machine, or in a table that only others inherit: what is written, else the default."""
        path = f"{place.path}.{key.name}" if place.path else key.name
        raw = self.raw(path)
        if key.part_kind and isinstance(raw, Mapping):
            raw = raw.get("part")
        if raw is not None:
            try:
                value, spread = read_value(key, raw) if not key.part_kind else (raw, None)
            except UnreadableText:
                return None
            return Stated(path, value, Origin("file", path=path, line=self.document.line(path), text=str(raw)), spread)
        if key.default and (self.machine is None or "each" in place.path.split(".")):
            entry = default_of(key)
            return Stated(path, entry.value, entry.origin, entry.spread)
        return None

    def origin(self, found: Stated | None, place: Place, key: Key) -> str:
        """Where the value in force came from, in words."""
        if found is None:
            return f"left out: {key.otherwise}" if key.otherwise and not key.otherwise.startswith("needed") else ""
        own = f"{place.path}.{key.name}" if place.path else key.name
        origin = found.origin
        text = self._origin(origin, own, key)
        if origin.kind in ("file", "measured") and origin.over is not None and not key.part_kind:
            text += f", over {self._origin(origin.over, own, key).partition(';')[0]}"
        return text

    def _origin(self, origin: Origin, own: str, key: Key) -> str:
        line = f", line {origin.line}" if origin.line else ""
        written = origin.path in (own, f"{own}.part") or self.raw(own) is not None
        from_there = title(_table(origin.path)) if origin.path else ""
        if origin.kind == "file":
            return f"line {origin.line} of the file" if written else f"as {from_there}{line}; {OWN}"
        if origin.kind == "each":
            return f"line {origin.line} of the file" if written else f"as {from_there}{line}; {OWN}"
        if origin.kind == "mirror":
            return f"mirrored from {from_there}{line}; {OWN}"
        if origin.kind == "recipe":
            return f"made by the recipe or slide{line}; {OWN}"
        if origin.kind == "stock":
            return f"stock piece {origin.path.rpartition('.')[2]}; {OWN}"
        if origin.kind == "row":
            return f"row {origin.path}; {OWN}"
        if origin.kind == "measured":
            return f"{title(origin.path)}{line}: {origin.note}; it goes before what is written here"
        if origin.kind == "default":
            return f"default, {origin.source}" if origin.source else "default of its kind of part"
        taken = f"as {label(origin.path.rpartition('.')[2])} of {title(_table(origin.path))}" if origin.path else "computed"
        return f"{taken}: {origin.note}" if origin.note else taken


def _table(path: str) -> str:
    """The table that a path of a value stands in."""
    return path.rpartition(".")[0] or path

"""The machine file after layers: a tree of branches whose leaves are typed SI values with their origin.

This is what placing reads. Recipes, ``each``, ``mirror``, ``repeat``, stock, parts rows, defaults and measurements are already in it, so
that nothing downstream knows how a value came about unless it asks for the origin.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from gantrywright.base.spread import Origin, Spread


@dataclass(frozen=True, slots=True)
class Entry:
    """One value.

    ``value`` by kind of the key: quantity or number -> float (SI); in a sampled tree an array for an uncertain quantity; text, ref, face,
    choice -> str (a choice in doubt: an array of str in a sampled tree); flag -> bool; count -> int; date -> datetime.date; point, size3
    -> 3 floats; pair, size2 -> 2 floats; rating -> `Rating`; phase-current -> `PhaseCurrent`; bolts -> `Bolts`; direction -> unit
    `Vector`; a list -> tuple. ``None`` means that the builder wrote ``"unknown"``.
    """

    value: Any
    origin: Origin
    spread: Spread | None = None


@dataclass(frozen=True, slots=True)
class Branch:
    """One table of the tree."""

    path: str
    """``axis.y.drive.left``; for a part used under a key ``axis.y.drive.left.motor``."""
    line: int
    entries: Mapping[str, Entry] = field(default_factory=dict)
    branches: Mapping[str, "Branch"] = field(default_factory=dict)

    def get(self, key: str, default: Any = None) -> Any:
        """The value of a key; ``default`` where the key is missing."""
        entry = self.entries.get(key)
        return default if entry is None else entry.value

    def __getitem__(self, key: str) -> Any:
        """The value of a key that the grammar requires; raises ``KeyError`` with the path."""
        if key not in self.entries:
            raise KeyError(f"{self.path}.{key}")
        return self.entries[key].value

    def has(self, key: str) -> bool:
        """Whether the key stands in the tree, be it unknown."""
        return key in self.entries

    def sub(self, name: str) -> "Branch | None":
        """A sub-table or None."""
        return self.branches.get(name)

    def children(self, name: str) -> Iterator[tuple[str, "Branch"]]:
        """The named tables of a collection, in order: ``bed.children("member")``."""
        group = self.branches.get(name)
        if group is not None:
            yield from group.branches.items()

    def walk(self) -> Iterator[tuple[str, Entry]]:
        """Every value below here with its full path."""
        for key, entry in self.entries.items():
            yield (f"{self.path}.{key}" if self.path else key), entry
        for branch in self.branches.values():
            yield from branch.walk()

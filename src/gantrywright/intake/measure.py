"""Measurements that replace values: the later date wins, the earlier one stays listed, ``use = false`` takes one out."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from gantrywright.base.errors import UnreadableText
from gantrywright.base.spread import Origin
from gantrywright.intake.grammar.shape import Key
from gantrywright.intake.tree import Entry
from gantrywright.intake.values import read_value

COMPONENTS = {"x": 0, "y": 1, "z": 2}

Tell = Callable[[str, str], None]


@dataclass(frozen=True, slots=True)
class Measurement:
    """One measurement that replaces the value at a path."""

    name: str
    path: str
    raw: Any
    on: date
    instrument: str
    file: str
    line: int
    note: str = ""

    @property
    def words(self) -> str:
        """``2026-06-02, phone``."""
        return ", ".join(part for part in (str(self.on), self.instrument, self.note) if part)


@dataclass(slots=True)
class Measurements:
    """All measurements of a file that replace a value, found by the table that holds it."""

    tell: Tell
    _by_table: dict[str, dict[str, list[Measurement]]] = field(default_factory=lambda: defaultdict(lambda: defaultdict(list)))
    used: set[str] = field(default_factory=set)
    """Names of those that found their value."""

    def gather(self, raw: Mapping[str, Any], file: str, line: Callable[[str], int]) -> None:
        """Take in the ``measured`` table as written; malformed ones are told where the table is typed."""
        for name, table in raw.items():
            if not isinstance(table, Mapping) or not isinstance(table.get("path"), str) or table.get("use") is False:
                continue
            on = table.get("on")
            if not isinstance(on, date) or "value" not in table:
                continue
            self._add(
                Measurement(
                    name,
                    table["path"],
                    table["value"],
                    on,
                    str(table.get("with", "")),
                    file,
                    line(f"measured.{name}"),
                    str(table.get("note", "")),
                )
            )

    def _add(self, measurement: Measurement) -> None:
        parent, _, last = measurement.path.rpartition(".")
        self._note(parent, last, measurement)
        if last in COMPONENTS:
            above, _, key = parent.rpartition(".")
            self._note(above, f"{key}.{last}", measurement)

    def _note(self, table: str, key: str, measurement: Measurement) -> None:
        found = self._by_table[table][key]
        found.append(measurement)
        found.sort(key=lambda item: item.on)

    def all(self) -> Iterable[Measurement]:
        """Every measurement."""
        told = {
            measurement.name: measurement for below in self._by_table.values() for found in below.values() for measurement in found
        }
        return told.values()

    def under(self, path: str) -> Iterable[tuple[str, list[Measurement]]]:
        """Measurements of keys of one table, by key; a component of a point by ``key.x``."""
        if not self._by_table:
            return ()
        found = list(self._by_table.get(path, {}).items())
        short = _short(path)
        if short is not None:
            found.extend(self._by_table.get(short, {}).items())
        return found

    def laid_on(self, found: list[Measurement], key: Key, component: str, entry: Entry | None) -> Entry | None:
        """The value of the latest measurement, with the ones before it and the file's value as what it replaced."""
        for measurement in found:
            try:
                value, spread = read_value(key if not component else Key(key.name, "length", ""), measurement.raw)
            except UnreadableText as error:
                self.tell(f"measured.{measurement.name}.value", str(error))
                self.used.add(measurement.name)
                continue
            if component:
                if entry is None or not isinstance(entry.value, tuple):
                    continue
                place = COMPONENTS[component]
                value = (*entry.value[:place], value, *entry.value[place + 1 :])
            origin = Origin(
                "measured", measurement.file, measurement.line, f"measured.{measurement.name}", text=str(measurement.raw), note=measurement.words,
                over=entry.origin if entry is not None else None,
            )  # fmt: skip
            self.used.add(measurement.name)
            entry = Entry(value, origin, replace(spread, placed=True) if spread is not None and component else spread)
        return entry


def _short(path: str) -> str | None:
    """The path without the word of its collection: ``bed.left-side.holes`` of ``bed.member.left-side.holes``."""
    parts = path.split(".")
    if len(parts) >= 3 and parts[1] in ("member", "plate", "item", "foot"):
        return ".".join((parts[0], *parts[2:]))
    return None

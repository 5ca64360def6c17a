"""What is usual for holding work down, and friction between work and table: ``data/defaults/hold-down.csv``, ``friction.csv``."""

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from gantrywright.base.quantities import parse
from gantrywright.base.spread import Spread

OTHER = "other"
"""Group of works in the table of friction for all that have no row of their own."""
METALS = frozenset({"steel", "aluminium", "brass"})
"""Groups whose tabs are those of metal."""


@dataclass(frozen=True, slots=True)
class Usual:
    """One value that stands in for what a file does not tell."""

    id: str
    title: str
    value: float
    """SI."""
    spread: Spread | None
    """None: a choice, not an estimate."""
    source: str
    kind: str
    """Of quantity: ``pressure``, ``length``, ``number``."""
    text: str
    """As it is written in the table."""
    way: str = ""
    """Of holding that it is for: vacuum, tape, clamps, screws, tabs, board, all."""


@cache
def holding() -> Mapping[str, Usual]:
    """By name, such as ``tape-shear``."""
    return {
        row["id"]: _usual(row["id"], row["title"], row["value"], row["kind"], row["source"], row["for"])
        for row in _rows("hold-down.csv")
    }


def table_friction(group: str, table: str = "board") -> Usual:
    """Friction coefficient between a work and what it lies on.

    Args:
        group: Of the material of the work, empty where it is not known.
        table: board, metal or rubber.

    Returns:
        The row of the group, or that of all others on such a table.

    Raises:
        KeyError: No such table.
    """
    known = _friction()
    return known.get((group, table)) or known[OTHER, table]


def tab_thickness(group: str) -> Usual:
    """Usual thickness of a tab, by the group of the material."""
    return holding()["tab-thickness-metal" if group in METALS else "tab-thickness-wood"]


@cache
def _friction() -> Mapping[tuple[str, str], Usual]:
    return {
        (row["work"], row["table"]): _usual(
            f"{row['work']} on {row['table']}",
            f"Friction of {row['work']} on {row['table']}",
            row["friction"],
            "number",
            row["source"],
        )
        for row in _rows("friction.csv")
    }


def _usual(id: str, title: str, text: str, kind: str, source: str, way: str = "") -> Usual:
    read = parse(text, kind)
    return Usual(id, title, float(read.value), read.spread, source, kind, text, way)


def _rows(name: str) -> Iterator[dict[str, str]]:
    text = files("gantrywright.data").joinpath("defaults", name).read_text("utf-8")
    yield from csv.DictReader(text.splitlines())

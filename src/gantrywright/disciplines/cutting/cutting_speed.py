"""Usual cutting speed by group of materials, from ``data/defaults/cutting-speed.csv``; of drills from ``drill-speed.csv`` beside it.

Milling is for carbide: coated in steel, with diamond in laminates. In wood and boards the upper end is what a large router bit reaches, not a
limit. Drills go slower, as their chips and their heat stay in the hole; among steels the lower end is that of stainless steel.
"""

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class CuttingSpeed:
    """Usual speed of the cutting edge in a group of materials, m/s."""

    group: str
    low: float
    high: float
    source: str


@cache
def cutting_speeds() -> Mapping[str, CuttingSpeed]:
    """Of milling with carbide, by group of materials, as in the column ``group`` of a material."""
    return {row["group"]: _speed(row) for row in _rows("cutting-speed.csv")}


@cache
def drill_speeds() -> Mapping[tuple[str, str], CuttingSpeed]:
    """Of the corners of a drill, by group of materials and material of the drill."""
    return {(row["group"], row["drill"]): _speed(row) for row in _rows("drill-speed.csv")}


def _speed(row: Mapping[str, str]) -> CuttingSpeed:
    return CuttingSpeed(row["group"], float(row["low [m/min]"]) / 60, float(row["high [m/min]"]) / 60, row["source"])


def _rows(name: str) -> Iterator[dict[str, str]]:
    text = files("gantrywright.data").joinpath("defaults", name).read_text("utf-8")
    yield from csv.DictReader(text.splitlines())

"""Usual cutting speed by group of materials, from ``data/defaults/cutting-speed.csv``.

For carbide: coated in steel, with diamond in laminates. In wood and boards the upper end is what a large router bit reaches, not a limit.
"""

import csv
from collections.abc import Mapping
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
    """By group of materials, as in the column ``group`` of a material."""
    text = files("gantrywright.data").joinpath("defaults/cutting-speed.csv").read_text("utf-8")
    return {
        row["group"]: CuttingSpeed(row["group"], float(row["low [m/min]"]) / 60, float(row["high [m/min]"]) / 60, row["source"])
        for row in csv.DictReader(text.splitlines())
    }

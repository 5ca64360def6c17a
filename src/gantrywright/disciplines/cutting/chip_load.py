"""Usual feed per tooth by group of materials and cutter diameter, from ``data/defaults/chip-load.csv``."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np

DIAMETERS = (1, 3, 6, 9, 12)
"""Columns of the table, mm."""


@dataclass(frozen=True, slots=True)
class ChipLoad:
    """Usual feed per tooth of a group of materials, m."""

    group: str
    low: tuple[float, ...]
    high: tuple[float, ...]
    source: str

    def band(self, diameter: float) -> tuple[float, float]:
        """Low and high for a diameter in m; held at the table's ends beyond them."""
        at = np.array(DIAMETERS) / 1000
        return float(np.interp(diameter, at, self.low)), float(np.interp(diameter, at, self.high))


@cache
def chip_loads() -> Mapping[str, ChipLoad]:
    """By group of materials, as in the column ``group`` of a material."""
    text = files("gantrywright.data").joinpath("defaults/chip-load.csv").read_text("utf-8")
    found: dict[str, ChipLoad] = {}
    for row in csv.DictReader(text.splitlines()):
        low, high = (tuple(float(row[f"{d} mm {end}"]) / 1000 for d in DIAMETERS) for end in ("low", "high"))
        found[row["group"]] = ChipLoad(row["group"], low, high, row["source"])
    return found

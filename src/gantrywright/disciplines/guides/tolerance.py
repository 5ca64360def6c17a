"""Published mounting tolerances of rails, from ``data/defaults/guide-tolerance.csv``."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from gantrywright.base.samples import typical
from gantrywright.base.units import Metre

CLASSES = ("heavy", "medium", "light", "clearance")
"""Preload classes, each forgiving more than the one before."""


@dataclass(frozen=True, slots=True)
class Tolerance:
    """What rails may be off, on seats that do not give."""

    parallel: float
    """m."""
    height: float
    """Per metre between the rails, m/m."""
    source: str


@cache
def tolerances() -> Mapping[tuple[int, str], Tolerance]:
    """By size number in mm and preload class."""
    text = files("gantrywright.data").joinpath("defaults/guide-tolerance.csv").read_text("utf-8")
    return {
        (int(row["size [mm]"]), row["preload"]): Tolerance(float(row["parallel [um]"]) * 1e-6, float(row["height [um/mm]"]) * 1e-3, row["source"])
        for row in csv.DictReader(text.splitlines())
    }  # fmt: skip


def tolerance(size: Metre | None, preload: str) -> Tolerance | None:
    """Of a guide size, m; None where none was published."""
    return None if size is None else tolerances().get((round(typical(size) * 1000), preload))

"""What the state of a cutter's edges does to the forces that they rub with, from ``data/defaults/edge-wear.csv``."""

import csv
from collections.abc import Mapping
from functools import cache
from importlib import resources

from gantrywright.base.quantities import parse
from gantrywright.base.spread import Origin, Spread

TABLE = "edge-wear.csv"


@cache
def edge_factors() -> Mapping[str, tuple[Spread, Origin]]:
    """Factor on edge forces by the state of the edges."""
    text = resources.files("gantrywright.data").joinpath("defaults", TABLE).read_text("utf-8")
    found = {}
    for row in csv.DictReader(text.splitlines()):
        spread = parse(row["factor"], "number").spread
        if spread is None:
            raise ValueError(f"{TABLE}: {row['factor']!r} has no band")
        origin = Origin("default", path=f"{TABLE} {row['edge']}", source=row["source"], text=row["factor"])
        found[row["edge"]] = (spread, origin)
    return found

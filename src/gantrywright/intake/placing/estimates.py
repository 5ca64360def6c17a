"""Estimates for what a file leaves out: stiffness of blocks by size and preload."""

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources

from gantrywright.base.quantities import parse
from gantrywright.base.spread import Origin, Spread
from gantrywright.base.units import Real

PRELOAD_SHARE = {"clearance": 0.0, "light": 0.02, "medium": 0.05, "heavy": 0.08}
"""Preload over dynamic rating by class (mechanics: preload classes of profile guides)."""

SPRINGS = {
    "normal": "stiffness",
    "lateral": "stiffness",
    "roll": "tilt-stiffness",
    "pitch": "tilt-stiffness",
    "yaw": "tilt-stiffness",
}
"""Springs of a block and the kind of their values."""

TABLE = "block-stiffness.csv"


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value taken from a table of estimates."""

    spread: Spread
    origin: Origin

    @property
    def typical(self) -> Real:
        """The value that is taken without samples."""
        return self.spread.typical


@cache
def block_stiffness(size: float, preload: str) -> dict[str, Estimate]:
    """Springs of a block by the nearest size of the table.

    Args:
        size: Size number of the guide family as a length, m.
        preload: clearance, light, medium or heavy.
    """
    table = _table()
    nearest = min({known for known, _ in table}, key=lambda known: (abs(known - size), known))
    return table[(nearest, preload)]


@cache
def _table() -> dict[tuple[float, str], dict[str, Estimate]]:
    text = resources.files("gantrywright.data").joinpath("defaults", TABLE).read_text("utf-8")
    found = {}
    for row in csv.DictReader(text.splitlines()):
        springs = {}
        for column, written in row.items():
            name, _, unit = column.partition(" [")
            if name not in SPRINGS:
                continue
            spread = parse(
                f"{written.partition(' ')[0]} {unit.rstrip(']')} {written.partition(' ')[2]}".strip(), SPRINGS[name]
            ).spread
            if spread is None:
                raise ValueError(f"{TABLE}: {written!r} has no band")
            origin = Origin(
                "default", path=f"{TABLE} size {row['size [mm]']}, {row['preload']}", source=row["source"], text=written
            )
            springs[name] = Estimate(spread, origin)
        found[(float(row["size [mm]"]) / 1e3, row["preload"])] = springs
    return found

"""Published tension that a nut may put on the slot of a profile, from ``data/defaults/slot-nut-load.csv``."""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

TABLE = "slot-nut-load.csv"


@dataclass(frozen=True, slots=True)
class SlotLoad:
    """What a slot of a size bears; the two differ where it is not said how heavy the profile is."""

    least: float
    """N."""
    most: float
    source: str


@dataclass(frozen=True, slots=True)
class _Row:
    slot: int
    profile: str
    nut: str
    load: float
    source: str


def slot_load(opening: float, *, profile: str = "", nut: str = "") -> SlotLoad | None:
    """Permissible tension of one nut.

    Args:
        opening: Of the slot, m; the size number is the whole millimetres of it.
        profile: economy, light or standard; empty: not known.
        nut: standard or heavy; empty: not known.

    Returns:
        None where nothing was published for such a slot.
    """
    size = int(opening * 1e3 + 1e-6)
    found = [row for row in _rows() if row.slot == size and profile in ("", row.profile) and nut in ("", row.nut)]
    if not found:
        return None
    return SlotLoad(min(row.load for row in found), max(row.load for row in found), found[0].source)


@cache
def _rows() -> tuple[_Row, ...]:
    text = files("gantrywright.data").joinpath("defaults", TABLE).read_text("utf-8")
    return tuple(
        _Row(int(row["slot [mm]"]), row["profile"], row["nut"], float(row["load [kN]"]) * 1e3, row["source"])
        for row in csv.DictReader(text.splitlines())
    )

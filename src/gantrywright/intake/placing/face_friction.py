"""Friction of the faces of a screwed joint: written, measured on one of its kind, or the default by the state of the faces."""

import csv
from collections.abc import Mapping
from functools import cache
from importlib import resources

from gantrywright.base.quantities import parse
from gantrywright.base.spread import Origin
from gantrywright.base.units import Number
from gantrywright.intake.placing.doubts import Doubts
from gantrywright.intake.placing.estimates import Estimate
from gantrywright.intake.tree import Branch

TABLE = "face-friction.csv"
HELD_BY_FRICTION = ("bolted", "end-tapped", "bracket", "screwed")
WOOD = "wood"
"""Row of the table where one of the two is wood."""


def face_friction(doubts: Doubts, shared: Branch, *, kind: str, faces: str, wood: bool, own: Branch | None) -> Number | None:
    """Friction coefficient of a joint's faces; None where no friction holds it.

    Args:
        doubts: Takes the default.
        shared: Table of all joints of the kind, whose path the default gets.
        kind: Of the joint.
        faces: Their state.
        wood: One of the two is of wood.
        own: Table of the joint, of one of its parts, or of its body.
    """
    written: Number | None = own.get("friction") if own is not None else None
    if written is None:
        written = shared.get("friction")
    if written is not None or kind not in HELD_BY_FRICTION:
        return written
    default = friction_table()[WOOD if wood else faces]
    return doubts.value(f"{shared.path}.friction", default.spread, default.origin)


@cache
def friction_table() -> Mapping[str, Estimate]:
    """Defaults by state of the faces."""
    text = resources.files("gantrywright.data").joinpath("defaults", TABLE).read_text("utf-8")
    found = {}
    for row in csv.DictReader(text.splitlines()):
        spread = parse(row["friction"], "number").spread
        if spread is None:
            raise ValueError(f"{TABLE}: {row['friction']!r} has no band")
        origin = Origin("default", path=f"{TABLE} {row['faces']}", source=row["source"], text=row["friction"])
        found[row["faces"]] = Estimate(spread, origin)
    return found

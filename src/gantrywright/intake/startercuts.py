"""The job of a first machine by what it cuts: how deep, how wide, how fast, with how many flutes, and how hard it is clamped.

A usual chip at 18 000 rpm with a cutter of 6 mm, and so light that four clamps hold the work against it whatever its shape and that the
cutter stays quiet; common practice, no source. The tests hold every material of a group to it.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from gantrywright.base.errors import NotFound
from gantrywright.catalog.tables import Catalog


@dataclass(frozen=True, slots=True)
class FirstCut:
    """What a job file says of one cut, in the units of its builder."""

    depth: str
    feed: str
    clamp: str
    """What each clamp presses with."""
    width: str = ""
    """Empty: a slot."""
    flutes: str = "2f-up"
    """End of the cutter's name: one flute carries the chips of metal away, two leave wood clean."""


FINGERS = ("400 N", "90 lbf")
"""What a clamp that is tightened with a knob presses with; common practice, no source."""
SPANNER = ("1000 N", "225 lbf")
"""What an M8 screw at 3 N m leaves on the work when half of its pull goes into the heel of the clamp; common practice, no source."""

STICK_OUT = 24.0
"""Of the cutter, mm: four diameters, just past the flutes. At 30 mm it sings at little more than half the depth."""

SOFT = (FirstCut("4 mm", "3 m/min", FINGERS[0]), FirstCut("5/32 in", "120 in/min", FINGERS[1]))
"""Metric and inch, as all that follow."""
DENSE = (FirstCut("2 mm", "3 m/min", FINGERS[0]), FirstCut("5/64 in", "120 in/min", FINGERS[1]))
STIFF = (FirstCut("1.2 mm", "3 m/min", FINGERS[0]), FirstCut("3/64 in", "120 in/min", FINGERS[1]))
"""Of hard plastics, whose edge forces make a cutter sing as soon as those of metal do."""
LIGHT = (
    FirstCut("0.6 mm", "1 m/min", SPANNER[0], "2 mm", "1f"),
    FirstCut("0.024 in", "40 in/min", SPANNER[1], "0.08 in", "1f"),
)
TOUGH = (
    FirstCut("0.4 mm", "1 m/min", SPANNER[0], "2 mm", "1f"),
    FirstCut("1/64 in", "40 in/min", SPANNER[1], "0.08 in", "1f"),
)
ABRASIVE = (
    FirstCut("0.8 mm", "0.6 m/min", FINGERS[0], "1.5 mm", "1f"),
    FirstCut("1/32 in", "24 in/min", FINGERS[1], "0.06 in", "1f"),
)
HARD = (
    FirstCut("0.15 mm", "0.6 m/min", SPANNER[0], "1.5 mm", "1f"),
    FirstCut("0.006 in", "24 in/min", SPANNER[1], "0.06 in", "1f"),
)
"""Of steel, and of all of which nobody says what it is cut like: as light as a router that is no mill can do."""
CUTS: Mapping[str, tuple[FirstCut, FirstCut]] = {
    "softwood": SOFT, "plywood": SOFT, "fibreboard": SOFT, "foam": SOFT, "hardwood": DENSE, "soft-plastic": DENSE,
    "hard-plastic": STIFF, "aluminium": LIGHT, "brass": TOUGH, "laminate": ABRASIVE, "steel": HARD,
}  # fmt: skip
"""By group of materials."""


def first_cut(material: str, units: str) -> FirstCut:
    """The cut that a first job begins with; the lightest one where the tables do not say what the material is cut like."""
    try:
        group = Catalog().find("material", material).text("group")
    except NotFound:
        group = ""
    return CUTS.get(group, HARD)[units == "inch"]

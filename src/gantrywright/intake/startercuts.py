"""The job of a first machine by what it cuts: how deep, how wide, how fast, with how many flutes, and how hard it is clamped.

A usual chip at 18 000 rpm with a cutter of 6 mm, and so light that four clamps hold the work against it whatever its shape; common
practice, no source. The tests hold every material of a group to it.
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

SOFT = (FirstCut("5 mm", "3 m/min", FINGERS[0]), FirstCut("3/16 in", "120 in/min", FINGERS[1]))
"""Metric and inch, as all that follow: boards, softwood, soft plastics and foam."""
DENSE = (FirstCut("3 mm", "3 m/min", FINGERS[0]), FirstCut("1/8 in", "120 in/min", FINGERS[1]))
STIFF = (FirstCut("2.5 mm", "3 m/min", FINGERS[0]), FirstCut("3/32 in", "120 in/min", FINGERS[1]))
METAL = (
    FirstCut("1 mm", "1 m/min", SPANNER[0], "2 mm", "1f"),
    FirstCut("0.04 in", "40 in/min", SPANNER[1], "0.08 in", "1f"),
)
ABRASIVE = (
    FirstCut("0.8 mm", "0.6 m/min", FINGERS[0], "1.5 mm", "1f"),
    FirstCut("1/32 in", "24 in/min", FINGERS[1], "0.06 in", "1f"),
)
HARD = (
    FirstCut("0.5 mm", "0.6 m/min", SPANNER[0], "1.5 mm", "1f"),
    FirstCut("0.02 in", "24 in/min", SPANNER[1], "0.06 in", "1f"),
)
"""Of steel, and of all of which nobody says what is usual: as light as a router that is no mill can do."""
CUTS: Mapping[str, tuple[FirstCut, FirstCut]] = {
    "softwood": SOFT, "plywood": SOFT, "fibreboard": SOFT, "soft-plastic": SOFT, "foam": SOFT,
    "hardwood": DENSE, "hard-plastic": STIFF, "aluminium": METAL, "brass": METAL, "laminate": ABRASIVE, "steel": HARD,
}  # fmt: skip
"""By group of materials."""


def first_cut(material: str, units: str) -> FirstCut:
    """The cut that a first job begins with; the lightest one where the tables do not say what the material is cut like."""
    try:
        group = Catalog().find("material", material).text("group")
    except NotFound:
        group = ""
    return CUTS.get(group, HARD)[units == "inch"]

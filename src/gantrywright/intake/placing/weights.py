"""Masses that a file or a parts row says."""

from gantrywright.base.units import Real
from gantrywright.intake.tree import Branch


def mass_given(branch: Branch) -> Real | None:
    """The mass of one piece as said in the file, else in the row of its part; None where neither says it."""
    if branch.has("mass"):
        given: Real | None = branch.get("mass")
        return given
    named = branch.sub("part")
    row: Real | None = named.get("mass") if named is not None else None
    return row

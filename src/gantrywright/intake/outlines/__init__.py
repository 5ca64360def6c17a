"""Outlines that a machine file names: points files and DXF drawings."""

from gantrywright.intake.outlines.rings import OutlineTrouble
from gantrywright.intake.outlines.whole import read_outline

__all__ = ["OutlineTrouble", "read_outline"]

"""Changes that take load off blocks or make them bear more."""

import re

from gantrywright.catalog.tables import packaged
from gantrywright.findings import Change
from gantrywright.model.axis import Axis

SIZES = (15, 20, 25, 30, 35, 45)
"""Sizes of the common interchangeable families, mm."""
WIDER = 1.5


def larger_blocks(axis: Axis) -> tuple[Change, ...]:
    """The next size of blocks and rails, where both are in the tables."""
    block, rails = axis.blocks[0].use.part, {rail.use.part for rail in axis.rails}
    size = re.search(r"-(\d+)\b", block)
    if axis.slide or size is None or int(size[1]) not in SIZES[:-1] or len(rails) != 1:
        return ()
    following = str(SIZES[SIZES.index(int(size[1])) + 1])
    new_block, new_rail = (re.sub(r"-\d+\b", f"-{following}", name, count=1) for name in (block, rails.pop()))
    if new_block not in packaged("block").index or new_rail not in packaged("rail").index:
        return ()
    edits = ((f"{axis.path}.blocks.part", new_block), *((f"{rail.path}.part", new_rail) for rail in axis.rails))
    return (Change(f"{new_block} on {new_rail} instead of {block}", edits),)


def blocks_apart(axis: Axis) -> tuple[Change, ...]:
    """The blocks of a rail half as far again from each other."""
    if axis.slide or axis.blocks_per_rail < 2 or axis.block_spacing <= 0:
        return ()
    old, new = axis.block_spacing * 1000, axis.block_spacing * 1000 * WIDER
    return (Change(f"blocks {new:.0f} mm apart instead of {old:.0f} mm", ((f"{axis.path}.blocks.spacing", f"{new:.0f} mm"),)),)


def softer_preload(axis: Axis) -> tuple[Change, ...]:
    """The next class of preload that forgives more."""
    softer = {"heavy": "medium", "medium": "light", "light": "clearance"}.get(axis.blocks[0].preload)
    if axis.slide or softer is None:
        return ()
    return (Change(f"preload {softer} instead of {axis.blocks[0].preload}", ((f"{axis.path}.blocks.preload", softer),)),)

"""Changes that take load off blocks or make them bear more."""

import re

from gantrywright.base.quantities.proposing import beside, propose
from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.catalog.tables import packaged
from gantrywright.findings import Change
from gantrywright.model.axis import Axis

SIZES = (15, 20, 25, 30, 35, 45)
"""Sizes of the common interchangeable families, mm."""
WIDER = 1.5


def larger_blocks(axis: Axis) -> tuple[Change, ...]:
    """The next size of blocks and rails, where both are in the tables."""
    block, rails = axis.blocks[0].use.part, {rail.use.part for rail in axis.rails}
    if "-mini-" in block and not axis.slide:
        return _instead(axis, block, "block-15-flange", "rail-15")
    size = re.search(r"-(\d+)\b", block)
    if axis.slide or size is None or int(size[1]) not in SIZES[:-1] or len(rails) != 1:
        return ()
    following = str(SIZES[SIZES.index(int(size[1])) + 1])
    new_block, new_rail = (re.sub(r"-\d+\b", f"-{following}", name, count=1) for name in (block, rails.pop()))
    if new_block not in packaged("block").index or new_rail not in packaged("rail").index:
        return ()
    return _instead(axis, block, new_block, new_rail)


def _instead(axis: Axis, old: str, block: str, rail: str) -> tuple[Change, ...]:
    edits = ((f"{axis.path}.blocks.part", block), *((f"{each.path}.part", rail) for each in axis.rails))
    return (Change(f"{block} on {rail} instead of {old}", edits),)


def blocks_apart(axis: Axis, system: str) -> tuple[Change, ...]:
    """The blocks of a rail half as far again from each other."""
    if axis.slide or axis.blocks_per_rail < 2 or axis.block_spacing <= 0:
        return ()
    new = propose(axis.block_spacing * WIDER, "length", system)
    old = beside(axis.block_spacing, new, "length", system)
    return (Change(f"blocks {new} apart instead of {old}", ((f"{axis.path}.blocks.spacing", new),)),)


def better_aligned(axis: Axis, system: str, what: str, reached: Real, needed: Real) -> tuple[Change, ...]:
    """Rails laid so much better that the error which comes on the blocks is allowed.

    Args:
        axis: The axis.
        system: ``metric`` or ``inch``.
        what: ``parallel`` or ``height``, or both with a blank between.
        reached: What comes on the blocks now, in the measure of ``needed``.
        needed: What is allowed.
    """
    share = typical(needed) / max(typical(reached), 1e-12)
    if share >= 1:
        return ()
    edits, words = [], []
    for name in what.split():
        now = typical(axis.alignment.parallel if name == "parallel" else axis.alignment.height)
        new = propose(now * share, "fine-length", system, "down")
        edits.append((f"{axis.path}.alignment.{name}", new))
        words.append(f"{'parallel' if name == 'parallel' else 'level'} to {new} instead of {beside(now, new, 'length', system)}")
    return (Change(f"rails laid {' and '.join(words)}", tuple(edits)),)


def softer_preload(axis: Axis) -> tuple[Change, ...]:
    """The next class of preload that forgives more."""
    softer = {"heavy": "medium", "medium": "light", "light": "clearance"}.get(axis.blocks[0].preload)
    if axis.slide or softer is None:
        return ()
    return (Change(f"preload {softer} instead of {axis.blocks[0].preload}", ((f"{axis.path}.blocks.preload", softer),)),)

"""Pieces of the guides: rails, blocks, cable chains."""

from itertools import pairwise
from math import pi

from gantrywright.base.samples import typical
from gantrywright.catalog import kinds
from gantrywright.model.axis import Axis, Block, Rail
from gantrywright.model.bodies import Solid
from gantrywright.model.frame import AXES, Vector, along, cross, dot, scale, subtract
from gantrywright.scene.making import Maker, length_of
from gantrywright.scene.shapes import BOX, extrusion
from gantrywright.scene.words import WHAT, of_axis, spoken
from gantrywright.theory.sections.outline import Ring

RAIL = ((1.0, 0.0), (1.0, 0.28), (0.66, 0.42), (0.66, 0.62), (1.0, 0.74), (1.0, 0.93), (0.9, 1.0))
"""Right flank of a profile rail from foot to head: share of the half width, share of the height. For the view; common practice, no source."""
FLANGED = 1.7
"""A block wider than this times its height has a flange: for the view."""
FLANGE, WAIST = 0.4, 0.72
"""Thickness of that flange over the block's height, width of the block below it over the whole: for the view."""
GAP = 0.001
"""Between rail and block, m: for the view."""
CHAIN = (0.02, 0.04)
"""Height and width of a cable chain whose row does not say them, m: for the view."""


def draw_rail(maker: Maker, rail: Rail, solid: Solid) -> None:
    """A rail with the outline of its kind, in the lengths that it is put together from."""
    t, normal, across = solid.axes
    long, high, wide = solid.size
    facts = [
        ("Kind", rail.part.title or rail.part.id), ("Length", maker.said(long, "m")), ("Height x width", maker.sizes((high, wide))),
        *maker.facts(("Pitch of its holes", rail.part.pitch, "m")),
        *((("Joined at", ", ".join(maker.said(place, "m") for place in rail.joined_at)),) if rail.joined_at else ()),
    ]  # fmt: skip
    shape, axes = extrusion(rail_ring(wide, high)), (scale(t, -1.0), across, normal)
    ends = [0.0, *sorted(place for place in rail.joined_at if 0.0 < place < long), long]
    for first, last in pairwise(ends):  # butt joints from the end of least coordinate, where the rail starts
        place = along(solid.centre, t, (first + last - long) / 2)
        maker.draw(
            solid, shape, axes, (last - first, wide, high), place, of_axis(rail.path, WHAT["rail"]), WHAT["rail"], facts=facts, on=rail.on,
            section=rail.part.id,
        )  # fmt: skip


def rail_ring(wide: float, high: float) -> Ring:
    """Outline of a profile rail about the middle of its box."""
    right = tuple((share * wide / 2, (up - 0.5) * high) for share, up in RAIL)
    return (*right, *((-y, z) for y, z in reversed(right)))


def draw_block(maker: Maker, block: Block, rail: Rail, solid: Solid) -> None:
    """A block astride its rail."""
    t, normal, across = solid.axes
    long, high, wide = solid.size
    part = block.part
    facts = [
        ("Kind", part.title or part.id), ("Length x width", maker.sizes((long, wide))), *maker.facts(("Height", part.height, "m")),
        ("Preload", block.preload), *_holes(maker, part),
    ]  # fmt: skip
    total = length_of(part.height, 0.03)
    groove = length_of(rail.part.height, 0.02) + GAP - (total - high)
    ring = block_ring(wide, high, total, length_of(rail.part.width, 0.02) + 2 * GAP, groove)
    maker.draw(
        solid, extrusion(ring), (scale(t, -1.0), across, normal), (long, wide, high), solid.centre, of_axis(block.path, WHAT["block"]),
        WHAT["block"], facts=facts, on=block.on, section=part.id,
    )  # fmt: skip


def _holes(maker: Maker, part: kinds.Block) -> tuple[tuple[str, str], ...]:
    if part.holes is None:
        return ()
    return (
        (
            "Holes, across x along",
            f"{maker.sizes(typical(each) for each in part.holes)}{f', {part.thread}' if part.thread else ''}",
        ),
    )


def block_ring(wide: float, high: float, total: float, groove_width: float, groove: float) -> Ring:
    """Outline of a block about the middle of its box: the groove for its rail below, a flange above where it is a wide one.

    Args:
        wide: Of the whole.
        high: From the lower edge of its skirt to its face.
        total: From the rail's foot to its face.
        groove_width: Of the groove.
        groove: Its depth from the lower edge.
    """
    g, deep = groove_width / 2, min(max(groove, 0.0), 0.9 * high)
    waist = WAIST * wide / 2 if wide > FLANGED * total else wide / 2
    if g >= waist or deep <= 0.0:
        g, deep = 0.0, 0.0
    shoulder = high - FLANGE * total
    points = [(waist, 0.0)]
    if waist < wide / 2:
        points += [(waist, shoulder), (wide / 2, shoulder)]
    points += [(wide / 2, high)]
    right = [*([(g, deep), (g, 0.0)] if deep > 0.0 else []), *points]
    ring = [*right, *((-y, z) for y, z in reversed(right))]
    return tuple((y, z - high / 2) for y, z in ring)


def draw_chain(maker: Maker, axis: Axis, solid: Solid) -> None:
    """Half of a cable chain as a straight run from its end."""
    chain = axis.cable_chain
    if chain is None:
        return
    high, wide = (typical(each) for each in chain.part.size) if chain.part.size is not None else CHAIN
    radius = length_of(chain.radius, 0.05)
    run = (axis.travel / 2 + pi * radius) / 2
    t = axis.direction
    up = _upwards(subtract(chain.moving_at, chain.fixed_at), t, axis.normal)
    # the bend lies ahead of both ends: fixed at mid travel, it runs a quarter of the travel beyond them
    middle = along(solid.centre, t, run / 2)
    facts = [("Kind", chain.part.title or chain.part.id), *maker.facts(("Bend radius", radius, "m"))]
    maker.draw(
        solid, BOX, (t, up, cross(t, up)), (run, high, wide), middle, f"{axis.name.upper()} {WHAT['cable-chain']}, {_half(solid.path)}",
        WHAT["cable-chain"], facts=facts, beyond=True, on=chain.on if solid.path.endswith("fixed-half") else "", part=f"{axis.path}.cable_chain",
    )  # fmt: skip


def _half(path: str) -> str:
    return spoken(path.rpartition(".")[2])


def _upwards(step: Vector, t: Vector, usual: Vector) -> Vector:
    """From the fixed to the moving run: the machine axis square to the run that is nearest."""
    ways = [axis for axis in AXES.values() if abs(dot(axis, t)) < 0.5]
    far = max(ways, key=lambda axis: abs(dot(axis, step)))
    reach = dot(far, step)
    return usual if abs(reach) < 1e-6 else far if reach > 0.0 else scale(far, -1.0)

"""Region of a machine that each bar and tie sits in, in the words of the trade: feet, bed, table, frame, beam, head, spindle, cutter.

Read from what carries what: the last level axis on the tool's side is that of the head, what its blocks slide along is the beam, what
holds the beam is the frame. So both layouts and odd frames are told apart without a name.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from gantrywright.base.units import Array
from gantrywright.theory.frames.frame import PER_NODE, Numbers
from gantrywright.theory.frames.skeleton import GROUND, Bar, Motion, Skeleton, Tie

BED, TABLE, BEAM, FRAME, HEAD = "bed", "table", "beam", "frame", "head"
GANTRY = "gantry"
"""What the frame moves as, with its beam."""
SPINDLE, CUTTER, FEET, DRIVE = "spindle", "cutter", "feet", "drive"
OUTWARD = (BED, TABLE, BEAM, FRAME, HEAD, SPINDLE, CUTTER)
"""A joint between two of these belongs to the later one."""
OF_KIND = {"foot": FEET, "bearing": SPINDLE, "clamp": SPINDLE, "collet": CUTTER, "tool": CUTTER, "spindle": SPINDLE}
TWIST, UPRIGHT, LEVEL, STRETCH, ANY = "torsion", "bending up and down", "bending level", "stretch", ""
STEEP = 0.7
"""Cosine from which a line counts as lying along a direction: nearer to it than to any square to it."""


@dataclass(frozen=True, slots=True)
class Regions:
    """Where every bar and tie of a skeleton sits."""

    bars: tuple[str, ...]
    ties: tuple[str, ...]
    """Of a drive: ``drive`` and the name of its axis."""
    across: int
    """Direction that the head runs along the beam: 0 for X, 1 for Y."""
    beam_axes: frozenset[str]
    """Axes that move the beam."""
    called: Mapping[str, str] = field(default_factory=dict)
    """What the builder calls the bed, the table and the frame with its beam, where each is one body of its own."""

    def name(self, region: str) -> str:
        """The builder's word for a region, else that of the trade."""
        return self.called.get(region) or {FRAME: GANTRY}.get(region, region)


@dataclass(frozen=True, slots=True)
class Strained:
    """Coefficients gathered by the region that they sit in and how they strain."""

    labels: tuple[tuple[str, str], ...]
    """Region and way; the way is told of beam and bed alone."""
    numbers: Numbers
    """Label of every coefficient, shape (c,)."""

    def gathered(self, shares: Array) -> Array:
        """Shares of coefficients, shape (c, m), summed by label: shape (labels, m)."""
        table = np.zeros((len(self.labels), shares.shape[1]))
        np.add.at(table, self.numbers, shares)
        return table


def regions(skeleton: Skeleton) -> Regions:
    """Sort the bars and ties of a skeleton by where they sit."""
    bars = skeleton.bars
    tool, work = bars[skeleton.tip.bar].body, skeleton.rest.body
    carrying = [motion for motion in skeleton.motions if tool in motion.shift]
    level = [motion for motion in carrying if abs(motion.shift[tool][2]) < STEEP]
    last = level[-1] if level else None
    heads = set(last.shift) if last else {tool}
    moved = {body for motion in carrying for body in motion.shift} - heads
    tables = {body for motion in skeleton.motions if work in motion.shift and tool not in motion.shift for body in motion.shift}
    beams = _beams(skeleton, last, heads)
    beam_body = bars[min(beams)].body if beams else ""
    top = max((_height(bars[bar]) for bar in skeleton.rest.bars), default=np.inf)
    of_bars = tuple(
        _of_bar(bar, number in beams, heads, moved, tables, top if bar.body == beam_body else np.inf)
        for number, bar in enumerate(bars)
    )
    across = int(np.argmax(np.abs(last.shift[tool][:2]))) if last else 0
    beam_axes = frozenset(motion.axis for motion in skeleton.motions if beam_body in motion.shift)
    return Regions(of_bars, tuple(_of_tie(tie, of_bars) for tie in skeleton.ties), across, beam_axes, _called(skeleton, of_bars))


def _called(skeleton: Skeleton, of_bars: tuple[str, ...]) -> dict[str, str]:
    """Names of the bodies that make up bed, table and frame; a body that is part of two of them names neither."""
    made: dict[str, set[str]] = {}
    for bar, region in zip(skeleton.bars, of_bars, strict=True):
        made.setdefault(FRAME if region == BEAM else region, set()).add(bar.body)
    alone = {region: next(iter(bodies)) for region, bodies in made.items() if region in (BED, TABLE, FRAME) and len(bodies) == 1}
    return {region: body for region, body in alone.items() if list(alone.values()).count(body) == 1}


def strained(skeleton: Skeleton, where: Regions, element_bar: Numbers) -> Strained:
    """Sort the coefficients of a frame by region and by how they strain.

    Args:
        skeleton: That was meshed.
        where: Its regions.
        element_bar: Bar of each element of the mesh.
    """
    labels: dict[tuple[str, str], int] = {}

    def number(region: str, way: str) -> int:
        return labels.setdefault((region, way), len(labels))

    of_bar = [
        [number(region, way if region in (BEAM, BED) else ANY) for way in _ways(bar)]
        for bar, region in zip(skeleton.bars, where.bars, strict=True)
    ]
    of_tie = [number(region, ANY) for region in where.ties]
    elements = np.array(of_bar, dtype=np.intp).reshape(-1, PER_NODE)[element_bar].ravel()
    numbers: Numbers = np.concatenate([elements, np.repeat(np.array(of_tie, dtype=np.intp), PER_NODE)])
    return Strained(tuple(labels), numbers)


def _beams(skeleton: Skeleton, last: Motion | None, heads: set[str]) -> set[int]:
    """Bars that the contacts of the head's axis slide along."""
    sides = [
        tie.a if tie.slides == "a" else tie.b
        for tie in skeleton.ties
        if last and tie.kind != "drive" and tie.slides and tie.axis == last.axis
    ]
    return {side.bar for side in sides if side.bar != GROUND and skeleton.bars[side.bar].body not in heads}


def _of_bar(bar: Bar, carries_head: bool, heads: set[str], moved: set[str], tables: set[str], top: float) -> str:
    """Region of a bar; ``top`` is the height over which a bar of a body that stands still belongs to the frame of the beam."""
    if bar.kind in OF_KIND:
        return OF_KIND[bar.kind]
    if bar.kind == "drive":
        return f"{DRIVE} {_axis_of(bar.part)}"
    if carries_head:
        return BEAM
    if bar.body in heads:
        return HEAD
    if bar.body in moved or _height(bar) > top:
        return FRAME
    return TABLE if bar.body in tables else BED


def _of_tie(tie: Tie, of_bars: tuple[str, ...]) -> str:
    if tie.kind == "drive":
        return f"{DRIVE} {tie.axis or _axis_of(tie.part)}"
    if tie.kind in OF_KIND:
        return OF_KIND[tie.kind]
    sides = [of_bars[anchor.bar] for anchor in (tie.a, tie.b) if anchor.bar != GROUND]
    return max(sides, key=OUTWARD.index)


def _axis_of(part: str) -> str:
    """Name of the axis in the path of a part of a drive."""
    return part.split(".")[1]


def _height(bar: Bar) -> float:
    """Of the middle of a bar, m."""
    return (bar.start[2] + bar.stop[2]) / 2


def _ways(bar: Bar) -> tuple[str, ...]:
    """How each of the six coefficients of a bar strains it."""
    height, width = (UPRIGHT, LEVEL) if abs(bar.height_axis[2]) > STEEP else (LEVEL, UPRIGHT)
    return (STRETCH, TWIST, height, height, width, width)

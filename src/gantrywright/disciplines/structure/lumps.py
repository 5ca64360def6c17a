"""Masses that ride on bars: blocks, rails, screws, motors, sheets, the cabinet."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import dist

from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.disciplines.structure.carriers import Carriers
from gantrywright.model.bodies import Solid
from gantrywright.model.frame import Vector, along
from gantrywright.model.machine import Machine
from gantrywright.theory.frames.skeleton import Bar, Lump, Rest
from gantrywright.theory.rigid_bodies import box_inertia, cylinder_inertia

LONG = 0.4
"""Of a part longer than this, m, the mass is spread over several points."""
POINTS = 5
OWN = ("member", "plate", "spindle", "mount", "cutter", "layer")
"""Kinds that are bars themselves or are seen to elsewhere."""
BOXED = ("skin", "webs")
"""Kinds of layers that one bar stands for together."""
NONE = ((0.0, 0.0, 0.0),) * 3


def lumps_of(machine: Machine, carriers: Carriers, rest: Rest | None) -> Iterator[Lump]:
    """Every mass that is no bar's own."""
    on = {rail.path: rail.on for axis in machine.axes for rail in axis.rails}
    on |= {block.path: block.on for axis in machine.axes for block in axis.blocks}
    on |= {foot.path: foot.on for foot in machine.feet}
    for solid in machine.solids:
        if solid.mass is None or solid.kind in OWN or solid.path in carriers.number:
            continue
        if solid.kind == "rail":
            yield from _spread(solid, on[solid.path], carriers)
        elif solid.size[0] > LONG and solid.kind in ("screw", "rack", "belt"):
            yield from _spread(solid, "", carriers)
        else:
            yield from _one(solid, on.get(solid.path, ""), carriers)
    yield from _sheets(machine, carriers, rest)


def weighed(bars: Sequence[Bar], lumps: Sequence[Lump]) -> tuple[list[Bar], list[Lump]]:
    """Bars and lumps of a body that was weighed lighter than the sum of its parts: each is lightened in the same proportion.

    A mass less than nothing at one point would leave the machine without true modes.
    """
    bars, kept = list(bars), [lump for lump in lumps if typical(lump.mass) >= 0]
    for short in (lump for lump in lumps if typical(lump.mass) < 0):
        body = bars[short.at.bar].body
        listed: Real = sum((bar.mass_per_length * dist(bar.start, bar.stop) for bar in bars if bar.body == body), 0.0)
        listed = listed + sum((lump.mass for lump in kept if bars[lump.at.bar].body == body), 0.0)
        part = 1 + short.mass / listed
        kept = [_lighter(lump, part) if bars[lump.at.bar].body == body else lump for lump in kept]
        bars = [
            replace(bar, mass_per_length=bar.mass_per_length * part, rotary_height=bar.rotary_height * part, rotary_width=bar.rotary_width * part)
            if bar.body == body else bar for bar in bars
        ]  # fmt: skip
    return bars, kept


def _lighter(lump: Lump, part: Real) -> Lump:
    x, y, z = (tuple(value * typical(part) for value in row) for row in lump.inertia)
    return Lump(lump.part, lump.at, lump.mass * part, (x, y, z))  # type: ignore[arg-type]


def _one(solid: Solid, on: str, carriers: Carriers) -> Iterator[Lump]:
    anchor = carriers.hold(on, solid.body, solid.centre)
    if anchor is None or solid.mass is None:
        return
    inertia = cylinder_inertia if solid.round else box_inertia
    moments = inertia(mass=typical(solid.mass), size=solid.size, axes=solid.axes)
    x, y, z = (float(moment) for moment in moments)
    diagonal = ((x, 0.0, 0.0), (0.0, y, 0.0), (0.0, 0.0, z))
    yield Lump(solid.path, anchor, solid.mass, diagonal)


def _spread(solid: Solid, on: str, carriers: Carriers) -> Iterator[Lump]:
    """A long part as equal masses along it."""
    if solid.mass is None:
        return
    for k in range(POINTS):
        at = along(solid.centre, solid.axes[0], solid.size[0] * ((k + 0.5) / POINTS - 0.5))
        anchor = carriers.hold(on, solid.body, at)
        if anchor is not None:
            yield Lump(solid.path, anchor, solid.mass / POINTS, NONE)


def _sheets(machine: Machine, carriers: Carriers, rest: Rest | None) -> Iterator[Lump]:
    """Sheets weigh on the bars that bear them, or on the nearest bar of their body; those of a torsion box are its bar's own mass."""
    boxed = {layer.path for layer in machine.layers if layer.kind in BOXED and f"{layer.body}.top" in carriers.number}
    for solid in machine.solids:
        if solid.kind != "layer" or solid.mass is None or solid.path in boxed:
            continue
        own = rest is not None and rest.body == solid.body
        for place in _over(solid):
            anchor = carriers.nearest(solid.body, place)
            if own and rest is not None:
                near = min(rest.bars, key=lambda bar: _gap(carriers, bar, place))
                anchor = carriers.of_part(carriers.bars[near].part, place)
            if anchor is not None:
                yield Lump(solid.path, anchor, solid.mass / 9, NONE)


def _over(solid: Solid) -> Iterator[Vector]:
    """Nine places of a sheet."""
    for i in (-1, 0, 1):
        for j in (-1, 0, 1):
            yield along(along(solid.centre, solid.axes[0], solid.size[0] * i / 3), solid.axes[1], solid.size[1] * j / 3)


def _gap(carriers: Carriers, bar: int, place: Vector) -> float:
    line = carriers.bars[bar]
    run = [b - a for a, b in zip(line.start, line.stop, strict=True)]
    square = sum(r * r for r in run)
    part = min(max(sum((p - a) * r for p, a, r in zip(place, line.start, run, strict=True)) / square, 0.0), 1.0)
    return sum((a + part * r - p) ** 2 for a, r, p in zip(line.start, run, place, strict=True))

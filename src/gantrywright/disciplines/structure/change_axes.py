"""Changes of guides, drives, tool and feet that make them give less."""

import re
from collections.abc import Iterator
from functools import cache

from gantrywright.base.quantities.proposing import propose
from gantrywright.base.samples import typical
from gantrywright.catalog import kinds
from gantrywright.catalog.tables import Catalog, packaged, record_of
from gantrywright.disciplines.structure.change_places import SAME, said
from gantrywright.disciplines.structure.change_written import system_of, typed
from gantrywright.findings import Change
from gantrywright.model.axis import Axis, DriveFit, Rail
from gantrywright.model.bodies import Foot, Plate
from gantrywright.model.machine import Machine

STIFFER_PRELOAD = {"clearance": "light", "light": "medium", "medium": "heavy"}
SIZES = (15, 20, 25, 30, 35, 45)
"""Sizes of the common interchangeable families of blocks, mm."""
WIDER = 1.25
WORTH = 1.05
"""A place that moves by less than this factor is not proposed."""
EDGE = 0.005
"""Of a plate, left beside a rail or a block, m."""
SHORTER = 0.75
"""Stick-out of the tool that is tried, of the present one."""
CLEAR = 0.002
"""Of the shank, left below the collet over the flutes and over the deepest cut, m."""
BORED = ("fixed-supported", "supported-supported", "fixed-free")
"""Ends of a turning screw that a second fixed bearing makes stiffer."""


def block_changes(machine: Machine, axis: Axis) -> Iterator[Change]:
    """More preload, the next size, blocks further apart, rails further apart."""
    if axis.slide:
        return
    block = axis.blocks[0]
    stiffer = STIFFER_PRELOAD.get(block.preload)
    if stiffer is not None:
        yield Change(
            f"{axis.path} blocks with {stiffer} preload instead of {block.preload}", ((f"{axis.path}.blocks.preload", stiffer),)
        )
    yield from _other_blocks(axis)
    yield from _blocks_apart(machine, axis)
    yield from _rails_apart(machine, axis)


def _other_blocks(axis: Axis) -> Iterator[Change]:
    old, rails = axis.blocks[0].use.part, {rail.use.part for rail in axis.rails}
    size = re.search(r"-(\d+)\b", old)
    if size is None or int(size[1]) not in SIZES[:-1] or len(rails) != 1:
        return
    following = str(SIZES[SIZES.index(int(size[1])) + 1])
    block, rail = (re.sub(r"-\d+\b", f"-{following}", name, count=1) for name in (old, rails.pop()))
    if block in packaged("block").index and rail in packaged("rail").index:
        edits = ((f"{axis.path}.blocks.part", block), *((f"{each.path}.part", rail) for each in axis.rails))
        yield Change(f"{axis.path} {block} on {rail} instead of {old}", edits)


def _blocks_apart(machine: Machine, axis: Axis) -> Iterator[Change]:
    """As far apart as the rails and the plate behind the blocks leave room for, at most so much further."""
    length = axis.blocks[0].part.length
    if axis.blocks_per_rail < 2 or axis.block_spacing <= 0 or length is None:
        return
    room = [min(rail.length for rail in axis.rails) - axis.travel - typical(length)]
    plates = {plate.path: plate for plate in machine.plates}
    on = {rail.on for rail in axis.rails} if axis.rails_ride else {block.on for block in axis.blocks}
    room += [_extent(plates[name], axis.direction) - typical(length) for name in on if name in plates]
    wide = min(axis.block_spacing * WIDER, *room)
    if wide < axis.block_spacing * WORTH:
        return
    key = f"{axis.path}.blocks.spacing"
    new = propose(wide, "length", system_of(machine, key, "length"), "down")
    yield Change(f"{axis.path} blocks {new} apart instead of {typed(machine, key, axis.block_spacing)}", ((key, new),))


def _rails_apart(machine: Machine, axis: Axis) -> Iterator[Change]:
    """Two rails on a plate further apart, as far as the plate that bears them and the one behind the blocks reach."""
    places = [(rail, said(machine, f"{rail.path}.across")) for rail in axis.rails]
    values = [value for _, value in places if isinstance(value, float)]
    plates = {plate.path: plate for plate in machine.plates}
    if (
        len(values) != len(places)
        or len(places) != 2
        or abs(sum(values)) > SAME
        or any(rail.on not in plates for rail, _ in places)
    ):
        return
    half = abs(values[0])
    room = [(_extent(plates[rail.on], axis.across) - _width(rail)) / 2 - EDGE for rail, _ in places]
    block = axis.blocks[0].part.width
    room += [
        (_extent(plates[one.on], axis.across) - typical(block)) / 2 for one in axis.blocks if one.on in plates and block is not None
    ]
    wide = min(half * WIDER, *room)
    if half <= 0 or wide < half * WORTH:
        return
    key = next(f"{rail.path}.across" for rail, value in places if value == max(values))
    new = propose(wide, "length", system_of(machine, key, "length"), "down")
    old = typed(machine, key, half)
    edits = tuple((f"{rail.path}.across", new if value > 0 else f"-{new}") for (rail, _), value in zip(places, values, strict=True))
    yield Change(f"{axis.path} rails {new} from the middle instead of {old}", edits)


def _extent(plate: Plate, direction: tuple[float, float, float]) -> float:
    ways = (plate.first, plate.second, plate.normal)
    return sum(
        abs(sum(a * b for a, b in zip(way, direction, strict=True))) * size for way, size in zip(ways, plate.size, strict=True)
    )


def _width(rail: Rail) -> float:
    return 0.0 if rail.part.width is None else typical(rail.part.width)


def drive_changes(axis: Axis, fit: DriveFit) -> Iterator[Change]:
    """A thicker screw of the same lead, fixed bearings at both ends, a preloaded nut, a wider belt."""
    if axis.slide:
        return
    parts = fit.drive.parts
    if fit.drive.kind == "belt":
        yield from _wider_belt(axis, fit)
    if fit.drive.kind not in ("ball-screw", "lead-screw") or parts.turns != "screw":
        return
    if fit.drive.kind == "ball-screw":
        yield from _thicker_screw(axis, fit)
        nut = "" if parts.nut is None else f"{parts.nut.id}-preloaded"
        if nut in packaged("nut").index:
            yield _alike(axis, fit, f"{axis.path} preloaded nut", (("nut", nut),))
    if parts.ends in BORED:
        yield _alike(
            axis, fit, f"{axis.path} screw with fixed bearings at both ends instead of {parts.ends}", (("ends", "fixed-fixed"),)
        )


@cache
def _screws() -> tuple[kinds.BallScrew, ...]:
    rows = (record_of(row) for row in Catalog().rows("ball-screw"))
    return tuple(row for row in rows if isinstance(row, kinds.BallScrew) and row.diameter is not None and row.lead is not None)


def _thicker_screw(axis: Axis, fit: DriveFit) -> Iterator[Change]:
    old = fit.drive.parts.part
    if not isinstance(old, kinds.BallScrew) or old.diameter is None or old.lead is None:
        return
    size, lead = typical(old.diameter), typical(old.lead)
    thicker = [s for s in _screws() if typical(s.diameter or 0.0) > size + SAME and abs(typical(s.lead or 0.0) - lead) < SAME]
    if not thicker:
        return
    new = min(thicker, key=lambda screw: typical(screw.diameter or 0.0))
    preloaded = fit.drive.parts.nut is not None and fit.drive.parts.nut.id.endswith("-preloaded")
    nut = new.id.replace("ball-screw", "nut") + ("-preloaded" if preloaded else "")
    keys = [("part", new.id), *((("nut", nut),) if nut in packaged("nut").index else ())]
    yield _alike(axis, fit, f"{axis.path} {new.id} instead of {old.id}", tuple(keys))


def _wider_belt(axis: Axis, fit: DriveFit) -> Iterator[Change]:
    """The next width of the same belt: ``belt-5m-16-steel`` to ``belt-5m-25-steel``."""
    found = re.fullmatch(r"(belt-[^-]+-)([\d.]+)(-.+)", fit.drive.parts.part.id)
    if found is None:
        return
    names = [re.fullmatch(rf"{re.escape(found[1])}([\d.]+){re.escape(found[3])}", name) for name in packaged("belt").index]
    wider = [(float(name[1]), name[0]) for name in names if name is not None and float(name[1]) > float(found[2])]
    if wider:
        yield _alike(axis, fit, f"{axis.path} {min(wider)[1]} instead of {found[0]}", (("part", min(wider)[1]),))


def _alike(axis: Axis, fit: DriveFit, words: str, keys: tuple[tuple[str, str], ...]) -> Change:
    """The same edit on every drive of the axis that is like this one."""
    alike = [other.path for other in axis.drives if other.drive.parts.part.id == fit.drive.parts.part.id]
    return Change(words, tuple((f"{path}.{key}", value) for path in alike for key, value in keys))


def tool_changes(machine: Machine) -> Iterator[Change]:
    """Less of the tool out of its collet: still deep enough for every job, and held by its shank, not by its flutes."""
    if machine.tool is None or not isinstance(said(machine, "tool.stick_out"), float):
        return
    now = typical(machine.tool.stick_out)
    deepest = max((typical(job.depth) for job in machine.jobs if job.depth is not None), default=0.0)
    flutes = 0.0 if machine.tool.cutter.flute_length is None else typical(machine.tool.cutter.flute_length)
    short = max(now * SHORTER, deepest + CLEAR, flutes + CLEAR)
    if short * WORTH > now:
        return
    key = "tool.stick_out"
    new = propose(short, "length", system_of(machine, key, "length"), "up")
    yield Change(f"tool {new} out of the collet instead of {typed(machine, key, now)}", ((key, new),))


def foot_changes(machine: Machine, foot: Foot) -> Iterator[Change]:
    """The next larger foot; steel instead of rubber."""
    body, _, name = foot.path.partition(".")
    recipe = said(machine, f"{body}.recipe")
    key = f"{body}.feet.part" if recipe in ("slab", "ladder-frame") else f"{body}.foot.{name}.part"
    old = foot.use.part
    steel = old.replace("-rubber", "-steel")
    if steel != old and steel in packaged("foot").index:
        yield Change(f"{body} feet {steel} instead of {old}", ((key, steel),))
    sizes = re.fullmatch(r"foot-m(\d+)-(.+)", old)
    if sizes is None:
        return
    names = [re.fullmatch(rf"foot-m(\d+)-{sizes[2]}", row) for row in packaged("foot").index]
    larger = [(int(row[1]), row[0]) for row in names if row is not None and int(row[1]) > int(sizes[1])]
    if larger:
        yield Change(f"{body} feet {min(larger)[1]} instead of {old}", ((key, min(larger)[1]),))

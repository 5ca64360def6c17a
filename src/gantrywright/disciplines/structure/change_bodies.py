"""Changes of plates, bars, table tops and joints that make them give less."""

import re
from collections.abc import Callable, Iterator
from functools import cache

from gantrywright.base.samples import typical
from gantrywright.catalog import kinds
from gantrywright.catalog.tables import Catalog, record_of
from gantrywright.disciplines.structure.change_places import (
    PLATES,
    SAME,
    SHEETS,
    UNIT,
    following,
    in_unit,
    ladder_key,
    member_table,
    plate_key,
    said,
)
from gantrywright.disciplines.structure.change_written import named, source_of, system_of, typed, typed_last
from gantrywright.findings import Change
from gantrywright.model.bodies import Joint, Member, Plate
from gantrywright.model.machine import Machine

FILL = "mineral-casting"
UPRIGHT = 0.5
"""Cosine from which blocks stand on a face rather than beside it."""
MOST_AREA = 2.3
"""A proposed section has at most this many times the outer box of the old one."""
METRIC_BOLTS = ("M4", "M5", "M6", "M8", "M10", "M12", "M16", "M20")
Suits = Callable[[kinds.Section], bool]
MOST_BRACKETS = 4
"""One on each side of a square bar."""


def plate_changes(machine: Machine, plate: Plate) -> Iterator[tuple[Change, ...]]:
    """The next usual thickness: to both sides, else to the one side that is free, so that the other face stays where it is."""
    if plate.path.endswith((".slide-base", ".saddle")) and any(axis.slide for axis in machine.axes):
        return  # a bought slide is as it is
    key = source_of(machine, plate_key(machine, plate.path))
    size, system = said(machine, key), system_of(machine, key, "size3")
    thicker = following(PLATES[system], plate.size[2])
    if thicker is None or not isinstance(size, tuple):
        return
    unit = UNIT[system][0]
    edit = (key, f"{in_unit(size[0], system)} x {in_unit(size[1], system)} x {thicker[1]} {unit}")
    alike = [other.path for other in machine.plates if source_of(machine, plate_key(machine, other.path)) == key]
    word = "uprights" if key.endswith(".uprights.size") else named(alike)
    words = f"{word} {thicker[1]} {unit} thick instead of {typed_last(machine, key, plate.size[2])}"
    aside = _aside(machine, key, plate.body, thicker[0] - plate.size[2])
    moved = [Change(f"{words}, its middle moved to {text}", (edit, (at, text))) for at, text in aside]
    fixed = aside and any(_behind(machine, path) for path in alike)
    yield tuple(moved) if fixed else (Change(words, (edit,)), *moved)


def _aside(machine: Machine, size: str, body: str, more: float) -> list[tuple[str, str]]:
    """Places of the middle of a plate that grows to one side only, never into blocks; none where the file does not say where it is."""
    key, name = f"{size.removesuffix('.size')}.at", size.split(".")[-2]
    stated = machine.stated.get(key)
    plate = next((other for other in machine.plates if other.path == f"{body}.{name}"), None)
    if size != f"{body}.plate.{name}.size" or plate is None or stated is None or stated.origin.kind != "file":
        return []
    old, system = stated.value, system_of(machine, key, "point")
    if not isinstance(old, tuple):
        return []
    taken = _behind(machine, plate.path)
    places = [
        [at + side * more / 2 * way for at, way in zip(old, plate.normal, strict=True)] for side in (1, -1) if side not in taken
    ]
    return [(key, f"{', '.join(in_unit(at, system) for at in place)} {UNIT[system][0]}") for place in places]


def _behind(machine: Machine, path: str) -> set[int]:
    """Sides of a plate that lie on blocks, 1 along its normal and -1 against it: what lies there would have to move."""
    plate = next(plate for plate in machine.plates if plate.path == path)
    ways = [block.normal for axis in machine.axes for block in axis.blocks if block.on == path]
    along = [sum(a * b for a, b in zip(way, plate.normal, strict=True)) for way in ways]
    return {-1 if part > 0 else 1 for part in along if abs(part) > UPRIGHT}


def member_changes(machine: Machine, member: Member) -> Iterator[Change]:
    """The next larger sections of its family, a thicker wall, a filling."""
    ladder = ladder_key(machine, member.path)
    section = _section(machine, member)
    table = section.removesuffix(".section")
    word = {"cross": "cross members", "side": "sides", "leg": "legs", "stretcher": "stretchers"}.get(ladder.rpartition(".")[2], "")
    alike = named(other.path for other in machine.members if _section(machine, other) == section)
    word = f"{ladder.partition('.')[0]} {word}" if word else alike
    if member.use.part:
        places = _row_of(machine, member) if section.startswith(f"{member.body}.member.") else (section,)
        wide = word if len(places) == 1 else f"{member.body} {_stem(member)} bars"
        for row in larger_sections(member.use.part):
            edits = (*((place, row.id) for place in places), *_moved_rails(machine, member, row))
            moved = ", rails moved to its slots" if len(edits) > len(places) else ""
            yield Change(f"{wide} {row.id} instead of {member.use.part}{moved}", edits)
    else:
        yield from _walls(machine, member, word, section)
    if not ladder and not member.fill and member.section.shape in ("tube", "tslot"):
        yield Change(f"{word} filled with {FILL.replace('-', ' ')}", ((f"{table}.fill", FILL),))
    if ladder.endswith(".cross"):
        count = said(machine, f"{member.body}.cross_members")
        if isinstance(count, int | float):
            more = int(count) + 2
            yield Change(f"{more} cross members instead of {int(count)}", ((f"{member.body}.cross_members", str(more)),))


def _section(machine: Machine, member: Member) -> str:
    """Key of the section of a bar, that of its sibling where it is a mirror image."""
    return ladder_key(machine, member.path) or source_of(machine, f"{member_table(machine, member.path)}.section")


def _name(member: Member) -> str:
    return member.path.partition(".")[2]


def _stem(member: Member) -> str:
    stem, _, number = _name(member).rpartition("-")
    return stem if number.isdecimal() else _name(member)


def _row_of(machine: Machine, member: Member) -> tuple[str, ...]:
    """Sections of listed bars that are numbered alike: cross members that bear one table are changed together."""
    row = [other for other in machine.members if other.body == member.body and _stem(other) == _stem(member)]
    return tuple(dict.fromkeys(_section(machine, other) for other in row))


def _walls(machine: Machine, member: Member, word: str, section: str) -> Iterator[Change]:
    """A section that is given in place: a thicker wall, or a thicker slab."""
    key = f"{section}.wall"
    wall, system = said(machine, key), system_of(machine, key, "length")
    thicker = following(PLATES[system], wall) if isinstance(wall, float) else None
    if thicker is not None and isinstance(wall, float):
        new = f"{thicker[1]} {UNIT[system][0]}"
        yield Change(f"{word} with a wall of {new} instead of {typed(machine, key, wall)}", ((key, new),))
    key = f"{member.body}.size"
    size, system = said(machine, key), system_of(machine, key, "size3")
    if member.path == f"{member.body}.slab" and isinstance(size, tuple):
        new = f"{in_unit(size[2] * 1.25, system)} {UNIT[system][0]}"
        text = f"{in_unit(size[0], system)} x {in_unit(size[1], system)} x {new}"
        yield Change(f"slab {new} thick instead of {typed_last(machine, key, size[2])}", ((key, text),))


@cache
def _sections() -> dict[str, kinds.Section]:
    rows = (record_of(row) for row in Catalog().rows("section"))
    return {row.id: row for row in rows if isinstance(row, kinds.Section)}


def _family(id: str) -> str:
    """What a name says before its sizes: ``tslot-``, ``tube-al-``."""
    start = re.match(r"\D*", id)
    return start[0] if start else ""


def _box(row: kinds.Section) -> tuple[float, float, float]:
    width = 0.0 if row.width is None else typical(row.width)
    height = width if row.height is None else typical(row.height)
    return width, height, 0.0 if row.wall is None else typical(row.wall)


def larger_sections(id: str) -> tuple[kinds.Section, ...]:
    """Of the same family: a thicker wall, then the next taller, the next wider, the next that is both; a T-slot heavy for light.

    Args:
        id: Of a packaged section.
    """
    old = _sections().get(id)
    if old is None:
        return ()
    start = _family(id)
    width, height, wall = _box(old)
    kin = [row for row in _sections().values() if row.shape == old.shape and row.id != id and _family(row.id) == start]
    module = None if old.module is None else typical(old.module)
    if old.shape == "tslot":
        heavy = [row for row in kin if row.id.endswith("-heavy")]
        same = [row for row in heavy if row.module is not None and module is not None and abs(typical(row.module) - module) < SAME]
        stronger = [row for row in same if _at_least(row, width, height)]
        kin = stronger or [row for row in heavy if _at_least(row, width, height)]
        wall = 0.0
    grown = [
        row
        for row in kin
        if _at_least(row, width, height) and _area(row) <= MOST_AREA * width * height and _box(row)[2] >= wall - SAME
    ]
    found: list[kinds.Section] = []
    for suits in (_thicker(width, height), _taller(width, height), _wider(width, height), _both(width, height)):
        chosen = min((row for row in grown if suits(row)), key=lambda row: (_area(row), _box(row)[2]), default=None)
        if chosen is not None and chosen not in found:
            found.append(chosen)
    return tuple(found)


def _at_least(row: kinds.Section, width: float, height: float) -> bool:
    return _box(row)[0] >= width - SAME and _box(row)[1] >= height - SAME


def _area(row: kinds.Section) -> float:
    return _box(row)[0] * _box(row)[1]


def _thicker(width: float, height: float) -> Suits:
    return lambda row: abs(_box(row)[0] - width) < SAME and abs(_box(row)[1] - height) < SAME


def _taller(width: float, height: float) -> Suits:
    return lambda row: abs(_box(row)[0] - width) < SAME and _box(row)[1] > height + SAME


def _wider(width: float, height: float) -> Suits:
    return lambda row: _box(row)[0] > width + SAME and abs(_box(row)[1] - height) < SAME


def _both(width: float, height: float) -> Suits:
    return lambda row: _box(row)[0] > width + SAME and _box(row)[1] > height + SAME


def _moved_rails(machine: Machine, member: Member, row: kinds.Section) -> tuple[tuple[str, str], ...]:
    """Rails on slot nuts stay on slots: on a profile of another module they move to the nearest line."""
    old = _sections().get(member.use.part)
    if old is None or old.module is None or row.module is None or abs(typical(old.module) - typical(row.module)) < SAME:
        return ()
    module = typical(row.module)
    edits = []
    for axis in machine.axes:
        for rail in axis.rails:
            across = said(machine, f"{rail.path}.across")
            if rail.on == member.path and isinstance(across, float):
                half = _box(row)[1] / 2
                lines = [sign * (n + 0.5) * module for n in range(8) for sign in (-1, 1) if (n + 0.5) * module < half]
                if lines:
                    nearest = min(lines, key=lambda line: abs(line - across))
                    edits.append((f"{rail.path}.across", f"{in_unit(nearest, machine.show)} {UNIT[machine.show][0]}"))
    return tuple(edits)


def top_changes(machine: Machine, path: str) -> Iterator[Change]:
    """A thicker sheet, a higher torsion box.

    Args:
        machine: The machine.
        path: ``bed.top``.
    """
    for number in range(1, 5):
        key = f"{path}.layers.{number}.thickness"
        thick, system = said(machine, key), system_of(machine, key, "length")
        thicker = following(SHEETS[system], thick) if isinstance(thick, float) else None
        if thicker is not None and isinstance(thick, float):
            material, new = said(machine, f"{path}.layers.{number}.material"), f"{thicker[1]} {UNIT[system][0]}"
            yield Change(f"{material} of the top {new} thick instead of {typed(machine, key, thick)}", ((key, new),))
    key = f"{path}.height"
    height, system = said(machine, key), system_of(machine, key, "length")
    if isinstance(height, float):
        new = f"{in_unit(height * 1.25, system)} {UNIT[system][0]}"
        yield Change(f"torsion box {new} high instead of {typed(machine, key, height)}", ((key, new),))


def joint_changes(machine: Machine, joint: Joint) -> Iterator[Change]:
    """More brackets, larger bolts, bedded faces; of a weld the wall that it sits on."""
    named = joint.path.startswith("joint.")
    where = joint.path if named else f"{joint.a.partition('.')[0]}.joint"
    word = joint.path if named else f"joints of {joint.a.partition('.')[0]}"
    if joint.kind == "welded":
        for member in machine.members:
            if f"wall of {member.path}," in joint.note:
                yield from member_changes(machine, member)
        return
    if joint.kind == "bracket" and joint.count < MOST_BRACKETS:
        more = min(2 * joint.count, MOST_BRACKETS)
        yield Change(f"{word}: {more} brackets instead of {joint.count}", ((f"{where}.count", str(more)),))
    if joint.kind in ("bolted", "end-tapped") and joint.bolts:
        if joint.thread in METRIC_BOLTS[:-1]:
            larger = METRIC_BOLTS[METRIC_BOLTS.index(joint.thread) + 1]
            yield Change(f"{word}: {larger} instead of {joint.thread}", ((f"{where}.bolts.thread", larger),))
        if joint.kind == "bolted":
            more = joint.bolts + joint.bolts // 2
            yield Change(f"{word}: {more} bolts instead of {joint.bolts}", ((f"{where}.bolts.count", str(more)),))
    if joint.kind in ("bolted", "end-tapped") and joint.faces != "bedded":
        yield Change(f"{word}: faces bedded in epoxy instead of {joint.faces}", ((f"{where}.faces", "bedded"),))

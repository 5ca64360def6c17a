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
    sized,
)
from gantrywright.findings import Change
from gantrywright.model.bodies import Joint, Member, Plate
from gantrywright.model.machine import Machine

FILL = "mineral-casting"
MOST_AREA = 2.3
"""A proposed section has at most this many times the outer box of the old one."""
METRIC_BOLTS = ("M4", "M5", "M6", "M8", "M10", "M12", "M16", "M20")
Suits = Callable[[kinds.Section], bool]
MOST_BRACKETS = 4
"""One on each side of a square bar."""


def plate_changes(machine: Machine, plate: Plate) -> Iterator[Change]:
    """The next usual thickness."""
    if plate.path.endswith((".slide-base", ".saddle")) and any(axis.slide for axis in machine.axes):
        return  # a bought slide is as it is
    key = plate_key(machine, plate.path)
    size, system = said(machine, key), machine.show
    thicker = following(PLATES[system], plate.size[2])
    if thicker is None or not isinstance(size, tuple):
        return
    unit = UNIT[system][0]
    text = f"{in_unit(size[0], system)} x {in_unit(size[1], system)} x {thicker[1]} {unit}"
    word = "uprights" if key.endswith(".uprights.size") else plate.path
    yield Change(f"{word} {thicker[1]} {unit} thick instead of {sized(plate.size[2], system)}", ((key, text),))


def member_changes(machine: Machine, member: Member) -> Iterator[Change]:
    """The next larger sections of its family, a thicker wall, a filling."""
    ladder = ladder_key(machine, member.path)
    table = member_table(machine, member.path)
    section = ladder or f"{table}.section"
    word = {"cross": "cross members", "side": "sides", "leg": "legs", "stretcher": "stretchers"}.get(ladder.rpartition(".")[2], "")
    word = f"{ladder.partition('.')[0]} {word}" if word else member.path
    if member.use.part:
        places = (section,) if section != f"{member.body}.member.{_name(member)}.section" else _row_of(machine, member)
        word = word if len(places) == 1 else f"{member.body} {_stem(member)} bars"
        for row in larger_sections(member.use.part):
            edits = (*((place, row.id) for place in places), *_moved_rails(machine, member, row))
            moved = ", rails moved to its slots" if len(edits) > len(places) else ""
            yield Change(f"{word} {row.id} instead of {member.use.part}{moved}", edits)
    else:
        yield from _walls(machine, member, word, section)
    if not ladder and not member.fill and member.section.shape in ("tube", "tslot"):
        yield Change(f"{word} filled with {FILL.replace('-', ' ')}", ((f"{table}.fill", FILL),))
    if ladder.endswith(".cross"):
        count = said(machine, f"{member.body}.cross_members")
        if isinstance(count, int | float):
            more = int(count) + 2
            yield Change(f"{more} cross members instead of {int(count)}", ((f"{member.body}.cross_members", str(more)),))


def _name(member: Member) -> str:
    return member.path.partition(".")[2]


def _stem(member: Member) -> str:
    stem, _, number = _name(member).rpartition("-")
    return stem if number.isdecimal() else _name(member)


def _row_of(machine: Machine, member: Member) -> tuple[str, ...]:
    """Sections of listed bars that are numbered alike: cross members that bear one table are changed together."""
    row = [other for other in machine.members if other.body == member.body and _stem(other) == _stem(member)]
    return tuple(f"{other.body}.member.{_name(other)}.section" for other in row)


def _walls(machine: Machine, member: Member, word: str, section: str) -> Iterator[Change]:
    """A section that is given in place: a thicker wall, or a thicker slab."""
    system = machine.show
    unit = UNIT[system][0]
    wall = said(machine, f"{section}.wall")
    if isinstance(wall, float):
        thicker = following(PLATES[system], wall)
        if thicker is not None:
            words = f"{word} with a wall of {thicker[1]} {unit} instead of {sized(wall, system)}"
            yield Change(words, ((f"{section}.wall", f"{thicker[1]} {unit}"),))
    size = said(machine, f"{member.body}.size")
    if member.path == f"{member.body}.slab" and isinstance(size, tuple):
        thick = f"{in_unit(size[2] * 1.25, system)}"
        text = f"{in_unit(size[0], system)} x {in_unit(size[1], system)} x {thick} {unit}"
        yield Change(f"slab {thick} {unit} thick instead of {in_unit(size[2], system)}", ((f"{member.body}.size", text),))


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
    system = machine.show
    unit = UNIT[system][0]
    for number in range(1, 5):
        key = f"{path}.layers.{number}.thickness"
        thick = said(machine, key)
        thicker = following(SHEETS[system], thick) if isinstance(thick, float) else None
        if thicker is not None and isinstance(thick, float):
            material = said(machine, f"{path}.layers.{number}.material")
            yield Change(
                f"{material} of the top {thicker[1]} {unit} thick instead of {sized(thick, system)}",
                ((key, f"{thicker[1]} {unit}"),),
            )
    height = said(machine, f"{path}.height")
    if isinstance(height, float):
        higher = in_unit(height * 1.25, system)
        yield Change(
            f"torsion box {higher} {unit} high instead of {in_unit(height, system)}", ((f"{path}.height", f"{higher} {unit}"),)
        )


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

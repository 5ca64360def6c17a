"""The fields of parts as keys of the file: what a part that is named, changed or given in place may carry."""

from functools import cache

from gantrywright.catalog.columns import columns_of
from gantrywright.catalog.kinds import KINDS
from gantrywright.intake.grammar.axis import DRIVE_KINDS
from gantrywright.intake.grammar.shape import Key, Table
from gantrywright.intake.grammar.things import THING

PLACED_FIELDS: dict[str, frozenset[str]] = {
    "section": frozenset(
        {"width", "height", "wall", "radius", "module", "slot", "slot_inner", "slot_depth", "bore", "boss", "lip", "shell", "web"}
    ),
    "rail": frozenset({"size", "width", "height", "pitch", "hole", "counterbore", "end_min", "first_hole"}),
    "block": frozenset({"size", "height", "width", "length", "raceway"}),
    "slide": frozenset({"travel", "height", "rail_spacing", "block_spacing", "rail_length", "free_length"}),
    "ball-screw": frozenset({"end_loss"}),
    "lead-screw": frozenset({"end_loss"}),
    "nut": frozenset({"length", "outer"}),
    "rack": frozenset({"height", "width"}),
    "motor": frozenset({"length"}),
    "spindle": frozenset({"diameter", "length", "nose", "bearing_span", "overhang"}),
    "cutter": frozenset({"length", "flute_length"}),
    "cable-chain": frozenset({"radius", "pitch"}),
}
"""Fields from which parts are placed: they stay plain numbers in sampled trees."""

PART_NAME = Key("part", "text", "Name of a row of the parts tables")


@cache
def part_table(kind: str) -> Table:
    """What may stand in a table that is used as a part; kind ``drive`` is any of the long pieces of drives."""
    kinds = DRIVE_KINDS if kind == "drive" else (kind,)
    fields: dict[str, Key] = {}
    for name in kinds:
        for key in _fields(name):
            fields.setdefault(key.name, key)
    return Table(f"part {kind}", "", (PART_NAME, *fields.values()), feeds="all", thing=THING, is_part=True)


@cache
def row_table(kind: str) -> Table:
    """What may stand in ``[part.NAME]``."""
    own = (
        Key(
            "kind",
            "/".join(KINDS),
            "Kind of part; of a row named as one of the parts tables it is known, and all else is as there",
            "unless like",
        ),
        Key("like", "text", "Name of the row that it is like, but for the fields given here"),
    )
    return Table(f"part {kind}", "A row of the parts tables for this file.", (*own, *_fields(kind)), feeds="all")


@cache
def _fields(kind: str) -> tuple[Key, ...]:
    """Defaults are left to the catalog, which applies them after the row."""
    placed = PLACED_FIELDS.get(kind, frozenset())
    return tuple(
        Key(
            name,
            column.kind,
            column.help,
            otherwise=_otherwise(column.default, column.source),
            placed=name in placed,
            of_part=True,
            firm=column.required,
            positive=column.is_positive,
            most=column.most,
        )
        for name, column in columns_of(KINDS[kind]).items()
    )


def _otherwise(default: str, source: str) -> str:
    return f"the row's, else {default}; {source}" if default else ""

"""What a definition of the machine file is made of: keys, sub-tables, tables.

The same definitions are read by the reader (what is allowed, which kind, which default), by the JSON schema and by the reference page.
Each is one object of its own: two definitions are the same only if they are the same object.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

CP = "common practice, no source"

Mirrored = Literal["", "place", "vector", "across"]
"""How a value turns when a part is mirrored: ``place`` across the body's middle, ``vector`` changes the sign of x, ``across`` changes
its sign where it is measured along x."""


@dataclass(frozen=True, eq=False)
class Key:
    """One key and what may stand behind it.

    Attributes:
        name: As written in the file.
        kind: A kind of quantity (``length`` ...), or ``text``, ``words`` (text in which left and right are exchanged by a mirror),
            ``flag``, ``date``, ``fitted`` (flag or date), ``ref``, ``direction``, ``face``, ``point``, ``pair``, ``size2``, ``size3``,
            ``range``, ``pose`` (a point whose parts may be zero, half or full), ``count``, ``number``, ``money``, ``rating``, ``phase-current``, ``quantity`` (kind known only later), the words
            of a choice joined by ``/``, ``use KIND`` for a part, or ``[KIND]`` for a list.
        help: One sentence for the reference page and the schema.
        need: When it must be there: empty never, ``!`` always, else a rule (see `needed`).
        default: Text of the value that is taken when it is left out, with its band.
        source: Source id of the default, or plain words.
        otherwise: What happens without it where that is no fixed value.
        placed: Geometry: stays a plain number in sampled trees.
        mirror: How a mirror turns it.
        stock: A stock piece gives it where the file is silent.
        feeds: Letters of what it feeds; empty: as its table.
        names: What its text must be the name of: supply, outlet, drive, instrument or material.
        leads: What a ``ref`` leads to where that is not one part: ``body``, ``axis``, ``parts`` (one, or all copies of a name),
            ``beside`` (a rail of the axis, or a part), ``holes``, ``thing`` (whatever the file has a name for), ``sibling``.
        firm: It cannot be "unknown": there is no machine without it.
        of_part: It is a field of a part.
        signed: It may be negative.
        positive: It cannot be 0, though it may be left out (an amount that must be there never is, see `is_positive`).
        most: Largest value in SI, where there is one: of shares by definition, of what is wanted far beyond any such machine (common practice, no source).
    """

    name: str
    kind: str
    help: str
    need: str = ""
    default: str = ""
    source: str = ""
    otherwise: str = ""
    placed: bool = False
    mirror: Mirrored = ""
    stock: bool = False
    feeds: str = ""
    names: str = ""
    leads: str = ""
    firm: bool = False
    of_part: bool = False
    signed: bool = False
    positive: bool = False
    most: float | None = None

    @cached_property
    def choices(self) -> tuple[str, ...]:
        """The allowed words of a choice; empty for every other kind."""
        return tuple(self.kind.split("/")) if "/" in self.kind else ()

    @cached_property
    def part_kind(self) -> str:
        """Kind of part of a ``use KIND``, else empty."""
        return self.kind[4:] if self.kind.startswith("use ") else ""

    @cached_property
    def item_kind(self) -> str:
        """Kind of the items of a list, else empty."""
        return self.kind[1:-1] if self.kind.startswith("[") else ""

    @cached_property
    def item(self) -> "Key":
        """The key that one item of a list is read with."""
        return Key(
            self.name, self.item_kind, self.help, mirror=self.mirror, placed=self.placed, positive=self.positive, leads=self.leads
        )  # fmt: skip

    @property
    def is_firm(self) -> bool:
        """Whether "unknown" is refused."""
        if self.of_part:
            return self.firm
        return self.firm or self.is_geometry or self.kind == "count"

    @cached_property
    def least(self) -> float | None:
        """0 where the value cannot be negative; None where it can, or has no sign."""
        amount = self.kind in NEVER_NEGATIVE or self.positive or self.most is not None
        return 0.0 if not self.signed and amount else None

    @cached_property
    def is_positive(self) -> bool:
        """Whether 0 is refused too: of amounts that must be there. Sizes are refused by their reader."""
        needed = bool(self.need) and not self.of_part and self.kind in NEVER_NEGATIVE
        return self.least is not None and (self.positive or needed)

    @property
    def is_geometry(self) -> bool:
        """Never sampled."""
        return self.placed or self.kind in GEOMETRY


FASTEST, HARDEST, LARGEST, COARSEST, LONGEST_TOOL = 20.0, 1000.0, 50.0, 0.025, 0.5
"""What is wanted of no such machine: m/s, m/s2, m, m, and m of a cutter outside its collet; typed more, a unit was mistaken."""
GEOMETRY = frozenset({"point", "pair", "size2", "size3", "direction", "range", "pose"})


NEVER_NEGATIVE = frozenset({
    "length", "area", "mass", "linear-mass", "density", "inertia", "force", "torque", "pressure", "stiffness", "tilt-stiffness",
    "twist-stiffness", "speed", "accel", "turn-speed", "frequency", "time", "lead", "voltage", "current", "power", "resistance",
    "inductance", "capacitance", "money", "count", "flow",
})  # fmt: skip
"""Kinds whose values are amounts."""


@dataclass(frozen=True, eq=False)
class Sub:
    """A table, a collection of named tables, or a list of tables below a table.

    Attributes:
        name: Key under which it stands.
        table: What may stand in it.
        help: One sentence.
        many: Empty for one table, ``names`` for tables keyed by name, ``list`` for an ordered list.
        need: As in `Key`.
        short: Kind of a text that may stand in its place (``bolts``: "8 x M8").
        always: It is there even when the file has not got it, with its defaults.
    """

    name: str
    table: "Table"
    help: str
    many: Literal["", "names", "list"] = ""
    need: str = ""
    short: str = ""
    always: bool = False


@dataclass(frozen=True, eq=False)
class Table:
    """One place of the file.

    Attributes:
        name: Its title on the reference page.
        help: What it describes.
        keys: In the order of the reference page.
        subs: Tables below it.
        feeds: Letters of what it feeds.
        thing: Keys of everything that is owned or bought, where it is such a thing.
        either: Groups of keys of which exactly one must be given whole; a key with a question mark may be left out of its group.
        free: Kind of freely named keys, if it takes such.
        carries: Key of its main part, to which a stock piece's fields go.
        is_part: It is a part itself.
        elsewhere: Names that belong somewhere else, and where: told to those who write them here.
    """

    name: str
    help: str = ""
    keys: tuple[Key, ...] = ()
    subs: tuple[Sub, ...] = ()
    feeds: str = ""
    thing: "Table | None" = None
    either: tuple[tuple[str, ...], ...] = ()
    free: str = ""
    carries: str = ""
    is_part: bool = False
    elsewhere: Mapping[str, str] = field(default_factory=dict)

    @cached_property
    def key_map(self) -> dict[str, Key]:
        """Every key by name, those of a thing included."""
        found = {key.name: key for key in self.keys}
        return {**self.thing.key_map, **found} if self.thing is not None else found

    @cached_property
    def sub_map(self) -> dict[str, Sub]:
        """Every sub-table by name."""
        found = {sub.name: sub for sub in self.subs}
        return {**self.thing.sub_map, **found} if self.thing is not None else found

    @cached_property
    def names(self) -> frozenset[str]:
        """Everything that may stand here."""
        return frozenset(self.key_map) | frozenset(self.sub_map)

    @cached_property
    def defaults(self) -> tuple[Key, ...]:
        """Keys with a default."""
        return tuple(key for key in self.key_map.values() if key.default)

    @cached_property
    def referring(self) -> tuple[Key, ...]:
        """Keys that name something."""
        return tuple(key for key in self.key_map.values() if key.names)

    @cached_property
    def needs(self) -> tuple[Key | Sub, ...]:
        """Keys and tables that are needed, always or by a rule."""
        items: list[Key | Sub] = [*self.key_map.values(), *self.sub_map.values()]
        return tuple(item for item in items if item.need)


def need_in_words(need: str) -> str:
    """A need for the reader of a page: ``required``, ``required unless slot``."""
    if need == "!":
        return "required"
    return f"required {need}".replace("=", " is ").replace("|", " or ") if need else ""

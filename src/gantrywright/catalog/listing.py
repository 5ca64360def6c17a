"""What the parts tables hold, as text for a face to print."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from gantrywright.base.errors import NotFound
from gantrywright.base.names import nearest, nearest_sentence
from gantrywright.base.sources import spell_out
from gantrywright.catalog.columns import columns_of
from gantrywright.catalog.kinds import KINDS
from gantrywright.catalog.rows import Row, defaults_of
from gantrywright.catalog.tables import Catalog

Lines = tuple[tuple[str, ...], ...]

ORIGIN = ("source", "basis")
"""Fields that only one part in full tells."""
BANDED = "~"
"""Stands before a value whose row gives a band."""
_QUANTITY = re.compile(
    r"(?P<number>[-+]?\d[\d.]*(?:e[-+]?\d+)?(?:[ -]\d+/\d+|/\d+)?)(?: (?P<unit>(?:1/)?[^\s(\d+][^(+]*?))?(?: (?P<band>\(.*\)))?(?: (?P<at>at .*))?"
)
"""A cell as ``10 kN (7..14) at 1e6 rev``."""


@dataclass(frozen=True, slots=True)
class Listing:
    """Parts as a table of text."""

    header: tuple[str, ...]
    units: tuple[str, ...]
    """Unit under each heading, where all cells share it; empty otherwise."""
    lines: Lines
    same: Lines = ()
    """Name and text of each field that says the same of every part, and so is no column."""
    banded: bool = False
    """Whether some value has a band, which is left out and marked."""


def kinds(folder: Path | None = None) -> Iterator[tuple[str, int, int, str]]:
    """Every kind of part: its name, how many rows there are, how many of them are the user's, and what it is."""
    catalog = Catalog(folder)
    for kind, record in KINDS.items():
        names = catalog.names(kind)
        yield kind, len(names), len(catalog.own_names(kind)), (record.__doc__ or "").partition("\n")[0].rstrip(".")


def parts(kind: str, start: str = "", folder: Path | None = None) -> Listing:
    """One part in full, or the parts whose name fits.

    Args:
        kind: Kind of part.
        start: Id of one part; or the start of ids, with or without the kind's own name (``20`` of ``ball-screw-2010``), or of a word in
            them (``birch`` of ``plywood-birch``); empty for all.
        folder: The user's own tables.

    Returns:
        For one part, also where only one fits: field, value, what it is. For several: the fields that any of them fills and that differ.

    Raises:
        NotFound: No such kind, or no part whose name fits; names the nearest.
    """
    catalog = Catalog(folder)
    if kind not in KINDS:
        raise NotFound(_no_kind(kind, catalog))
    names = catalog.names(kind)
    found = [start] if start in names else fitting(kind, start, names)
    if not found:
        near = nearest(start, names) or [f"{kind}-{stem}" for stem in nearest(start, _stems(kind, names))]
        listed = f"nearest: {', '.join(near)}" if near else f"gantrywright parts {kind} lists them all"
        raise NotFound(f"no {kind} whose name begins with {start!r}; {listed}")
    rows = [catalog.find(kind, name) for name in found]
    if len(rows) == 1:
        return Listing(("field", "value", "meaning"), ("", "", ""), one(rows[0]))
    return several(rows)


def fitting(kind: str, start: str, names: Sequence[str]) -> list[str]:
    """Names that begin so; where there are none, names that have it as a later word, or as the beginning of one.

    Example:
        >>> fitting("rail", "20", ["rail-15", "rail-20", "rail-20-wide"])
        ['rail-20', 'rail-20-wide']
    """
    for fits in (
        lambda name: name.startswith(start),
        lambda name: name.startswith(f"{kind}-{start}"),
        lambda name: start in name.split("-"),
        lambda name: f"-{start}" in name,
    ):
        if found := [name for name in names if fits(name)]:
            return found
    return []


def _stems(kind: str, names: Sequence[str]) -> list[str]:
    """What follows the kind's own name in the names that begin with it."""
    return [name.removeprefix(f"{kind}-") for name in names if name.startswith(f"{kind}-")]


def several(rows: Sequence[Row]) -> Listing:
    """Parts side by side, without the fields that none fills; units stand in the heading where all agree."""
    fields = [name for name in columns_of(KINDS[rows[0].kind]) if name not in ORIGIN and any(row.text(name) for row in rows)]
    same = [name for name in fields if len({row.text(name) for row in rows}) == 1]
    columns = [_column(name, [row.text(name) for row in rows]) for name in fields if name not in same]
    if any(row.own for row in rows):
        columns.insert(0, ("table", "", ["yours" if row.own else "" for row in rows]))
    columns.insert(0, ("id", "", [row.id for row in rows]))
    header, units, cells = zip(*columns, strict=True)
    banded = any(cell.startswith(BANDED) for column in cells for cell in column)
    return Listing(header, units, tuple(zip(*cells, strict=True)), tuple((name, rows[0].text(name)) for name in same), banded)


def one(row: Row) -> Lines:
    """One part in full: what its row says, and what is taken where the row is silent."""
    lines: list[tuple[str, str, str]] = [("id", row.id, f"{'your ' if row.own else ''}{row.file}:{row.line}")]
    for name, column in columns_of(KINDS[row.kind]).items():
        if name in row.cells:
            said = spell_out(row.text(name)) if name == "source" else row.text(name)
            lines.append((name, said, column.help))
        elif name in defaults_of(row.kind):
            lines.append((name, f"{column.default}", f"{column.help}; default, {spell_out(column.source)}"))
    return tuple(lines)


def _column(name: str, texts: list[str]) -> tuple[str, str, list[str]]:
    """Heading, unit and cells of a field, as short as they go: a unit that all cells share is taken out, bands become a mark."""
    read = [_QUANTITY.fullmatch(text) for text in texts if text]
    if not all(read):
        return name, "", texts
    shared = {(found["unit"], found["at"]) for found in read if found}
    if len(shared) > 1:
        return name, "", [_short(text, with_unit=True) for text in texts]
    return name, " ".join(word for word in next(iter(shared)) if word), [_short(text, with_unit=False) for text in texts]


def _short(text: str, *, with_unit: bool) -> str:
    """A quantity without its band."""
    found = _QUANTITY.fullmatch(text)
    if found is None:
        return text
    words = (found["number"], found["unit"], found["at"]) if with_unit else (found["number"],)
    return (BANDED if found["band"] else "") + " ".join(word for word in words if word)


def _no_kind(word: str, catalog: Catalog) -> str:
    """What to say of a word that is no kind of part: builders type the name of a part, or its beginning."""
    owners = [kind for kind in KINDS if any(name.startswith(word) for name in catalog.names(kind))]
    if owners:
        return f"no kind of part {word!r}; parts of that name: {', '.join(f'gantrywright parts {kind} {word}' for kind in owners)}"
    return f"no kind of part {word!r}{nearest_sentence(word, KINDS) or '; gantrywright parts lists them'}"

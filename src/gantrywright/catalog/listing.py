"""What the parts tables hold, as text for a face to print."""

from collections.abc import Iterator
from pathlib import Path

from gantrywright.base.errors import NotFound
from gantrywright.base.names import nearest_sentence
from gantrywright.base.sources import spell_out
from gantrywright.catalog.columns import columns_of
from gantrywright.catalog.kinds import KINDS
from gantrywright.catalog.rows import Row, defaults_of
from gantrywright.catalog.tables import Catalog

Lines = list[tuple[str, ...]]


def kinds(folder: Path | None = None) -> Iterator[tuple[str, int, str]]:
    """Every kind of part with the number of its rows and what it is."""
    catalog = Catalog(folder)
    for kind, record in KINDS.items():
        yield kind, len(catalog.names(kind)), (record.__doc__ or "").partition("\n")[0].rstrip(".")


def rows(kind: str, start: str = "", folder: Path | None = None) -> tuple[tuple[str, ...], Lines]:
    """Rows of a kind as a table of text.

    Args:
        kind: Kind of part.
        start: Id of one part, or the start of an id; empty for all.
        folder: The user's own tables.

    Returns:
        Header and lines. For one part: field, value, what it is. For several: the fields that any of them fills.

    Raises:
        NotFound: No such kind, or no part whose id begins so.
    """
    catalog = Catalog(folder)
    names = catalog.names(kind)
    if start in names:
        return ("field", "value", "meaning"), one(catalog.find(kind, start))
    found = [catalog.find(kind, name) for name in names if name.startswith(start)]
    if not found:
        raise NotFound(f"no {kind} whose name begins with {start!r}{nearest_sentence(start, names)}")
    filled = [name for name in columns_of(KINDS[kind]) if name != "source" and any(name in row.cells for row in found)]
    return ("id", *filled), [(row.id, *(row.text(name) for name in filled)) for row in found]


def one(row: Row) -> Lines:
    """One part in full: what its row says, and what is taken where the row is silent."""
    lines: Lines = [("id", row.id, f"{row.file}:{row.line}")]
    for name, column in columns_of(KINDS[row.kind]).items():
        if name in row.cells:
            said = spell_out(row.text(name)) if name == "source" else row.text(name)
            lines.append((name, said, column.help))
        elif name in defaults_of(row.kind):
            lines.append((name, f"{column.default}", f"{column.help}; default, {column.source}"))
    return lines

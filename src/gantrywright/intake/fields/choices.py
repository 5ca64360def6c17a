"""Rows of the parts tables that may stand under a key."""

from collections.abc import Iterator

from gantrywright.base.sources import spell_out
from gantrywright.catalog.tables import Catalog, Row
from gantrywright.intake.document import Document
from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.naming import leads, names_at
from gantrywright.intake.fields.places import Place, table_of
from gantrywright.intake.fields.records import PartChoice
from gantrywright.intake.fields.texts import said
from gantrywright.intake.fields.words import label
from gantrywright.intake.grammar.axis import DRIVE_KINDS
from gantrywright.intake.grammar.parts import part_table
from gantrywright.intake.ownparts import own_parts
from gantrywright.intake.rows import Rows
from gantrywright.intake.trouble import Trouble
from gantrywright.intake.typed import Typist
from gantrywright.model.machine import Machine

TOLD = ("title", "source", "basis")
"""Fields of a row that are no number of it."""
MOST = 9
"""Numbers that one row shows; the first columns of a kind are those that it is chosen by."""


def rows_beside(document: Document) -> Catalog:
    """The parts tables that a document sees: packaged, those in the folder beside it, its own rows."""
    trouble = Trouble()
    rows = Rows.beside(document, table_of(document.tree.get("machine")), trouble)
    own_parts(table_of(document.tree.get("part")), Typist(document, trouble), rows)
    return rows.catalog


def choices_at(document: Document, machine: Machine | None, path: str) -> tuple[PartChoice, ...]:
    """Every row or thing of the machine that may be named at a path; none where nothing is named there.

    Raises:
        NotFound: The path leads nowhere.
    """
    force = Force(document, machine)
    place = force.places.find(path)
    if place.field and place.key is not None and leads(place.key):
        return names_at(force, place, place.key)
    kinds = _kinds(place)
    catalog = rows_beside(document)
    return tuple(_choice(row, force.system) for kind in kinds for row in _fitting(force, place, kind, catalog))


def _kinds(place: Place) -> tuple[str, ...]:
    key = place.key
    if key is None:
        return ()
    if key.names == "material":
        return ("material",)
    if place.shape != "part":
        return ()
    kind = place.table.name.removeprefix("part ")
    return DRIVE_KINDS if kind == "drive" else (kind,)


def _fitting(force: Force, place: Place, kind: str, catalog: Catalog) -> Iterator[Row]:
    """The rows of a kind, blocks of the size of the rails first of all others, and rails of the size of the blocks."""
    sizes = _sizes(force, place, kind, catalog)
    rows = catalog.rows(kind)
    if sizes:
        rows = tuple(sorted(rows, key=lambda row: row.cells["size"].value not in sizes if "size" in row.cells else True))
    yield from rows


def _sizes(force: Force, place: Place, kind: str, catalog: Catalog) -> set[float]:
    """Sizes of what the part runs on: of a block the rails of its axis, of a rail its blocks."""
    if kind not in ("rail", "block"):
        return set()
    axis = ".".join(place.path.split(".")[:2])
    named = (
        [force.raw(f"{axis}.blocks.part")]
        if kind == "rail"
        else [table_of(rail).get("part") for rail in table_of(force.raw(f"{axis}.rail")).values()]
    )
    other = "block" if kind == "rail" else "rail"
    names = {name if isinstance(name, str) else table_of(name).get("part") for name in named}
    return {
        catalog.find(other, name).cells["size"].value for name in names if isinstance(name, str) and name in catalog.names(other)
    }


def _choice(row: Row, system: str) -> PartChoice:
    table = part_table(row.kind)
    numbers: list[tuple[str, str]] = []
    for name, cell in row.cells.items():
        key = table.key_map.get(name)
        if key is None or name in TOLD or len(numbers) >= MOST:
            continue
        text = said(cell.value, key, system, like=cell.text) if key.kind != "money" else cell.text
        numbers.append((label(name), text))
    basis = f", {row.basis}" if row.basis else ""
    return PartChoice(row.id, row.title, tuple(numbers), f"{spell_out(row.source)}{basis}")

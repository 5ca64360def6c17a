"""A part that no table has: a row of the parts tables for this file alone, begun as a copy of one and there to be described."""

from collections.abc import Iterator

from gantrywright.catalog.kinds import KINDS
from gantrywright.catalog.tables import Catalog, Row
from gantrywright.intake.fields.choices import rows_beside
from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.places import Place, table_of, words
from gantrywright.intake.fields.records import Addable, Edit
from gantrywright.intake.fields.seeds import first_part
from gantrywright.intake.grammar.axis import DRIVE_KINDS


def described_here(force: Force, place: Place) -> Iterator[Addable]:
    """An own row in place of the one that a part names, with every value of that one to be changed."""
    kind = place.table.name.removeprefix("part ")
    raw = force.raw(place.path)
    named = raw if isinstance(raw, str) else table_of(raw).get("part") or _in_force(force, place.path)
    if kind not in KINDS or named in table_of(force.raw("part")):
        return
    row = _row(rows_beside(force.document), kind, str(named or first_part(force, kind)))
    if row is None:
        return
    new = _new_name(force, kind)
    use = place.path if isinstance(raw, str) else f"{place.path}.part"
    yield Addable(f"{words(kind)} that no table has: described here, begun as {row.id}", (*_written(row, new), (use, new)))


def of_any_kind(force: Force) -> Iterator[Addable]:
    """An own row of each kind, begun as a part of that kind which the machine has, else as the first of its table."""
    catalog = rows_beside(force.document)
    for kind in KINDS:
        row = _row(catalog, kind, first_part(force, kind))
        if row is not None:
            yield Addable(
                f"{'an' if kind[0] in 'aeio' else 'a'} {words(kind)} of your own", tuple(_written(row, _new_name(force, kind)))
            )


def _in_force(force: Force, path: str) -> str | None:
    found = force.machine.stated.get(f"{path}.part") if force.machine is not None else None
    return found.value if found is not None and isinstance(found.value, str) else None


def _row(catalog: Catalog, kind: str, name: str) -> Row | None:
    kinds = DRIVE_KINDS if kind == "drive" else (kind,)
    return next((catalog.find(kind, name) for kind in kinds if name in catalog.names(kind)), None)


def _written(row: Row, new: str) -> Iterator[Edit]:
    """Every column of the row as it is written in the tables, unit and band with it: what is not changed stays as uncertain as it was."""
    yield f"part.{new}.kind", row.kind
    for column, cell in row.cells.items():
        yield f"part.{new}.{column}", f"{cell.text} (begun as {row.id})" if column == "title" else cell.text


def _new_name(force: Force, kind: str) -> str:
    taken = table_of(force.raw("part"))
    names = (f"own-{kind}", *(f"own-{kind}-{number}" for number in range(2, 1000)))
    return next(name for name in names if name not in taken)

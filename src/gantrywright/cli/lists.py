"""``checks``, ``parts``, ``expand``, ``schema``: lists that need no study."""

import argparse
import json

from rich.markup import escape
from rich.table import Table

from gantrywright.base.errors import NotFound
from gantrywright.base.names import nearest_sentence
from gantrywright.base.sources import spell_out
from gantrywright.cli.printing import console


def checks(given: argparse.Namespace) -> int:
    """The catalogue of checks."""
    from gantrywright.study.checking import all_checks, free_id

    if given.next:
        print(free_id(given.next.upper()))
        return 0
    known = {check.id: check for check in all_checks()}
    out = console()
    if given.id:
        found = known.get(given.id.upper())
        if found is None:
            raise NotFound(f"no check {given.id!r}{nearest_sentence(given.id.upper(), known)}")
        out.print(f"[bold]{found.id}[/bold] {escape(found.title)}")
        out.print(f"  why: {escape(found.why)}\n  source: {escape(spell_out(found.source))}\n  remedy: {escape(found.remedy)}")
        return 0
    table = Table(box=None, pad_edge=False, show_header=False)
    for check in known.values():
        table.add_row(check.id, escape(check.title))
    out.print(table)
    return 0


def parts(given: argparse.Namespace) -> int:
    """The parts tables: kinds, rows of a kind, one row."""
    from gantrywright.catalog import listing

    folder = given.beside.parent / "parts" if given.beside else None
    out = console()
    if not given.kind:
        for kind, count, title in listing.kinds(folder):
            out.print(f"{kind:14} {count:4}  {escape(title)}")
        return 0
    table = Table(box=None, pad_edge=False, show_header=bool(not given.id))
    header, rows = listing.rows(given.kind, given.id or "", folder)
    for name in header:
        table.add_column(escape(name), overflow="fold", no_wrap=name == "id")
    for row in rows:
        table.add_row(*(escape(cell) for cell in row))
    out.print(table)
    return 0


def expand(given: argparse.Namespace) -> int:
    """What the recipes became."""
    from gantrywright.intake.document import read_document
    from gantrywright.intake.expand import expanded_text

    print(expanded_text(read_document(given.machine)))
    return 0


def schema(_: argparse.Namespace) -> int:
    """The JSON schema of the machine file."""
    from gantrywright.intake.schema import schema as made

    print(json.dumps(made(), indent=1, ensure_ascii=False))
    return 0

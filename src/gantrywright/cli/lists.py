"""``checks``, ``parts``, ``expand``, ``schema``: lists that need no study."""

import argparse
import json
from collections.abc import Iterable, Sequence

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
            raise NotFound(
                f"no check {given.id!r}{nearest_sentence(given.id.upper(), known) or '; gantrywright checks lists them'}"
            )
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

    if given.beside and not given.beside.exists():
        raise NotFound(f"--beside {given.beside}: there is no such file")
    folder = given.beside.parent / "parts" if given.beside else None
    out = console()
    if not given.kind:
        for kind, count, own, title in listing.kinds(folder):
            out.print(f"{kind:14} {count:4}  {escape(title)}{f' ({own} yours)' if own else ''}")
        return 0
    found = listing.parts(given.kind, given.id or "", folder)
    if found.header[0] == "field":
        out.print(_vertical(found.lines))
        return 0
    for block in side_by_side((found.header, found.units, *found.lines), out.width):
        out.print(escape("\n".join(block)), soft_wrap=True)
        out.print()
    for name, text in found.same:
        out.print(f"{name} of all: {escape(text)}")
    if found.banded:
        out.print(f"{listing.BANDED}: has a band; gantrywright parts {given.kind} NAME shows one part in full")
    return 0


def _vertical(lines: Iterable[tuple[str, ...]]) -> Table:
    table = Table(box=None, pad_edge=False, show_header=False)
    table.add_column(no_wrap=True)
    for name, value, meaning in lines:
        table.add_row(name, escape(value), escape(meaning), style="bold" if name == "id" else "")
    return table


def side_by_side(rows: Sequence[tuple[str, ...]], width: int) -> list[list[str]]:
    """Rows of cells as lines, no cell folded and no line empty: columns that do not fit stand in a further block, which begins with the first column again."""
    columns = [[row[place] for row in rows] for place in range(len(rows[0]))]
    widths = [max(map(len, column)) for column in columns]
    blocks: list[list[int]] = [[0]]
    for place in range(1, len(columns)):
        if len(blocks[-1]) > 1 and sum(widths[own] + 2 for own in blocks[-1]) + widths[place] > width:
            blocks.append([0])
        blocks[-1].append(place)
    lines = [["  ".join(row[own].ljust(widths[own]) for own in block).rstrip() for row in rows] for block in blocks]
    return [[line for line in block if line] for block in lines]


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

"""The working of a figure, the origin of a value, all figures, all defaults."""

from collections.abc import Iterable
from textwrap import wrap
from typing import Any

import rich.box
from rich.console import Console
from rich.markup import escape
from rich.table import Table

from gantrywright.base.quantities import show
from gantrywright.cli.printing import console
from gantrywright.findings import Finding
from gantrywright.study.assumed import SILENT, Assumed, assumed
from gantrywright.study.opened import Opened, family, opened
from gantrywright.study.study import Study
from gantrywright.study.words import band_in_words, origin_in_words, value_in_words

MANY = 12
"""Users and findings that are listed; the rest is counted."""


def show_opened(study: Study, path: str) -> None:
    """One figure or one value: the working, the origin, what uses it; of a family of figures their list."""
    if family(study, path):
        figures(study, path)
        below = tuple(name for name in study.machine.stated if name.startswith(f"{path}."))
        if below:
            _line(console(), "values of the machine below it", below)
        return
    found, out = opened(study, path), console()
    if found.figure is not None:
        _figure(study, found, found.figure, out)
    if found.value is not None:
        _value(study, found, out)
    _line(out, "used by", found.used_by or ("no figure names it as an input",))
    if found.findings:
        _line(out, "rests on it", tuple(_in_short(found.findings)))


def _figure(study: Study, found: Opened, data: dict[str, Any], out: Console) -> None:
    system, figure = study.machine.show, study.results.ledger[found.path]
    out.print(f"[bold]{escape(found.path)}[/bold] = {escape(value_in_words(figure.value, figure.unit, system))}")
    if data["low"] is not None:
        out.print(f"  5 % .. 95 %: {show(data['low'], figure.unit, system)} .. {show(data['high'], figure.unit, system)}")
    if data["title"]:
        out.print(f"  {escape(data['title'])}")
    _put(out, f"formula: {data['formula']}")
    for given, row in zip(figure.inputs, data["inputs"], strict=True):
        _put(out, f"{row['name']} = {value_in_words(given.value, row['unit'], system)}{_came_from(study, row['path'], given.note)}")
    _put(out, f"source: {data['source']}")


def _came_from(study: Study, path: str, note: str) -> str:
    if not path:
        return f"  ({note})" if note else ""
    stated = None if path in study.results.ledger else study.machine.stated.get(path)
    said = f" ({note})" if note else ""
    return f"  <- {path}{said}" + (
        f": {origin_in_words(stated, study.machine.stated, study.machine.show)}" if stated is not None else ""
    )


def _value(study: Study, found: Opened, out: Console) -> None:
    stated, system = study.machine.stated[found.path], study.machine.show
    assert found.value is not None  # the caller asked
    shown = band_in_words(stated.spread, stated.unit, system) or value_in_words(stated.value, stated.unit, system)
    out.print(
        f"[bold]{escape(found.path)}[/bold] = {escape(shown)}" if found.figure is None else f"  of the machine: {escape(shown)}"
    )
    if stated.help:
        _put(out, stated.help)
    _put(out, f"came from: {found.value['origin']}")
    _put(out, f"source: {found.value['source']}")


def _put(out: Console, words: str) -> None:
    """A line below the head; one that is too long goes on further in."""
    for line in wrap(words, out.width, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False):
        out.print(escape(line))


def _line(out: Console, what: str, names: tuple[str, ...]) -> None:
    more = f" and {len(names) - MANY} more" if len(names) > MANY else ""
    _put(out, f"{what}: {', '.join(names[:MANY])}{more}")


def _in_short(found: Iterable[Finding]) -> Iterable[str]:
    """Findings by check, with every status that they have."""
    rows: dict[str, list[Finding]] = {}
    for finding in found:
        rows.setdefault(finding.id, []).append(finding)
    for id, same in rows.items():
        words = ", ".join(dict.fromkeys(str(f.status) for f in same))
        yield f"{id} {same[0].subject}{f' and {len(same) - 1} more' if len(same) > 1 else ''} ({words})"


def figures(study: Study, path: str = "") -> None:
    """All figures with their values, or those of one family."""
    out, system = console(), study.machine.show
    table = Table(box=None, pad_edge=False, show_header=False)
    for figure in family(study, path) if path else study.results.ledger:
        table.add_row(escape(figure.path), escape(value_in_words(figure.value, figure.unit, system)), escape(figure.title))
    out.print(table)


def print_defaults(study: Study, out: Console) -> None:
    """What was taken where the file is silent, by source; what silence means in the format itself is only counted."""
    rows = assumed(study)
    told = [row for row in rows if row.source != SILENT]
    silent = sum(row.count for row in rows if row.source == SILENT)
    table = Table(
        box=rich.box.SIMPLE_HEAD, pad_edge=False, title="Defaults that were used", title_justify="left", title_style="bold"
    )
    for name in ("path", "count", "value (low..high)"):
        table.add_column(name, overflow="fold", justify="right" if name == "count" else "left")
    for number, row in enumerate(told):
        if not number or told[number - 1].source != row.source:
            table.add_row(f"[bold]{escape(row.source)}[/bold]", "", "")
        table.add_row(*_default(row))
    out.print(table)
    _put(
        out, f"{silent} more keys mean by their silence what the format says (fitted, not worn, no offset ...): --json lists them."
    )


def _default(row: Assumed) -> tuple[str, str, str]:
    return f"  {escape(row.path)}", str(row.count) if row.count > 1 else "", escape(row.text)

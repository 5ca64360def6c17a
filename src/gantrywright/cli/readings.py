"""What was pushed and tapped on the finished machine, as text."""

from typing import Any

import rich.box
from rich.console import Console
from rich.markup import escape
from rich.table import Table

from gantrywright.base.quantities import show
from gantrywright.study.readings import CHECK
from gantrywright.study.study import Study

ROWS = 8
"""Corrected numbers that are listed."""


def told(study: Study, found: dict[str, Any], out: Console) -> None:
    """Readings beside their predictions, and what is believed before and after them."""
    if not found["readings"]:
        return
    out.print(_compared(study, found["readings"]))
    notes = {finding.subject: finding.verdict.note for finding in study.findings if finding.id == CHECK}
    for reading in found["readings"]:
        if reading["status"] not in ("ok", "unknown"):
            out.print(escape(f"{reading['name']}: {notes.get('measured.' + reading['name'], '')}."))
    if not study.settled:
        return
    left_out = [reading["name"] for reading in found["readings"] if reading["percentile"] is not None and not reading["used"]]
    if left_out:
        out.print(escape(f"Nothing was corrected by {', '.join(left_out)}: too far outside of what is believed for a correction to be trusted."))  # fmt: skip
    if found["after_readings"]:
        out.print(_corrected(study, found["after_readings"]))


def _compared(study: Study, readings: list[dict[str, Any]]) -> Table:
    system = study.machine.show
    table = _table("What was measured, beside what was expected", "", "where", "measured", "expected", "percentile", "")
    for reading in readings:
        unit = reading["unit"]
        if reading["missing"] or reading["measured"] is None:
            table.add_row(escape(reading["name"]), escape(reading["where"]), "", "", "", escape(f"unknown: {reading['missing']}"))
            continue
        measured = show(reading["measured"], unit, system)
        if reading["deviation"] is not None:
            measured += f"\n+- {show(2 * reading['deviation'], unit, system)}"
        expected, place = show(reading["predicted"], unit, system), ""
        if reading["band"]:
            low, middle, high = (show(value, unit, system) for value in reading["band"])
            expected, place = f"{middle}\n({low} .. {high})", f"{100 * reading['percentile']:.0f} %"
        where = reading["where"] + (f"; {reading['mode']}" if reading["mode"] else "")
        table.add_row(escape(reading["name"]), escape(where), measured, expected, place, reading["status"] or "")
    return table


def _corrected(study: Study, numbers: list[dict[str, Any]]) -> Table:
    table = _table("What is believed before and after the readings, to first order", "", "before", "after")
    for number in numbers[:ROWS]:
        table.add_row(escape(number["path"]), *(_band(study, number[key], number["unit"]) for key in ("before", "after")))
    return table


def _band(study: Study, points: tuple[float, float, float], unit: str) -> str:
    low, middle, high = (show(value, unit, study.machine.show) for value in points)
    return f"{middle} ({low} .. {high})"


def _table(title: str, *columns: str) -> Table:
    table = Table(box=rich.box.SIMPLE_HEAD, pad_edge=False, title=title, title_justify="left", title_style="bold")
    for number, name in enumerate(columns):
        table.add_column(name, justify="right" if number > 1 and name else "left", overflow="fold")
    return table

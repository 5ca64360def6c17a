"""What was pushed and tapped on the finished machine, as text."""

from typing import Any

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from gantrywright.base.quantities import show, unit_for
from gantrywright.cli.columns import number, one_unit
from gantrywright.cli.columns import table as titled
from gantrywright.study.readings import CHECKS
from gantrywright.study.study import Study

ROWS = 8
"""Corrected numbers that are listed."""


def told(study: Study, found: dict[str, Any], out: Console) -> None:
    """Readings beside their predictions, and what is believed before and after them."""
    if not found["readings"]:
        return
    out.print(_compared(study, found["readings"]))
    notes = {finding.subject: finding.verdict.note for finding in study.findings if finding.id in CHECKS}
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
    table = titled(
        "What was measured, beside what was expected",
        "",
        "where",
        "measured",
        "expected",
        "percentile",
        "status",
        words=("where", "status"),
    )
    for reading in readings:
        unit = reading["unit"]
        if reading["missing"] or reading["measured"] is None:
            table.add_row(escape(reading["name"]), escape(reading["where"]), "", "", "", escape(f"unknown: {reading['missing']}"))
            continue
        hint = unit_for(reading["measured"], unit, system)
        measured = show(reading["measured"], unit, system, hint=hint)
        if reading["deviation"] is not None:
            measured += f"\n+- {number(2 * reading['deviation'], unit, system, hint)}"
        expected, place = show(reading["predicted"], unit, system, hint=hint), ""
        if reading["band"]:
            low, middle, high = reading["band"]
            expected = (
                f"{show(middle, unit, system, hint=hint)}\n({' .. '.join(number(end, unit, system, hint) for end in (low, high))})"
            )
            place = f"{100 * reading['percentile']:.0f} %"
        where = reading["where"] + (f"; {reading['mode']}" if reading["mode"] else "")
        table.add_row(escape(reading["name"]), escape(where), measured, expected, place, reading["status"] or "")
    return table


def _corrected(study: Study, numbers: list[dict[str, Any]]) -> Table:
    table = titled("What is believed before and after the readings, to first order", "", "before", "after", words=("before",))
    system, told = study.machine.show, numbers[:ROWS]
    hints = {
        unit: one_unit((one["before"][1] for one in told if one["unit"] == unit), unit, system)
        for unit in {one["unit"] for one in told}
    }
    for one in told:
        cells = (_band(one[key], one["unit"], system, hints[one["unit"]]) for key in ("before", "after"))
        table.add_row(escape(one["path"]), *cells)
    return table


def _band(points: tuple[float, float, float], unit: str, system: str, hint: str) -> str:
    low, middle, high = points
    ends = " .. ".join(number(end, unit, system, hint) for end in (low, high))
    return f"{show(middle, unit, system, hint=hint)} ({ends})"

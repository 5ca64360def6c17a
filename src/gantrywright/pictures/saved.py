"""Pictures as CSV: one heading row with units, numbers with as many digits as they are worth."""

import csv
import io
from typing import Any

from gantrywright.pictures.picture import Dimension, Picture

DIGITS = 7
"""More than any input is known to, and few enough to be read."""
RISKY = ("=", "+", "-", "@", "\t", "\r")
"""Beginnings of a text that a spreadsheet would take for a formula."""


def csv_of(picture: Picture) -> str:
    """The numbers of a picture; starts with the mark that tells spreadsheets that it is UTF-8."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    for row in _rows(picture):
        writer.writerow(
            [_safe(cell) if isinstance(cell, str) else "" if cell is None else f"{float(cell):.{DIGITS}g}" for cell in row]
        )
    return "\ufeff" + out.getvalue()


def _rows(picture: Picture) -> list[list[Any]]:
    if picture.kind == "table":
        if picture.heads:
            return [list(picture.heads), *map(list, picture.numbers)]
        return [list(picture.columns), *map(list, picture.rows)]
    if picture.kind == "bars":
        told = _head(picture.y, "value")
        if picture.names:
            return [
                ["part", *(f"{told}, {name}" for name in picture.names)],
                *([bar.label, bar.value, bar.other] for bar in picture.bars),
                *([mark.text, mark.x, None] for mark in picture.marks),
            ]
        alone = [[bar.label, bar.value] for bar in picture.bars] + [[mark.text, mark.x] for mark in picture.marks]
        return [["part", told], *alone]
    if picture.kind == "map":
        return _grids(picture)
    rows: list[list[Any]] = [["series", _head(picture.x, "x"), _head(picture.y, "y"), "5 %", "95 %"]]
    for series in picture.series:
        points, bands = dict(series.points), {x: (low, high) for x, low, high in series.band}
        rows += [[series.name, x, points.get(x), *bands.get(x, (None, None))] for x in sorted(points.keys() | bands.keys())]
    return rows


def _grids(picture: Picture) -> list[list[Any]]:
    """One row a place; of two machines one after the other, each row with its name."""
    grids = [grid for grid in (picture.map, picture.other) if grid is not None]
    unit = grids[0].unit if grids else ""
    heads = [_head(picture.x, "x"), _head(picture.y, "y"), f"{picture.title} [{unit}]"]
    rows = [(grid, [x, y, grid.values[j][i]]) for grid in grids for j, y in enumerate(grid.ys) for i, x in enumerate(grid.xs)]
    if not picture.names:
        return [heads, *(row for _, row in rows)]
    return [["machine", *heads], *([grid.name, *row] for grid, row in rows)]


def _head(of: Dimension | None, usual: str) -> str:
    if of is None:
        return usual
    return f"{of.label} [{of.unit}]" if of.unit else of.label


def _safe(cell: str) -> str:
    return f"'{cell}" if cell.startswith(RISKY) else cell

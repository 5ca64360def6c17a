"""Pictures as CSV: one heading row with units, numbers as they are."""

import csv
import io
from typing import Any

from gantrywright.pictures.picture import Dimension, Picture

RISKY = ("=", "+", "-", "@", "\t", "\r")
"""Beginnings of a text that a spreadsheet would take for a formula."""


def csv_of(picture: Picture) -> str:
    """The numbers of a picture; starts with the mark that tells spreadsheets that it is UTF-8."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    for row in _rows(picture):
        writer.writerow([_safe(cell) if isinstance(cell, str) else "" if cell is None else repr(float(cell)) for cell in row])
    return "\ufeff" + out.getvalue()


def _rows(picture: Picture) -> list[list[Any]]:
    if picture.kind == "table":
        return [list(picture.columns), *(list(row) for row in picture.rows)]
    if picture.kind == "bars":
        return [["part", f"share [{picture.y.unit if picture.y else ''}]"], *([bar.label, bar.value] for bar in picture.bars)]
    if picture.kind == "map" and picture.map is not None:
        grid = picture.map
        heads = [_head(picture.x, "x"), _head(picture.y, "y"), f"{picture.title} [{grid.unit}]"]
        return [heads, *([x, y, grid.values[j][i]] for j, y in enumerate(grid.ys) for i, x in enumerate(grid.xs))]
    rows: list[list[Any]] = [["series", _head(picture.x, "x"), _head(picture.y, "y"), "5 %", "95 %"]]
    for series in picture.series:
        bands = {x: (low, high) for x, low, high in series.band}
        rows += [[series.name, x, y, *bands.get(x, (None, None))] for x, y in series.points]
    return rows


def _head(of: Dimension | None, usual: str) -> str:
    if of is None:
        return usual
    return f"{of.label} [{of.unit}]" if of.unit else of.label


def _safe(cell: str) -> str:
    return f"'{cell}" if cell.startswith(RISKY) else cell

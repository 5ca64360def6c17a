"""From the name of a file in a machine file to an outline."""

import re
from functools import lru_cache
from pathlib import Path

from gantrywright.intake.outlines.drawing import rings_of_drawing
from gantrywright.intake.outlines.points import rings_of_points
from gantrywright.intake.outlines.rings import OutlineTrouble, outline_of
from gantrywright.theory.sections.outline import Outline

LARGEST_FILE = 20_000_000
"""Bytes."""
WITH_UNIT = re.compile(r"(.+?)\s*,\s*(um|mm|cm|m|in|ft|thou)\s*$")


def read_outline(name: str, beside: Path) -> Outline:
    """The outline in a file, about the middle of its box, m.

    Args:
        name: As the machine file names it, perhaps with a unit after a comma.
        beside: Folder of the machine file.

    Raises:
        OutlineTrouble: It is not there or cannot be an outline.
    """
    named = WITH_UNIT.match(name)
    file, unit = (named[1], named[2]) if named else (name.strip(), "")
    try:
        path = beside / file
        found = path.stat()
    except (OSError, ValueError) as error:
        raise OutlineTrouble(f"'{file}' is not beside this machine ({_reason(error)})") from error
    if not path.is_file():
        raise OutlineTrouble(f"'{file}' is no file")
    if found.st_size > LARGEST_FILE:
        raise OutlineTrouble(f"'{file}' has {found.st_size // 1_000_000} MB; draw the section alone")
    try:
        return _read(path, unit, found.st_mtime_ns, found.st_size)
    except OutlineTrouble as trouble:
        raise OutlineTrouble(f"'{file}' {trouble}") from None


@lru_cache(maxsize=256)
def _read(path: Path, unit: str, changed: int, size: int) -> Outline:
    """Read once for each state of the file."""
    del changed, size
    try:
        data = path.read_bytes()
    except OSError as error:
        raise OutlineTrouble(f"cannot be read: {_reason(error)}") from error
    if path.suffix.lower() == ".dxf":
        return outline_of(rings_of_drawing(data, unit))
    if unit:
        raise OutlineTrouble("has its unit in its first line, 'x [mm], y [mm]'; only of a DXF drawing is it named here")
    try:
        return outline_of(rings_of_points(data.decode("utf-8-sig")))
    except UnicodeDecodeError as error:
        raise OutlineTrouble("is neither a drawing (.dxf) nor a text of points in UTF-8") from error


def _reason(error: Exception) -> str:
    return getattr(error, "strerror", None) or str(error)

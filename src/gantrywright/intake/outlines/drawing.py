"""DXF drawings: closed polylines with arcs, circles, ellipses and splines, and lines and arcs that meet end to end."""

import io
import logging
import math
import re
from collections.abc import Iterator
from typing import Any

from gantrywright.base.quantities.kinds import LENGTHS
from gantrywright.intake.outlines.chains import closed_rings
from gantrywright.intake.outlines.rings import OutlineTrouble, Point

UNITS = {1: "in", 2: "ft", 3: "mi", 4: "mm", 5: "cm", 6: "m", 7: "km", 8: "uin", 9: "thou", 13: "um"}
"""Numbers of $INSUNITS."""
FACTORS = {**{name: float(factor) for name, factor in LENGTHS.items()}, "uin": 25.4e-9}
DRAWN = frozenset({"LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE"})
"""Kinds of entities that can bound metal; texts, dimensions, hatches and points are passed over."""
SAGITTA = 10e-6
"""Arcs become chords that leave them by no more than this, m."""
MOST_ENTITIES = 20_000
ANEW = "save it anew as DXF text (ASCII), release 2000 or later, with the outline as lines, arcs and polylines alone"
GUESSED = re.compile(r'recovered invalid \w+(?: point)? value "(.*?)" near line (\d+)')
"""What the library says of a number that it has guessed."""
OFF_PLANE = 1e-4
"""Points may lie this far off the plane, m."""


def rings_of_drawing(data: bytes, unit: str = "") -> list[list[Point]]:
    """The closed rings of a drawing, m.

    Args:
        data: The file.
        unit: Unit of its numbers where the machine file says one; else the drawing's own.

    Raises:
        OutlineTrouble: It cannot be read, says no unit, or a chain stays open.
    """
    _check_whole(data)
    drawing = _read(data)
    scale = _scale(drawing, unit)
    try:
        pieces = list(_pieces(drawing, scale))
    except OutlineTrouble:
        raise
    except Exception as error:  # a spoilt file fails in many ways in a parser of a large format
        raise OutlineTrouble(f"has a line or curve that cannot be read; {ANEW}") from error
    if not pieces:
        raise OutlineTrouble("has no lines, arcs, circles or polylines in its model space")
    return closed_rings(pieces)


def _check_whole(data: bytes) -> None:
    if b"\0" in data:
        raise OutlineTrouble("is no text; save the drawing as DXF text (ASCII)")
    lines = data.split()
    if len(lines) < 4 or b"SECTION" not in lines:
        raise OutlineTrouble("is no DXF drawing: it has no section")
    if lines[-1] != b"EOF":
        raise OutlineTrouble("is cut off: a DXF drawing ends with EOF")


def _read(data: bytes) -> Any:
    """The drawing; a library that mends numbers by guessing is told of, not trusted."""
    from ezdxf import recover

    log, heard = logging.getLogger("ezdxf"), Heard()
    outward = log.propagate
    log.addHandler(heard)
    log.propagate = False
    try:
        drawing = recover.read(io.BytesIO(data))[0]
    except Exception as error:  # a spoilt file fails in many ways in a parser of a large format
        raise OutlineTrouble(f"cannot be read as DXF; {ANEW}") from error
    finally:
        log.removeHandler(heard)
        log.propagate = outward
    for words in heard.words:
        spoilt = GUESSED.search(words)
        if spoilt:
            raise OutlineTrouble(f"has {spoilt[1]!r} where a number belongs, near line {spoilt[2]} of the file; {ANEW}")
    return drawing


class Heard(logging.Handler):
    """Keeps what a library logs."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Keep a line."""
        self.words.append(record.getMessage())


def _scale(drawing: Any, unit: str) -> float:
    number = drawing.header.get("$INSUNITS", 0)
    own = UNITS.get(number, "")
    if unit:
        if own and own != unit:
            raise OutlineTrouble(f"is drawn in {own} by its own word ($INSUNITS {number}), not in {unit}")
        return FACTORS[unit]
    if not own:
        said = "says no unit" if not number else f"has a unit that is not known ($INSUNITS {number})"
        raise OutlineTrouble(f"{said}; set the drawing's unit, or name it after the file: outline = 'name.dxf, mm'")
    return FACTORS[own]


def _pieces(drawing: Any, scale: float) -> Iterator[list[Point]]:
    from ezdxf import disassemble, path

    hidden = {layer.dxf.name.lower() for layer in drawing.layers if layer.is_off() or layer.is_frozen()}
    count = 0
    for entity in disassemble.recursive_decompose(drawing.modelspace()):
        if entity.dxftype() not in DRAWN or str(entity.dxf.get("layer", "0")).lower() in hidden:
            continue
        count += 1
        if count > MOST_ENTITIES:
            raise OutlineTrouble(f"has more than {MOST_ENTITIES} entities; draw the section alone")
        way = path.make_path(entity)
        for part in way.sub_paths():
            points = [(point.x * scale, point.y * scale, point.z * scale) for point in part.flattening(SAGITTA / scale, segments=4)]
            if any(not all(map(math.isfinite, point)) for point in points):
                raise OutlineTrouble(f"has a {entity.dxftype()} with a value that is no number")
            heights = [z for _, _, z in points]
            if heights and max(heights) - min(heights) > OFF_PLANE:
                raise OutlineTrouble(f"has a {entity.dxftype()} that does not lie in the plane of x and y")
            closed = [(x, y) for x, y, _ in points]
            yield [*closed, closed[0]] if entity.dxftype() in ("CIRCLE", "ELLIPSE") and part.is_closed else closed

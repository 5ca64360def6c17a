"""Points files: ``x, y`` a line, the unit in the head, a blank line before each opening.

```
# corner bracket
x [mm], y [mm]
0, 0
60, 0
60, 8
0, 8

20, 2
40, 2
40, 6
20, 6
```
"""

import re

from gantrywright.base.quantities.kinds import LENGTHS, LENGTHS_ALSO
from gantrywright.intake.outlines.rings import OutlineTrouble, Point

HEAD = re.compile(r"x\s*\[\s*(\S+?)\s*\]\s*[,;\s]\s*y\s*\[\s*(\S+?)\s*\]\s*$", re.IGNORECASE)
NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d{1,2})?"
PAIR = re.compile(rf"\s*({NUMBER})\s*(?:[,;]\s*|\s+)({NUMBER})\s*[,;]?\s*$")
DECIMAL_COMMA = re.compile(r"\s*[-+]?\d+,\d+\s*[;\s]\s*[-+]?\d+(?:,\d+)?\s*$")


def rings_of_points(text: str) -> list[list[Point]]:
    """The rings of a points file, m.

    Raises:
        OutlineTrouble: Says on which line it cannot be read and what to write.
    """
    units: tuple[float, float] | None = None
    rings: list[list[Point]] = [[]]
    for number, line in enumerate(text.removeprefix("\ufeff").splitlines(), 1):
        written = line.partition("#")[0].strip()
        if not written:
            if rings[-1] and not line.strip():
                rings.append([])
            continue
        if units is None:
            units = _units(written, number)
            continue
        pair = PAIR.match(written)
        if pair is None:
            raise OutlineTrouble(f"line {number}: {_wrong(written)}")
        rings[-1].append((float(pair[1]) * units[0], float(pair[2]) * units[1]))
    if units is None:
        raise OutlineTrouble("is empty; its first line is the unit, 'x [mm], y [mm]', then a point a line")
    rings = [ring for ring in rings if ring]
    for number, ring in enumerate(rings, 1):
        if len(ring) < 3:
            raise OutlineTrouble(f"ring {number} has {len(ring)} point{'s' if len(ring) > 1 else ''}; three make the smallest")
    return rings


def _units(written: str, number: int) -> tuple[float, float]:
    head = HEAD.match(written)
    if head is None:
        raise OutlineTrouble(f"line {number}: no unit; the first line is 'x [mm], y [mm]', found {written[:40]!r}")
    return _unit(head[1], number), _unit(head[2], number)


def _unit(name: str, number: int) -> float:
    factor = LENGTHS.get(LENGTHS_ALSO.get(name, name))
    if factor is None:
        raise OutlineTrouble(f"line {number}: {name!r} is no unit of length; write mm, cm, m, um, in or ft")
    return float(factor)


def _wrong(written: str) -> str:
    if DECIMAL_COMMA.match(written):
        return f"{written[:40]!r} has a decimal comma; write a point"
    return f"{written[:40]!r} is no point; write 'x, y', two numbers"

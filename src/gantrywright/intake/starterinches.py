"""The sizes of a first machine as a builder with inches writes them: plates and boards as thick as they are sold, the rest by sixteenths.

Sold thicknesses are common practice, no source.
"""

import re

INCH = 25.4
SOLD = (0.25, 0.375, 0.5, 0.625, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0)
"""Thicknesses of plates and boards, in."""
FINE = 1.0
"""Below this many millimetres a length is what can be reached, not a size: it is told in half thousandths."""
_TEXT = re.compile(r'"([^"\n]*) mm"')
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_PLATE = re.compile(r"(thickness|wall|size) = $")
_FRACTIONS = {1: "1/16", 2: "1/8", 3: "3/16", 4: "1/4", 5: "5/16", 6: "3/8", 7: "7/16", 8: "1/2", 9: "9/16", 10: "5/8", 11: "11/16", 12: "3/4", 13: "13/16", 14: "7/8", 15: "15/16"}  # fmt: skip


def in_inches(text: str) -> str:
    """A machine file with every quantity in millimetres written in inches, rounded.

    Example:
        >>> in_inches('thickness = "18 mm"  offset = "0, -21, 0 mm"  size = "230 x 180 x 15 mm"  parallel = "0.03 mm"')
        'thickness = "3/4 in"  offset = "0, -13/16, 0 in"  size = "9.0625 x 7.0625 x 5/8 in"  parallel = "0.001 in"'
    """
    return _TEXT.sub(_converted, text)


def sold(millimetres: float) -> float:
    """The thickness that is sold nearest to one, in inches."""
    return min(SOLD, key=lambda thickness: abs(thickness - millimetres / INCH))


def _converted(found: re.Match[str]) -> str:
    key = _PLATE.search(found.string[: found.start()])
    numbers = _NUMBER.findall(found[1])
    thick = len(numbers) - 1 if key and (key[1] != "size" or len(numbers) == len("xyz")) else -1
    at = -1

    def written(number: re.Match[str]) -> str:
        nonlocal at
        at += 1
        value = float(number[0])
        return _inches(sold(value) if at == thick else _rounded(value))

    return f'"{_NUMBER.sub(written, found[1])} in"'


def _rounded(millimetres: float) -> float:
    step = 0.0005 if abs(millimetres) < FINE else 1 / 16
    return round(millimetres / INCH / step) * step


def _inches(value: float) -> str:
    """A fraction below one inch, as it is stamped on a drill; else a decimal."""
    sixteenths = abs(value) * 16
    if sixteenths in _FRACTIONS:
        return f"{'-' if value < 0 else ''}{_FRACTIONS[int(sixteenths)]}"
    return f"{value:.4f}".rstrip("0").rstrip(".") if value else "0"

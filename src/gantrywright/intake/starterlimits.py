"""Which work areas a first machine is drawn for, and how one that is not is refused: in the units typed, with what may be answered instead."""

import re

from gantrywright.base.errors import GantrywrightError, UnreadableText
from gantrywright.base.quantities import parse

INCH = 25.4
LEAST = (150.0, 150.0, 40.0)
"""Of x, y, z, in millimetres, whatever the layout."""
MOST = {"moving-gantry": (1600.0, 2000.0, 250.0), "fixed-gantry": (1600.0, 920.0, 250.0)}
"""By layout: a table that moves needs twice its length of bed."""
WORDS = (
    "A first machine reaches 150 x 150 x 40 mm at least and 1600 x 2000 x 250 mm at most; one with a fixed gantry 1600 x 920 x 250 mm "
    "(62.75 x 36 x 9.75 in)."
)


class NotAnswered(UnreadableText):
    """An answer that makes no first machine; ``key`` names the question."""

    def __init__(self, key: str, sentence: str | GantrywrightError) -> None:
        super().__init__(str(sentence))
        self.key = key


def work_area_of(text: str, layout: str) -> tuple[float, float, float]:
    """The three sizes of a work area, in millimetres.

    Raises:
        NotAnswered: It cannot be read, or is out of what the proportions serve.
    """
    try:
        x, y, z = (1e3 * value for value in parse(text, "size3").value)
    except UnreadableText as error:
        raise NotAnswered("work_area", error) from error
    most = MOST.get(layout, MOST["moving-gantry"])
    for at, value in enumerate((x, y, z)):
        if not LEAST[at] <= value <= most[at]:
            raise NotAnswered("work_area", _refusal(text, layout, at, value))
    return x, y, z


def _refusal(text: str, layout: str, at: int, value: float) -> str:
    inches = re.search(r"in\b|inch|[\"\u2033]", text) is not None
    letter, most = "xyz"[at], MOST.get(layout, MOST["moving-gantry"])[at]
    wanted = f"at least {_low(LEAST[at], inches)}" if value < LEAST[at] else f"at most {_high(most, inches)}"
    other = next((name for name, sizes in MOST.items() if name != layout and LEAST[at] <= value <= sizes[at]), "")
    return (
        f"{letter} is {_as_typed(value, inches)}; a first machine with a {layout.replace('-', ' ')} is drawn for {_low(LEAST[at], inches)} "
        f"to {_high(most, inches)} along {letter}. Write {wanted} for {letter}"
        f"{f', or choose the layout {other} (up to {_high(MOST[other][at], inches)})' if other else ''}."
    )


def _as_typed(value: float, inches: bool) -> str:
    return f"{value / INCH:.6g} in" if inches else f"{value:.6g} mm"


def _low(value: float, inches: bool) -> str:
    """Rounded inwards to quarters of an inch, so that what is told is taken."""
    return f"{-(-value // (INCH / 4)) / 4:g} in" if inches else f"{value:g} mm"


def _high(value: float, inches: bool) -> str:
    return f"{value // (INCH / 4) / 4:g} in" if inches else f"{value:g} mm"

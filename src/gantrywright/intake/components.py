"""One component of a point that is written as text."""

import re

LETTERS = "xyz"
_UNIT = re.compile(r"[A-Za-zµ\"'].*$")


def with_component(text: str, letter: str, value: str) -> str:
    """The text of a point with another x, y or z.

    The last unit serves those before it that have none, so each component is given its own unit first.

    Example:
        >>> with_component("40, 0, 780 mm", "y", "12.5 mm")
        '40 mm, 12.5 mm, 780 mm'
    """
    parts = [part.strip() for part in text.split(",")]
    unit = ""
    for index in reversed(range(len(parts))):
        own = _UNIT.search(parts[index])
        if own:
            unit = own.group()
        elif unit:
            parts[index] = f"{parts[index]} {unit}"
    parts[LETTERS.index(letter)] = value
    return ", ".join(parts)

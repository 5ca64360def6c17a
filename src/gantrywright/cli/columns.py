"""Tables whose numbers stand under one unit, so that they can be compared down and across."""

from collections.abc import Iterable

import rich.box
from rich.table import Table

from gantrywright.base.quantities import show, unit_for

LONGEST = 6
"""Characters of a number before it is told in the unit of the largest instead of the least."""


def table(title: str, *columns: str, words: Iterable[str] = ()) -> Table:
    """An empty table; numbers to the right, the first column and those of words to the left."""
    made = Table(box=rich.box.SIMPLE_HEAD, pad_edge=False, title=title, title_justify="left", title_style="bold")
    left = set(words)
    for number, name in enumerate(columns):
        made.add_column(name, justify="left" if number == 0 or name in left else "right", overflow="fold")
    return made


def one_unit(values: Iterable[float | None], unit: str, system: str) -> str:
    """The unit in which several values are best read side by side: that of the least, unless the largest grows too long in it.

    Args:
        values: In SI; those that are unknown or 0 have no say.
        unit: Symbol of the SI unit.
        system: ``metric`` or ``inch``.

    Example:
        >>> one_unit((30.7e-6, 0.279e-3), "m", "metric"), one_unit((254.0, 1.2e6), "N/m", "metric")
        ('um', 'N/mm')
    """
    said = sorted((value for value in values if value), key=abs)
    if not said:
        return unit_for(1.0, unit, system) if unit != "m" else unit_for(1e-3, unit, system)
    least = unit_for(said[0], unit, system)
    return least if len(number(said[-1], unit, system, least)) <= LONGEST else unit_for(said[-1], unit, system)


def number(value: float | None, unit: str, system: str, hint: str) -> str:
    """A value in a unit that stands elsewhere."""
    return show(value, unit, system, hint=hint).removesuffix(hint).strip()


def banded(value: float, pair: Iterable[float] | None, unit: str, system: str, hint: str) -> str:
    """A value with its band in the line below."""
    middle = number(value, unit, system, hint)
    if not pair:
        return middle
    low, high = (number(end, unit, system, hint) for end in pair)
    return f"{middle}\n({low} .. {high})"

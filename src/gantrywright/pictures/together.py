"""Two machines in one picture, on one scale: lines told apart by colour and name, bars in pairs, maps side by side."""

from dataclasses import replace
from itertools import zip_longest
from typing import Any, TypeVar

from gantrywright.pictures.picture import DASHES, Bar, Dimension, Field, Key, Mark, Picture, Series

Cell = TypeVar("Cell")
DIFFERENT = " Two machines on one scale: {} and {}."


def in_units_of(picture: Picture, like: Picture) -> Picture:
    """A picture with its numbers in the units of another of its kind; the texts are left as they are."""
    if picture.empty or like.empty:
        return picture
    across, up = _ratio(picture.x, like.x), _ratio(picture.y, like.y)
    return replace(
        picture, x=like.x, y=like.y,
        series=tuple(
            replace(
                series,
                points=tuple((across * x, None if y is None else up * y) for x, y in series.points),
                band=tuple((across * x, up * low, up * high) for x, low, high in series.band),
            )
            for series in picture.series
        ),
        marks=tuple(replace(mark, x=(up if picture.kind == "bars" else across) * mark.x, y=up * mark.y) for mark in picture.marks),
        bars=tuple(replace(bar, value=up * bar.value) for bar in picture.bars),
        map=_map_like(picture.map, like.map, across, up),
    )  # fmt: skip


def _ratio(mine: Dimension | None, other: Dimension | None) -> float:
    return mine.si / other.si if mine is not None and other is not None else 1.0


def _map_like(mine: Field | None, other: Field | None, across: float, up: float) -> Field | None:
    if mine is None or other is None:
        return mine
    ratio = mine.si / other.si
    return replace(
        mine, xs=tuple(across * x for x in mine.xs), ys=tuple(up * y for y in mine.ys), unit=other.unit, si=other.si, metres=other.metres,
        values=tuple(tuple(None if value is None else ratio * value for value in row) for row in mine.values),
        worst=None if mine.worst is None else replace(mine.worst, x=across * mine.worst.x, y=up * mine.worst.y),
    )  # fmt: skip


def joined(first: Picture, second: Picture, names: tuple[str, str]) -> Picture:
    """The same picture of two machines as one.

    Args:
        first: Of the first machine.
        second: Of the other, in the same units.
        names: What both are called.

    A machine of which the picture is empty adds nothing but the words that say why.
    """
    lacking = " ".join(f"{name}: {drawn.words}" for drawn, name in zip((first, second), names, strict=True) if drawn.empty)
    if first.empty and second.empty:
        return replace(first, words=lacking, names=names)
    base = second if first.empty else first
    words = f"{base.words}{DIFFERENT.format(*names)}{f' {lacking}' if lacking else ''}"
    both = replace(base, words=words, key=_key(first.key, second.key), names=names)
    if base.kind == "lines":
        return replace(both, series=_series(first, second, names), marks=_marks(first, second, names))
    if base.kind == "bars":
        return replace(both, bars=_bars(first.bars, second.bars, rising=base.rising), marks=_marks(first, second, names))
    if base.kind == "map":
        return _maps(both, first, second, names)
    numbers = _in_turn(first.numbers, second.numbers, names)
    both = replace(both, heads=("machine", *base.heads) if base.heads else (), numbers=numbers)
    return replace(both, columns=("machine", *base.columns), rows=_in_turn(first.rows, second.rows, names))


def _key(first: tuple[Key, ...], second: tuple[Key, ...]) -> tuple[Key, ...]:
    """Numbers of the same name side by side; a dash where a machine has none."""
    mine, theirs = ({key.label: key.text for key in keys} for keys in (first, second))
    return tuple(Key(label, mine.get(label, "–"), theirs.get(label, "–")) for label in dict.fromkeys((*mine, *theirs)))


def _series(first: Picture, second: Picture, names: tuple[str, str]) -> tuple[Series, ...]:
    """Machines by colour, lines of the same name by the same dash."""
    order = list(dict.fromkeys(series.name for series in (*first.series, *second.series)))
    dashes = {name: DASHES[number % len(DASHES)] for number, name in enumerate(order)}
    return tuple(
        replace(series, name=f"{series.name}, {name}", dash=dashes[series.name], tone=tone)
        for tone, (drawn, name) in enumerate(zip((first, second), names, strict=True))
        for series in drawn.series
    )


def _marks(first: Picture, second: Picture, names: tuple[str, str]) -> tuple[Mark, ...]:
    """A mark that is the same in both stands once."""
    same = set(first.marks) & set(second.marks)
    told = [mark for mark in first.marks if mark in same]
    for drawn, name in zip((first, second), names, strict=True):
        told += [replace(mark, text=f"{mark.text}, {name}") for mark in drawn.marks if mark not in same]
    return tuple(told)


def _bars(first: tuple[Bar, ...], second: tuple[Bar, ...], *, rising: bool) -> tuple[Bar, ...]:
    """Bars of both, the largest first, or the least where they rise. What only one has is told as a dash beside the other."""
    others = {bar.label: bar for bar in second}
    told = [
        replace(
            bar,
            other=others[bar.label].value if bar.label in others else None,
            other_text=others[bar.label].text if bar.label in others else "–",
        )
        for bar in first
    ]
    mine = {bar.label for bar in first}
    told += [Bar(bar.label, 0.0, "–", "", bar.value, bar.text) for bar in second if bar.label not in mine]
    if rising:
        return tuple(sorted(told, key=lambda bar: min(value for value in (bar.value, bar.other) if value)))
    return tuple(sorted(told, key=lambda bar: -max(bar.value, bar.other or 0.0)))


def _maps(both: Picture, first: Picture, second: Picture, names: tuple[str, str]) -> Picture:
    grids = [(drawn.map, name) for drawn, name in zip((first, second), names, strict=True) if drawn.map is not None]
    known = [value for grid, _ in grids for row in grid.values for value in row if value is not None]
    low, high = (min(known), max(known)) if known else (None, None)
    told: list[Field] = [replace(grid, name=name, low=low, high=high) for grid, name in grids]
    return replace(both, map=told[0], other=told[1] if len(told) > 1 else None)


def _in_turn(first: tuple[tuple[Cell, ...], ...], second: tuple[tuple[Cell, ...], ...], names: tuple[str, str]) -> Any:
    """Rows of both in turn, each with the name of its machine."""
    told = [[(name, *row) for row in rows] for rows, name in zip((first, second), names, strict=True)]
    pairs = zip_longest(*told)
    return tuple(row for pair in pairs for row in pair if row is not None)

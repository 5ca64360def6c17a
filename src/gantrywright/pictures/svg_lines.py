"""Lines over an axis as SVG: bands, lines with their dashes, marks with their words."""

import math
from collections.abc import Iterable, Iterator

from gantrywright.pictures.ink import (
    BOTTOM,
    HAIR,
    INK,
    LEFT,
    LINES,
    PAPER,
    RIGHT,
    SECOND,
    TOP,
    WIDE,
    Box,
    free_place,
    text,
    upright,
    width,
)
from gantrywright.pictures.picture import DASHES, Picture, Series
from gantrywright.pictures.scale import Scale, named

HIGH = 420.0
ROW = 18.0
"""Of the legend."""
APART = 6.0
"""Between the places of a line that words look out for."""
FAR_OFF = 14.0
"""From which distance on words are tied to their point by a hairline."""
Point = tuple[float, float]


def lines(picture: Picture) -> tuple[list[str], float]:
    """Body and height of the drawing."""
    assert picture.x is not None
    assert picture.y is not None
    legend, rows = _legend(picture)
    top = TOP + ROW * (rows - 1)
    high = HIGH + ROW * (rows - 1)
    points = [(x, y) for s in picture.series for x, y in s.points if y is not None and math.isfinite(y)]
    points += [(x, v) for s in picture.series for x, low, most in s.band for v in (low, most)]
    points += [(mark.x, mark.y) for mark in picture.marks]
    across = Scale([x for x, _ in points], picture.x, LEFT, WIDE - RIGHT)
    up = Scale([y for _, y in points], picture.y, high - BOTTOM, top)
    body = [*legend, *_frame(picture, across, up, top, high)]
    for number, series in enumerate(picture.series):
        body += _line(series, number, across, up)
    return [*body, *_marks(picture, across, up, Box(LEFT, top, WIDE - RIGHT, high - BOTTOM))], high


def style(series: Series, number: int) -> tuple[str, str]:
    """Colour and dash of a line."""
    tone = number if series.tone is None else series.tone
    return LINES[tone % len(LINES)], series.dash or (DASHES[number % len(DASHES)] if series.tone is None else "")


def _line(series: Series, number: int, across: Scale, up: Scale) -> Iterator[str]:
    colour, dash = style(series, number)
    if series.band:
        edge = [(x, low) for x, low, _ in series.band] + [(x, most) for x, _, most in reversed(series.band)]
        yield f'<path d="{_path(edge, across, up)}Z" fill="{colour}" opacity="0.14"/>'
    if series.mark == "points":
        yield from (f'<circle cx="{across.at(x):.1f}" cy="{up.at(y):.1f}" r="4" fill="{colour}"/>' for x, y in series.points if y is not None)  # fmt: skip
    else:
        yield f'<path d="{_path(series.points, across, up)}" fill="none" stroke="{colour}" stroke-width="1.8" stroke-dasharray="{dash or "none"}"/>'


def _legend(picture: Picture) -> tuple[list[str], int]:
    """The lines by name, and how many rows they take."""
    body: list[str] = []
    x, row = LEFT, 0
    for number, series in enumerate(picture.series):
        colour, dash = style(series, number)
        wide = 44 + width(series.name)
        if x > LEFT and x + wide > WIDE - RIGHT:
            x, row = LEFT, row + 1
        y = 40 + ROW * row
        body.append(f'<line x1="{x:g}" x2="{x + 26:g}" y1="{y:g}" y2="{y:g}" stroke="{colour}" stroke-width="2" stroke-dasharray="{dash or "none"}"/>')  # fmt: skip
        body.append(text(x + 31, y + 4, series.name))
        x += wide
    return body, row + 1


def _frame(picture: Picture, across: Scale, up: Scale, top: float, high: float) -> Iterator[str]:
    assert picture.x is not None
    assert picture.y is not None
    for value, word in across.ticks():
        x = across.at(value)
        yield f'<line x1="{x:.1f}" x2="{x:.1f}" y1="{top:g}" y2="{high - BOTTOM:g}" stroke="{HAIR}"/>'
        yield text(x, high - BOTTOM + 18, word, anchor="middle")
    for value, word in up.ticks():
        y = up.at(value)
        yield f'<line x1="{LEFT:g}" x2="{WIDE - RIGHT:g}" y1="{y:.1f}" y2="{y:.1f}" stroke="{HAIR}"/>'
        yield text(LEFT - 8, y + 4, word, anchor="end")
    yield f'<path d="M{LEFT:g} {top:g}V{high - BOTTOM:g}H{WIDE - RIGHT:g}" fill="none" stroke="{INK}"/>'
    yield text((LEFT + WIDE - RIGHT) / 2, high - 16, named(picture.x), anchor="middle", size=13)
    yield upright(18, (top + high - BOTTOM) / 2, named(picture.y))


def _marks(picture: Picture, across: Scale, up: Scale, room: Box) -> Iterator[str]:
    """Rings, each with its words where they cover nothing; words without room are left to the key."""
    places = [(across.at(mark.x), up.at(mark.y)) for mark in picture.marks]
    taken = [Box(x - 5, y - 5, x + 5, y + 5) for x, y in places]
    drawn = [at for series in picture.series for at in _along(series.points, across, up)]
    for x, y in places:
        yield f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3.5" fill="{PAPER}" stroke="{INK}" stroke-width="1.5"/>'
    for mark, (x, y) in zip(picture.marks, places, strict=True):
        place = free_place(x, y, mark.text, room, taken, drawn)
        if place is not None:
            taken.append(Box(place.left - 4, place.top, place.right + 4, place.bottom))
            yield from _leader(x, y, place)
            yield text(place.left, place.bottom - 3.5, mark.text, halo=True)


def _leader(x: float, y: float, place: Box) -> Iterator[str]:
    """A hairline from a point to its words, where they could not stand beside it."""
    to = min(max(x, place.left), place.right), min(max(y, place.top), place.bottom)
    far = math.dist((x, y), to)
    if far >= FAR_OFF:
        start = 5 / far
        yield f'<path d="M{x + (to[0] - x) * start:.1f} {y + (to[1] - y) * start:.1f}L{to[0]:.1f} {to[1]:.1f}" stroke="{SECOND}" stroke-width="0.8"/>'


def _along(points: Iterable[tuple[float, float | None]], across: Scale, up: Scale) -> Iterator[Point]:
    """Places along a line, close to each other."""
    last: Point | None = None
    for x, y in points:
        here = (across.at(x), up.at(y)) if y is not None and math.isfinite(y) else None
        if here and last:
            parts = math.ceil(math.dist(here, last) / APART)
            yield from (
                (last[0] + (here[0] - last[0]) * k / parts, last[1] + (here[1] - last[1]) * k / parts) for k in range(1, parts + 1)
            )
        last = here


def _path(points: Iterable[tuple[float, float | None]], across: Scale, up: Scale) -> str:
    told, pen = [], "M"
    for x, y in points:
        if y is None or not math.isfinite(y):
            pen = "M"
            continue
        told.append(f"{pen}{across.at(x):.1f} {up.at(y):.1f}")
        pen = "L"
    return "".join(told)

"""Pictures as SVG, in ink on paper: what the page shows, for print and for letters."""

import math
from collections.abc import Callable, Iterable
from html import escape

from gantrywright.pictures.picture import DASHES, Dimension, Picture

WIDE, HIGH = 720.0, 420.0
LEFT, RIGHT, TOP, BOTTOM = 74.0, 24.0, 56.0, 58.0
INK, SECOND, HAIR = "#23292b", "#566064", "#cfd4d2"
LINES = ("#285b8e", "#cc7a1e", "#3c2213", "#7694b4", "#7a5a3c", "#23292b")
AMOUNT = ("#104483", "#29578c", "#3e6a97", "#5f7c93", "#7b8d94", "#97a095", "#b8b288", "#d8c589", "#fbd888")
"""Little to much; lightness rises at every step, for every kind of sight."""


def svg_of(picture: Picture) -> str:
    """The whole picture as one SVG text."""
    draw = {"lines": _lines, "bars": _bars, "map": _map, "table": _table}[picture.kind]
    high = max(HIGH, TOP + 24.0 * len(picture.bars) + 30, TOP + 20.0 * (len(picture.rows) + 2))
    body = "".join(draw(picture, high))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE:g} {high:g}" width="{WIDE:g}" height="{high:g}" role="img" '
        f'font-family="system-ui, sans-serif" font-size="13" fill="{INK}">'
        f"<title>{escape(picture.title)}</title><desc>{escape(picture.words)}</desc>"
        f'<rect width="100%" height="100%" fill="#fafaf7"/>{_text(LEFT, 24, picture.title, size=16)}{body}</svg>'
    )


def _lines(picture: Picture, high: float) -> Iterable[str]:
    points = [(x, y) for s in picture.series for x, y in s.points if y is not None and math.isfinite(y)]
    points += [(x, v) for s in picture.series for x, low, top in s.band for v in (low, top)]
    if not points or picture.x is None or picture.y is None:
        yield _text(LEFT, high / 2, picture.words)
        return
    across = _Scale([x for x, _ in points], picture.x, LEFT, WIDE - RIGHT)
    up = _Scale([y for _, y in points], picture.y, high - BOTTOM, TOP)
    yield from _frame(picture, across, up, high)
    for number, series in enumerate(picture.series):
        colour = LINES[number % len(LINES)]
        if series.band:
            edge = [(x, low) for x, low, _ in series.band] + [(x, top) for x, _, top in reversed(series.band)]
            yield f'<path d="{_path(edge, across.at, up.at)}Z" fill="{colour}" opacity="0.14"/>'
        if series.mark == "points":
            yield from (
                f'<circle cx="{across.at(x):.1f}" cy="{up.at(y):.1f}" r="4" fill="{colour}"/>'
                for x, y in series.points
                if y is not None
            )
        else:
            dash = series.dash or DASHES[number % len(DASHES)]
            yield f'<path d="{_path(series.points, across.at, up.at)}" fill="none" stroke="{colour}" stroke-width="1.8" stroke-dasharray="{dash or "none"}"/>'
    yield from _legend(picture)
    for mark in picture.marks:
        yield f'<circle cx="{across.at(mark.x):.1f}" cy="{up.at(mark.y):.1f}" r="3.5" fill="none" stroke="{INK}" stroke-width="1.5"/>'
        left = across.at(mark.x) > WIDE / 2
        yield _text(
            across.at(mark.x) + (-8 if left else 8), up.at(mark.y) - 8, mark.text, anchor="end" if left else "start", size=12
        )


def _legend(picture: Picture) -> Iterable[str]:
    at = LEFT
    for number, series in enumerate(picture.series):
        colour, dash = LINES[number % len(LINES)], series.dash or DASHES[number % len(DASHES)]
        yield f'<line x1="{at:g}" x2="{at + 26:g}" y1="40" y2="40" stroke="{colour}" stroke-width="2" stroke-dasharray="{dash or "none"}"/>'
        yield _text(at + 31, 44, series.name, size=12)
        at += 44 + 6.6 * len(series.name)


def _frame(picture: Picture, across: "_Scale", up: "_Scale", high: float) -> Iterable[str]:
    for value, word in across.ticks():
        x = across.at(value)
        yield f'<line x1="{x:.1f}" x2="{x:.1f}" y1="{TOP:g}" y2="{high - BOTTOM:g}" stroke="{HAIR}"/>'
        yield _text(x, high - BOTTOM + 18, word, anchor="middle", size=12)
    for value, word in up.ticks():
        y = up.at(value)
        yield f'<line x1="{LEFT:g}" x2="{WIDE - RIGHT:g}" y1="{y:.1f}" y2="{y:.1f}" stroke="{HAIR}"/>'
        yield _text(LEFT - 8, y + 4, word, anchor="end", size=12)
    yield f'<path d="M{LEFT:g} {TOP:g}V{high - BOTTOM:g}H{WIDE - RIGHT:g}" fill="none" stroke="{INK}"/>'
    assert picture.x is not None
    assert picture.y is not None
    yield _text((LEFT + WIDE - RIGHT) / 2, high - 16, _named(picture.x), anchor="middle")
    yield f'<text transform="translate(18 {(TOP + high - BOTTOM) / 2:.0f}) rotate(-90)" text-anchor="middle">{escape(_named(picture.y))}</text>'


def _bars(picture: Picture, high: float) -> Iterable[str]:
    most = max((abs(bar.value) for bar in picture.bars), default=1.0) or 1.0
    room = WIDE - 330 - 90
    for number, bar in enumerate(picture.bars):
        y = TOP + 24.0 * number
        yield _text(300, y + 13, bar.label, anchor="end", size=12)
        yield f'<rect x="310" y="{y:g}" width="{room * abs(bar.value) / most:.1f}" height="16" fill="{LINES[0]}"/>'
        yield _text(316 + room * abs(bar.value) / most, y + 13, bar.text, size=12)


def _map(picture: Picture, high: float) -> Iterable[str]:
    grid = picture.map
    if grid is None or picture.x is None or picture.y is None:
        return
    known = [v for row in grid.values for v in row if v is not None]
    least, most = (min(known), max(known)) if known else (0.0, 1.0)
    across = _Scale(list(grid.xs), picture.x, LEFT, WIDE - 120, tight=True)
    up = _Scale(list(grid.ys), picture.y, high - BOTTOM, TOP, tight=True)
    wide = (WIDE - 120 - LEFT) / max(len(grid.xs), 1)
    tall = (high - BOTTOM - TOP) / max(len(grid.ys), 1)
    for j, row in enumerate(grid.values):
        for i, value in enumerate(row):
            x, y = LEFT + wide * i, high - BOTTOM - tall * (j + 1)
            fill = f'fill="{_shade(value, least, most)}"' if value is not None else f'fill="none" stroke="{HAIR}"'
            yield f'<rect x="{x:.1f}" y="{y:.1f}" width="{wide + 0.3:.1f}" height="{tall + 0.3:.1f}" {fill}/>'
    for value, word in across.ticks():
        yield _text(
            LEFT + wide / 2 + (across.at(value) - LEFT) * (1 - 1 / max(len(grid.xs), 1)),
            high - BOTTOM + 18,
            word,
            anchor="middle",
            size=12,
        )
    for value, word in up.ticks():
        inner = high - BOTTOM - tall / 2 - (high - BOTTOM - up.at(value)) * (1 - 1 / max(len(grid.ys), 1))
        yield _text(LEFT - 8, inner + 4, word, anchor="end", size=12)
    yield _text((LEFT + WIDE - 120) / 2, high - 16, _named(picture.x), anchor="middle")
    yield f'<text transform="translate(18 {(TOP + high - BOTTOM) / 2:.0f}) rotate(-90)" text-anchor="middle">{escape(_named(picture.y))}</text>'
    yield from _scale_bar(least, most, grid.unit, high)
    if grid.worst is not None:
        i = min(range(len(grid.xs)), key=lambda k: abs(grid.xs[k] - grid.worst.x))  # type: ignore[union-attr]
        j = min(range(len(grid.ys)), key=lambda k: abs(grid.ys[k] - grid.worst.y))  # type: ignore[union-attr]
        x, y = LEFT + wide * (i + 0.5), high - BOTTOM - tall * (j + 0.5)
        yield f'<circle cx="{x:.1f}" cy="{y:.1f}" r="7" fill="none" stroke="#b4231a" stroke-width="2.5"/>'
        yield _text(LEFT, 44, grid.worst.text, size=12)


def _scale_bar(least: float, most: float, unit: str, high: float) -> Iterable[str]:
    tall = (high - BOTTOM - TOP) / len(AMOUNT)
    for number, colour in enumerate(AMOUNT):
        yield f'<rect x="{WIDE - 100:g}" y="{high - BOTTOM - tall * (number + 1):.1f}" width="18" height="{tall + 0.3:.1f}" fill="{colour}"/>'
    yield _text(WIDE - 76, high - BOTTOM, f"{least:.3g}", size=12)
    yield _text(WIDE - 76, TOP + 10, f"{most:.3g} {unit}", size=12)


def _table(picture: Picture, high: float) -> Iterable[str]:
    step = (WIDE - LEFT - RIGHT) / max(len(picture.columns), 1)
    for k, head in enumerate(picture.columns):
        yield _text(LEFT + step * k, TOP, head, size=12, weight="600")
    for number, row in enumerate(picture.rows, 1):
        yield from (_text(LEFT + step * k, TOP + 20.0 * number, cell, size=12) for k, cell in enumerate(row))


def _shade(value: float, least: float, most: float) -> str:
    part = (value - least) / (most - least) if most > least else 0.5
    return AMOUNT[min(int(part * len(AMOUNT)), len(AMOUNT) - 1)]


def _path(points: Iterable[tuple[float, float | None]], x_at: Callable[[float], float], y_at: Callable[[float], float]) -> str:
    told, pen = [], "M"
    for x, y in points:
        if y is None or not math.isfinite(y):
            pen = "M"
            continue
        told.append(f"{pen}{x_at(x):.1f} {y_at(y):.1f}")
        pen = "L"
    return "".join(told)


def _named(of: Dimension) -> str:
    return f"{of.label} [{of.unit}]" if of.unit else of.label


def _text(x: float, y: float, words: str, *, anchor: str = "start", size: int = 13, weight: str = "400") -> str:
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-size="{size}" font-weight="{weight}" fill="{INK}">{escape(words)}</text>'


class _Scale:
    """From numbers to places on the paper, with round ticks."""

    def __init__(self, values: list[float], of: Dimension, start: float, stop: float, *, tight: bool = False) -> None:
        self.log, self.start, self.stop = of.log, start, stop
        if of.log:
            values = [v for v in values if v > 0] or [1.0]
            self.least, self.most = math.log10(min(values)), math.log10(max(values))
        else:
            self.least, self.most = min(values), max(values)
            if not tight and 0 < self.least < 0.5 * self.most:
                self.least = 0.0
        if self.most - self.least < 1e-12 * max(abs(self.most), 1e-12):
            self.least, self.most = self.least - 0.5 * abs(self.least or 1), self.most + 0.5 * abs(self.most or 1)
        elif not tight:
            self.most += 0.04 * (self.most - self.least)

    def at(self, value: float) -> float:
        """Place of a number."""
        if self.log:
            value = math.log10(value) if value > 0 else self.least
        return self.start + (value - self.least) / (self.most - self.least) * (self.stop - self.start)

    def ticks(self) -> list[tuple[float, str]]:
        """Round numbers with their words."""
        if self.log:
            decades = range(math.floor(self.least), math.ceil(self.most) + 1)
            told = [10.0**d * k for d in decades for k in ((1, 2, 5) if self.most - self.least < 3 else (1,))]
            return [(v, f"{v:g}") for v in told if self.least <= math.log10(v) <= self.most]
        step = _round((self.most - self.least) / 5)
        first = math.ceil(self.least / step - 1e-9)
        last = math.floor(self.most / step + 1e-9)
        return [(k * step, f"{k * step:.6g}") for k in range(first, last + 1)]


def _round(step: float) -> float:
    power = 10.0 ** math.floor(math.log10(step))
    return next(k * power for k in (1, 2, 2.5, 5, 10) if k * power >= step * 0.999)

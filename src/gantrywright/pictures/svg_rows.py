"""Bars and tables as SVG."""

import math
from collections.abc import Callable

from gantrywright.pictures.ink import HAIR, INK, LEFT, LINES, RIGHT, TOP, WIDE, text, width, wrapped
from gantrywright.pictures.picture import Bar, Picture

LABELS = 300.0
"""Where the labels of bars end."""
THICK, STEP = 16.0, 24.0
PAIR_THICK, PAIR_STEP = 11.0, 32.0
LINE = 16.0
GAP = 14.0
"""Between the columns of a table."""


Long = Callable[[float], float]
"""How long the bar of a value is drawn."""


def bars(picture: Picture) -> tuple[list[str], float]:
    """Body and height of a drawing of bars; of two machines, one below the other. Marks are lines across all of them."""
    two = len(picture.names) > 1
    long = _long(picture, WIDE - LABELS - 18 - RIGHT)
    step, top = (PAIR_STEP, TOP + 20) if two else (STEP, TOP - 8)
    top += 18 * len(picture.marks)
    bottom = top + step * len(picture.bars)
    body = _names(picture.names) if two else []
    body += _decades(picture, long, top, bottom)
    for number, bar in enumerate(picture.bars):
        y = top + step * number
        body.append(text(LABELS, y + (PAIR_THICK + 4 if two else 13), _cut(bar.label, LABELS - 20), anchor="end"))
        body += _pair(bar, y, long) if two else _bar(bar.value, bar.text, y, THICK, long, LINES[0])
    for number, mark in enumerate(picture.marks):
        body += _across(LABELS + 10 + long(mark.x), top - 6 - 18 * number, bottom, mark.text)
    body = sorted(body, key=lambda piece: piece.startswith("<text"))  # words stand over the lines that pass them
    return body, bottom + (34 if picture.y is not None and picture.y.log else 20)


def ends(picture: Picture) -> tuple[float, float]:
    """Where the bars of a picture begin and the longest one ends: at nothing, or at the power of ten below the least."""
    values = [abs(value) for bar in picture.bars for value in (bar.value, bar.other) if value]
    values += [mark.x for mark in picture.marks if mark.x > 0]
    most = max(values, default=1.0)
    if picture.y is None or not picture.y.log:
        return 0.0, most
    return 10.0 ** math.floor(math.log10(min(values, default=1.0) * 0.999)), most


def _long(picture: Picture, room: float) -> Long:
    """As long as can be: each bar with its words behind it has to fit."""
    start, most = ends(picture)
    decades = math.log10(most / start) if start else 1.0

    def share(value: float) -> float:
        if not start:
            return abs(value) / most
        return max(0.0, math.log10(value / start)) / decades if value > 0 else 0.0

    pairs = [(bar.value, bar.text) for bar in picture.bars]
    pairs += [(bar.other, bar.other_text) for bar in picture.bars if bar.other is not None]
    whole = min(((room - width(words)) / share(value) for value, words in pairs if share(value) > 0), default=room)
    return lambda value: min(whole, room) * share(value)


def _decades(picture: Picture, long: Long, top: float, bottom: float) -> list[str]:
    """Powers of ten under logarithmic bars, with their unit."""
    start, most = ends(picture)
    if not start or picture.y is None:
        return []
    body, free = [], 0.0
    for power in range(round(math.log10(start)), math.floor(math.log10(most)) + 1):
        x, word = LABELS + 10 + long(10.0**power), f"{10.0**power:g}"
        body.append(f'<line x1="{x:.1f}" x2="{x:.1f}" y1="{top - 4:g}" y2="{bottom:g}" stroke="{HAIR}"/>')
        if x - width(word) / 2 >= free:
            body.append(text(x, bottom + 14, word, anchor="middle"))
            free = x + width(word) / 2 + 4
    return [*body, text(LABELS - 16, bottom + 14, f"{picture.y.label} [{picture.y.unit}]", anchor="end")]


def _across(x: float, top: float, bottom: float, words: str) -> list[str]:
    """A line across all bars, its words above it, moved to where there is room."""
    left = max(LEFT / 2, min(x + 5, WIDE - RIGHT - width(words)))
    return [
        f'<path d="M{x:.1f} {top - 8:g}V{bottom:g}" stroke="{INK}" stroke-width="1.5" stroke-dasharray="5 3"/>',
        text(left, top, words, halo=True),
    ]


def _names(names: tuple[str, ...]) -> list[str]:
    body, x = [], LEFT / 2
    for number, name in enumerate(names):
        body += [
            f'<rect x="{x:.1f}" y="{TOP - 14:g}" width="22" height="{PAIR_THICK:g}" {_fill(number)}/>',
            text(x + 28, TOP - 4, name),
        ]
        x += 50 + width(name)
    return body


def _pair(bar: Bar, y: float, long: Long) -> list[str]:
    body = _bar(bar.value, bar.text, y, PAIR_THICK, long, LINES[0])
    if bar.other is not None:
        wide = long(bar.other)
        body += [
            f'<rect x="{LABELS + 10:g}" y="{y + PAIR_THICK + 2:.1f}" width="{wide:.1f}" height="{PAIR_THICK:g}" {_fill(1)}/>',
            text(LABELS + 16 + wide, y + 2 * PAIR_THICK + 1, bar.other_text, halo=True),
        ]
    return body


def _bar(value: float, words: str, y: float, thick: float, long: Long, colour: str) -> list[str]:
    wide = long(value)
    return [
        f'<rect x="{LABELS + 10:g}" y="{y:.1f}" width="{wide:.1f}" height="{thick:g}" fill="{colour}"/>',
        text(LABELS + 16 + wide, y + thick / 2 + 5 if thick == THICK else y + 9, words, halo=True),
    ]


def _fill(number: int) -> str:
    """The second machine is outlined, so that both are told apart without colour."""
    return f'fill="{LINES[0]}"' if number == 0 else f'fill="{LINES[1]}" fill-opacity="0.25" stroke="{LINES[1]}"'


def _cut(words: str, room: float) -> str:
    """Words that fit; what does not is left out from the middle, where paths are least telling."""
    if width(words) <= room:
        return words
    letters = int(room / width("x")) - 1
    return f"{words[: letters // 2]}…{words[len(words) - (letters - letters // 2) :]}"


def table(picture: Picture) -> tuple[list[str], float]:
    """Body and height of a table: columns as wide as their words need, longer words in lines."""
    columns = [[head, *(row[k] for row in picture.rows)] for k, head in enumerate(picture.columns)]
    wide = _widths(columns, WIDE - LEFT / 2 - RIGHT - GAP * (len(columns) - 1))
    body: list[str] = []
    y = TOP
    for number, row in enumerate((picture.columns, *picture.rows)):
        cells = [wrapped(cell, room) for cell, room in zip(row, wide, strict=True)]
        x = LEFT / 2
        for lines, room in zip(cells, wide, strict=True):
            body += [text(x, y + LINE * at, line, weight="600" if number == 0 else "400") for at, line in enumerate(lines)]
            x += room + GAP
        y += LINE * max(len(lines) for lines in cells) + 6
        body.append(f'<line x1="{LEFT / 2:g}" x2="{WIDE - RIGHT:g}" y1="{y - 15:.1f}" y2="{y - 15:.1f}" stroke="{HAIR}"/>')
    return body, y + 10


def _widths(columns: list[list[str]], room: float) -> list[float]:
    """As each column would like; where that is too much, the widest give way, down to their longest word."""
    wanted = [max(width(cell) for cell in column) + 2 for column in columns]
    least = [max(width(word) for cell in column for word in cell.replace(" %", "_%").split(" ")) + 2 for column in columns]
    while sum(wanted) > room:
        widest = max(range(len(wanted)), key=lambda k: wanted[k] - least[k])
        if wanted[widest] <= least[widest]:
            break
        wanted[widest] = max(least[widest], wanted[widest] - max(4.0, (sum(wanted) - room) / len(wanted)))
    return wanted

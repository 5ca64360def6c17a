"""Bars and tables as SVG."""

from gantrywright.pictures.ink import HAIR, LEFT, LINES, RIGHT, TOP, WIDE, text, width, wrapped
from gantrywright.pictures.picture import Bar, Picture

LABELS = 300.0
"""Where the labels of bars end."""
THICK, STEP = 16.0, 24.0
PAIR_THICK, PAIR_STEP = 11.0, 32.0
LINE = 16.0
GAP = 14.0
"""Between the columns of a table."""


def bars(picture: Picture) -> tuple[list[str], float]:
    """Body and height of a drawing of bars; of two machines, one below the other."""
    two = len(picture.names) > 1
    values = [value for bar in picture.bars for value in (bar.value, bar.other) if value is not None]
    most = max((abs(value) for value in values), default=1.0) or 1.0
    told = max((width(words) for bar in picture.bars for words in (bar.text, bar.other_text)), default=0.0)
    per = (WIDE - LABELS - 18 - told - RIGHT) / most
    step, top = (PAIR_STEP, TOP + 20) if two else (STEP, TOP - 8)
    body = _names(picture.names) if two else []
    for number, bar in enumerate(picture.bars):
        y = top + step * number
        body.append(text(LABELS, y + (PAIR_THICK + 4 if two else 13), _cut(bar.label, LABELS - 20), anchor="end"))
        body += _pair(bar, y, per) if two else _bar(bar.value, bar.text, y, THICK, per, LINES[0])
    return body, top + step * len(picture.bars) + 20


def _names(names: tuple[str, ...]) -> list[str]:
    body, x = [], LEFT / 2
    for number, name in enumerate(names):
        body += [
            f'<rect x="{x:.1f}" y="{TOP - 14:g}" width="22" height="{PAIR_THICK:g}" {_fill(number)}/>',
            text(x + 28, TOP - 4, name),
        ]
        x += 50 + width(name)
    return body


def _pair(bar: Bar, y: float, per: float) -> list[str]:
    body = _bar(bar.value, bar.text, y, PAIR_THICK, per, LINES[0])
    if bar.other is not None:
        wide = per * abs(bar.other)
        body += [
            f'<rect x="{LABELS + 10:g}" y="{y + PAIR_THICK + 2:.1f}" width="{wide:.1f}" height="{PAIR_THICK:g}" {_fill(1)}/>',
            text(LABELS + 16 + wide, y + 2 * PAIR_THICK + 1, bar.other_text),
        ]
    return body


def _bar(value: float, words: str, y: float, thick: float, per: float, colour: str) -> list[str]:
    wide = per * abs(value)
    return [
        f'<rect x="{LABELS + 10:g}" y="{y:.1f}" width="{wide:.1f}" height="{thick:g}" fill="{colour}"/>',
        text(LABELS + 16 + wide, y + thick / 2 + 5 if thick == THICK else y + 9, words),
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

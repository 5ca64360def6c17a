"""Ink on paper: colours, words and where they find room. Of the pictures that are made as SVG."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

WIDE = 720.0
LEFT, RIGHT, TOP, BOTTOM = 74.0, 24.0, 56.0, 58.0
INK, SECOND, HAIR, PAPER = "#23292b", "#566064", "#cfd4d2", "#fafaf7"
CHOSEN = "#b4231a"
LINES = ("#285b8e", "#cc7a1e", "#3c2213", "#7694b4", "#7a5a3c")
AMOUNT = ("#104483", "#29578c", "#3e6a97", "#5f7c93", "#7b8d94", "#97a095", "#b8b288", "#d8c589", "#fbd888")
"""Little to much; lightness rises at every step, for every kind of sight."""
SMALL = 12
EM = 0.6
"""Width of a letter by the size of its script, on the safe side for the fonts that browsers take for system-ui."""
TIED = "\u00a0%"
FAR = (1.0, 2.0, 3.5, 5.0)
SIDES = ((1, -1), (-1, -1), (1, 1), (-1, 1), (1, 0), (-1, 0), (0, -1), (0, 1))
"""Where words are tried around a point: across and down."""
OVER_A_LINE = 6
"""How much worse it is to cover one place of a line than to stand one step farther off."""


@dataclass(frozen=True, slots=True)
class Box:
    """A place on the paper that is taken; y grows downwards."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Box") -> bool:
        """Whether both cover a place."""
        return self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom

    def within(self, other: "Box") -> bool:
        """Whether nothing of it stands out of the other."""
        return self.left >= other.left and self.right <= other.right and self.top >= other.top and self.bottom <= other.bottom


def text(x: float, y: float, words: str, *, anchor: str = "start", size: int = SMALL, weight: str = "400", fill: str = INK, halo: bool = False) -> str:  # fmt: skip
    """Words that stand on a line at a place."""
    paper = f' stroke="{PAPER}" stroke-width="3" paint-order="stroke" stroke-linejoin="round"' if halo else ""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-size="{size}" font-weight="{weight}" fill="{fill}"{paper}>'
        f"{escape(words)}</text>"
    )


def short(value: float) -> str:
    """A number as short as it may be read off a drawing.

    Example:
        >>> short(2632.7), short(0.324249), short(169999.9)
        ('2633', '0.3242', '170000')
    """
    return f"{float(f'{value:.4g}'):g}"


def upright(x: float, y: float, words: str) -> str:
    """Words that run up the paper, centred at a place."""
    return (
        f'<text transform="translate({x:.1f} {y:.1f}) rotate(-90)" text-anchor="middle" font-size="{SMALL}">{escape(words)}</text>'
    )


def width(words: str, size: float = SMALL) -> float:
    """How wide words are, on the safe side."""
    return EM * size * len(words)


def wrapped(words: str, room: float, size: float = SMALL) -> list[str]:
    """Words in lines that fit a width; a word that is longer than the line stands alone, and a sign stays with its number."""
    lines: list[str] = []
    for word in words.replace(" %", TIED).split(" "):
        if lines and width(f"{lines[-1]} {word}", size) <= room:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return [line.replace(TIED, " %") for line in lines]


def free_place(
    x: float, y: float, words: str, room: Box, taken: Sequence[Box], lines: Iterable[tuple[float, float]] = (), *, gap: float = 8.0
) -> Box | None:
    """Where words can stand near a point: within the room, over no other words, over as little of the lines as can be: farther off rather
    than over one.

    Args:
        x: Of the point.
        y: Of the point.
        words: What is written, in small script.
        room: What it may not leave.
        taken: Where something stands already.
        lines: Places along drawn lines.
        gap: Between the point and the words.
    """
    wide, high = width(words), 14.0
    near = [at for at in lines if abs(at[0] - x) < wide + 4 * gap and abs(at[1] - y) < 8 * high]
    best, least = None, float("inf")
    for far in FAR:
        for across, down in SIDES:
            left = x + gap if across > 0 else x - gap - wide if across < 0 else x - wide / 2
            top = y + down * far * (gap + high / 2) - high / 2
            box = Box(left, top, left + wide, top + high)
            if not box.within(room) or any(box.meets(other) for other in taken):
                continue
            covered = OVER_A_LINE * sum(box.left < px < box.right and box.top < py < box.bottom for px, py in near) + far
            if covered < least:
                best, least = box, covered
    return best

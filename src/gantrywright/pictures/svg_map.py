"""Heat maps as SVG: cells of the grid in their real proportions, the weak place, the scale. Two machines stand side by side."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from gantrywright.pictures.ink import AMOUNT, CHOSEN, HAIR, INK, PAPER, WIDE, short, text, upright, width, wrapped
from gantrywright.pictures.picture import Field, Picture
from gantrywright.pictures.scale import Scale, named

GUTTER, BETWEEN, SCALE_ROOM = 74.0, 74.0, 24.0
MAP_TOP, BELOW = 48.0, 46.0
TALLEST = 480.0
FLAT, STEEP = 0.25, 3.0
"""A map that is longer than this, or higher, is squeezed: a ribbon shows nothing."""
SCALE_WIDE, STRIPES = 216.0, 36


@dataclass(frozen=True, slots=True)
class Plot:
    """Where one map lies on the paper, and the edges of its cells."""

    left: float
    top: float
    wide: float
    tall: float
    xs: tuple[float, ...]
    ys: tuple[float, ...]

    def across(self, x: float) -> float:
        """Place of a number along the map."""
        return self.left + self.wide * (x - self.xs[0]) / (self.xs[-1] - self.xs[0])

    def up(self, y: float) -> float:
        """Place of a number across the map."""
        return self.top + self.tall * (self.ys[-1] - y) / (self.ys[-1] - self.ys[0])


def heat(picture: Picture) -> tuple[list[str], float]:
    """Body and height of the drawing."""
    grids = [grid for grid in (picture.map, picture.other) if grid is not None]
    room = (WIDE - SCALE_ROOM - GUTTER - BETWEEN * (len(grids) - 1)) / len(grids)
    top = MAP_TOP + (18 if len(grids) > 1 else 0)
    plots = [_plot(grid, GUTTER + number * (room + BETWEEN), top, room) for number, grid in enumerate(grids)]
    least, most = scale_of(grids)
    body: list[str] = []
    for grid, plot in zip(grids, plots, strict=True):
        body += [*_cells(grid, plot, least, most), *_axes(picture, grid, plot)]
        if grid.worst is not None:
            x, y = plot.across(grid.worst.x), plot.up(grid.worst.y)
            body += [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="8" fill="none" stroke="{ink}" stroke-width="{wide}"/>' for ink, wide in ((PAPER, 5), (CHOSEN, 2.5))]  # fmt: skip
        if grid.name:
            body.append(text(plot.left, top - 8, grid.name, weight="600"))
    below = top + max(plot.tall for plot in plots) + BELOW + 14
    body += _scale_bar(least, most, grids[0].unit, below)
    high = below + 30
    for grid, plot in zip(grids, plots, strict=True):
        if grid.worst is not None:
            told = wrapped(grid.worst.text, room - 24)
            body.append(
                f'<circle cx="{plot.left + 7:.1f}" cy="{below + 34:.1f}" r="6" fill="none" stroke="{CHOSEN}" stroke-width="2.5"/>'
            )
            body += [text(plot.left + 22, below + 38 + 16 * row, line) for row, line in enumerate(told)]
            high = max(high, below + 44 + 16 * len(told))
    return body, high


def scale_of(grids: Sequence[Field]) -> tuple[float, float]:
    """Least and greatest value of some maps, or the ends that they were given."""
    known = [v for grid in grids for row in grid.values for v in row if v is not None] or [0.0, 1.0]
    low, high = grids[0].low, grids[0].high
    return min(known) if low is None else low, max(known) if high is None else high


def edges(places: Sequence[float]) -> tuple[float, ...]:
    """Edges of cells: half way between neighbours, and as far beyond the ends.

    Example:
        >>> edges((0.0, 2.0, 4.0))
        (-1.0, 1.0, 3.0, 5.0)
    """
    if len(places) < 2:
        return (places[0] - 0.5, places[0] + 0.5)
    between = [(a + b) / 2 for a, b in pairwise(places)]
    return (2 * places[0] - between[0], *between, 2 * places[-1] - between[-1])


def _plot(grid: Field, left: float, top: float, room: float) -> Plot:
    xs, ys = edges(grid.xs), edges(grid.ys)
    aspect = min(max((ys[-1] - ys[0]) / (xs[-1] - xs[0]), FLAT), STEEP)
    wide = min(room, TALLEST / aspect)
    return Plot(left, top, wide, wide * aspect, xs, ys)


def _cells(grid: Field, plot: Plot, least: float, most: float) -> Iterator[str]:
    for j, row in enumerate(grid.values):
        for i, value in enumerate(row):
            x, y = plot.across(plot.xs[i]), plot.up(plot.ys[j + 1])
            wide, tall = plot.across(plot.xs[i + 1]) - x, plot.up(plot.ys[j]) - y
            fill = f'fill="{shade(value, least, most)}"' if value is not None else f'fill="none" stroke="{HAIR}"'
            yield f'<rect x="{x:.1f}" y="{y:.1f}" width="{wide + 0.3:.1f}" height="{tall + 0.3:.1f}" {fill}/>'
    yield f'<rect x="{plot.left:.1f}" y="{plot.top:.1f}" width="{plot.wide:.1f}" height="{plot.tall:.1f}" fill="none" stroke="{INK}"/>'


def _axes(picture: Picture, grid: Field, plot: Plot) -> Iterator[str]:
    assert picture.x is not None
    assert picture.y is not None
    foot = plot.top + plot.tall
    for value, word in Scale(list(grid.xs), picture.x, 0, 1, tight=True).ticks(max(2, int(plot.wide / 80))):
        yield f'<path d="M{plot.across(value):.1f} {foot:.1f}v5" stroke="{INK}"/>'
        yield text(plot.across(value), foot + 18, word, anchor="middle")
    for value, word in Scale(list(grid.ys), picture.y, 0, 1, tight=True).ticks(max(2, int(plot.tall / 50))):
        yield f'<path d="M{plot.left:.1f} {plot.up(value):.1f}h-5" stroke="{INK}"/>'
        yield text(plot.left - 8, plot.up(value) + 4, word, anchor="end")
    yield text(plot.left + plot.wide / 2, foot + 38, named(picture.x), anchor="middle")
    yield upright(plot.left - 56, plot.top + plot.tall / 2, named(picture.y))


def _scale_bar(least: float, most: float, unit: str, y: float) -> Iterator[str]:
    low, high = f"{short(least)} {unit}", f"{short(most)} {unit}"
    left = GUTTER + width(low) + 8
    step = SCALE_WIDE / STRIPES
    yield text(GUTTER, y + 11, low)
    for number in range(STRIPES):
        colour = shade(number / (STRIPES - 1), 0.0, 1.0)
        yield f'<rect x="{left + step * number:.1f}" y="{y:.1f}" width="{step + 0.3:.1f}" height="14" fill="{colour}"/>'
    yield text(left + SCALE_WIDE + 8, y + 11, high)


def shade(value: float, least: float, most: float) -> str:
    """Colour of a value on the scale, between the two stops that it lies between.

    Example:
        >>> shade(0.0, 0.0, 8.0), shade(8.0, 0.0, 8.0), shade(0.5, 0.0, 8.0)
        ('#104483', '#fbd888', '#1c4e88')
    """
    at = min(max((value - least) / (most - least) if most > least else 0.5, 0.0), 1.0) * (len(AMOUNT) - 1)
    low = min(int(at), len(AMOUNT) - 2)
    pairs = zip(_rgb(AMOUNT[low]), _rgb(AMOUNT[low + 1]), strict=True)
    return "#" + "".join(f"{round(a + (at - low) * (b - a)):02x}" for a, b in pairs)


def _rgb(colour: str) -> tuple[int, ...]:
    return tuple(int(colour[k : k + 2], 16) for k in (1, 3, 5))

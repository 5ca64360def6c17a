"""Pieces of lines and arcs, drawn in any order, joined end to end to closed rings."""

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence

from gantrywright.intake.outlines.rings import OutlineTrouble, Point, said

CLOSE = 20e-6
"""Ends nearer than this are one point, m."""

Piece = list[Point]


def closed_rings(pieces: Iterable[Sequence[Point]]) -> list[Piece]:
    """Rings that pieces make.

    Args:
        pieces: Points of each, m, from end to end; a closed one ends where it begins.

    Raises:
        OutlineTrouble: A chain stays open, or branches; says where.
    """
    rings: list[Piece] = []
    loose: list[Piece] = []
    for points in pieces:
        piece = list(points)
        if len(piece) < 2 or _span(piece) <= CLOSE:
            continue
        (rings if len(piece) > 2 and math.dist(piece[0], piece[-1]) <= CLOSE else loose).append(piece)
    return rings + _joined(_once(loose))


def _span(piece: Piece) -> float:
    return max(math.dist(piece[0], point) for point in piece)


def _once(pieces: list[Piece]) -> list[Piece]:
    """Without pieces that are drawn twice."""
    kept: dict[tuple[tuple[int, int], ...], Piece] = {}
    for piece in pieces:
        key = tuple((round(x / CLOSE), round(y / CLOSE)) for x, y in piece)
        kept.setdefault(min(key, key[::-1]), piece)
    return list(kept.values())


def _joined(pieces: list[Piece]) -> list[Piece]:
    ends = _Ends(pieces)
    rings, used = [], set[int]()
    for first in range(len(pieces)):
        if first in used:
            continue
        used.add(first)
        chain = list(pieces[first])
        while math.dist(chain[0], chain[-1]) > CLOSE:
            meeting = [found for found in ends.near(chain[-1]) if found[0] not in used]
            if not meeting:
                raise OutlineTrouble(_open(chain, pieces, used))
            if len({number for number, _ in meeting}) > 1:
                raise OutlineTrouble(f"branches at {said(chain[-1])}: more than two lines meet there")
            number, at_stop = meeting[0]
            used.add(number)
            piece = pieces[number]
            chain += piece[-2::-1] if at_stop else piece[1:]
        rings.append(chain)
    return rings


class _Ends:
    """Ends of pieces by place."""

    def __init__(self, pieces: list[Piece]) -> None:
        self._pieces = pieces
        self._cells: defaultdict[tuple[int, int], list[tuple[int, bool]]] = defaultdict(list)
        for number, piece in enumerate(pieces):
            self._cells[_cell(piece[0])].append((number, False))
            self._cells[_cell(piece[-1])].append((number, True))

    def near(self, point: Point) -> list[tuple[int, bool]]:
        """Number of each piece that ends there, and whether with its last point."""
        x, y = _cell(point)
        around = [end for i in (-1, 0, 1) for j in (-1, 0, 1) for end in self._cells.get((x + i, y + j), ())]
        return [(n, stop) for n, stop in around if math.dist(self._pieces[n][-1 if stop else 0], point) <= CLOSE]


def _cell(point: Point) -> tuple[int, int]:
    return math.floor(point[0] / CLOSE), math.floor(point[1] / CLOSE)


def _open(chain: Piece, pieces: list[Piece], used: set[int]) -> str:
    """Where the chain ends, and how far it is to the nearest end that it could go on to."""
    stop = chain[-1]
    others = [chain[0], *(piece[end] for number, piece in enumerate(pieces) if number not in used for end in (0, -1))]
    nearest = min(others, key=lambda point: math.dist(point, stop))
    return f"is open at {said(stop)}: the nearest other end is {math.dist(nearest, stop) * 1e3:.3g} mm away, at {said(nearest)}"

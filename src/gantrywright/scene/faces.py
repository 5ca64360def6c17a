"""Faces of a scene: every shape as flat polygons, put in its place."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import cos, pi, radians
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.units import Array
from gantrywright.model.frame import ZERO, Vector
from gantrywright.scene.carried import Carried
from gantrywright.scene.pieces import Piece, Scene
from gantrywright.scene.shapes import Shape
from gantrywright.theory.sections.outline import Ring

Numbers = NDArray[np.intp]
SIDES = 24
"""Of a drawn cylinder."""
CREASE = cos(radians(28.0))
"""Sides that meet at less than this turn are one round face: no line is drawn between them."""
DEEP, FEW = 3.0, 2
"""Into the openings of a piece longer than so many times its width nobody looks far: where there are more than a few, their walls are
left out."""


@dataclass(frozen=True, slots=True)
class Faces:
    """Flat polygons, perhaps with openings, as the edges that run round them; seen from outside counter-clockwise."""

    start: Array
    """Of every edge, shape (n, 3)."""
    stop: Array
    face: Numbers
    """Number of the polygon that each edge belongs to, shape (n,)."""
    group: Numbers
    """Of every polygon: those of one round face share it, shape (f,)."""
    piece: Numbers
    """Index of the piece of every polygon, shape (f,)."""


@dataclass(frozen=True, slots=True)
class Bending:
    """How the pieces of a scene move with the structure, drawn larger than it is."""

    carried: Carried
    times: float
    straight: bool = False
    """What bends is drawn from end to end."""

    def stations(self, piece: int) -> Array:
        """Of a piece, as they are drawn, shape (s, 7)."""
        found: Array = self.carried.pieces[piece] * np.array([1.0, *[self.times] * 6])
        return found[[0, -1]] if self.straight else found


def faces_of(scene: Scene, pieces: list[int], shifts: Mapping[str, Vector], bending: Bending | None = None) -> Faces:
    """The faces of some pieces of a scene.

    Args:
        scene: The scene.
        pieces: Indices of its pieces.
        shifts: How far every body stands from its drawn place.
        bending: How they are bent.
    """
    shapes = {shape.id: shape for shape in scene.shapes}
    placed: list[Faces] = []
    faces = groups = 0
    for index in pieces:
        piece = scene.pieces[index]
        stations = None if bending is None else bending.stations(index)
        unit = _unit(
            shapes[piece.shape], walls=_walls(piece, shapes[piece.shape]), parts=1 if stations is None else len(stations) - 1
        )
        start, stop = (_placed(points, piece, shifts.get(piece.body, ZERO), stations) for points in (unit.start, unit.stop))
        owner = np.full(len(unit.group), index, dtype=np.intp)
        placed.append(Faces(start, stop, unit.face + faces, unit.group + groups, owner))
        faces += len(unit.group)
        groups += int(unit.group.max()) + 1
    return Faces(*(_joined(placed, name) for name in ("start", "stop", "face", "group", "piece")))


def _joined(parts: list[Faces], name: str) -> Any:
    if not parts:
        return np.zeros((0, 3)) if name in ("start", "stop") else np.zeros(0, dtype=np.intp)
    return np.concatenate([getattr(part, name) for part in parts])


def _placed(points: Array, piece: Piece, shift: Vector, stations: Array | None) -> Array:
    """Points of a unit shape where the piece stands, bent where stations are given."""
    matrix = np.array(piece.matrix).reshape(4, 4)
    own = points @ matrix[:3, :3]
    at: Array = own + matrix[3, :3] + shift
    return at if stations is None else at + _moved(points, own, matrix[0, :3], stations)


def _moved(points: Array, own: Array, along: Array, stations: Array) -> Array:
    """How far points of a piece move: as the station beside them, and about it."""
    motion = np.column_stack([np.interp(points[:, 0], stations[:, 0], stations[:, k]) for k in range(1, 7)])
    moved: Array = motion[:, :3] + np.cross(motion[:, 3:], own - points[:, :1] * along)
    return moved


def _walls(piece: Piece, shape: Shape) -> bool:
    """Whether one sees anything of the walls of its openings."""
    return len(shape.rings) <= 1 + FEW or piece.size[0] <= DEEP * max(piece.size[1:])


@lru_cache(maxsize=512)
def _unit(shape: Shape, *, walls: bool, parts: int) -> Faces:
    """The faces of a unit shape.

    Args:
        shape: The shape.
        walls: Also those of the openings.
        parts: Into which its length is cut, so that it can bend.
    """
    if shape.kind == "extrusion":
        return _extruded(shape.rings, walls=walls, parts=parts)
    if shape.kind == "cylinder":
        turns = [2 * pi * number / SIDES for number in range(SIDES)]
        return _extruded((tuple((0.5 * cos(turn), 0.5 * cos(turn - pi / 2)) for turn in turns),), walls=False, parts=parts)
    return _extruded((((-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)),), walls=False, parts=parts)


def _extruded(rings: tuple[Ring, ...], *, walls: bool, parts: int) -> Faces:
    """Two ends, and a side at every edge of every ring; without ``walls`` openings are faces of the ends, drawn as if filled."""
    made = _Made()
    for number, ring in enumerate(rings):
        a = np.array(ring, dtype=float)
        b = np.roll(a, -1, axis=0)
        made.end(a, b, np.full(len(a), 0, dtype=np.intp), np.full(len(a), 1, dtype=np.intp))
        if number > 0 and not walls:
            made.filling(a, b)
        else:
            made.sides(a, b, _rounds(b - a), np.linspace(-0.5, 0.5, parts + 1))
    return made.faces()


class _Made:
    """Faces of one shape while they are put together; the two ends are numbers 0 and 1."""

    def __init__(self) -> None:
        self.starts: list[Array] = []
        self.stops: list[Array] = []
        self.face: list[Numbers] = []
        self.group: list[Numbers] = [np.array([0, 1], dtype=np.intp)]
        self.count, self.groups = 2, 2

    def end(self, a: Array, b: Array, far: Numbers, near: Numbers) -> None:
        """Edges of the two ends of a ring: round at the far end, back at the near one."""
        self.starts += [_at(0.5, a), _at(-0.5, b)]
        self.stops += [_at(0.5, b), _at(-0.5, a)]
        self.face += [far, near]

    def filling(self, a: Array, b: Array) -> None:
        """An opening as a face of its own at both ends."""
        both = np.full(len(a), self.count, dtype=np.intp)
        self.end(b, a, both, both + 1)
        self._more(np.arange(2, dtype=np.intp))

    def sides(self, a: Array, b: Array, rounds: Numbers, cuts: Array) -> None:
        """A side at every edge of a ring, in every part of the length."""
        for first, last in pairwise(cuts):
            corners = (_at(first, a), _at(first, b), _at(last, b), _at(last, a))
            self.starts += corners
            self.stops += (*corners[1:], corners[0])
            self.face += [self.count + np.arange(len(a), dtype=np.intp)] * 4
            self.group.append(self.groups + rounds)
            self.count += len(a)
        self.groups += int(rounds.max()) + 1

    def _more(self, groups: Numbers) -> None:
        self.group.append(self.groups + groups)
        self.count, self.groups = self.count + len(groups), self.groups + int(groups.max()) + 1

    def faces(self) -> Faces:
        """All of them."""
        owners = np.zeros(self.count, dtype=np.intp)
        edges = (np.concatenate(self.starts), np.concatenate(self.stops), np.concatenate(self.face))
        return Faces(*edges, np.concatenate(self.group), owners)


def _at(x: float, points: Array) -> Array:
    return np.column_stack([np.full(len(points), x), points])


def _rounds(edges: Array) -> Numbers:
    """Number of the round face that each edge of a ring belongs to."""
    ways = edges / np.maximum(np.linalg.norm(edges, axis=1, keepdims=True), 1e-15)
    creased = (ways * np.roll(ways, 1, axis=0)).sum(axis=1) < CREASE  # between an edge and the one before it
    rounds: Numbers = np.cumsum(creased).astype(np.intp)
    if not creased.any():
        return np.zeros(len(edges), dtype=np.intp)
    return rounds % int(creased.sum())

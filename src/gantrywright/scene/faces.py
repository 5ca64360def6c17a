"""Faces of a scene: every shape as flat polygons, put in its place."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import cos, pi, radians

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.units import Array
from gantrywright.model.frame import ZERO, Vector
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


def faces_of(scene: Scene, pieces: list[int], shifts: Mapping[str, Vector]) -> Faces:
    """The faces of some pieces of a scene.

    Args:
        scene: The scene.
        pieces: Indices of its pieces.
        shifts: How far every body stands from its drawn place.
    """
    shapes = {shape.id: shape for shape in scene.shapes}
    starts, stops, faces, groups, owners = [], [], [], [], []
    faces_before = groups_before = 0
    for index in pieces:
        piece = scene.pieces[index]
        unit = _unit(shapes[piece.shape], walls=_walls(piece, shapes[piece.shape]))
        matrix = np.array(piece.matrix).reshape(4, 4)
        at = matrix[3, :3] + shifts.get(piece.body, ZERO)
        starts.append(unit.start @ matrix[:3, :3] + at)
        stops.append(unit.stop @ matrix[:3, :3] + at)
        faces.append(unit.face + faces_before)
        groups.append(unit.group + groups_before)
        owners.append(np.full(len(unit.group), index, dtype=np.intp))
        faces_before += len(unit.group)
        groups_before += int(unit.group.max()) + 1
    if not starts:
        empty, none = np.zeros((0, 3)), np.zeros(0, dtype=np.intp)
        return Faces(empty, empty, none, none, none)
    return Faces(
        np.concatenate(starts), np.concatenate(stops), np.concatenate(faces), np.concatenate(groups), np.concatenate(owners)
    )


def _walls(piece: Piece, shape: Shape) -> bool:
    """Whether one sees anything of the walls of its openings."""
    return len(shape.rings) <= 1 + FEW or piece.size[0] <= DEEP * max(piece.size[1:])


@lru_cache(maxsize=512)
def _unit(shape: Shape, *, walls: bool) -> Faces:
    """The faces of a unit shape.

    Args:
        shape: The shape.
        walls: Also those of the openings.
    """
    if shape.kind == "extrusion":
        return _extruded(shape.rings, walls=walls)
    if shape.kind == "cylinder":
        turns = [2 * pi * number / SIDES for number in range(SIDES)]
        return _extruded((tuple((0.5 * cos(turn), 0.5 * cos(turn - pi / 2)) for turn in turns),), walls=False)
    return _extruded((((-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)),), walls=False)


def _extruded(rings: tuple[Ring, ...], *, walls: bool) -> Faces:
    """Two ends, and a side at every edge of every ring; without ``walls`` openings are faces of the ends, drawn as if filled."""
    starts, stops, faces, groups = [], [], [], [np.array([0, 1], dtype=np.intp)]
    count, group = 2, 2
    for number, ring in enumerate(rings):
        a = np.array(ring, dtype=float)
        b = np.roll(a, -1, axis=0)
        n = len(a)
        low, high, low_next, high_next = (np.column_stack([np.full(n, x), yz]) for yz in (a, b) for x in (-0.5, 0.5))
        starts += [high, low_next]
        stops += [high_next, low]
        faces += [np.zeros(n, dtype=np.intp), np.ones(n, dtype=np.intp)]
        if number > 0 and not walls:
            starts += [high_next, low]
            stops += [high, low_next]
            faces += [np.full(n, count, dtype=np.intp), np.full(n, count + 1, dtype=np.intp)]
            groups.append(group + np.arange(2, dtype=np.intp))
            count, group = count + 2, group + 2
            continue
        starts += [low, low_next, high_next, high]
        stops += [low_next, high_next, high, low]
        faces += [count + np.arange(n, dtype=np.intp)] * 4
        rounds = _rounds(b - a)
        groups.append(group + rounds)
        count, group = count + n, group + int(rounds.max()) + 1
    owners = np.zeros(count, dtype=np.intp)
    return Faces(np.concatenate(starts), np.concatenate(stops), np.concatenate(faces), np.concatenate(groups), owners)


def _rounds(edges: Array) -> Numbers:
    """Number of the round face that each edge of a ring belongs to."""
    ways = edges / np.maximum(np.linalg.norm(edges, axis=1, keepdims=True), 1e-15)
    creased = (ways * np.roll(ways, 1, axis=0)).sum(axis=1) < CREASE  # between an edge and the one before it
    rounds: Numbers = np.cumsum(creased).astype(np.intp)
    if not creased.any():
        return np.zeros(len(edges), dtype=np.intp)
    return rounds % int(creased.sum())

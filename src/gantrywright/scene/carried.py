"""How every piece moves with the structure, for a view that bends the machine."""

from dataclasses import dataclass
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.units import Array
from gantrywright.results.structure import Drawing
from gantrywright.scene.pieces import Piece, Scene

Numbers: TypeAlias = NDArray[np.intp]

SLENDER = 3.0
"""Pieces longer than this times their next extent bend; others are carried whole."""
STATIONS = 9
"""Along a piece that bends."""
PLACES = 12
"""Digits behind the point of a motion per newton."""
SPREADS = ("layer", "work", "workpiece")
"""Kinds that lie over many bars and follow them however wide they are."""


@dataclass(frozen=True, slots=True)
class Carried:
    """One way of deforming, piece by piece."""

    name: str
    unit: str
    """What one unit of it is: ``m per newton``, ``m``, or ``largest is 1`` for a mode."""
    pose: dict[str, float]
    """Where the axes stand in it."""
    greatest: float
    """Largest shift of any station, m."""
    pieces: tuple[Array, ...]
    """Stations of each piece in the order of the scene: t from -0.5 to 0.5 along its first axis, shift x y z, turn about x y z; shape (s, 7)."""


@dataclass(frozen=True, slots=True)
class _Elements:
    """The bars of a drawing, end by end, every one in the measures of the drawn machine or of a pose."""

    start: Array
    step: Array
    """To the other end, shape (n, 3)."""
    ends: Numbers
    """Numbers of the two nodes, shape (n, 2)."""
    parts: tuple[str, ...]


def carried(scene: Scene, drawing: Drawing, shape: str) -> Carried:
    """How every piece moves in one shape of a drawing of the structure.

    A piece follows the bar that stands for its part, else the bars of the part that it is bolted to, else those of its body that are
    nearest. Between the nodes of a bar the motion is that of a beam whose ends shift and turn as the nodes do; from a bar's line to the
    piece goes a rigid arm. So a structure that moves as one carries every piece as one.

    Args:
        scene: Of the same machine.
        drawing: Under loads or in modes.
        shape: Name of one of its shapes.

    Raises:
        KeyError: The drawing has no such shape.
    """
    form = next((each for each in drawing.shapes if each.name == shape), None)
    if form is None:
        raise KeyError(shape)
    shift = np.asarray(form.shift, dtype=float)
    turn = np.zeros_like(shift) if form.turn is None else np.asarray(form.turn, dtype=float)
    bars = _elements(drawing)
    bodies = _bodies(scene, bars)
    moved = scene.shifts(dict(drawing.pose))
    found, greatest = [], 0.0
    for piece in scene.pieces:
        places, at = _stations(piece, moved[piece.body])
        chosen = _chosen(piece, bars, bodies)
        if not chosen.size:
            stations = np.zeros((len(places), 7))
            stations[:, 0] = places
        else:
            follow = _followed if len(places) > 2 or piece.on == piece.part else _whole
            stations = np.column_stack([places, follow(at, bars, chosen, shift, turn)])
        found.append(stations)
        greatest = max(greatest, float(np.sqrt((stations[:, 1:4] ** 2).sum(axis=1).max())))
    return Carried(form.name, unit_of(form.name), dict(drawing.pose), greatest, tuple(found))


def unit_of(name: str) -> str:
    """What one unit of a shape is, by its name."""
    if name.startswith("mode "):
        return "largest is 1"
    return "m per newton" if name.startswith("1 N ") else "m"


def motion_to_json(made: Carried) -> dict[str, Any]:
    """As plain data."""
    return {
        "name": made.name, "unit": made.unit, "pose": dict(made.pose), "greatest": made.greatest,
        "pieces": [np.round(stations, PLACES).tolist() for stations in made.pieces],
    }  # fmt: skip


def _elements(drawing: Drawing) -> _Elements:
    nodes = np.asarray(drawing.nodes, dtype=float)
    ends = np.array([line[:2] for line in drawing.lines], dtype=np.intp).reshape(-1, 2)
    start = nodes[ends[:, 0]]
    return _Elements(start, nodes[ends[:, 1]] - start, ends, tuple(line[2] for line in drawing.lines))


def _bodies(scene: Scene, bars: _Elements) -> dict[str, Numbers]:
    """Numbers of the elements of every body and of every part."""
    by_part = {piece.part: piece.body for piece in scene.pieces}
    names = {body.name for body in scene.bodies}
    found: dict[str, list[int]] = {}
    for number, part in enumerate(bars.parts):
        found.setdefault(part, []).append(number)
        body = by_part.get(part) or by_part.get(part.rpartition(".")[0]) or part.partition(".")[0]
        if body in names:
            found.setdefault(f"body {body}", []).append(number)
    return {key: np.array(numbers, dtype=np.intp) for key, numbers in found.items()}


def _chosen(piece: Piece, bars: _Elements, groups: dict[str, Numbers]) -> Numbers:
    """Elements that carry a piece."""
    for key in (piece.on, piece.part, f"body {piece.body}"):
        if key and key in groups:
            return groups[key]
    return np.arange(len(bars.parts)) if not groups else np.zeros(0, dtype=np.intp)


def _stations(piece: Piece, shift: tuple[float, float, float]) -> tuple[Array, Array]:
    """Where along its first axis the motion of a piece is told, and the places in space, shape (s, 3)."""
    matrix = np.array(piece.matrix).reshape(4, 4)
    first = matrix[0, :3]
    along = first / np.linalg.norm(first) * piece.size[0]
    bends = piece.kind in SPREADS or piece.size[0] > SLENDER * max(piece.size[1:])
    places = np.linspace(-0.5, 0.5, STATIONS if bends else 2)
    return places, matrix[3, :3] + shift + places[:, None] * along


def _whole(at: Array, bars: _Elements, chosen: Numbers, shift: Array, turn: Array) -> Array:
    """Motion of places of a piece that stays as it is: all as its middle goes, shape (s, 6)."""
    middle = at.mean(axis=0)
    motion = _followed(middle[None, :], bars, chosen, shift, turn)[0]
    moved = motion[:3] + np.cross(motion[3:], at - middle)
    return np.column_stack([moved, np.tile(motion[3:], (len(at), 1))])


def _followed(at: Array, bars: _Elements, chosen: Numbers, shift: Array, turn: Array) -> Array:
    """Motion of places that hang on the nearest of some elements by rigid arms, shape (s, 6)."""
    start, step = bars.start[chosen], bars.step[chosen]
    squares = np.maximum((step**2).sum(axis=1), 1e-18)
    part = np.clip(np.einsum("sek,ek->se", at[:, None, :] - start, step) / squares, 0.0, 1.0)
    foot = start + part[..., None] * step
    nearest = np.argmin(((at[:, None, :] - foot) ** 2).sum(axis=2), axis=1)
    row = np.arange(len(at))
    s, arm, run = part[row, nearest][:, None], at - foot[row, nearest], step[nearest]
    a, b = bars.ends[chosen[nearest]].T
    moved = _bent(s, run, shift[a], shift[b], turn[a], turn[b])
    turned = (1 - s) * turn[a] + s * turn[b]
    return np.column_stack([moved + np.cross(turned, arm), turned])


def _bent(s: Array, run: Array, first: Array, last: Array, turn_first: Array, turn_last: Array) -> Array:
    """Shift of a beam at a share of its length: cubic across it by the turns of its ends, straight along it."""
    squares = np.maximum((run**2).sum(axis=1, keepdims=True), 1e-18)
    straight = (1 - s) * first + s * last
    chord = last - first
    # by how much each end's slope differs from the chord's; what runs along the bar has no slope
    at_first = np.cross(turn_first, run) - chord + run * (chord * run).sum(axis=1, keepdims=True) / squares
    at_last = np.cross(turn_last, run) - chord + run * (chord * run).sum(axis=1, keepdims=True) / squares
    moved: Array = straight + s * (1 - s) ** 2 * at_first - s**2 * (1 - s) * at_last
    return moved

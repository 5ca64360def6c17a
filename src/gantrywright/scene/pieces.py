"""What a scene is made of: pieces, bodies, axes."""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from gantrywright.model.frame import Vector
from gantrywright.scene.shapes import Shape

Matrix: TypeAlias = tuple[float, ...]
"""Sixteen numbers, column by column: from the unit shape to the machine frame as drawn, m."""
Owned: TypeAlias = Literal["owned", "buy", "make", "unknown"]


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing that is drawn."""

    id: int
    part: str
    """Path of the part of the machine that it belongs to."""
    solid: str
    """Path of the placed solid whose box it fills, together with the others that name it; empty for what is drawn beyond the boxes
    (a collar, a shaft end, the housing of a bearing whose size no table gives, the work area)."""
    body: str
    on: str
    """Path of the part of the structure that carries it and whose bending it follows; empty: whatever of its body is nearest."""
    kind: str
    """Word of `Solid.kind`, or joint, work, workpiece."""
    label: str
    what: str
    """What it is, in the trade's words."""
    shape: str
    """Id of its shape."""
    matrix: Matrix
    size: Vector
    """Along its own axes, m: of a bar length, width, height."""
    mass: float | None
    """Of the whole solid that it belongs to, kg; None is unknown."""
    owned: Owned
    material: str = ""
    section: str = ""
    detail: tuple[tuple[str, str], ...] = ()
    """Dimensions and other facts in the machine's units: label, text."""


@dataclass(frozen=True, slots=True)
class BodyRow:
    """A body: what moves together."""

    name: str
    words: str
    on: str
    """Body that it hangs on; empty for the one on the ground."""
    axis: str
    """Axis that moves it; empty where it is bolted on."""
    sign: int
    children: tuple[str, ...]
    """Bodies that hang on it, in the order of the chain."""


@dataclass(frozen=True, slots=True)
class AxisRow:
    """An axis: what it moves."""

    name: str
    direction: Vector
    sign: int
    travel: float
    """m."""
    drawn: float
    """Pose as drawn."""
    moves: tuple[tuple[str, Vector], ...]
    """Every body that it moves with its shift per metre of pose."""


@dataclass(frozen=True, slots=True)
class JointRow:
    """A joint: where two parts hold each other. Its pieces are marks that fill no solid."""

    part: str
    """Path of the joint, as checks and shares name it."""
    between: tuple[str, str]
    """Paths of the two parts."""
    points: tuple[Vector, ...]
    """As drawn, m."""


@dataclass(frozen=True, slots=True)
class Scene:
    """A machine as it is drawn."""

    name: str
    show: str
    """metric or inch."""
    shapes: tuple[Shape, ...]
    pieces: tuple[Piece, ...]
    bodies: tuple[BodyRow, ...]
    axes: tuple[AxisRow, ...]
    joints: tuple[JointRow, ...]
    box: tuple[Vector, Vector]
    """Least and greatest corner of everything, m."""
    work: tuple[Vector, Vector]
    """Work area as drawn."""
    zero: Vector
    """The machine's zero."""

    def shape(self, piece: Piece) -> Shape:
        """The shape of a piece."""
        return next(shape for shape in self.shapes if shape.id == piece.shape)

    def shifts(self, pose: dict[str, float]) -> dict[str, Vector]:
        """How far every body stands from its drawn place at a pose; axes left out stand as drawn."""
        found = {body.name: (0.0, 0.0, 0.0) for body in self.bodies}
        for axis in self.axes:
            step = pose.get(axis.name, axis.drawn) - axis.drawn
            for body, way in axis.moves:
                x, y, z = found[body]
                found[body] = (x + step * way[0], y + step * way[1], z + step * way[2])
        return found

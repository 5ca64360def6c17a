"""A scene as plain data, for the page."""

from collections.abc import Iterable
from typing import Any

from gantrywright.scene.pieces import Piece, Scene
from gantrywright.scene.shapes import Shape

PLACES = 7
"""Digits behind the point: a tenth of a micrometre."""


def to_json(scene: Scene) -> dict[str, Any]:
    """Lists, texts and numbers alone; the same scene gives the same data."""
    return {
        "name": scene.name, "show": scene.show, "shapes": [_shape(shape) for shape in scene.shapes],
        "pieces": [_piece(piece) for piece in scene.pieces],
        "bodies": [
            {"name": b.name, "words": b.words, "on": b.on, "axis": b.axis, "sign": b.sign, "children": list(b.children)} for b in scene.bodies
        ],
        "axes": [
            {
                "name": a.name, "direction": rounded(a.direction), "sign": a.sign, "travel": rounded((a.travel,))[0],
                "drawn": rounded((a.drawn,))[0], "moves": {body: rounded(step) for body, step in a.moves},
            }
            for a in scene.axes
        ],
        "joints": [
            {"part": j.part, "between": list(j.between), "points": [rounded(point) for point in j.points]} for j in scene.joints
        ],
        "box": [rounded(corner) for corner in scene.box], "work": [rounded(corner) for corner in scene.work], "zero": rounded(scene.zero),
    }  # fmt: skip


def rounded(values: Iterable[float]) -> list[float]:
    """Numbers to a tenth of a micrometre, without minus zeros."""
    return [round(float(value), PLACES) + 0.0 for value in values]


def _shape(shape: Shape) -> dict[str, Any]:
    if shape.kind != "extrusion":
        return {"id": shape.id, "kind": shape.kind}
    return {"id": shape.id, "kind": shape.kind, "rings": [[rounded(point) for point in ring] for ring in shape.rings]}


def _piece(piece: Piece) -> dict[str, Any]:
    return {
        "id": piece.id, "part": piece.part, "solid": piece.solid, "body": piece.body, "on": piece.on, "kind": piece.kind, "label": piece.label,
        "what": piece.what, "shape": piece.shape, "matrix": rounded(piece.matrix), "size": rounded(piece.size),
        "mass": None if piece.mass is None else round(piece.mass, PLACES), "owned": piece.owned, "material": piece.material,
        "section": piece.section, "detail": [list(pair) for pair in piece.detail],
    }  # fmt: skip

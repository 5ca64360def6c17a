"""The machine as it is drawn: shapes and pieces from the placed parts of the analyses.

`scene_of` makes the scene of a machine, `to_json` writes it as plain data, `carried` says how every piece moves with the structure,
`pieces_of` finds the pieces of a path, `picture.draw` draws it on paper.
"""

from gantrywright.scene.carried import Carried, carried, motion_to_json
from gantrywright.scene.lookup import pieces_of
from gantrywright.scene.pieces import AxisRow, BodyRow, JointRow, Piece, Scene
from gantrywright.scene.plain import to_json
from gantrywright.scene.shapes import Shape
from gantrywright.scene.whole import scene_of

__all__ = [
    "AxisRow", "BodyRow", "Carried", "JointRow", "Piece", "Scene", "Shape", "carried", "motion_to_json", "pieces_of", "scene_of", "to_json",
]  # fmt: skip

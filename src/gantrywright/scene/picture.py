"""A picture of the machine for paper: ink lines on light faces, made without a browser.

Parallel projection with a depth buffer. What is drawn is twice as fine as the picture, so that lines are smooth.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.units import Array
from gantrywright.model.frame import Vector
from gantrywright.scene.carried import Carried
from gantrywright.scene.faces import Bending, Faces, faces_of
from gantrywright.scene.pieces import Scene
from gantrywright.scene.png import png
from gantrywright.scene.raster import NOTHING, Buffers, normals_of, render
from gantrywright.scene.views import VIEWS, View

Colour = tuple[int, int, int]
Pixels = NDArray[np.uint8]
PAPER: Colour = (250, 250, 247)
INK: Colour = (35, 41, 43)
ACCENT: Colour = (40, 91, 142)
FACE: Colour = (255, 255, 255)
SHADE = 0.24
"""How much darker a face is that looks away from the light."""
LIGHT: Vector = (-0.40, 0.70, 0.59)
"""From which side, in view: right, towards the eye, up."""
FINE = 2
"""Drawn pixels along each side of a pixel of the picture."""
MARGIN = 0.04
"""Of the shorter side, left free all round."""
CREASE_INK = 0.55
"""Of lines within a piece; those between pieces are full ink."""
OPEN = ("work",)
"""Kinds of which the edges alone are drawn: one looks through them."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawn machine."""

    colours: NDArray[np.uint8]
    """Red, green, blue; shape (height, width, 3)."""
    pieces: NDArray[np.int32]
    """Index of the piece that is seen in each pixel, -1 for paper; shape (height, width)."""
    per_metre: float
    """Pixels per metre: the scale of the picture."""
    view: View

    def png(self) -> bytes:
        """As a PNG file."""
        return png(self.colours)


def draw(
    scene: Scene, view: str | View = "isometric", *, wide: int = 1200, high: int = 900, pose: Mapping[str, float] | None = None,
    tints: Mapping[int, Colour] | None = None, hide: Iterable[str] = (), bent: Carried | None = None, times: float = 0.0,
    paper: Colour = PAPER,
) -> Picture:  # fmt: skip
    """Draw a scene.

    Args:
        scene: The scene.
        view: Name of a standard view, or one of your own.
        wide: Pixels.
        high: Pixels.
        pose: Place of each axis, m; as drawn where it is left out, where the structure stands if ``bent`` is given.
        tints: Colour of the faces of pieces by index.
        hide: Kinds and bodies that are left out.
        bent: How the pieces move with the structure.
        times: By how much that is drawn larger than it is.
        paper: Colour of what lies behind the machine.

    Raises:
        KeyError: There is no view of that name.
    """
    seen = VIEWS[view] if isinstance(view, str) else view
    solid, clear = _shown(scene, pose, set(hide), bent, times)
    axes = np.array([seen.right, tuple(-part for part in seen.up), tuple(-part for part in seen.toward)])
    scale, middle = _fitted([solid, clear], axes, FINE * wide, FINE * high)
    at = np.array([FINE * wide / 2, FINE * high / 2, 0.0])
    drawn = _on_paper(solid, axes, scale, middle, at)
    normals = normals_of(drawn, len(solid.group))
    buffers = render(drawn, normals, FINE * wide, FINE * high)
    colours = _painted(scene, solid, normals, buffers, tints or {}, paper)
    _lines(colours, _on_paper(clear, axes, scale, middle, at), buffers.depth)
    piece = np.append(solid.piece, NOTHING).astype(np.int32)[buffers.face[::FINE, ::FINE]]
    return Picture(_smoothed(colours), piece, scale / FINE, seen)


def _shown(
    scene: Scene, pose: Mapping[str, float] | None, hidden: set[str], bent: Carried | None, times: float
) -> tuple[Faces, Faces]:
    """Faces of what is drawn solid, and of what one looks through."""
    shifts = scene.shifts(dict(pose or (bent.pose if bent is not None else {})))
    solid: list[int] = []
    clear: list[int] = []
    for number, piece in enumerate(scene.pieces):
        if piece.kind not in hidden and piece.body not in hidden:
            (clear if piece.kind in OPEN else solid).append(number)
    if bent is None:
        return faces_of(scene, solid, shifts), faces_of(scene, clear, shifts)
    return (
        faces_of(scene, solid, shifts, Bending(bent, times)),
        faces_of(scene, clear, shifts, Bending(bent, times, straight=True)),
    )


def _smoothed(colours: Pixels) -> Pixels:
    """Every pixel the mean of those that were drawn for it."""
    total = np.full((colours.shape[0] // FINE, colours.shape[1] // FINE, 3), FINE * FINE // 2, dtype=np.uint16)
    for row in range(FINE):
        for column in range(FINE):
            total += colours[row::FINE, column::FINE]
    return (total // (FINE * FINE)).astype(np.uint8)


def _fitted(parts: list[Faces], axes: Array, wide: int, high: int) -> tuple[float, Array]:
    """Pixels per metre, and the middle of what is seen, so that everything stands on the paper."""
    points = np.concatenate([part.start for part in parts]) @ axes.T
    if not len(points):
        return 1.0, np.zeros(3)
    least, most = points.min(axis=0), points.max(axis=0)
    room = np.array([wide, high]) - 2 * MARGIN * min(wide, high)
    extent = np.maximum((most - least)[:2], 1e-9)
    return float((room / extent).min()), (least + most) / 2


def _on_paper(part: Faces, axes: Array, scale: float, middle: Array, at: Array) -> Faces:
    """Faces in pixels to the right, pixels down, and as much away from the eye."""
    start, stop = ((points @ axes.T - middle) * scale + at for points in (part.start, part.stop))
    return Faces(start, stop, part.face, part.group, part.piece)


def _painted(scene: Scene, faces: Faces, normals: Array, buffers: Buffers, tints: Mapping[int, Colour], paper: Colour) -> Pixels:
    """Faces by how they stand to the light, lines where pieces or faces meet."""
    unit = normals / np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-300)
    light = unit @ np.array([LIGHT[0], -LIGHT[2], -LIGHT[1]])
    bright = 1.0 - SHADE * (1.0 - np.clip(light, 0.0, 1.0))
    own = np.array([tints.get(number, FACE) for number in range(len(scene.pieces))], dtype=float).reshape(-1, 3)
    palette = np.vstack([own[faces.piece] * bright[:, None], paper])  # paper has the number -1: the last
    colours: Pixels = np.rint(palette).astype(np.uint8)[buffers.face]
    piece, group = (np.append(each, NOTHING).astype(np.int32)[buffers.face] for each in (faces.piece, faces.group))
    crease, outline = _meeting(group, piece)
    ink = np.array(INK)
    colours[crease] = np.rint(colours[crease] + CREASE_INK * (ink - colours[crease]))
    colours[outline] = INK
    return colours


def _meeting(group: NDArray[np.int32], piece: NDArray[np.int32]) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Pixels on one side of where two faces of a piece meet, and on both sides of where two pieces do."""
    crease, outline = np.zeros(group.shape, dtype=bool), np.zeros(group.shape, dtype=bool)
    for here, there in ((np.s_[:, :-1], np.s_[:, 1:]), (np.s_[:-1, :], np.s_[1:, :])):
        crease[here] |= group[here] != group[there]
        apart = piece[here] != piece[there]
        outline[here] |= apart
        outline[there] |= apart
    return crease & ~outline, outline


def _lines(colours: Pixels, faces: Faces, depth: Array) -> None:
    """Edges of what one looks through, where nothing stands before them."""
    high, wide = depth.shape
    for start, stop in zip(faces.start, faces.stop, strict=True):
        count = int(np.abs(stop - start)[:2].max()) + 2
        points = start + np.linspace(0.0, 1.0, count)[:, None] * (stop - start)
        x, y = points[:, 0].astype(int), points[:, 1].astype(int)
        inside = (x >= 0) & (x < wide - 1) & (y >= 0) & (y < high - 1)
        x, y, away = x[inside], y[inside], points[inside, 2]
        free = away <= depth[y, x] + 1.0
        for dx, dy in ((0, 0), (1, 0), (0, 1)):
            colours[y[free] + dy, x[free] + dx] = ACCENT

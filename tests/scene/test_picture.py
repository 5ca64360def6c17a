"""The picture for paper: what stands in front is seen, to scale, and the file is a PNG that reads back."""

import struct
import zlib
from dataclasses import replace

import numpy as np
import pytest

from gantrywright.scene import Carried, Piece, Scene
from gantrywright.scene.making import matrix_of
from gantrywright.scene.picture import ACCENT, INK, PAPER, Picture, draw
from gantrywright.scene.png import png
from gantrywright.scene.shapes import BOX, CYLINDER, extrusion, rectangle
from gantrywright.scene.views import VIEWS
from scene_cases import NAMES, scene

LEVEL = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
SIZE = {"wide": 300, "high": 225}


def alone(*bodies, kind: str = "plate") -> Scene:  # type: ignore[no-untyped-def]
    """A scene of some shapes: (shape, axes, size, middle) each."""
    pieces, shapes = [], {}
    for number, (shape, axes, size, at) in enumerate(bodies):
        shapes[shape.id] = shape
        stretch = size if shape.kind != "extrusion" else (size[0], 1.0, 1.0)
        pieces.append(
            Piece(
                id=number, part=f"part-{number}", solid="", body="bed", on="", kind=kind, label="part", what="part", shape=shape.id,
                matrix=matrix_of(axes, stretch, at), size=size, mass=None, owned="unknown",
            )
        )  # fmt: skip
    empty = scene("as-built")
    return replace(empty, pieces=tuple(pieces), shapes=tuple(shapes.values()), axes=(), bodies=empty.bodies[:1])


def read_png(data: bytes) -> np.ndarray:
    """Decode a PNG of 8-bit RGB with the filter that takes off the pixel before."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    at, chunks = 8, {}
    while at < len(data):
        (size,) = struct.unpack(">I", data[at : at + 4])
        name, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + size]
        assert struct.unpack(">I", data[at + 8 + size : at + 12 + size])[0] == zlib.crc32(name + body)
        chunks[name] = body
        at += 12 + size
    wide, high, depth, colour = struct.unpack(">IIBB", chunks[b"IHDR"][:10])
    assert (depth, colour) == (8, 2)
    lines = np.frombuffer(zlib.decompress(chunks[b"IDAT"]), dtype=np.uint8).reshape(high, 1 + 3 * wide)
    assert set(lines[:, 0]) == {1}
    return np.cumsum(lines[:, 1:].reshape(high, wide, 3), axis=1, dtype=np.uint64).astype(np.uint8)


def seen(made: Picture, number: int) -> np.ndarray:
    """Rows and columns of the pixels of a piece."""
    return np.argwhere(made.pieces == number)


def test_the_file_reads_back_as_the_pixels() -> None:
    colours = np.random.default_rng(4).integers(0, 256, (7, 11, 3), dtype=np.uint8)
    assert (read_png(png(colours)) == colours).all()
    made = draw(scene("bench"), **SIZE)
    assert made.colours.shape == (225, 300, 3)
    assert (read_png(made.png()) == made.colours).all()


@pytest.mark.parametrize("view", VIEWS)
def test_a_box_is_seen_to_scale_from_every_side(view: str) -> None:
    size = np.array((0.4, 0.3, 0.2))
    made = draw(alone((BOX, LEVEL, tuple(size), (1.0, 2.0, 3.0))), view, wide=400, high=300)
    faces = size[[1, 2, 0]] * size[[2, 0, 1]]  # square to x, y, z
    area = float(faces @ np.abs(VIEWS[view].toward)) * made.per_metre**2
    assert (made.pieces == 0).sum() == pytest.approx(area, rel=0.01)
    rows, columns = seen(made, 0).T
    across = float(size @ np.abs(VIEWS[view].right)) * made.per_metre
    upright = float(size @ np.abs(VIEWS[view].up)) * made.per_metre
    assert np.ptp(columns) + 1 == pytest.approx(across, abs=1.5)
    assert np.ptp(rows) + 1 == pytest.approx(upright, abs=1.5)


def test_views_are_right_handed_and_named() -> None:
    for name, view in VIEWS.items():
        assert view.name == name
        assert np.cross(view.right, view.up) == pytest.approx(view.toward)
    assert VIEWS["front"].up == pytest.approx((0, 0, 1))
    assert VIEWS["top"].up == pytest.approx((0, 1, 0))
    assert VIEWS["isometric"].toward == pytest.approx(np.array((1, -1, 1)) / np.sqrt(3))


def test_what_stands_in_front_hides_what_stands_behind() -> None:
    small, large = (0.1, 0.1, 0.1), (0.3, 0.1, 0.3)
    front = alone((BOX, LEVEL, small, (0.0, 0.0, 0.0)), (BOX, LEVEL, large, (0.0, 1.0, 0.0)))
    made = draw(front, "front", **SIZE)
    assert made.pieces[112, 150] == 0
    back = draw(front, "back", **SIZE)
    assert not len(seen(back, 0))


def test_long_parts_that_cross_each_other_are_each_in_front_where_they_are_nearer() -> None:
    """A ring of three bars, each before the next: no order of painting gets it right, a depth buffer does."""
    long = (1.0, 0.04, 0.04)
    bars = []
    for number in range(3):
        turn = 2 * np.pi * number / 3
        run = np.array((np.cos(turn), 0.0, np.sin(turn)))
        tilt = np.array((0.0, 0.3, 0.0))
        along = (run + tilt) / np.linalg.norm(run + tilt)
        up = np.cross(along, (0.0, 1.0, 0.0))
        up /= np.linalg.norm(up)
        middle = 0.2 * np.array((-np.sin(turn), 0.0, np.cos(turn)))
        bars.append((BOX, (tuple(along), tuple(up), tuple(np.cross(along, up))), long, tuple(middle)))
    made = draw(alone(*bars), "front", wide=400, high=400)
    over = set()
    for first in range(3):
        for second in range(3):
            if first == second:
                continue
            a, b = np.array(bars[first][3]), np.array(bars[second][3])
            u, v = np.array(bars[first][1][0]), np.array(bars[second][1][0])
            s, t = np.linalg.solve(np.array([[u[0], -v[0]], [u[2], -v[2]]]), (b - a)[[0, 2]])
            if (a + s * u)[1] < (b + t * v)[1]:
                over.add((first, second))
    assert len(over) == 3
    assert {pair[0] for pair in over} == {0, 1, 2}
    rows, columns = np.nonzero(made.pieces >= 0)
    middle = (rows.min() + rows.max()) / 2, (columns.min() + columns.max()) / 2
    points = np.array([np.array(bar[3]) + side * 0.5 * np.array(bar[1][0]) for bar in bars for side in (-1, 1)])
    centre = (points.min(axis=0) + points.max(axis=0)) / 2
    for first, second in over:
        a, b = np.array(bars[first][3]), np.array(bars[second][3])
        u, v = np.array(bars[first][1][0]), np.array(bars[second][1][0])
        s, _ = np.linalg.solve(np.array([[u[0], -v[0]], [u[2], -v[2]]]), (b - a)[[0, 2]])
        x, _, z = a + s * u - centre
        assert made.pieces[round(middle[0] - z * made.per_metre), round(middle[1] + x * made.per_metre)] == first


def test_one_looks_through_an_opening() -> None:
    ring = extrusion(rectangle(0.4, 0.4), (rectangle(0.2, 0.2),))
    plate = (ring, ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, -1.0)), (0.02, 0.4, 0.4), (0.0, 0.0, 0.0))
    behind = (CYLINDER, ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), (0.1, 0.1, 0.1), (0.0, 0.5, 0.0))
    made = draw(alone(plate, behind), "front", **SIZE)
    assert made.pieces[112, 150] == 1
    assert (made.pieces == 0).sum() == pytest.approx((0.4**2 - 0.2**2) * made.per_metre**2, rel=0.02)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("view", ["isometric", "front", "side", "top"])
def test_the_machine_is_seen_whole(name: str, view: str) -> None:
    made, found = draw(scene(name), view, **SIZE), scene(name)
    edge = np.concatenate([made.pieces[0], made.pieces[-1], made.pieces[:, 0], made.pieces[:, -1]])
    assert (edge == -1).all()
    shown = {found.pieces[number].kind for number in np.unique(made.pieces) if number >= 0}
    assert {"member", "plate"} <= shown
    assert "spindle" in shown
    paper = made.colours[0, 0]
    assert tuple(paper) == PAPER


def test_the_spindle_stands_over_the_cutter_and_the_cutter_over_the_table() -> None:
    found = scene("as-built")
    made = draw(found, "front", wide=800, high=600)
    lowest = {
        key: max(seen(made, piece.id)[:, 0].max() for piece in found.pieces if test(piece) and len(seen(made, piece.id)))
        for key, test in (
            ("spindle", lambda piece: piece.what == "spindle"),
            ("cutter", lambda piece: piece.kind == "cutter"),
            ("table", lambda piece: piece.part == "bed.top.layer-2"),
        )
    }
    assert lowest["spindle"] < lowest["cutter"] < lowest["table"]


def test_axes_move_what_they_carry() -> None:
    found = scene("as-built")
    spindle = next(piece.id for piece in found.pieces if piece.what == "spindle")
    left, right = (seen(draw(found, "front", pose={"x": place}, wide=600, high=450), spindle)[:, 1].mean() for place in (0.0, 1.25))
    made = draw(found, "front", wide=600, high=450)
    assert right - left == pytest.approx(1.25 * made.per_metre, abs=1.5)


def blue(made: Picture) -> bool:
    """Whether anything is drawn in the accent."""
    colours = made.colours.astype(int)
    return bool((colours[..., 2] - colours[..., 0] > (ACCENT[2] - ACCENT[0]) / 3).any())


def test_lines_are_ink_and_the_work_area_is_drawn_through() -> None:
    made = draw(scene("as-built"), "top", wide=800, high=600)
    assert (np.abs(made.colours.reshape(-1, 3).astype(int) - INK).max(axis=1) < 12).any()
    assert blue(made)
    work = next(piece for piece in scene("as-built").pieces if piece.kind == "work")
    assert not (made.pieces == work.id).any()
    assert not blue(draw(scene("as-built"), "top", wide=800, high=600, hide=("work",)))


def test_pieces_can_be_tinted_and_hidden() -> None:
    found = scene("as-built")
    beam = next(piece.id for piece in found.pieces if piece.part == "gantry.beam")
    made = draw(found, "front", tints={beam: (251, 216, 136)}, wide=600, high=450)
    pixels = made.colours[made.pieces == beam].astype(int)
    assert np.median(pixels[:, 0] - pixels[:, 2]) > 50
    bare = draw(found, "front", hide=("bed",), wide=600, high=450)
    assert all(found.pieces[number].body != "bed" for number in np.unique(bare.pieces) if number >= 0)


def test_a_bent_machine_is_drawn_bent() -> None:
    """A beam that sags by a parabola: on the picture its middle lies so many pixels lower than its ends."""
    found = scene("as-built")
    beam = next(piece.id for piece in found.pieces if piece.part == "gantry.beam")
    t = np.linspace(-0.5, 0.5, 9)
    still = tuple(np.column_stack([[-0.5, 0.5], np.zeros((2, 6))]) for _ in found.pieces)
    sag = np.column_stack([t, np.zeros(9), np.zeros(9), 1e-6 * (4 * t**2 - 1), np.zeros((9, 3))])
    pieces = tuple(sag if number == beam else each for number, each in enumerate(still))
    bent = Carried("sag", "m per newton", {}, 1e-6, pieces)
    hide = ("bed", "carriage", "head", "rail", "screw", "bearing", "motor", "coupling", "nut", "plate", "block", "work")
    made = draw(found, "front", wide=1200, high=900, bent=bent, times=1e5, hide=hide)
    tops = np.array([np.flatnonzero(column == beam)[0] for column in made.pieces.T if (column == beam).any()])
    assert tops[len(tops) // 2] - tops[0] == pytest.approx(0.1 * made.per_metre, abs=2)
    parabola = 0.1 * made.per_metre * (1 - 4 * np.linspace(-0.5, 0.5, len(tops)) ** 2)
    assert tops - tops[0] == pytest.approx(parabola, abs=0.02 * 0.1 * made.per_metre + 1.5)


def test_a_piece_that_turns_about_its_axis_is_drawn_turned() -> None:
    """A flat bar along x turned by a quarter: what was its height is its depth."""
    flat = alone((BOX, LEVEL, (0.5, 0.02, 0.2), (0.0, 0.0, 0.0)))
    upright = draw(flat, "front", **SIZE)
    turned = np.array([[t, 0, 0, 0, 1e-3, 0, 0] for t in (-0.5, 0.5)])
    lying = draw(flat, "front", bent=Carried("turn", "", {}, 0.0, (turned,)), times=1000.0, **SIZE)
    # small turns are drawn as steps square to the arm: after one radian a corner at (y, z) stands at (y - z, z + y)
    assert np.ptp(seen(upright, 0)[:, 0]) == pytest.approx(0.2 * upright.per_metre, abs=2)
    assert np.ptp(seen(lying, 0)[:, 0]) == pytest.approx(0.22 * lying.per_metre, abs=2)


def test_an_empty_sheet_is_paper() -> None:
    made = draw(replace(scene("bench"), pieces=(), shapes=()), **SIZE)
    assert (made.pieces == -1).all()
    assert (made.colours == PAPER).all()


def test_a_view_that_is_not_there_is_refused() -> None:
    with pytest.raises(KeyError):
        draw(scene("bench"), "from below", **SIZE)

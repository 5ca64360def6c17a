"""The scene shows the placed machine: everything once, in its place, of its size and its metal."""

import json
from collections import Counter
from dataclasses import replace
from math import pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gantrywright.base.samples import typical
from gantrywright.intake.resolve import load_machine
from gantrywright.model.bodies import HolePattern
from gantrywright.model.machine import shifts
from gantrywright.scene import Piece, Scene, Shape, scene_of, to_json
from gantrywright.scene.shapes import area_of
from gantrywright.theory.sections.outline import Outline
from scene_cases import FILES, NAMES, machine, scene

every = pytest.mark.parametrize("name", NAMES)
POINTS = ("foot", "bearing", "pinion", "pulley", "belt", "cable-chain", "item")
"""Kinds of solids that have no box of their own and are drawn by what is known of them."""


def axes_of(piece: Piece) -> np.ndarray:
    """Its three axes as rows, of length 1."""
    rows = np.array(piece.matrix).reshape(4, 4)[:3, :3]
    return rows / np.linalg.norm(rows, axis=1, keepdims=True)


def corners_of(found: Scene, piece: Piece) -> np.ndarray:
    """Points of the machine frame that span the piece: corners of its box, or the points of its outline at both ends."""
    shape = found.shape(piece)
    flat = [point for ring in shape.rings for point in ring] or [(y, z) for y in (-0.5, 0.5) for z in (-0.5, 0.5)]
    local = np.array([(x, y, z, 1.0) for x in (-0.5, 0.5) for y, z in flat])
    return (local @ np.array(piece.matrix).reshape(4, 4))[:, :3]


def volume_of(found: Scene, piece: Piece) -> float:
    """Of the shape itself, not of its box."""
    shape = found.shape(piece)
    if shape.kind == "extrusion":
        return area_of(shape) * piece.size[0]
    return float(np.prod(piece.size)) * (pi / 4 if shape.kind == "cylinder" else 1.0)


@every
def test_pieces_never_share_ids_and_every_shape_is_there_once(name: str) -> None:
    found = scene(name)
    assert [piece.id for piece in found.pieces] == list(range(len(found.pieces)))
    ids = [shape.id for shape in found.shapes]
    assert len(set(ids)) == len(ids)
    assert {piece.shape for piece in found.pieces} == set(ids)


@every
def test_every_solid_with_a_size_is_drawn_and_no_other_fills_a_box(name: str) -> None:
    boxed = {solid.path for solid in machine(name).solids if all(extent > 0 for extent in solid.size)}
    assert {piece.solid for piece in scene(name).pieces} - {""} == boxed


@every
def test_what_has_no_box_is_drawn_too(name: str) -> None:
    parts = {piece.part for piece in scene(name).pieces}
    for solid in machine(name).solids:
        if solid.kind in POINTS:
            assert (solid.path if solid.kind != "cable-chain" else solid.path.rpartition(".")[0]) in parts


@every
def test_pieces_fill_the_boxes_of_their_solids(name: str) -> None:
    found = scene(name)
    for solid in machine(name).solids:
        pieces = [piece for piece in found.pieces if piece.solid == solid.path]
        if not pieces:
            continue
        points = np.concatenate([corners_of(found, piece) for piece in pieces]) - solid.centre
        along = points @ np.array(solid.axes).T
        half = np.array(solid.size) / 2
        assert along.max(axis=0) == pytest.approx(half, abs=1e-6), solid.path
        assert along.min(axis=0) == pytest.approx(-half, abs=1e-6), solid.path


@every
def test_nothing_is_drawn_twice(name: str) -> None:
    """Pieces of one solid lie in a row, or are cut from one sheet: together they take no more room than its box."""
    found = scene(name)
    filled: Counter[str] = Counter()
    for piece in found.pieces:
        if piece.solid:
            filled[piece.solid] += volume_of(found, piece)  # type: ignore[assignment]
    for solid in machine(name).solids:
        assert filled[solid.path] <= np.prod(solid.size) * (1 + 1e-9) + 1e-15, solid.path
    places = Counter((piece.part, piece.shape, piece.matrix) for piece in found.pieces)
    assert places.most_common(1)[0][1] == 1


@every
def test_shapes_are_put_in_place_without_being_turned_inside_out_or_skewed(name: str) -> None:
    for piece in scene(name).pieces:
        axes = axes_of(piece)
        assert axes @ axes.T == pytest.approx(np.eye(3), abs=1e-9)
        assert np.linalg.det(axes) == pytest.approx(1.0)
        assert piece.matrix[3::4] == (0.0, 0.0, 0.0, 1.0)


@every
def test_the_metal_of_every_bar_weighs_what_the_bar_weighs(name: str) -> None:
    found, bars = scene(name), 0
    solids = {solid.path: solid for solid in machine(name).solids}
    for member in machine(name).members:
        if member.fill or not member.section.outline or member.material.density is None:
            continue
        piece = next(piece for piece in found.pieces if piece.solid == member.path)
        drawn = volume_of(found, piece) * typical(member.material.density)
        assert drawn == pytest.approx(typical(solids[member.path].mass), rel=0.01), member.path
        bars += 1
    assert bars


@every
def test_plates_and_table_sheets_weigh_what_is_drawn(name: str) -> None:
    found = scene(name)
    solids = {solid.path: solid for solid in machine(name).solids}
    sheets = {each.path: each.material for each in (*machine(name).plates, *machine(name).layers)}
    own = ("carriage.slide-base", "head.saddle")  # parts of a bought slide: their mass is the row's
    for path, material in sheets.items():
        mass = solids[path].mass
        if mass is None or material.density is None or path in own:
            continue
        drawn = sum(volume_of(found, piece) for piece in found.pieces if piece.solid == path) * typical(material.density)
        assert drawn == pytest.approx(typical(mass), rel=0.01), path


@every
@given(data=st.data())
@settings(max_examples=10, deadline=None)
def test_bodies_move_as_the_machine_says(name: str, data: st.DataObject) -> None:
    found, drawn = machine(name), scene(name)
    pose = {axis.name: data.draw(st.floats(0.0, axis.travel)) for axis in found.axes}
    moved = drawn.shifts(pose)
    for body, shift in shifts(found, pose).items():
        assert moved[body] == pytest.approx(shift, abs=1e-12)


@every
def test_bodies_hang_together_as_in_the_chain(name: str) -> None:
    rows = {row.name: row for row in scene(name).bodies}
    assert [row.name for row in scene(name).bodies] == [link.body for link in machine(name).links]
    for row in rows.values():
        assert all(rows[child].on == row.name for child in row.children)
        assert not row.on or row.name in rows[row.on].children
    assert {piece.body for piece in scene(name).pieces} <= set(rows)


@every
def test_the_box_goes_round_every_piece_and_touches(name: str) -> None:
    found = scene(name)
    points = np.concatenate([corners_of(found, piece) for piece in found.pieces])
    assert points.min(axis=0) == pytest.approx(found.box[0], abs=1e-6)
    assert points.max(axis=0) == pytest.approx(found.box[1], abs=1e-6)


@every
def test_the_plain_data_are_finite_and_the_same_every_time(name: str) -> None:
    first = json.dumps(to_json(scene(name)), allow_nan=False)
    again = json.dumps(to_json(scene_of(load_machine(FILES[name]))), allow_nan=False)
    assert first == again
    data = json.loads(first)
    assert len(data["pieces"]) == len(scene(name).pieces)
    assert all(len(piece["matrix"]) == 16 for piece in data["pieces"])
    assert {piece["shape"] for piece in data["pieces"]} == {shape["id"] for shape in data["shapes"]}
    assert all(shape["rings"] for shape in data["shapes"] if shape["kind"] == "extrusion")


@every
def test_everything_is_called_in_the_words_of_the_trade(name: str) -> None:
    for piece in scene(name).pieces:
        assert piece.label
        assert piece.what
        assert "." not in piece.label
        assert not {"lump", "item", "solid", "member", "layer-1", "main"} & {piece.what, *piece.label.split()}
        assert all(label and text and "None" not in text for label, text in piece.detail)
        assert piece.owned in ("owned", "buy", "make", "unknown")


def test_lengths_are_told_in_the_machine_s_units() -> None:
    metric = next(piece for piece in scene("as-built").pieces if piece.part == "gantry.beam")
    inch = next(piece for piece in scene("bench").pieces if piece.part == "gantry.beam")
    assert dict(metric.detail)["Length"] == "1620 mm"
    assert dict(metric.detail)["Height x width"] == "160 x 80 mm"
    assert dict(inch.detail)["Length"] == "24 in"
    assert dict(inch.detail)["Height x width"] == "4 x 3 in"


def test_names_and_kinds_of_the_demo() -> None:
    told = {(piece.part, piece.label, piece.what) for piece in scene("as-built").pieces}
    assert ("axis.x.rail.upper", "X profile rail, upper", "profile rail") in told
    assert ("axis.y.drive.left", "Y ball screw, left", "ball screw") in told
    assert ("axis.x.drive.main.nut", "X ball nut", "ball nut") in told
    assert ("axis.y.drive.left.motor", "Y motor, left", "stepper motor with encoder") in told
    assert ("gantry.beam", "Gantry, beam", "T-slot profile") in told
    assert ("spindle", "Collet nut", "collet nut") in told
    assert ("bed.top.layer-2", "Bed, top layer 2", "table sheet") in told


def test_what_is_owned_bought_and_made() -> None:
    owned = {piece.part: piece.owned for piece in scene("as-built").pieces}
    assert owned["bed.left-side"] == "owned"
    assert owned["axis.x.rail.upper"] == "buy"
    assert owned["gantry.beam"] == "buy"
    assert owned["carriage.plate"] == "make"
    assert owned["spindle"] == "owned"


def test_the_cabinet_tells_what_sits_in_it() -> None:
    cabinet = next(piece for piece in scene("as-built").pieces if piece.kind == "cabinet")
    told = dict(cabinet.detail)
    assert {"Supply, gantry", "Supply, head", "Driver, x main", "Driver, y left", "Driver, y right", "Driver, z main"} <= set(told)
    assert {"Controller", "Inverter", "Size", "Mass"} <= set(told)


def test_same_sections_share_one_shape_across_machines() -> None:
    tubes = {piece.shape for piece in scene("as-built").pieces if piece.section == "tube-80x80x4"}
    others = {piece.shape for piece in scene("first-idea").pieces if piece.section == "tube-80x80x4"}
    assert len(tubes) == 1
    assert tubes == others
    assert tubes < {shape.id for shape in scene("as-built").shapes}


@every
def test_outer_rings_run_counter_clockwise_and_openings_the_other_way(name: str) -> None:
    for shape in scene(name).shapes:
        areas = [area_of(Shape("", "extrusion", (ring,))) for ring in shape.rings]
        assert all(area > 0 for area in areas[:1])
        assert all(area < 0 for area in areas[1:])


def test_height_and_width_of_a_bar_are_not_exchanged() -> None:
    """The beam stands on edge: 160 mm high, 80 mm deep; the outline's second number runs along its height."""
    piece = next(piece for piece in scene("as-built").pieces if piece.part == "gantry.beam")
    ring = np.array(scene("as-built").shape(piece).rings[0])
    assert np.ptp(ring, axis=0) == pytest.approx((0.08, 0.16), abs=1e-6)
    assert piece.size == pytest.approx((1.62, 0.08, 0.16))
    assert abs(np.array(piece.matrix).reshape(4, 4)[2, :3]) == pytest.approx((0.0, 0.0, 1.0))


def test_spindle_collet_and_cutter_stand_in_a_row_down_to_the_tip() -> None:
    for name in NAMES:
        tool = machine(name).tool
        assert tool is not None
        row = [piece for piece in scene(name).pieces if piece.part in ("spindle", "tool.cutter")]
        low = min(piece.matrix[14] - piece.size[0] / 2 for piece in row)
        assert low == pytest.approx(tool.tip[2])
        collet = next(piece for piece in row if piece.what == "collet nut")
        assert collet.matrix[14] - collet.size[0] / 2 == pytest.approx(tool.tip[2] + typical(tool.stick_out))
        assert all(piece.matrix[12:14] == pytest.approx(tool.tip[:2]) for piece in row)


def test_mount_has_the_bore_of_its_spindle() -> None:
    found = scene("as-built")
    mount = next(piece for piece in found.pieces if piece.part == "spindle.mount")
    spindle = machine("as-built").spindle
    assert spindle is not None
    bore = np.array(found.shape(mount).rings[1])
    assert np.ptp(bore, axis=0) == pytest.approx((0.08, 0.08), rel=0.01)
    matrix = np.array(mount.matrix).reshape(4, 4)
    middle = np.append(np.insert((bore.max(axis=0) + bore.min(axis=0)) / 2, 0, 0.0), 1.0) @ matrix
    assert middle[:2] == pytest.approx(spindle.nose[:2], abs=1e-6)


def test_a_foot_hangs_below_what_it_holds() -> None:
    found = machine("as-built")
    for foot in found.feet:
        parts = [piece for piece in scene("as-built").pieces if piece.part == foot.path]
        assert max(piece.matrix[14] + piece.size[0] / 2 for piece in parts) == pytest.approx(foot.at[2])
        assert len({round(piece.matrix[14], 6) for piece in parts}) == 2


def test_webs_of_a_box_table_leave_rooms() -> None:
    """700 x 3560 mm, webs 175 and 445 mm apart at most: 5 lengthwise and 9 across make 4 x 8 rooms."""
    webs = next(piece for piece in scene("long_bed").pieces if piece.part == "bed.top.webs")
    assert len(scene("long_bed").shape(webs).rings) == 1 + 4 * 8


def test_the_workpiece_of_a_job_lies_where_the_file_says() -> None:
    work = next(piece for piece in scene("long_bed").pieces if piece.kind == "workpiece")
    assert work.size == pytest.approx((0.18, 2.2, 0.04))
    assert work.matrix[12:15] == pytest.approx((0.21 + 0.09, 0.3 + 1.1, 0.02))
    assert work.body == machine("long_bed").work_body


def test_openings_and_holes_are_cut_out_of_a_plate() -> None:
    found = machine("fixed_gantry")
    plate = next(each for each in found.plates if each.openings)
    drawn = scene("fixed_gantry")
    piece = next(each for each in drawn.pieces if each.part == plate.path)
    assert len(drawn.shape(piece).rings) == 2
    points = ((0.05, 0.1), (-0.05, 0.1), (0.05, -0.1))
    bored = replace(
        plate, holes=(HolePattern("old", "front", points, 0.011), HolePattern("later", "front", points, 0.02, planned=True))
    )
    piece, shape = only(with_plate(found, bored), plate.path)
    assert len(shape.rings) == 2 + len(points)
    assert area_of(shape) == pytest.approx(piece.size[1] * piece.size[2] - 0.0762 * 0.1016 - 3 * pi / 4 * 0.011**2, rel=1e-4)


def test_an_opening_over_the_edge_is_a_notch() -> None:
    found = machine("fixed_gantry")
    plate = next(each for each in found.plates if each.openings)
    wide, high = plate.size[:2]
    notched = replace(plate, openings=((wide / 2, 0.0, 0.04, 0.06),), rounds=(False,))
    _, shape = only(with_plate(found, notched), plate.path)
    assert len(shape.rings) == 1
    assert area_of(shape) == pytest.approx(wide * high - 0.02 * 0.06)
    halved = replace(plate, openings=((0.0, 0.0, 2 * wide, 0.01),), rounds=(False,))
    pieces = [piece for piece in with_plate(found, halved).pieces if piece.part == plate.path]
    assert len(pieces) == 2


def test_a_round_opening_is_an_ellipse() -> None:
    found = machine("fixed_gantry")
    plate = next(each for each in found.plates if each.openings)
    _, shape = only(with_plate(found, replace(plate, openings=((0.0, 0.0, 0.06, 0.1),), rounds=(True,))), plate.path)
    assert area_of(shape) == pytest.approx(plate.size[0] * plate.size[1] - pi / 4 * 0.06 * 0.1, rel=0.005)


def test_a_drawn_outline_is_the_outline_of_the_plate() -> None:
    found = machine("as-built")
    plate = next(each for each in found.plates if each.path == "gantry.upright-left")
    wide, high = plate.size[:2]
    ring = ((-wide / 2, -high / 2), (wide / 2, -high / 2), (0.0, high / 2))
    piece, shape = only(with_plate(found, replace(plate, outline="upright.dxf", drawn=Outline(ring))), plate.path)
    assert area_of(shape) == pytest.approx(wide * high / 2)
    tip = np.array([0.0, *ring[2], 1.0]) @ np.array(piece.matrix).reshape(4, 4)
    assert tip[:3] == pytest.approx(np.array(plate.middle) + high / 2 * np.array(plate.second))


def test_a_bar_of_which_only_the_size_is_known_is_drawn_as_its_box() -> None:
    found = machine("as-built")
    plain = tuple(replace(m, section=replace(m.section, draw=None)) if m.path == "gantry.beam" else m for m in found.members)
    piece, shape = only(scene_of(replace(found, members=plain)), "gantry.beam")
    assert shape.kind == "box"
    assert sorted(piece.size) == pytest.approx([0.08, 0.16, 1.62])


def test_a_rail_is_drawn_in_the_lengths_that_it_is_put_together_from() -> None:
    """Two of the spar bench's rails have a butt joint, 1720 mm and 1900 mm from their front end, of 3500 mm."""
    for side, first in (("left", 1.72), ("right", 1.9)):
        pieces = [piece for piece in scene("long_bed").pieces if piece.part == f"axis.y.rail.{side}"]
        by_place = sorted(pieces, key=lambda piece: piece.matrix[13])
        assert [piece.size[0] for piece in by_place] == pytest.approx([first, 3.5 - first])


def test_a_machine_without_spindle_and_tool_is_drawn() -> None:
    found = machine("as-built")
    rest = tuple(solid for solid in found.solids if not solid.path.startswith(("spindle", "tool")))
    bare = scene_of(replace(found, spindle=None, tool=None, solids=rest))
    assert not [piece for piece in bare.pieces if piece.part.startswith(("spindle", "tool"))]


def test_a_mass_without_a_place_is_not_drawn() -> None:
    """What makes up for a body's weighing stands nowhere."""
    assert any(solid.kind == "lump" for solid in machine("long_bed").solids)
    assert not [piece for piece in scene("long_bed").pieces if piece.kind == "lump"]


def only(found: Scene, path: str) -> tuple[Piece, Shape]:
    """The one piece of a part."""
    (piece,) = [piece for piece in found.pieces if piece.part == path]
    return piece, found.shape(piece)


def with_plate(found, plate):  # type: ignore[no-untyped-def]
    """The scene of a machine with one plate changed."""
    return scene_of(replace(found, plates=tuple(plate if each.path == plate.path else each for each in found.plates)))

"""Pieces follow the structure: stiffly where it moves as one, and along the curve of a bar where it bends."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gantrywright.results.structure import Drawing, StructureResult
from gantrywright.results.structure import Shape as Form
from gantrywright.scene import Carried, carried, motion_to_json
from gantrywright.study.study import run
from scene_cases import machine, scene

NAMES = ("as-built", "long_bed", "fixed_gantry")
small = st.tuples(*(st.floats(-1e-3, 1e-3) for _ in range(3)))


@cache
def structure(name: str) -> StructureResult:
    """What the structure of a machine answers."""
    return run(machine(name)).results.structure


def drawing_of(name: str) -> Drawing:
    """Its drawing under loads."""
    made = structure(name).drawing
    assert made is not None
    return made


def places_of(name: str, made: Carried, number: int) -> np.ndarray:
    """Where the stations of a piece stand before it moves."""
    piece = scene(name).pieces[number]
    matrix = np.array(piece.matrix).reshape(4, 4)
    along = matrix[0, :3] / np.linalg.norm(matrix[0, :3]) * piece.size[0]
    return matrix[3, :3] + np.array(scene(name).shifts(dict(made.pose))[piece.body]) + made.pieces[number][:, :1] * along


@pytest.mark.parametrize("name", NAMES)
@given(shift=small, turn=small)
@settings(max_examples=5, deadline=None)
def test_a_structure_that_moves_as_one_carries_every_piece_as_one(name: str, shift, turn) -> None:  # type: ignore[no-untyped-def]
    plain = drawing_of(name)
    moved = np.array(shift) + np.cross(np.array(turn), plain.nodes)
    form = Form("as one", moved, np.tile(turn, (len(plain.nodes), 1)))
    made = carried(scene(name), replace(plain, shapes=(form,)), "as one")
    for number, stations in enumerate(made.pieces):
        places = places_of(name, made, number)
        assert stations[:, 1:4] == pytest.approx(np.array(shift) + np.cross(np.array(turn), places), abs=1e-12)
        assert stations[:, 4:] == pytest.approx(np.tile(turn, (len(stations), 1)), abs=1e-12)


def test_a_bar_follows_the_curve_of_a_beam_between_its_nodes() -> None:
    """One element with the ends of a cubic: deflection and slope of a cantilever under an end load, w = (3 L x^2 - x^3) / (2 L^3)."""
    piece = next(piece for piece in scene("as-built").pieces if piece.part == "gantry.beam")
    middle, long = np.array(piece.matrix[12:15]), piece.size[0]
    ends = middle + np.array([[-long / 2, 0, 0], [long / 2, 0, 0]])
    slope = 3 / (2 * long)
    form = Form("bend", np.array([[0.0, 0, 0], [0.002, 0, 1.0]]), np.array([[0.0, 0, 0], [0, -slope, 0]]))
    made = carried(scene("as-built"), Drawing({}, ends, ((0, 1, "gantry.beam"),), (form,)), "bend")
    stations = made.pieces[piece.id]
    x = places_of("as-built", made, piece.id)[:, 0] - ends[0, 0]
    assert len(stations) >= 9
    assert stations[:, 3] == pytest.approx((3 * long * x**2 - x**3) / (2 * long**3), abs=1e-9)
    assert stations[:, 1] == pytest.approx(0.002 * x / long, abs=1e-12)  # stretched evenly


def test_what_is_screwed_to_a_bar_bends_and_twists_with_it() -> None:
    """The two rails of X lie as far above as below the beam's axis: where it twists, one goes as much farther as the other stays behind."""
    made = carried(scene("as-built"), drawing_of("as-built"), "1 N on the tool along Y")
    pieces = {piece.part: piece.id for piece in scene("as-built").pieces}
    upper, lower, beam = (made.pieces[pieces[part]] for part in ("axis.x.rail.upper", "axis.x.rail.lower", "gantry.beam"))
    assert len(upper) == len(lower) == len(beam) == 9
    middle = beam[4, 2]
    assert abs(middle - (beam[0, 2] + beam[-1, 2]) / 2) > 1e-8  # it bends
    assert abs(upper[4, 2] - lower[4, 2]) > 1e-8  # and twists
    assert (upper[4, 2] + lower[4, 2]) / 2 == pytest.approx(middle, rel=1e-6)
    assert lower[4, 2] - upper[4, 2] == pytest.approx(0.12 * beam[4, 4], rel=1e-6)


@pytest.mark.parametrize("name", NAMES)
def test_the_tip_of_the_cutter_moves_as_the_structure_says(name: str) -> None:
    plain = drawing_of(name)
    tool = machine(name).tool
    assert tool is not None
    tip = np.array(tool.tip) + scene(name).shifts(dict(plain.pose))[machine(name).tool_body]
    node = int(np.argmin(np.linalg.norm(plain.nodes - tip, axis=1)))
    assert plain.nodes[node] == pytest.approx(tip, abs=1e-6)
    cutter = next(piece for piece in scene(name).pieces if piece.part == "tool.cutter" and piece.solid)
    for form in plain.shapes[:3]:
        made = carried(scene(name), plain, form.name)
        stations = made.pieces[cutter.id]
        lowest = int(np.argmin(places_of(name, made, cutter.id)[:, 2]))
        assert stations[lowest, 1:4] == pytest.approx(form.shift[node], rel=1e-6, abs=1e-12)


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_of_a_moving_structure_moves(name: str) -> None:
    made = carried(scene(name), drawing_of(name), "weight")
    assert len(made.pieces) == len(scene(name).pieces)
    for stations in made.pieces:
        assert stations.shape[1] == 7
        assert len(stations) >= 2
        assert stations[[0, -1], 0] == pytest.approx((-0.5, 0.5))
        assert np.isfinite(stations).all()
        assert np.abs(stations[:, 1:4]).max() > 0
    assert made.greatest == pytest.approx(max(np.linalg.norm(each[:, 1:4], axis=1).max() for each in made.pieces))


def test_short_pieces_stay_whole() -> None:
    """Both ends of a block move as one stiff thing."""
    made = carried(scene("as-built"), drawing_of("as-built"), "1 N on the tool along X")
    blocks = [piece.id for piece in scene("as-built").pieces if piece.kind == "block"]
    assert blocks
    for number in blocks:
        stations, places = made.pieces[number], places_of("as-built", made, number)
        step = stations[1, 1:4] - stations[0, 1:4]
        assert step == pytest.approx(np.cross(stations[0, 4:], places[1] - places[0]), abs=1e-15)


def test_modes_are_carried_on_their_own_drawing() -> None:
    modes = structure("as-built").modes_drawing
    assert modes is not None
    made = carried(scene("as-built"), modes, modes.shapes[0].name)
    assert made.unit == "largest is 1"
    assert 0.5 < made.greatest < 2.0  # the nodes reach 1; pieces reach out from them
    with pytest.raises(KeyError):
        carried(scene("as-built"), modes, "no such shape")


def test_units_say_what_one_of_a_shape_is() -> None:
    plain = drawing_of("as-built")
    units = {form.name: carried(scene("as-built"), plain, form.name).unit for form in plain.shapes}
    assert units["1 N on the tool along X"] == "m per newton"
    assert units["weight"] == "m"


def test_the_motion_as_plain_data() -> None:
    made = carried(scene("as-built"), drawing_of("as-built"), "weight")
    data = motion_to_json(made)
    assert set(data) == {"name", "unit", "pose", "greatest", "pieces"}
    assert len(data["pieces"]) == len(scene("as-built").pieces)
    assert np.array(data["pieces"][0]) == pytest.approx(made.pieces[0], abs=1e-11)

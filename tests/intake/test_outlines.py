"""Outlines from points files and DXF drawings: what is read, and that everything that is wrong is told in words."""

import io
import math
from contextlib import suppress
from pathlib import Path
from typing import Any

import ezdxf
import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from placed import MACHINES

from gantrywright.base.errors import FileProblems
from gantrywright.intake.document import read_document
from gantrywright.intake.outlines import OutlineTrouble, read_outline
from gantrywright.intake.resolve import resolve
from gantrywright.model.machine import Machine
from gantrywright.theory.sections.polygon import second_moments

TUBE = """# plain tube
x [mm], y [mm]
0, 0
60, 0
60, 100
0, 100

4, 4
56, 4
56, 96
4, 96
"""
QUIET = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture], max_examples=60)


def points(tmp_path: Path, text: str, name: str = "profile.csv") -> Any:
    (tmp_path / name).write_text(text, "utf-8")
    return read_outline(name, tmp_path)


def drawing(*, unit: int = 4, version: str = "R2010") -> tuple[Any, Any]:
    made = ezdxf.new(version)
    made.header["$INSUNITS"] = unit
    return made, made.modelspace()


def saved(made: Any) -> bytes:
    text = io.StringIO()
    made.write(text)
    return text.getvalue().encode()


def read(tmp_path: Path, made: Any, *, unit: str = "") -> Any:
    (tmp_path / "profile.dxf").write_bytes(saved(made))
    return read_outline(f"profile.dxf{unit}", tmp_path)


def trouble(tmp_path: Path, made: Any, *, unit: str = "") -> str:
    with pytest.raises(OutlineTrouble) as caught:
        read(tmp_path, made, unit=unit)
    return str(caught.value)


def area(outline: Any) -> float:
    return second_moments(outline)[0] * 1e6


# ---- points files


def test_a_points_file_is_a_ring_and_openings_about_its_middle(tmp_path: Path) -> None:
    found = points(tmp_path, TUBE)
    assert area(found) == pytest.approx(60 * 100 - 52 * 92)
    assert found.ring[0] == pytest.approx((-0.03, -0.05))
    assert len(found.openings) == 1


@pytest.mark.parametrize("head", ["x [in], y [in]", "X[in];Y[in]", "x [in]\ty [in]", "x [inch] y [inch]"])
def test_the_head_says_the_unit(tmp_path: Path, head: str) -> None:
    assert area(points(tmp_path, f"{head}\n0;0\n2 0\n2,\t1\n0,1\n")) == pytest.approx(2 * 25.4**2)


def test_openings_may_come_first_and_either_way_round(tmp_path: Path) -> None:
    found = points(tmp_path, "x [mm], y [mm]\n4,4\n4,96\n56,96\n56,4\n\n0,0\n0,100\n60,100\n60,0\n0,0\n")
    assert area(found) == pytest.approx(60 * 100 - 52 * 92)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "is empty"),
        ("0, 0\n1, 0\n1, 1\n", "line 1: no unit"),
        ("x [furlong], y [mm]\n0,0\n", "'furlong' is no unit of length"),
        ("x [mm], y [mm]\n0, 0\n10, 0\n", "ring 1 has 2 points"),
        ("x [mm], y [mm]\n0, 0\n10\n10, 10\n", "line 3: '10' is no point"),
        ("x [mm], y [mm]\n0; 0\n10,5; 0\n10; 10\n", "line 3: '10,5; 0' has a decimal comma"),
        ("x [mm], y [mm]\n0, 0\nnan, 0\n10, 10\n", "line 3: 'nan, 0' is no point"),
        ("x [mm], y [mm]\n0, 0\n10, 10\n10, 0\n0, 10\n", "crosses itself at 5, 5 mm"),
        ("x [mm], y [mm]\n0, 0\n10, 0\n20, 0\n", "without area"),
        ("x [mm], y [mm]\n0,0\n10,0\n10,10\n\n20,0\n30,0\n30,9\n", "two outlines apart from each other"),
        ("x [mm], y [mm]\n0,0\n10,0\n10,10\n0,10\n\n5,5\n15,5\n15,8\n5,8\n", "crosses the outside"),
        ("x [mm], y [mm]\n0,0\n30,0\n30,30\n0,30\n\n2,2\n28,2\n28,28\n2,28\n\n5,5\n9,5\n9,9\n", "metal inside an opening"),
        ("x [m], y [m]\n0,0\n60,0\n60,100\n0,100\n", "see whether its unit is right"),
    ],
)
def test_what_is_wrong_in_a_points_file_is_told_with_its_place(tmp_path: Path, text: str, words: str) -> None:
    with pytest.raises(OutlineTrouble, match=words.replace("(", r"\(")):
        points(tmp_path, text)


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(OutlineTrouble, match=r"'nothing.dxf' is not beside this machine"):
        read_outline("nothing.dxf", tmp_path)
    with pytest.raises(OutlineTrouble, match="is no file"):
        read_outline(".", tmp_path)
    (tmp_path / "picture.csv").write_bytes(b"\xff\xfe\x00\x9f")
    with pytest.raises(OutlineTrouble, match="neither a drawing"):
        read_outline("picture.csv", tmp_path)


def test_a_changed_file_is_read_again(tmp_path: Path) -> None:
    assert area(points(tmp_path, TUBE)) == pytest.approx(1216)
    assert area(points(tmp_path, TUBE.replace("100", "110"))) == pytest.approx(60 * 110 - 52 * 92)


# ---- drawings


def test_a_closed_polyline_with_arcs(tmp_path: Path) -> None:
    """A slot: two half circles of 10 mm radius, 40 mm apart, with a hole."""
    made, space = drawing()
    space.add_lwpolyline([(0, -10, 0), (40, -10, 1), (40, 10, 0), (0, 10, 1)], format="xyb", close=True)
    space.add_circle((20, 0), 4)
    exact = 40 * 20 + math.pi * 100 - math.pi * 16
    found = read(tmp_path, made)
    assert area(found) == pytest.approx(exact, rel=2e-3)
    assert np.ptp(np.array(found.ring), axis=0) == pytest.approx([0.060, 0.020], abs=2e-5)


def test_lines_and_arcs_that_meet_in_any_order_and_direction(tmp_path: Path) -> None:
    made, space = drawing(unit=1)
    space.add_line((2, 0), (0, 0))
    space.add_arc((2, 0.5), 0.5, -90, 90)
    space.add_line((0, 1), (2, 1))
    space.add_line((0, 0), (0, 1))
    space.add_line((0, 0), (0, 1))  # drawn twice
    exact = (2 * 1 + math.pi / 8) * 25.4**2
    assert area(read(tmp_path, made)) == pytest.approx(exact, rel=2e-3)


def test_an_old_polyline_and_a_block_reference(tmp_path: Path) -> None:
    made, space = drawing()
    space.add_polyline2d([(0, 0), (50, 0), (50, 30), (0, 30)], close=True)
    block = made.blocks.new("HOLE")
    block.add_circle((0, 0), 5)
    space.add_blockref("HOLE", (25, 15))
    assert area(read(tmp_path, made)) == pytest.approx(1500 - 25 * math.pi, rel=2e-3)


def test_texts_and_hidden_layers_are_passed_over(tmp_path: Path) -> None:
    made, space = drawing()
    space.add_lwpolyline([(0, 0), (50, 0), (50, 30), (0, 30)], close=True)
    space.add_text("50 x 30")
    made.layers.add("help").off()
    space.add_line((0, 0), (70, 70), dxfattribs={"layer": "help"})
    assert area(read(tmp_path, made)) == pytest.approx(1500)


def test_an_open_chain_says_where_and_how_wide_the_gap_is(tmp_path: Path) -> None:
    made, space = drawing()
    for start, stop in (((0, 0), (50, 0)), ((50, 0), (50, 30)), ((50, 30), (0, 30)), ((0, 30), (0, 0.4))):
        space.add_line(start, stop)
    said = trouble(tmp_path, made)
    assert "is open at" in said
    assert "0.4 mm away" in said
    assert "0, 0.4 mm" in said


def test_a_chain_that_branches_says_where(tmp_path: Path) -> None:
    made, space = drawing()
    for start, stop in (((0, 0), (50, 0)), ((50, 0), (50, 30)), ((50, 30), (0, 30)), ((0, 30), (0, 0)), ((50, 30), (20, 10))):
        space.add_line(start, stop)
    assert "branches at 50, 30 mm" in trouble(tmp_path, made)


def test_a_drawing_without_a_unit_wants_one(tmp_path: Path) -> None:
    made, space = drawing(unit=0)
    space.add_lwpolyline([(0, 0), (50, 0), (50, 30), (0, 30)], close=True)
    assert "says no unit" in trouble(tmp_path, made)
    assert area(read(tmp_path, made, unit=", mm")) == pytest.approx(1500)
    made.header["$INSUNITS"] = 1
    assert "is drawn in in by its own word" in trouble(tmp_path, made, unit=", mm")
    made.header["$INSUNITS"] = 17
    assert "a unit that is not known" in trouble(tmp_path, made)


def test_a_drawing_of_the_oldest_kind_reads_with_a_unit(tmp_path: Path) -> None:
    made = ezdxf.new("R12")
    made.modelspace().add_circle((0, 0), 10)
    assert area(read(tmp_path, made, unit=", mm")) == pytest.approx(100 * math.pi, rel=2e-3)


def test_a_crossing_an_empty_and_a_leaning_drawing(tmp_path: Path) -> None:
    made, space = drawing()
    assert "has no lines" in trouble(tmp_path, made)
    space.add_lwpolyline([(0, 0), (50, 30), (50, 0), (0, 30)], close=True)
    assert "crosses itself at 25, 15 mm" in trouble(tmp_path, made)
    made, space = drawing()
    space.add_line((0, 0, 0), (10, 0, 5))
    assert "does not lie in the plane" in trouble(tmp_path, made)


def test_a_cut_off_drawing_is_told(tmp_path: Path) -> None:
    made, space = drawing()
    space.add_circle((0, 0), 10)
    whole = saved(made)
    for share in (0.2, 0.5, 0.9, 0.999):
        (tmp_path / "cut.dxf").write_bytes(whole[: int(len(whole) * share)])
        with pytest.raises(OutlineTrouble, match="is cut off"):
            read_outline("cut.dxf", tmp_path)
    (tmp_path / "cut.dxf").write_bytes(b"")
    with pytest.raises(OutlineTrouble, match="is no DXF drawing"):
        read_outline("cut.dxf", tmp_path)


LINES = "0\nSECTION\n2\nENTITIES\n0\nLINE\n8\n0\n10\n0\n20\n0\n11\n120\n21\n0\n0\nENDSEC\n0\nEOF\n"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [("120", "12x", "'12x' where a number belongs, near line"), ("LINE", "LWPOLYLINE", "cannot be read as DXF")],
)
def test_what_the_library_refuses_or_guesses_is_told_without_its_words(
    tmp_path: Path, capfd: pytest.CaptureFixture[str], old: str, new: str, said: str
) -> None:
    (tmp_path / "spoilt.dxf").write_text(LINES.replace(old, new), "utf-8")
    with pytest.raises(OutlineTrouble) as caught:
        read_outline("spoilt.dxf, mm", tmp_path)
    assert said in str(caught.value)
    assert "save it anew" in str(caught.value)
    assert "AcDb" not in str(caught.value)
    assert capfd.readouterr() == ("", "")


# ---- whatever stands in a file


@QUIET
@given(spoilt=st.lists(st.tuples(st.integers(0, 10**6), st.binary(max_size=6)), min_size=1, max_size=12))
def test_a_spoilt_drawing_is_read_or_told(tmp_path: Path, spoilt: list[tuple[int, bytes]]) -> None:
    made, space = drawing()
    space.add_lwpolyline([(0, -10, 0), (40, -10, 1), (40, 10, 0), (0, 10, 1)], format="xyb", close=True)
    space.add_circle((20, 0), 4)
    data = bytearray(saved(made))
    start = data.find(b"ENTITIES")
    for at, put in spoilt:
        place = start + at % (len(data) - start)
        data[place : place + len(put)] = put
    (tmp_path / "spoilt.dxf").write_bytes(bytes(data))
    with suppress(OutlineTrouble):
        assert len(read_outline("spoilt.dxf", tmp_path).ring) >= 3


@QUIET
@given(text=st.one_of(st.text(max_size=80), st.text(alphabet="x [m],y;0123456789.-e\n#", max_size=120)))
def test_any_text_is_read_or_told(tmp_path: Path, text: str) -> None:
    for whole in (text, f"x [mm], y [mm]\n{text}", TUBE + text):
        with suppress(OutlineTrouble):
            assert len(points(tmp_path, whole, "any.csv").ring) >= 3


# ---- on a machine


BEAM = 'beam = { section = "tslot-80x160-heavy"'


def machine_with(tmp_path: Path, section: str) -> Machine:
    source = MACHINES.parents[1] / "src" / "gantrywright" / "data" / "demo" / "first-idea.toml"
    text = source.read_text("utf-8")
    assert text.count(BEAM) == 1
    path = tmp_path / "machine.toml"
    path.write_text(text.replace(BEAM, f"beam = {{ section = {section}"), "utf-8")
    return resolve(read_document(path))


def told(tmp_path: Path, section: str) -> str:
    with pytest.raises(FileProblems) as caught:
        machine_with(tmp_path, section)
    return str(caught.value)


def test_a_bar_by_outline_is_the_tube_that_it_draws(tmp_path: Path) -> None:
    (tmp_path / "tube.csv").write_text(TUBE, "utf-8")
    drawn = machine_with(tmp_path, '{ shape = "outline", outline = "tube.csv", material = "steel" }')
    plain = machine_with(
        tmp_path, '{ shape = "tube", width = "60 mm", height = "100 mm", wall = "4 mm", radius = "0 mm", material = "steel" }'
    )
    beams = [next(m for m in machine.members if m.path == "gantry.beam").section for machine in (drawn, plain)]
    for name in ("width", "height", "area", "second_moment_height", "second_moment_width", "mass_per_length"):
        assert getattr(beams[0], name) == pytest.approx(getattr(beams[1], name), rel=1e-6), name
    for name in ("torsion", "shear_height", "shear_width"):
        assert getattr(beams[0], name) == pytest.approx(getattr(beams[1], name), rel=2e-3), name
    assert len(beams[0].outline) == 4
    assert len(beams[0].openings) == 1


def test_problems_of_an_outline_stand_at_its_key(tmp_path: Path) -> None:
    assert "gantry.member.beam.section.outline: 'no.dxf' is not beside" in told(
        tmp_path, '{ shape = "outline", outline = "no.dxf", material = "steel" }'
    )
    assert "gantry.member.beam.section.outline: missing" in told(tmp_path, '{ shape = "outline", material = "steel" }')
    (tmp_path / "tube.csv").write_text(TUBE, "utf-8")
    assert "the outline's width is 60 mm, but width says 80 mm" in told(
        tmp_path, '{ shape = "outline", outline = "tube.csv", width = "80 mm", material = "steel" }'
    )
    assert "is drawn from its figures" in told(
        tmp_path, '{ shape = "bar", width = "60 mm", height = "60 mm", outline = "tube.csv", material = "steel" }'
    )


def test_a_plate_by_outline_weighs_what_is_drawn(tmp_path: Path) -> None:
    made, space = drawing()
    space.add_lwpolyline([(0, 0), (200, 0), (0, 100)], close=True)
    (tmp_path / "gusset.dxf").write_bytes(saved(made))
    gusset = (
        '\n[gantry.plate.gusset]\nsize = "200 x 100 x 10 mm"\nnormal = "front"\nat = "0, 0, 600 mm"\nmaterial = "steel"\n'
        'outline = "gusset.dxf"\n'
    )
    source = (MACHINES.parents[1] / "src" / "gantrywright" / "data" / "demo" / "first-idea.toml").read_text("utf-8")
    path = tmp_path / "machine.toml"
    path.write_text(source + gusset, "utf-8")
    weighed = next(s for s in resolve(read_document(path)).solids if s.path == "gantry.gusset")
    assert weighed.mass == pytest.approx(0.5 * 0.2 * 0.1 * 0.01 * 7850)
    path.write_text(source + gusset.replace("200 x 100", "200 x 120"), "utf-8")
    with pytest.raises(FileProblems, match="the outline is 200 mm x 100 mm, but size says 200 mm x 120 mm"):
        resolve(read_document(path))

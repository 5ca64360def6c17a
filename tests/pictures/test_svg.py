"""Pictures as SVG: whole, described, nothing over the edge, no words over each other."""

import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass, replace
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as some

from gantrywright.pictures import PICTURES, Picture, picture_of, svg_of, together
from gantrywright.pictures.ink import AMOUNT
from gantrywright.pictures.picture import Bar, Dimension, Field, Mark
from gantrywright.pictures.svg_map import shade
from gantrywright.study.study import Study

SVG = "{http://www.w3.org/2000/svg}"
EM = 0.56
"""Width of a letter in the sans serif fonts of browsers, by the size of the script, over ordinary words."""


@dataclass(frozen=True)
class Written:
    words: str
    left: float
    top: float
    right: float
    bottom: float

    def covers(self, other: "Written") -> bool:
        return self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom


def written(root: ET.Element) -> list[Written]:
    """Where every word stands."""
    told = []
    for text in root.iter(f"{SVG}text"):
        words, size = text.text or "", float(text.get("font-size", "13"))
        wide = EM * size * len(words)
        start = {"start": 0.0, "middle": -wide / 2, "end": -wide}[text.get("text-anchor", "start")]
        turned = re.match(r"translate\(([\d.]+) ([\d.]+)\) rotate\(-90\)", text.get("transform", ""))
        if turned:
            x, y = (float(part) for part in turned.groups())
            told.append(Written(words, x - 0.75 * size, y - start - wide, x + 0.2 * size, y - start))
        else:
            x, y = float(text.get("x", "nan")), float(text.get("y", "nan"))
            told.append(Written(words, x + start, y - 0.75 * size, x + start + wide, y + 0.2 * size))
    return told


def checked(picture: Picture) -> ET.Element:
    """The drawing, once it is known to be whole and readable."""
    root = ET.fromstring(svg_of(picture))
    title, description = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert description is not None
    assert title.text == picture.title
    assert (description.text or "").startswith(picture.words)
    assert all(key.text in (description.text or "") for key in picture.key)
    wide, high = (float(part) for part in root.get("viewBox", "").split()[2:])
    words = written(root)
    for one in words:
        assert one.left >= 0, one
        assert one.right <= wide, one
        assert one.top >= 0, one
        assert one.bottom <= high, one
    for one, other in combinations(words, 2):
        assert not one.covers(other), (one, other)
    for shape in (*root.iter(f"{SVG}rect"), *root.iter(f"{SVG}circle")):
        for name in ("x", "y", "cx", "cy"):
            assert 0 <= float(shape.get(name, "0")) <= max(wide, high)
    return root


@pytest.mark.parametrize("name", PICTURES)
def test_every_picture_is_whole_and_readable(name: str, study: Study) -> None:
    checked(picture_of(name, study))


@pytest.mark.parametrize("name", PICTURES)
def test_pictures_of_two_machines_are_too(name: str, studies: dict[str, Study]) -> None:
    checked(together(name, studies["first-idea"], studies["bench"], ("first-idea.toml", "a bench machine")))
    checked(
        together(
            name, studies["fixed_gantry"], studies["long_bed"], ("fixed_gantry.toml", "kept on Monday, before the second screw")
        )
    )


@pytest.mark.parametrize("name", PICTURES)
def test_an_empty_picture_says_what_is_lacking(name: str, bare: Study) -> None:
    picture = picture_of(name, bare)
    root = checked(picture)
    assert " ".join(one.words for one in written(root)[1:]) == picture.words
    assert not list(root.iter(f"{SVG}path"))


def test_bands_are_drawn_once_a_line(settled: Study) -> None:
    root = checked(picture_of("receptance", settled))
    assert len([path for path in root.iter(f"{SVG}path") if path.get("opacity")]) == 3


def test_lines_are_told_apart_without_colour(study: Study) -> None:
    root = checked(picture_of("force-speed", study))
    dashes = [path.get("stroke-dasharray") for path in root.iter(f"{SVG}path") if path.get("stroke-dasharray")]
    assert len(dashes) == len(set(dashes)) == len(picture_of("force-speed", study).series)


def test_every_mark_lies_in_the_frame(study: Study) -> None:
    """What is wanted may lie far beyond what the axis can: it is in view all the same."""
    for name in ("block-loads", "force-speed", "receptance"):
        picture = picture_of(name, study)
        rings = [ring for ring in checked(picture).iter(f"{SVG}circle") if ring.get("stroke")]
        assert len(rings) == len(picture.marks)
        for ring in rings:
            assert 74 - 1 <= float(ring.get("cx", "0")) <= 720 - 24 + 1
            assert 56 - 1 <= float(ring.get("cy", "0")) <= 420 - 58 + 1


def test_the_map_has_the_proportions_of_the_table(study: Study) -> None:
    picture = picture_of("stiffness-map", study)
    grid = picture.map
    assert grid is not None
    cells = [rect for rect in checked(picture).iter(f"{SVG}rect") if rect.get("width") != "100%"]
    frame = next(rect for rect in cells if rect.get("stroke") == "#23292b")
    real = (
        (grid.ys[-1] - grid.ys[0])
        * len(grid.ys)
        / (len(grid.ys) - 1)
        / ((grid.xs[-1] - grid.xs[0]) * len(grid.xs) / (len(grid.xs) - 1))
    )
    assert float(frame.get("height", "0")) / float(frame.get("width", "1")) == pytest.approx(min(max(real, 0.25), 3.0), rel=2e-3)
    coloured = [rect.get("fill") for rect in cells]
    known = [value for row in grid.values for value in row if value is not None]
    assert coloured.count(AMOUNT[0]) >= 1
    for value in (min(known), max(known)):
        assert shade(value, min(known), max(known)) in coloured


def test_a_place_off_the_table_is_left_white_and_a_level_map_can_be_drawn() -> None:
    grid = Field((0.0, 1.0), (0.0, 1.0), ((1.0, 1.0), (1.0, None)), "N/um", Mark(0.0, 0.0, "softest 1 N/um"))
    picture = Picture("m", "Map", "Level.", "map", x=Dimension("X", "m"), y=Dimension("Y", "m"), map=grid)
    root = checked(picture)
    assert len([rect for rect in root.iter(f"{SVG}rect") if rect.get("fill") == "none"]) == 2  # the free cell, the frame


@given(
    some.lists(
        some.tuples(some.text("abcdefghij .-", max_size=60), some.floats(0, 1e6, allow_subnormal=False)), min_size=1, max_size=20
    )
)
def test_bars_of_any_name_and_size_are_readable(rows: list[tuple[str, float]]) -> None:
    bars = tuple(Bar(label, value, f"{value:.3g} %") for label, value in rows)
    checked(Picture("b", "Bars", "Words.", "bars", y=Dimension("share", "%"), bars=bars))


@given(some.lists(some.lists(some.text("abcdef %", max_size=50), min_size=4, max_size=4), min_size=1, max_size=12))
def test_tables_of_any_words_are_readable(rows: list[list[str]]) -> None:
    short = [[" ".join(cell.split()) or "x" for cell in row] for row in rows]
    cut = tuple(tuple(" ".join(word[:12] for word in cell.split(" ")) for cell in row) for row in short)
    checked(Picture("t", "Table", "Words.", "table", columns=("mode", "frequency", "what it is", "held by"), rows=cut))


def test_words_that_mean_something_to_xml_are_told_as_they_are(study: Study) -> None:
    picture = replace(picture_of("shares", study), title="a < b & c", words='<script>"x"</script>.')
    root = checked(picture)
    assert "<script" not in svg_of(picture)
    assert written(root)[0].words == "a < b & c"

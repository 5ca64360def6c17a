"""Pictures as CSV, read back."""

import csv
import io
from dataclasses import replace

import pytest

from gantrywright.pictures import PICTURES, Picture, csv_of, picture_of, together
from gantrywright.pictures.picture import Bar
from gantrywright.study.study import Study


def near(value: float) -> float:
    """As it is saved."""
    return float(f"{value:.7g}")


def read(picture: Picture) -> tuple[list[str], list[list[str]]]:
    text = csv_of(picture)
    assert text.startswith("\ufeff")
    assert text.count("\ufeff") == 1
    heads, *rows = list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline="")))
    assert all(len(row) == len(heads) for row in rows)
    return heads, rows


def test_lines_come_back(study: Study) -> None:
    for name in ("block-loads", "force-speed", "receptance"):
        picture = picture_of(name, study)
        heads, rows = read(picture)
        assert picture.x is not None
        assert heads[1] == f"{picture.x.label} [{picture.x.unit}]"
        told = [(row[0], float(row[1]), float(row[2])) for row in rows if row[2]]
        assert told == [(series.name, near(x), near(y)) for series in picture.series for x, y in series.points if y is not None]


def test_bands_come_back(settled: Study) -> None:
    picture = picture_of("receptance", settled)
    heads, rows = read(picture)
    assert heads[-2:] == ["5 %", "95 %"]
    told = {(row[0], float(row[1])): (float(row[3]), float(row[4])) for row in rows if row[3]}
    wanted = {(series.name, near(x)): (near(low), near(high)) for series in picture.series for x, low, high in series.band}
    assert told == wanted


def test_a_map_comes_back_place_by_place(study: Study) -> None:
    picture = picture_of("stiffness-map", study)
    grid = picture.map
    assert grid is not None
    heads, rows = read(picture)
    assert heads[2] == f"{picture.title} [{grid.unit}]"
    told = {(float(x), float(y)): value for x, y, value in rows}
    assert len(told) == len(grid.xs) * len(grid.ys)
    for j, y in enumerate(grid.ys):
        for i, x in enumerate(grid.xs):
            value = grid.values[j][i]
            assert told[(near(x), near(y))] == ("" if value is None else f"{value:.7g}")


def test_bars_and_tables_come_back(study: Study) -> None:
    shares = picture_of("shares", study)
    heads, rows = read(shares)
    assert heads == ["part", "share of the give [%]"]
    assert [(label, float(value)) for label, value in rows] == [(bar.label, near(bar.value)) for bar in shares.bars]
    modes = study.results.structure.modes[:12]
    heads, rows = read(picture_of("modes", study))
    assert heads[:4] == ["mode", "frequency [Hz]", "what it is", "damping [%]"]
    assert [heads[k] for k in (4, 5, 6)] == [f"share of the give along {letter} [%]" for letter in "XYZ"]
    told = [[row[2], *(float(row[k]) for k in (0, 1, 3, 4, 5, 6))] for row in rows]
    assert told == [
        [m.name, m.number, *map(near, (m.frequency, 100 * m.damping, *(100 * share for share in m.tip_share)))] for m in modes
    ]


def test_no_number_has_more_digits_than_can_be_read(settled: Study) -> None:
    for name in PICTURES:
        _, rows = read(picture_of(name, settled))
        numbers = [cell for row in rows for cell in row if cell and cell.strip("-+.e0123456789") == ""]
        for cell in numbers:
            digits = cell.lstrip("-").partition("e")[0].replace(".", "").lstrip("0")
            assert len(digits) <= 7, (name, cell)


def test_both_machines_stand_in_the_file(studies: dict[str, Study]) -> None:
    first, second = studies["first-idea"], studies["bench"]
    for name in PICTURES:
        picture = together(name, first, second, ("mine", "theirs"))
        heads, rows = read(picture)
        if picture.kind == "bars":
            assert picture.y is not None
            assert heads == ["part", *(f"{picture.y.label} [{picture.y.unit}], {name}" for name in ("mine", "theirs"))]
        else:
            told = {row[0].rpartition(", ")[2] for row in rows}
            assert told == {"mine", "theirs"}


@pytest.mark.parametrize("name", ["=1+1", "+x", "-x", "@x"])
def test_a_name_that_a_spreadsheet_would_run_is_kept_as_text(name: str, study: Study) -> None:
    picture = replace(picture_of("shares", study), bars=(Bar(name, 1.0, "1 %"),))
    assert read(picture)[1] == [[f"'{name}", "1"]]


def test_an_empty_picture_is_a_heading_alone(bare: Study) -> None:
    for name in PICTURES:
        heads, rows = read(picture_of(name, bare))
        assert heads
        assert rows == []

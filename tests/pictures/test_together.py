"""Two machines in one picture: one scale, one set of units, nothing of either lost."""

from dataclasses import replace

import pytest

from gantrywright.pictures import PICTURES, picture_of, together
from gantrywright.study.study import Study

NAMES = ("mine", "theirs")


@pytest.fixture(scope="module")
def both(studies: dict[str, Study]) -> tuple[Study, Study]:
    """A metric machine and an inch machine."""
    return studies["first-idea"], studies["bench"]


def test_lines_of_both_are_there_in_the_units_of_the_first(both: tuple[Study, Study]) -> None:
    for name in ("block-loads", "force-speed", "receptance"):
        mine, theirs, made = picture_of(name, both[0]), picture_of(name, both[1]), together(name, *both, NAMES)
        assert (made.x, made.y) == (mine.x, mine.y)
        assert made.x
        assert made.y
        assert theirs.x
        assert theirs.y
        assert [s.name for s in made.series] == [
            *(f"{s.name}, mine" for s in mine.series),
            *(f"{s.name}, theirs" for s in theirs.series),
        ]
        assert [s.points for s in made.series[: len(mine.series)]] == [s.points for s in mine.series]
        for line, own in zip(made.series[len(mine.series) :], theirs.series, strict=True):
            for (x, y), (own_x, own_y) in zip(line.points, own.points, strict=True):
                assert x * made.x.si == pytest.approx(own_x * theirs.x.si, rel=1e-9)
                assert (y or 0) * made.y.si == pytest.approx((own_y or 0) * theirs.y.si, rel=1e-9)


def test_machines_differ_by_colour_and_like_lines_share_a_dash(both: tuple[Study, Study]) -> None:
    made = together("force-speed", *both, NAMES)
    for name, tone in zip(NAMES, (0, 1), strict=True):
        assert {s.tone for s in made.series if s.name.endswith(name)} == {tone}
    dashes = {s.name.rpartition(", ")[0]: s.dash for s in made.series}
    assert all(s.dash == dashes[s.name.rpartition(", ")[0]] for s in made.series)
    assert len(set(dashes.values())) == len(dashes)


def test_texts_of_both_are_in_the_units_of_the_first(both: tuple[Study, Study]) -> None:
    made = together("force-speed", *both, NAMES)
    assert [key.label for key in made.key] == [f"{letter} {what}" for letter in "XYZ" for what in ("promised rapid", "wanted")]
    assert all("m/min" in text or "unknown" in text for key in made.key for text in (key.text, key.other))
    other = together("force-speed", both[1], both[0], NAMES)
    assert all("in/min" in text or "unknown" in text for key in other.key for text in (key.text, key.other))
    assert [key.text for key in made.key] == [key.text for key in picture_of("force-speed", both[0]).key]


def test_maps_share_one_scale_and_unit(both: tuple[Study, Study]) -> None:
    made = together("stiffness-map", *both, NAMES)
    theirs = picture_of("stiffness-map", both[1]).map
    assert made.map
    assert made.other
    assert theirs
    assert (made.map.name, made.other.name) == NAMES
    assert (made.map.low, made.map.high, made.map.unit) == (made.other.low, made.other.high, made.other.unit)
    known = [value for grid in (made.map, made.other) for row in grid.values for value in row if value is not None]
    assert (made.map.low, made.map.high) == (min(known), max(known))
    softest = min(value for row in theirs.values for value in row if value is not None) * theirs.si
    assert min(value for row in made.other.values for value in row if value is not None) * made.other.si == pytest.approx(softest)
    assert made.other.worst is not None
    assert made.other.worst.x in made.other.xs
    assert "N/um" in made.other.worst.text


def test_bars_stand_in_pairs_and_none_is_lost(both: tuple[Study, Study]) -> None:
    mine, theirs, made = picture_of("shares", both[0]), picture_of("shares", both[1]), together("shares", *both, NAMES)
    first, second = {bar.label: bar.value for bar in mine.bars}, {bar.label: bar.value for bar in theirs.bars}
    assert {bar.label for bar in made.bars} == set(first) | set(second)
    for bar in made.bars:
        assert bar.value == first.get(bar.label, 0.0)
        assert bar.other == second.get(bar.label)
        assert (bar.text == "–") == (bar.label not in first)
        assert (bar.other_text == "–") == (bar.label not in second)


def test_modes_of_both_stand_in_turn(both: tuple[Study, Study]) -> None:
    made = together("modes", *both, NAMES)
    assert made.columns[0] == "machine"
    assert [row[0] for row in made.rows[:4]] == ["mine", "theirs", "mine", "theirs"]
    for name, study in zip(NAMES, both, strict=True):
        assert [row[1:] for row in made.rows if row[0] == name] == list(picture_of("modes", study).rows)


def test_a_machine_held_against_itself_shows_no_difference(both: tuple[Study, Study]) -> None:
    made = together("shares", both[0], both[0], NAMES)
    assert all(bar.value == bar.other for bar in made.bars)
    lines = together("force-speed", both[0], both[0], NAMES)
    half = len(lines.series) // 2
    assert [s.points for s in lines.series[:half]] == [s.points for s in lines.series[half:]]
    assert len(lines.marks) == len(picture_of("force-speed", both[0]).marks)


@pytest.mark.parametrize("name", PICTURES)
def test_a_machine_without_answers_leaves_those_of_the_other_and_says_why(
    name: str, both: tuple[Study, Study], bare: Study
) -> None:
    for pair, lacking in (((both[1], bare), "theirs"), ((bare, both[1]), "mine")):
        made = together(name, *pair, NAMES)
        assert not made.empty
        assert f"{lacking}: {picture_of(name, bare).words}" in made.words
        if made.kind == "map":
            assert made.map is not None
            assert made.map.name != lacking
            assert made.other is None
    neither = together(name, bare, replace(bare), NAMES)
    assert neither.empty
    assert "mine: " in neither.words
    assert "theirs: " in neither.words

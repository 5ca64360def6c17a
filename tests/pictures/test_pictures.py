"""Every picture against the results that it is drawn from, by another way than the picture takes."""

from dataclasses import replace

import numpy as np
import pytest

from gantrywright.base.errors import NotFound
from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.pictures import PICTURES, Picture, picture_of
from gantrywright.scene import scene_of
from gantrywright.study.posed import posed
from gantrywright.study.promises import promises
from gantrywright.study.study import Study


def promised(study: Study, what: str, subject: str = "machine") -> float:
    return next(p.value for p in promises(study) if p.what == what and p.subject in (subject, "")) or 0.0


def test_every_picture_is_made_and_named_as_it_is_asked_for(study: Study) -> None:
    stages = {"guides", "drives", "cut", "stiffness", "ringing"}
    for name, made in PICTURES.items():
        picture = picture_of(name, study)
        assert (picture.id, made.id) == (name, name)
        assert made.stage in stages
        assert picture.title
        assert picture.words.endswith(".")
        assert not picture.empty
    with pytest.raises(NotFound, match="stiffness-map"):
        picture_of("lobes", study)
    with pytest.raises(NotFound):
        picture_of("modes:frames", study)


@pytest.mark.parametrize("name", PICTURES)
def test_a_picture_of_an_unknown_machine_says_what_is_lacking(name: str, bare: Study) -> None:
    picture = picture_of(name, bare)
    assert picture.empty
    known = {"force-speed": "No axis has a motor", "block-loads": "No axis has guide blocks"}
    expected = "names no job" if name.startswith("cut-") else known.get(name, "what the gantry stands on")
    assert expected in picture.words


class TestShares:
    def test_they_are_the_whole_give_and_sorted(self, study: Study) -> None:
        bars = picture_of("shares", study).bars
        assert sum(bar.value for bar in bars) == pytest.approx(100, abs=0.01)
        values = [bar.value for bar in bars if bar.label != "all others together"]
        assert values == sorted(values, reverse=True)
        assert all(bar.text == f"{bar.value:.1f} %" for bar in bars)

    def test_the_stiffness_beside_them_is_the_promise(self, study: Study) -> None:
        key = picture_of("shares", study).key[0].text
        assert key == show(promised(study, "stiffness at the tool"), "N/m", study.machine.show)

    def test_what_holds_more_gives_more_when_it_is_softened(self, study: Study) -> None:
        """The bars are those of the softest direction: each is the sum of the shares of the parts in its group."""
        tip = study.results.structure.worst
        assert tip is not None
        for bar in picture_of("shares", study).bars[:5]:
            held = sum(typical(share.weakest) for share in tip.shares if share.group == bar.label)
            assert bar.value == pytest.approx(100 * held)

    def test_every_bar_chooses_a_part_that_is_drawn_or_a_joint_of_the_file(self, study: Study) -> None:
        parts = {piece.part for piece in scene_of(study.machine).pieces} | {joint.path for joint in study.machine.joints}
        for bar in picture_of("shares", study).bars:
            if bar.label == "all others together":
                assert bar.part == ""
                continue
            near = {bar.part, bar.part.rpartition(".")[0]}
            assert any(part in near or part.startswith(f"{bar.part}.") for part in parts), bar


class TestStiffnessMap:
    def test_every_place_is_what_the_machine_has_there(self, study: Study) -> None:
        """Each corner, the weak place and one between, against the stiffness at the pose, at whichever height is softest."""
        picture = picture_of("stiffness-map", study)
        grid, found = picture.map, study.results.structure.grid
        assert grid is not None
        assert found is not None
        (x, y), (columns, rows) = grid.axes, (len(grid.xs), len(grid.ys))
        upright = [name for name in found.axes if name not in grid.axes]
        heights = found.places[found.axes.index(upright[0])] if upright else (0.0,)
        for i, j in ((0, 0), (columns - 1, 0), (0, rows - 1), (columns - 1, rows - 1), (1, rows // 2)):
            at = {x: grid.xs[i] * grid.metres, y: grid.ys[j] * grid.metres}
            poses = [posed(study, {**at, **{name: float(height) for name in upright}}) for height in heights]
            over = [pose.least for pose in poses if pose is not None and pose.over_table]
            value = grid.values[j][i]
            if not over:
                assert value is None
                continue
            assert value is not None
            assert value * grid.si == pytest.approx(min(over), rel=1e-3)  # bars are cut into pieces where the pose asks for it

    def test_its_weak_place_is_the_promise(self, study: Study) -> None:
        grid = picture_of("stiffness-map", study).map
        assert grid is not None
        known = [value for row in grid.values for value in row if value is not None]
        assert min(known) * grid.si == pytest.approx(promised(study, "stiffness at the tool"), rel=1e-3)
        worst = grid.worst
        assert worst is not None
        assert grid.values[grid.ys.index(worst.y)][grid.xs.index(worst.x)] == min(known)
        pose = study.results.structure.grid.softest()  # type: ignore[union-attr]
        assert worst.x * grid.metres == pytest.approx(pose[grid.axes[0]])
        assert worst.y * grid.metres == pytest.approx(pose[grid.axes[1]])

    def test_it_runs_over_the_travels(self, study: Study) -> None:
        grid = picture_of("stiffness-map", study).map
        assert grid is not None
        for name, places in zip(grid.axes, (grid.xs, grid.ys), strict=True):
            assert (places[0], places[-1] * grid.metres) == pytest.approx((0.0, study.machine.axis(name).travel))

    def test_the_key_says_each_word_once(self, study: Study) -> None:
        for key in picture_of("stiffness-map", study).key:
            assert key.label not in key.text


class TestModes:
    def test_rows_are_the_modes_from_the_lowest_up(self, study: Study) -> None:
        picture, modes = picture_of("modes", study), study.results.structure.modes
        assert len(picture.rows) == min(12, len(modes))
        told = [float(row[1].removesuffix(" Hz")) for row in picture.rows]
        assert told == sorted(told)
        assert told == pytest.approx([typical(mode.frequency) for mode in modes[:12]], rel=5e-3)
        assert all(len(row) == len(picture.columns) for row in picture.rows)


class TestReceptance:
    def test_at_rest_it_is_the_static_give(self, study: Study) -> None:
        """The lowest frequency lies far below the first mode, so that the answer is that of the springs alone, grown by 1/(1 - r^2)."""
        picture, structure = picture_of("receptance", study), study.results.structure
        tip = structure.worst
        assert picture.y is not None
        assert tip is not None
        ratio = picture.series[0].points[0][0] / typical(structure.modes[0].frequency)
        assert ratio < 0.9
        for k, series in enumerate(picture.series):
            value, still = series.points[0][1], typical(np.asarray(tip.give)[k, k])
            assert value is not None
            grown = value * picture.y.si / float(still)
            assert 0.97 < grown < 1.03 / (1 - ratio**2)

    def test_marks_stand_on_the_lines_at_their_tops(self, study: Study) -> None:
        picture = picture_of("receptance", study)
        for series, mark in zip(picture.series, picture.marks, strict=True):
            top = max((point for point in series.points if point[1] is not None), key=lambda point: point[1] or 0.0)
            assert mark.y == pytest.approx(top[1], rel=0.02)
            assert mark.x == pytest.approx(top[0], rel=0.02)
            assert mark.text.startswith(series.name)

    def test_the_band_is_there_once_the_spread_is_known_and_lies_in_order(self, study: Study, settled: Study) -> None:
        assert all(not series.band for series in picture_of("receptance", study).series)
        for series in picture_of("receptance", settled).series:
            assert len(series.band) > 50
            assert all(0 < low <= high for _, low, high in series.band)


class TestForceAgainstSpeed:
    def test_the_lines_are_the_envelopes(self, study: Study) -> None:
        picture = picture_of("force-speed", study)
        assert picture.x is not None
        assert picture.y is not None
        for series in picture.series:
            envelope = study.results.motion.axes[series.name.lower()].envelope
            assert envelope is not None
            for speed, force in series.points[:: max(1, len(series.points) // 7)]:
                wanted = np.interp(speed * picture.x.si, envelope.speed, envelope.thrust)
                assert (force or 0.0) * picture.y.si == pytest.approx(float(wanted), rel=1e-9)
            assert all((force or 0.0) > 0 for _, force in series.points)

    def test_every_axis_with_a_motor_has_its_line_wanted_point_and_promise(self, study: Study) -> None:
        picture = picture_of("force-speed", study)
        assert picture.x is not None
        assert picture.y is not None
        wanted = {
            letter: mark
            for mark in picture.marks
            if mark.text.endswith(" wanted")
            for letter in mark.text.removesuffix(" wanted").split(", ")
        }
        for axis in study.machine.axes:
            mark = wanted[axis.name.upper()]
            assert mark.x * picture.x.si == pytest.approx(typical(axis.rapid))
            needed = typical(study.results.masses.axes[axis.name].mass) * typical(axis.accel) if axis.accel is not None else 0.0
            largest = max(force or 0.0 for series in picture.series for _, force in series.points) * picture.y.si
            assert (
                -1e-9 <= mark.y * picture.y.si - needed <= 0.08 * largest
            )  # a shared mark stands at the highest of those that it joins
            key = next(key for key in picture.key if key.label == f"{axis.name.upper()} promised rapid")
            meant = next(key for key in picture.key if key.label == f"{axis.name.upper()} wanted").text
            assert meant.startswith(f"rapid of {show(typical(axis.rapid), 'm/s', study.machine.show)}, ")
            assert axis.accel is None or f"{show(needed, 'N', study.machine.show)} accelerate " in meant
            assert key.text.startswith(show(promised(study, "rapid", f"axis.{axis.name}"), "m/s", study.machine.show))

    def test_marks_that_would_cover_each_other_are_joined(self, study: Study) -> None:
        picture = picture_of("force-speed", study)
        top = max(force or 0.0 for series in picture.series for _, force in series.points)
        wanted = [mark for mark in picture.marks if mark.text.endswith(" wanted")]
        for mark in wanted:
            near = [other for other in wanted if other.x == mark.x and abs(other.y - mark.y) < 0.04 * top]
            assert near == [mark]


class TestBlockLoads:
    def test_every_mark_is_the_top_of_a_line_and_told_in_the_key(self, study: Study) -> None:
        picture = picture_of("block-loads", study)
        assert len(picture.series) == len(picture.marks) == len(picture.key)
        for series, mark in zip(picture.series, picture.marks, strict=True):
            assert mark.y == max(force for _, force in series.points if force is not None)
            assert (mark.x, mark.y) in series.points

    def test_the_loads_do_not_exceed_what_the_static_safety_leaves(self, study: Study) -> None:
        """Static rating over safety is the worst load of the checks, misalignment included: the line can only lie below."""
        picture = picture_of("block-loads", study)
        assert picture.y is not None
        for series, key in zip(picture.series, picture.key, strict=True):
            axis = next(axis for axis in study.machine.axes if series.name.startswith(f"{axis.name.upper()} "))
            block = next(block for block in axis.blocks if block.path == key.label)
            safety = study.results.guides.blocks[block.path].static_safety
            rating = block.part.static if block.part is not None else None
            if safety is None or rating is None:
                continue
            most = max(force or 0.0 for _, force in series.points) * picture.y.si
            assert most <= 1.001 * typical(rating.force) / typical(safety)
            assert most > 0

    def test_the_line_runs_over_the_whole_travel(self, study: Study) -> None:
        picture = picture_of("block-loads", study)
        assert picture.x is not None
        for series in picture.series:
            along = study.machine.axis(series.name[-1].lower())
            assert series.points[0][0] == 0
            assert series.points[-1][0] * picture.x.si == pytest.approx(along.travel)


def test_an_inch_machine_is_told_in_its_own_units_with_the_same_values(studies: dict[str, Study]) -> None:
    metric = studies["first-idea"]
    inch = replace(metric, machine=replace(metric.machine, show="inch"))
    for name in PICTURES:
        a, b = picture_of(name, metric), picture_of(name, inch)
        assert _in_si(a) == pytest.approx(_in_si(b), rel=1e-9)
    picture = picture_of("force-speed", inch)
    assert picture.x is not None
    assert picture.y is not None
    assert (picture.x.unit, picture.y.unit) == ("in/min", "lbf")


def _in_si(picture: Picture) -> list[float]:
    across, up = (of.si if of else 1.0 for of in (picture.x, picture.y))
    told = [value for series in picture.series for x, y in series.points if y is not None for value in (across * x, up * y)]
    if picture.map is not None:
        told += [x * picture.map.metres for x in picture.map.xs]
        told += [value * picture.map.si for row in picture.map.values for value in row if value is not None]
    return [*told, *(up * bar.value for bar in picture.bars)]

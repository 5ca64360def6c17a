"""The pictures of the cut against the answers that they are drawn from, by another way than the pictures take."""

import csv
import io
import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest

from gantrywright.base.samples import typical
from gantrywright.pictures import Picture, csv_of, picture_of, svg_of, together
from gantrywright.results.jobs import JobAnswer, JobsResult
from gantrywright.study.study import Study


def answers(study: Study) -> list[JobAnswer]:
    return list(study.results.jobs.jobs.values())


def line(picture: Picture, name: str) -> list[tuple[float, float | None]]:
    return next(list(series.points) for series in picture.series if series.name == name)


def figure(study: Study, path: str) -> float:
    return typical(study.results.ledger[path].value)


def with_jobs(study: Study, *told: JobAnswer) -> Study:
    return replace(study, results=replace(study.results, jobs=JobsResult({answer.job: answer for answer in told})))


def test_every_job_has_its_own_and_without_a_name_it_is_the_first(study: Study) -> None:
    names = [answer.job for answer in answers(study)]
    for name in ("cut-limits", "cut-forces", "cut-wall", "cut-lobes", "cut-swing"):
        drawn = [picture_of(f"{name}:{job}", study) for job in names]
        assert [picture.of for picture in drawn] == names
        assert all(picture.id == name and picture.title.endswith(f": {picture.of}") for picture in drawn)
        assert picture_of(name, study) == drawn[0]
    assert picture_of("cut-wall:nobody", study).words == "There is no job nobody."


class TestLimits:
    def test_each_bar_is_a_removal_rate_and_the_lowest_binds(self, study: Study) -> None:
        for answer in answers(study):
            picture = picture_of(f"cut-limits:{answer.job}", study)
            assert picture.y is not None
            assert picture.y.log
            rates = [bar.value * picture.y.si for bar in picture.bars]
            assert rates == sorted(rates)
            known = {limit.id: limit for limit in answer.limits if limit.ceiling is not None}
            assert rates == pytest.approx(sorted(figure(study, f"job.{answer.job}.ceiling.{id}") for id in known))
            first = "lowest of those known" if answer.unknown else "binds"
            assert [bar.text.endswith(f", {first}") for bar in picture.bars] == [True] + [False] * (len(rates) - 1)
            own = picture.marks[0].x * picture.y.si
            assert own == pytest.approx(typical(answer.removal or 0.0))
            for bar, rate in zip(picture.bars, rates, strict=True):
                assert ("exceeded" in bar.text) == (rate < own * (1 - 1e-9)), bar

    def test_what_is_unknown_is_told_and_not_drawn(self, study: Study) -> None:
        for answer in answers(study):
            unknown = tuple(replace(limit, ceiling=None, value=None, limit=None, missing="a scale") for limit in answer.limits[:2])
            other = with_jobs(study, replace(answer, limits=(*answer.limits[2:], *unknown)))
            picture = picture_of("cut-limits", other)
            told = [key for key in picture.key if key.label.startswith("unknown: ")]
            assert [key.text for key in told][-2:] == ["a scale", "a scale"]
            assert len(picture.bars) == sum(limit.ceiling is not None for limit in answer.limits[2:])

    def test_the_job_stands_in_the_file_too(self, study: Study) -> None:
        picture = picture_of("cut-limits", study)
        rows = list(csv.reader(io.StringIO(csv_of(picture).removeprefix("\ufeff"))))[1:]
        assert rows[-1][0] == picture.marks[0].text
        assert float(rows[-1][1]) == pytest.approx(picture.marks[0].x)

    def test_bars_of_a_drawing_grow_with_the_logarithm_and_the_line_stands_at_the_job(self, study: Study) -> None:
        picture = picture_of("cut-limits", study)
        root = ET.fromstring(svg_of(picture))
        wide = [
            float(rect.get("width", "")) for rect in root.iter("{http://www.w3.org/2000/svg}rect") if rect.get("height") == "16"
        ]
        values = [bar.value for bar in picture.bars]
        per = (wide[-1] - wide[0]) / math.log10(values[-1] / values[0])
        grown = [wide[0] + per * math.log10(value / values[0]) for value in values]
        assert wide == pytest.approx(grown, abs=0.11)
        dashed = next(
            path.get("d", "") for path in root.iter("{http://www.w3.org/2000/svg}path") if path.get("stroke-dasharray") == "5 3"
        )
        found = re.match(r"M([\d.]+) ", dashed)
        assert found is not None
        assert float(found[1]) - 310 == pytest.approx(wide[0] + per * math.log10(picture.marks[0].x / values[0]), abs=0.2)


class TestForces:
    def test_the_greatest_in_the_plane_and_the_mean_torque_are_those_of_the_job(self, study: Study) -> None:
        for answer in answers(study):
            picture = picture_of(f"cut-forces:{answer.job}", study)
            assert picture.y is not None
            x, y, torque = (np.array([value for _, value in line(picture, name)]) for name in ("along the feed", "to the left of the feed", "torque over the radius"))  # fmt: skip
            peak = float(np.hypot(x, y).max()) * picture.y.si
            assert peak == pytest.approx(figure(study, f"job.{answer.job}.peak_in_plane"), rel=0.03)
            job = next(each for each in study.machine.jobs if each.name == answer.job)
            mean = float(torque[:-1].mean()) * picture.y.si * typical(job.cutter.diameter) / 2
            assert mean == pytest.approx(figure(study, f"job.{answer.job}.torque"), rel=0.12)

    def test_a_turn_closes(self, study: Study) -> None:
        for series in picture_of("cut-forces", study).series:
            assert (series.points[0][0], series.points[-1][0]) == (0.0, 360.0)
            assert series.points[0][1] == series.points[-1][1]


class TestLobes:
    def test_what_is_recommended_is_seven_tenths_and_doubt_takes_more(self, study: Study) -> None:
        for answer in answers(study):
            picture = picture_of(f"cut-lobes:{answer.job}", study)
            limit, held = dict(line(picture, "begins to chatter")), dict(line(picture, "0.7 of it, recommended"))
            doubt = dict(line(picture, "if frequencies are 4 % off"))
            drawn = [(x, y) for x, y in limit.items() if y is not None]
            assert drawn
            for x, y in drawn:
                assert held[x] == pytest.approx(0.7 * y)
                assert (doubt[x] or 0.0) <= y * (1 + 1e-6)

    def test_the_job_stands_at_its_depth_and_speed(self, study: Study) -> None:
        for job in study.machine.jobs:
            picture = picture_of(f"cut-lobes:{job.name}", study)
            assert picture.x is not None
            assert picture.y is not None
            own = picture.marks[0]
            assert (own.x * picture.x.si, own.y * picture.y.si) == pytest.approx((typical(job.speed), typical(job.depth)))

    def test_until_it_is_worked_out_it_says_so(self, study: Study) -> None:
        pending = with_jobs(study, replace(answers(study)[0], lobes=None, pending=True))
        for name in ("cut-lobes", "cut-swing"):
            picture = picture_of(name, pending)
            assert picture.empty
            assert "worked out with the spread" in picture.words

    def test_a_job_that_never_chatters_is_told_in_words(self, study: Study) -> None:
        answer = answers(study)[0]
        assert answer.lobes is not None
        endless = np.full_like(answer.lobes.depth, np.inf)
        never = replace(answer, lobes=replace(answer.lobes, depth=endless, worst=endless, best_depth=None))
        picture = picture_of("cut-lobes", with_jobs(study, never))
        assert picture.empty
        assert picture.words.startswith("It does not chatter at depths up to")


class TestWall:
    def test_the_farthest_point_is_the_worst_wall(self, study: Study) -> None:
        for answer in answers(study):
            picture = picture_of(f"cut-wall:{answer.job}", study)
            assert picture.y is not None
            assert answer.wall is not None
            lines = [series for series in picture.series if series.name.startswith("feed ")]
            worst = max((y for series in lines for _, y in series.points if y is not None), key=abs)
            assert worst * picture.y.si == pytest.approx(typical(answer.wall.worst), rel=1e-6)
            assert picture.marks[0].y == pytest.approx(worst)

    @pytest.mark.parametrize(("times", "drawn"), [(2.0, True), (30.0, False)])
    def test_a_tolerance_is_drawn_where_it_is_near(self, study: Study, times: float, drawn: bool) -> None:
        answer = answers(study)[0]
        assert answer.wall is not None
        limit = times * abs(typical(answer.wall.worst))
        other = replace(study, machine=replace(study.machine, purpose=replace(study.machine.purpose, accuracy=limit)))
        picture = picture_of("cut-wall", other)
        assert picture.y is not None
        ends = {y for series in picture.series if series.name.startswith("wanted") for _, y in series.points if y is not None}
        assert sorted(end * picture.y.si for end in ends) == (pytest.approx([-limit, limit]) if drawn else [])
        assert ("lies outside of the picture" in picture.words) is not drawn


def test_swinging_is_that_of_the_job_at_its_speed(study: Study) -> None:
    for answer in answers(study):
        picture = picture_of(f"cut-swing:{answer.job}", study)
        assert answer.lobes is not None
        assert picture.y is not None
        points = line(picture, "off the wall")
        assert [y * picture.y.si for _, y in points if y is not None] == pytest.approx(list(answer.lobes.error))


class TestTwoMachines:
    def test_bars_rise_with_the_lesser_of_both_and_each_job_has_its_line(self, studies: dict[str, Study]) -> None:
        first, second = studies["first-idea"], studies["bench"]
        job = next(name for name in first.results.jobs.jobs)
        renamed = {job: replace(answers(second)[0], job=job)}
        second = replace(second, results=replace(second.results, jobs=JobsResult(renamed)), machine=replace(second.machine, jobs=(replace(second.machine.jobs[0], name=job),)))  # fmt: skip
        picture = together(f"cut-limits:{job}", first, second, ("mine", "theirs"))
        least = [min(value for value in (bar.value, bar.other) if value) for bar in picture.bars]
        assert least == sorted(least)
        assert [mark.text.rpartition(", ")[2] for mark in picture.marks] == ["mine", "theirs"]
        mine, theirs = picture_of(f"cut-limits:{job}", first), picture_of(f"cut-limits:{job}", second)
        assert picture.y is not None
        assert theirs.y is not None
        assert picture.marks[1].x * picture.y.si == pytest.approx(theirs.marks[0].x * theirs.y.si)
        assert {bar.label for bar in picture.bars} == {bar.label for bar in (*mine.bars, *theirs.bars)}

    def test_a_job_that_the_other_lacks_is_told(self, studies: dict[str, Study]) -> None:
        job = next(name for name in studies["bench"].results.jobs.jobs)
        picture = together(f"cut-forces:{job}", studies["bench"], studies["first-idea"], ("mine", "theirs"))
        assert not picture.empty
        assert f"theirs: There is no job {job}." in picture.words


def test_bands_stand_in_the_words(settled: Study) -> None:
    job = answers(settled)[0].job
    picture = picture_of(f"cut-limits:{job}", settled)
    assert any(re.search(r"\(\d.*\.\..*\d\)", bar.text) for bar in picture.bars)
    wall = picture_of(f"cut-wall:{job}", settled)
    assert ".." in wall.key[0].text

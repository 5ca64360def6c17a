"""Pictures of a second opinion, against the opinion that they are drawn from."""

import numpy as np
import pytest

from gantrywright.base.samples import typical
from gantrywright.board.second import second_told
from gantrywright.pictures.cut_second import second_pictures
from gantrywright.pictures.svg import svg_of
from gantrywright.results.jobs import Second
from gantrywright.study.study import Study


def opinion(study: Study) -> Second:
    """One as the delay method would give it; what it says does not matter here."""
    job = study.machine.jobs[0]
    speeds = np.linspace(0.9, 1.1, 5) * typical(job.speed)
    depth = np.array([3e-3, np.inf, 4e-3, 5e-3, 2e-3])
    wall = (np.array([0.0, 2e-4, 1e-4]), np.array([1e-6, 3e-6, -2e-6]))
    return Second(job.name, speeds, depth, 1.1 * depth, 4e-3, 3.5e-3, "along X", "climb", 0.9, 1e-5, 1e-6, wall)


def test_both_methods_stand_over_the_same_speeds_with_the_job_among_them(study: Study) -> None:
    found = opinion(study)
    depths, _ = second_pictures(study, found)
    assert depths.x is not None
    assert depths.y is not None
    delay, first = depths.series
    assert [None if y is None else y * depths.y.si for _, y in delay.points] == [
        pytest.approx(3e-3),
        None,
        pytest.approx(4e-3),
        pytest.approx(5e-3),
        pytest.approx(2e-3),
    ]
    assert [x * depths.x.si for x, _ in delay.points] == pytest.approx(list(found.speeds))
    assert min(x for x, _ in delay.points) <= first.points[0][0] <= first.points[-1][0] <= max(x for x, _ in delay.points)
    job = study.machine.jobs[0]
    assert (depths.marks[0].x * depths.x.si, depths.marks[0].y * depths.y.si) == pytest.approx(
        (typical(job.speed), typical(job.depth))
    )
    assert svg_of(depths).count("<circle") == 5  # four known limits, and the job


def test_the_wall_runs_along_the_feed(study: Study) -> None:
    found = opinion(study)
    wall = second_pictures(study, found)[1]
    assert wall.x is not None
    assert wall.y is not None
    told = [(x * wall.x.si, (y or 0.0) * wall.y.si) for x, y in wall.series[0].points]
    assert [x for x, _ in told] == pytest.approx([0.0, 1e-4, 2e-4])
    assert [y for _, y in told] == pytest.approx([1e-6, -2e-6, 3e-6])


def test_the_page_is_told_in_sentences_and_pictures_by_job(study: Study) -> None:
    found = opinion(study)
    told = second_told(study, {found.job: found})
    assert list(told) == [found.job]
    assert any("does not chatter" in words for words in told[found.job]["words"])
    assert [picture["id"] for picture in told[found.job]["pictures"]] == ["cut-second", "cut-left"]

"""How far walls come off, in words."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.board.cuts import cuts
from gantrywright.board.views import promised
from gantrywright.findings import Finding
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.results.jobs import JobAnswer
from gantrywright.study import job_words
from gantrywright.study.promises import promises
from gantrywright.study.study import Study, run, settle
from gantrywright.study.wall_words import Off, offs, swung, wanted

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


@pytest.fixture(scope="module")
def study() -> Study:
    once_more = again(read_document(DEMO / "as-built.toml"))
    return settle(run(once_more({}, ())), once_more, count=48)


def swinging(study: Study, answer: JobAnswer) -> Off:
    return next(off for off in offs(study, answer) if off.what == "wall, swinging")


def with_error(answer: JobAnswer, error: float) -> JobAnswer:
    assert answer.lobes is not None
    return replace(answer, lobes=replace(answer.lobes, error=np.full_like(answer.lobes.speeds, error)))


def test_what_swinging_leaves_is_told_at_the_speed_of_the_job_beside_what_bending_does(study: Study) -> None:
    answer = study.results.jobs.jobs["fittings"]
    job = job_words.job_of(study, answer)
    assert answer.lobes is not None
    assert answer.wall is not None
    at = float(np.interp(typical(job.speed), answer.lobes.speeds, answer.lobes.error))
    assert swung(study, answer) == pytest.approx(at)
    assert swinging(study, answer).text == show(at, "m", study.machine.show)
    still = abs(typical(answer.wall.worst))
    assert f"smaller than the {show(still, 'm')}" in swinging(study, with_error(answer, 0.5 * still)).way
    assert f"larger than the {show(still, 'm')}" in swinging(study, with_error(answer, 1.5 * still)).way
    assert study.machine.purpose.accuracy is not None
    assert "more than is wanted" in swinging(study, with_error(answer, 2 * typical(study.machine.purpose.accuracy))).way


def test_what_was_not_worked_out_is_not_told(study: Study) -> None:
    answer = replace(study.results.jobs.jobs["fittings"], lobes=None)
    assert swung(study, answer) is None
    assert [off.what for off in offs(study, answer)] == ["wall, climb", "wall, conventional", "bottom"]


def test_one_wall_has_one_band_on_every_face(study: Study) -> None:
    found: dict[str, Finding] = {each.subject: each for each in study.findings if each.id == "CUT-201"}
    for name, answer in study.results.jobs.jobs.items():
        assert answer.wall is not None
        report = next(off for off in offs(study, answer) if off.what == f"wall, {answer.wall.way}").text
        stage = next(one for one in cuts(study)["jobs"] if one["name"] == name)["walls"]
        promise = next(p for p in promised(study, None, {}) if (p["subject"], p["what"]) == (f"job.{name}", "wall error"))
        band = report.partition("(")[2].rstrip(")")
        assert ".." in band
        assert report in {wall["text"] for wall in stage}
        assert promise["band"] == band
        judged = found[f"job.{name}"]
        assert (judged.low, judged.high) == pytest.approx(study.bands[f"job.{name}.wall"])


def test_walls_are_told_where_no_accuracy_is_wanted(study: Study) -> None:
    bare = replace(study, machine=replace(study.machine, purpose=replace(study.machine.purpose, accuracy=None)))
    answer = bare.results.jobs.jobs["fittings"]
    assert wanted(study).startswith("wanted 0.3 mm")
    assert "nothing wanted: purpose.accuracy is not told" in job_words.verdict(bare, answer)
    assert "nothing wanted" not in job_words.verdict(study, answer)
    assert [off.text for off in offs(bare, answer)] == [off.text for off in offs(study, answer)]
    told = next(one for one in cuts(bare)["jobs"] if one["name"] == "fittings")["walls"]
    assert told[-1]["text"] == "nothing wanted: purpose.accuracy is not told"
    made = next(p for p in promises(bare) if (p.subject, p.what) == ("job.fittings", "wall error"))
    assert made.value is not None
    assert made.wanted is None
    assert made.place.endswith("nothing wanted: purpose.accuracy is not told")

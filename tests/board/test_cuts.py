"""What the board tells of the jobs, and taking the settings that the machine can hold."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from gantrywright.base.quantities import parse
from gantrywright.board.cuts import cuts
from gantrywright.board.office import Office
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again, resolve
from gantrywright.pictures import PICTURES
from gantrywright.results.jobs import Runs
from gantrywright.study.advised import settings_beside
from gantrywright.study.parcel import packed
from gantrywright.study.study import Study, run, settle, simulated

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


@pytest.fixture(scope="module")
def study() -> Study:
    once_more = again(read_document(DEMO / "as-built.toml"))
    return settle(run(once_more({}, ())), once_more, count=64)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "router.toml").write_text((DEMO / "as-built.toml").read_text())
    (tmp_path / "first-idea.toml").write_text((DEMO / "first-idea.toml").read_text())
    return tmp_path


def job(told: Any, name: str) -> Any:
    return next(one for one in told["jobs"] if one["name"] == name)


def settled(office: Office) -> None:
    """As the process that settles would send it."""
    sheet = office.desk.sheet
    assert sheet.study is not None
    once_more = again(read_document(office.desk.path))
    office._settled(sheet.answers, "settled", packed(settle(sheet.study, once_more, count=48)))


def test_every_job_is_told_with_its_limits_from_the_lowest_up(study: Study) -> None:
    told = cuts(study)
    assert [one["name"] for one in told["jobs"]] == [each.name for each in study.machine.jobs]
    for one in told["jobs"]:
        answer = study.results.jobs.jobs[one["name"]]
        assert one["runs"] == answer.runs
        assert [limit["id"] for limit in one["limits"]] == [limit.id for limit in answer.limits]
        assert (one["binds"], one["next"]) == tuple(one["limits"][:2])
        assert all(limit["figure"] in study.results.ledger for limit in one["limits"] if limit["ceiling"] != "unknown")
        assert ".." in one["binds"]["ceiling"]  # its band
        worked = [wall for wall in one["walls"] if wall["figure"]]
        assert sorted(wall["what"] for wall in worked) == ["bottom", "wall, climb", "wall, conventional"]
        assert {wall["figure"] for wall in worked} <= {figure.path for figure in study.results.ledger}
        assert all(".." in wall["text"] for wall in worked)
        assert [wall["what"] for wall in one["walls"] if not wall["figure"]] == ["wall, swinging", "accuracy"]
    assert {name for caution in told["cautions"] for name in caution["jobs"]} == {one["name"] for one in told["jobs"]}
    assert all(caution["sources"] for caution in told["cautions"])


def test_a_job_without_what_its_forces_take_says_so(study: Study) -> None:
    first = study.results.jobs.jobs["fittings"]
    lacking = type(first)("fittings", None, missing="a shear force of glass")
    results = type(study.results.jobs)({"fittings": lacking})
    one = cuts(replace(study, results=replace(study.results, jobs=results)))["jobs"][0]
    assert (one["runs"], one["binds"], one["settings"], one["edits"], one["walls"]) == ("unknown", None, [], [], [])
    assert "a shear force of glass" in one["verdict"]


def test_advice_is_told_with_reasons_and_its_edits_make_a_job_that_keeps_every_limit(study: Study) -> None:
    once_more = again(read_document(DEMO / "as-built.toml"))
    answer = study.results.jobs.jobs["fittings"]
    assert answer.runs is Runs.IF
    rows, edits = settings_beside(study, answer)
    assert {path for path, _ in edits} == {row.path for row in rows if row.advised != row.file}
    assert all(row.reason for row in rows)
    taken = simulated(run(once_more({}, edits)))
    found = taken.results.jobs.jobs["fittings"]
    assert not [limit.words for limit in found.limits if limit.exceeded]
    before, after = (next(each for each in one.machine.jobs if each.name == "fittings") for one in (study, taken))
    assert float(after.depth) * after.passes == pytest.approx(float(before.depth) * before.passes, rel=0.05)
    texts = dict(edits)
    assert float(after.speed) == pytest.approx(float(parse(texts["job.fittings.speed"], "turn-speed").value))


def test_a_setting_that_only_rounds_otherwise_stays_as_it_is_written() -> None:
    """A depth of 3/16 in is no 0.19 in."""
    bench = simulated(run(resolve(read_document(DEMO / "bench.toml"))))
    answer = bench.results.jobs.jobs["box-sides"]
    wanted = next(each for each in bench.machine.jobs if each.name == "box-sides")
    assert answer.advice is not None
    assert answer.advice.depth == pytest.approx(float(wanted.depth))
    rows, edits = settings_beside(bench, answer)
    depth = next(row for row in rows if row.what == "depth of a pass")
    assert (depth.file, depth.advised) == ("0.188 in", "0.188 in")
    assert {path for path, _ in edits} == {"job.box-sides.feed", "job.box-sides.speed"}


def test_nothing_is_left_to_take_once_the_file_has_it(study: Study) -> None:
    once_more = again(read_document(DEMO / "as-built.toml"))
    answer = study.results.jobs.jobs["fittings"]
    _, edits = settings_beside(study, answer)
    machine = once_more({}, edits)
    assert settings_beside(replace(study, machine=machine), answer)[1] == ()


def test_the_address_tells_so_far_and_then_whole(client: TestClient, office: Office) -> None:
    told = client.get("/api/cuts").json()
    assert told["settled"] is False
    assert all(one["pending"] and one["edits"] == [] for one in told["jobs"])
    assert all(one["runs"] != "does not" for one in told["jobs"])
    assert "worked out with the spread" in job(told, "fittings")["chatter"][0]
    settled(office)
    assert (
        client.get("/api/state").json()["settled"]["samples"] == 48
    )  # by this the page knows bands of few samples from those of all
    told = client.get("/api/cuts").json()
    assert told["settled"] is True
    assert job(told, "fittings")["runs"] == "runs if"
    assert len(job(told, "fittings")["edits"]) > 1


def test_all_advised_settings_are_one_step(client: TestClient, office: Office, folder: Path) -> None:
    settled(office)
    before = (folder / "router.toml").read_text()
    one = job(client.get("/api/cuts").json(), "fittings")
    made = client.post("/api/edit", json={"edits": one["edits"], "label": "fittings: advised settings"}).json()
    assert made["undo"] == "fittings: advised settings"
    machine = resolve(read_document(folder / "router.toml"))
    after = next(each for each in machine.jobs if each.name == "fittings")
    assert str(after.passes) == dict(one["edits"])["job.fittings.passes"]
    assert [limit["words"] for limit in job(client.get("/api/cuts").json(), "fittings")["limits"] if limit["exceeded"]] == []
    client.post("/api/undo")
    assert (folder / "router.toml").read_text() == before


def test_pictures_of_a_job_are_asked_for_by_its_name(client: TestClient, office: Office) -> None:
    rows = {row["id"]: row for row in client.get("/api/pictures").json()}
    assert [row["id"] for row in rows.values() if row["of_job"]] == [name for name in PICTURES if name.startswith("cut-")]
    assert "worked out with the spread" in client.get("/api/picture/cut-lobes:frames").json()["words"]
    settled(office)
    for name in (row["id"] for row in rows.values() if row["of_job"]):
        told = client.get(f"/api/picture/{name}%3Afittings").json()
        assert (told["id"], told["of"]) == (name, "fittings")
        assert told["series"] or told["bars"]
        for form in ("svg", "csv"):
            saved = client.get(f"/api/picture/{name}%3Afittings.{form}")
            assert saved.headers["content-disposition"] == f'attachment; filename="{name}-fittings.{form}"'
    assert client.get("/api/picture/modes:frames").status_code == 404
    assert client.get("/api/picture/cut-lobes:nobody").json()["words"] == "There is no job nobody."


def test_two_machines_are_compared_in_the_jobs_that_both_are_for(client: TestClient) -> None:
    told = client.get("/api/compare", params={"with": "file:first-idea.toml"}).json()
    jobs = [name for name in told["pictures"] if name.startswith("cut-limits")]
    assert jobs
    assert all(":" in name for name in jobs)
    both = client.get(f"/api/compare/picture/{jobs[0]}", params={"with": "file:first-idea.toml"}).json()
    assert len(both["names"]) == 2
    assert all(bar["other"] for bar in both["bars"][:3])

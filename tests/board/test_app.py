"""The board's addresses: every one, bad input, conflicts."""

from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from gantrywright.base.errors import Unwritable
from gantrywright.board.office import Office
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.study.study import run, settle, simulated


def state(client: TestClient) -> dict[str, Any]:
    answer = client.get("/api/state")
    assert answer.status_code == 200
    return answer.json()  # type: ignore[no-any-return]


def test_state_tells_everything_that_the_page_shows(client: TestClient) -> None:
    told = state(client)
    assert told["file"]["name"] == "router.toml"
    assert told["problems"] == []
    assert told["settled"]["state"] == "pending"
    assert told["verdict"]["ok"] > 50
    labels = {p["label"] for p in told["promises"]}
    assert {
        "X rapid",
        "Z acceleration",
        "stiffness at the tool",
        "mass",
        "cost",
        "neck-pocket wall error",
        "neck-pocket runs",
    } <= labels
    assert all(p["text"] for p in told["promises"])
    assert len(told["findings"]) == sum(told["verdict"][s] for s in ("fail", "broken", "unknown", "watch", "ok"))
    assert [stage["id"] for stage in told["stages"]] == [
        "work", "frame", "guides", "drives", "spindle", "cut", "power", "stiffness", "ringing", "findings", "compare",
    ]  # fmt: skip
    for stage in told["stages"]:
        listed = [f for f in told["findings"] if stage["id"] in (f["stage"], "findings")]
        assert stage["count"] == {status: sum(f["status"] == status for f in listed) for status in ("fail", "watch", "unknown")}
    assert {f["stage"] for f in told["findings"]} <= {stage["id"] for stage in told["stages"]} - {"findings", "compare"}
    assert set(told["title"]) >= {"title", "document_type", "owner", "identification", "revision", "date_of_issue"}


def test_a_change_is_one_write_one_step_and_comes_back(client: TestClient, folder: Path) -> None:
    before = (folder / "router.toml").read_text()
    made = client.post("/api/edit", json={"edits": [["purpose.accuracy", "0.07 mm"]], "label": "accuracy 0.07 mm"}).json()
    assert (made["undo"], made["redo"]) == ("accuracy 0.07 mm", None)
    assert 'accuracy = "0.07 mm"' in (folder / "router.toml").read_text()
    undone = client.post("/api/undo").json()
    assert (undone["undo"], undone["redo"]) == (None, "accuracy 0.07 mm")
    assert (folder / "router.toml").read_text() == before
    assert client.post("/api/redo").json()["undo"] == "accuracy 0.07 mm"
    assert client.post("/api/redo").status_code == 409


def test_what_an_axis_lacks_is_told_with_the_axis(client: TestClient) -> None:
    told = client.post("/api/edit", json={"edits": [["axis.x.drive.main", None]]})
    assert told.status_code == 422
    assert told.json()["problems"][0]["path"] == "axis.x"
    assert told.json()["detail"].startswith("lacks a drive: an axis needs at least one; ")


def test_a_part_that_keeps_the_price_of_the_one_before_is_told_once(client: TestClient, folder: Path) -> None:
    before = (folder / "router.toml").read_text()
    made = client.post("/api/edit", json={"edits": [["axis.y.drive.main.part", "ball-screw-2510"]]}).json()
    assert made["told"] == ["210 USD was written for ball-screw-3210, not for ball-screw-2510 (axis.y.drive.main.price)"]
    after = (folder / "router.toml").read_text()
    assert "ball-screw-2510" in after
    assert after.count("210 USD") == before.count("210 USD")  # it stays as it was written
    assert state(client)["told"] == []
    both = [["axis.y.drive.main.part", "ball-screw-3210"], ["axis.y.drive.main.price", "215 USD"]]
    assert client.post("/api/edit", json={"edits": both}).json()["told"] == []


def test_a_preview_tells_what_would_come_and_writes_nothing(client: TestClient, folder: Path) -> None:
    before = (folder / "router.toml").read_text()
    told = client.post("/api/preview", json={"edits": [["axis.x.drive.main.lead_is_no_key", "1 mm"]]}).json()
    assert told["ok"] is False
    assert told["problems"]
    told = client.post("/api/preview", json={"edits": [["axis.x.rapid", "100 in/min"]]}).json()
    assert told["ok"] is True
    wanted = {p["label"]: p["wanted"] for p in told["promises"]}
    assert wanted["X rapid"] == "100 in/min"
    assert (folder / "router.toml").read_text() == before


@pytest.mark.parametrize("text", ["abc", "-5 mm", "3 kg", "1-1/", "0.1"])
def test_wrong_input_is_refused_in_words_and_changes_nothing(client: TestClient, folder: Path, text: str) -> None:
    before, rev = (folder / "router.toml").read_text(), state(client)["rev"]
    answer = client.post("/api/edit", json={"edits": [["purpose.accuracy", text]]})
    assert answer.status_code == 422
    problem = answer.json()["problems"][0]
    assert problem["path"] == "purpose.accuracy"
    assert len(answer.json()["detail"]) > 20
    assert ((folder / "router.toml").read_text(), state(client)["rev"]) == (before, rev)


@pytest.mark.parametrize(
    ("method", "url", "body", "code"),
    [
        ("post", "/api/edit", {"edits": []}, 422),
        ("post", "/api/edit", {"edits": [["a"]]}, 422),
        ("post", "/api/edit", None, 422),
        ("post", "/api/keep", {"name": ""}, 422),
        ("post", "/api/restore", {"id": 99}, 404),
        ("post", "/api/restore", {"id": "step:x"}, 404),
        ("post", "/api/outside", {"choose": "both"}, 404),
        ("post", "/api/open", {}, 404),
        ("post", "/api/open", {"path": "../../etc/passwd"}, 404),
        ("post", "/api/open", {"path": "/etc/passwd"}, 404),
        ("post", "/api/open", {"demo": "../secret"}, 404),
        ("post", "/api/new", {"answers": {}, "folder": "../elsewhere"}, 422),
        ("post", "/api/new", {"answers": {}, "folder": ""}, 422),
        ("post", "/api/jobs", {"kind": "everything"}, 404),
        ("get", "/api/jobs/77", None, 404),
        ("delete", "/api/jobs/77", None, 404),
        ("get", "/api/finding?key=NONE", None, 404),
        ("get", "/api/figure?path=no.such.figure", None, 404),
        ("get", "/api/picture/nothing", None, 404),
        ("get", "/api/picture/shares.exe", None, 404),
        ("get", "/api/tints?by=taste", None, 404),
        ("get", "/api/motion?name=waltz", None, 404),
        ("get", "/api/pose?x=far", None, 404),
        ("get", "/api/compare?with=nothing", None, 404),
        ("get", "/api/compare?with=kept:9", None, 404),
        ("get", "/api/compare?with=file:../x.toml", None, 404),
        ("get", "/api/nowhere", None, 404),
    ],
)
def test_bad_requests_get_a_sentence(client: TestClient, method: str, url: str, body: Any, code: int) -> None:
    answer = client.request(method, url, json=body) if body is not None else client.request(method, url)
    assert answer.status_code == code, answer.text
    assert answer.json()["detail"]


@pytest.mark.parametrize(
    ("url", "body", "code"),
    [
        ("/api/edit", {"edits": [["purpose.rapid", "3 parsecs"]]}, 422),
        ("/api/undo", {}, 409),
        ("/api/restore", {"id": 99}, 404),
        ("/api/new", {"answers": {}, "folder": ""}, 422),
    ],
)
def test_the_page_gets_refusals_as_answers_with_their_code(client: TestClient, url: str, body: Any, code: int) -> None:
    as_error = client.post(url, json=body)
    answered = client.post(url, json=body, headers={"X-Refusals": "answered"})
    assert (as_error.status_code, answered.status_code) == (code, 200)
    assert answered.json() == {**as_error.json(), "refused_with": code}


def test_a_full_disk_stays_an_error(client: TestClient, office: Office, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise Unwritable("no space left")

    monkeypatch.setattr(office, "edit", full)
    answer = client.post("/api/edit", json={"edits": [["purpose.rapid", "3 m/min"]]}, headers={"X-Refusals": "answered"})
    assert (answer.status_code, answer.json()["detail"]) == (507, "no space left")


def test_every_answer_about_the_machine(client: TestClient) -> None:
    told = state(client)
    scene = client.get("/api/scene")
    assert len(scene.json()["pieces"]) > 30
    assert client.get("/api/scene", headers={"If-None-Match": scene.headers["etag"]}).status_code == 304
    for by in ("give", "mass", "owned", "finding"):
        assert len(client.get("/api/tints", params={"by": by}).json()["pieces"]) == len(scene.json()["pieces"])
    pose = client.get("/api/pose", params={"x": 0.1, "y": 0.05}).json()
    assert "lbf/in" in pose["stiffness"]
    motions = client.get("/api/motions").json()
    assert {row["kind"] for row in motions} == {"load", "mode"}
    motion = client.get("/api/motion", params={"name": motions[0]["name"]}).json()
    assert len(motion["pieces"]) == len(scene.json()["pieces"])
    for row in client.get("/api/pictures").json():
        assert client.get(f"/api/picture/{row['id']}").json()["title"]
        assert client.get(f"/api/picture/{row['id']}.svg").text.startswith("<svg")
        assert client.get(f"/api/picture/{row['id']}.csv").headers["content-type"].startswith("text/csv")
    finding = client.get("/api/finding", params={"key": told["findings"][0]["key"]}).json()
    assert finding["why"]
    figures = client.get("/api/figures").json()
    assert len(figures) > 100
    figure = client.get("/api/figure", params={"path": "axis.x.rapid_promise"}).json()
    assert figure["formula"]
    assert figure["inputs"]
    assert client.get("/api/defaults").json()
    group = client.get("/api/fields", params={"path": "purpose"}).json()
    assert {field["path"] for field in group["fields"]} >= {"purpose.work_area", "purpose.accuracy"}
    choices = client.get("/api/choices", params={"path": "axis.z.drive.main.part"}).json()
    assert any(row["name"].startswith("ball-screw") for row in choices)


def test_a_kept_state_is_compared_with_and_brought_back(client: TestClient, folder: Path) -> None:
    kept = client.post("/api/keep", json={"name": "thin", "note": "the cheap one"}).json()["kept"]
    assert kept["name"] == "thin"
    changed = client.post("/api/edit", json={"edits": [["axis.z.drive.main.part", "ball-screw-1610"]]}).json()
    assert any(p["change"] and p["changed"] for p in changed["promises"])
    beside = client.get("/api/compare", params={"with": f"kept:{kept['id']}"}).json()
    assert beside["names"] == ["router.toml", "thin"]
    assert any(row["change"] for row in beside["promises"])
    history = client.get("/api/history").json()
    assert [row["name"] for row in history["kept"]] == ["thin"]
    assert history["steps"][0]["label"].startswith("axis.z.drive.main.part")
    back = client.post("/api/restore", json={"id": kept["id"]}).json()
    assert back["undo"] == "back to thin"
    assert client.post("/api/restore", json={"id": f"step:{history['steps'][0]['id']}"}).status_code == 200


def test_the_states_beside_a_step_are_looked_at_and_brought_back(client: TestClient, folder: Path) -> None:
    file = folder / "router.toml"
    before = file.read_text()
    client.post("/api/edit", json={"edits": [["axis.z.drive.main.part", "ball-screw-1610"]], "label": "another screw"})
    after = file.read_text()
    number = client.get("/api/history").json()["steps"][0]["id"]
    beside = client.get("/api/compare", params={"with": f"before:{number}"}).json()
    assert beside["names"] == ["router.toml", "the state before: another screw"]
    assert any(row["change"] for row in beside["promises"])
    assert not any(row["change"] for row in client.get("/api/compare", params={"with": f"step:{number}"}).json()["promises"])
    assert file.read_text() == after, "looking changes nothing"
    assert client.post("/api/restore", json={"id": f"before:{number}"}).json()["undo"] == "back to the state before: another screw"
    assert file.read_text() == before
    for lost in ("before:99", "step:99", "before:x"):
        assert client.get("/api/compare", params={"with": lost}).status_code == 404


def _kept(client: TestClient) -> str:
    return f"kept:{client.post('/api/keep', json={'name': 'same', 'note': ''}).json()['kept']['id']}"


def _settled(office: Office) -> None:
    """The desk as it stands once the spread has been worked out."""
    desk = office.desk
    assert desk.sheet.study is not None
    resolve_again = again(read_document(desk.path))
    desk.settled(desk.sheet.answers, settle(desk.sheet.study, resolve_again, count=64))


def test_a_settled_machine_does_not_differ_from_itself(client: TestClient, office: Office) -> None:
    which = _kept(client)
    _settled(office)
    assert office.desk.sheet.study is not None
    typical = simulated(run(office.desk.sheet.study.machine))
    spread = {(f.id, f.subject): f.status for f in office.desk.sheet.study.findings}
    assert any(spread[(f.id, f.subject)] != f.status for f in typical.findings)  # the band does change verdicts here
    beside = client.get("/api/compare", params={"with": which}).json()
    assert beside["words"] == "typical values against typical values"
    assert beside["findings"] == {"only_a": [], "only_b": [], "both_judged": [], "both_moved": []}
    assert [row["change"] for row in beside["promises"] if row["change"]] == []


def test_a_verdict_that_changed_is_told_with_its_place_and_both_statuses(client: TestClient, office: Office) -> None:
    which = _kept(client)
    _settled(office)
    client.post("/api/edit", json={"edits": [["axis.x.rapid", "900 m/min"]]})
    beside = client.get("/api/compare", params={"with": which}).json()
    rows = [row for name, group in beside["findings"].items() for row in group if name != "both_moved"]
    assert rows
    for row in rows:
        assert row["id"]
        assert row["subject"].startswith(row["part"])
        assert row["a"] != row["b"]
        before, now = (f"{row[which]}{'' if row[which] == 'not asked' else ' by typical values'}" for which in "ba")
        assert row["words"] == f"before: {before}, now: {now}"
    assert any("axis.x" in row["subject"] and row["status"] == "fail" for row in rows)


def test_what_is_settled_is_told_by_its_settled_status_in_the_comparison_too(client: TestClient, office: Office) -> None:
    which = _kept(client)
    client.post("/api/edit", json={"edits": [["purpose.accuracy", "0.02 mm"], ["axis.x.rapid", "900 m/min"]]})
    _settled(office)
    told = {f["key"]: f for f in client.get("/api/state").json()["findings"]}
    found = client.get("/api/compare", params={"with": which}).json()["findings"]
    rows = [*found["only_a"], *found["both_judged"], *found["both_moved"]]
    assert found["only_a"]
    for row in rows:
        assert (row["a"], row["status"], row["sentence"]) == (
            told[row["key"]]["status"],
            told[row["key"]]["status"],
            told[row["key"]]["sentence"],
        )
    for row in found["only_a"]:
        assert row["words"].endswith(f", now: {row['a']}"), "settled: not marked as typical"
    assert all(row["a"] != row["b"] for row in found["both_judged"])


def test_findings_of_both_are_told_apart_by_status_and_by_number(client: TestClient, office: Office) -> None:
    which = _kept(client)
    before = {f["key"]: f for f in client.get("/api/state").json()["findings"]}
    client.post("/api/edit", json={"edits": [["purpose.accuracy", "0.02 mm"], ["axis.x.alignment.height", "0.01 in"]]})
    found = client.get("/api/compare", params={"with": which}).json()["findings"]
    judged = {row["key"]: (row["b"], row["a"]) for row in found["both_judged"]}
    assert judged["GDE-302|axis.x.alignment.height"] == ("watch", "fail")
    assert all(was != now and "ok" not in (was, now) for was, now in judged.values())
    assert "STR-102|job.neck-pocket" in {row["key"] for row in found["both_moved"]}
    for row in found["both_moved"]:
        assert row["a"] == row["b"] == row["status"] == before[row["key"]]["status"] != "ok"
        was, now = row["words"].removeprefix("before: ").split(", now: ")
        assert was != now
        assert now in row["sentence"]
        assert was in before[row["key"]]["sentence"]


def test_a_file_changed_outside_is_told_and_neither_text_is_lost(client: TestClient, folder: Path) -> None:
    file = folder / "router.toml"
    mine, theirs = file.read_text(), file.read_text() + "# by another hand\n"
    file.write_text(theirs)
    answer = client.post("/api/edit", json={"edits": [["purpose.accuracy", "0.07 mm"]]})
    assert answer.status_code == 409
    assert client.get("/api/outside").json() == {"mine": mine, "theirs": theirs}
    assert client.post("/api/outside", json={"choose": "mine"}).status_code == 200
    assert file.read_text() == mine
    aside = client.get("/api/history").json()["backups"][0]
    assert client.post("/api/restore", json={"id": aside["id"]}).status_code == 200
    assert file.read_text() == theirs


def test_start_page_and_a_new_machine(client: TestClient, folder: Path, office: Office) -> None:
    start = client.get("/api/start").json()
    assert {demo["id"] for demo in start["demos"]} >= {"as-built", "first-idea"}
    assert any(row["path"] == str(folder / "router.toml") for row in start["recent"])
    material = next(question for question in start["questions"] if question["key"] == "material")
    assert material["kind"] == "choice"
    assert {"value": "maple-hard", "label": "Sugar maple"} in material["choices"]
    answers = {question["key"]: question["default"] for question in start["questions"]}
    made = client.post("/api/new", json={"answers": answers, "folder": "my-router"}).json()
    assert made["title"]["title"] == "my router"
    assert made["verdict"]["broken"] == 0
    again = client.post("/api/new", json={"answers": answers, "folder": "my-router"})
    assert (again.status_code, again.json()["field"]) == (422, "folder")
    bad = client.post("/api/new", json={"answers": {**answers, "material": "cheese"}, "folder": "other"})
    assert (bad.status_code, bad.json()["field"]) == (422, "material")
    large = client.post("/api/new", json={"answers": {**answers, "work_area": "24 x 90 x 4 in"}, "folder": "other"})
    assert (large.status_code, large.json()["field"]) == (422, "work_area")
    assert "at most 78.5 in for y" in large.json()["detail"]
    assert not (folder / "other").exists()
    demo = client.post("/api/open", json={"demo": "bench"}).json()
    assert demo["units"] == "inch"
    assert (folder / "gantrywright-demo" / "bench.toml").exists()


def test_a_file_that_makes_no_machine_keeps_the_last_answers(client: TestClient, folder: Path) -> None:
    good = state(client)
    file = folder / "router.toml"
    file.write_text(file.read_text().replace("[purpose]", "[purpose"))
    told = client.post("/api/outside", json={"choose": "theirs"}).json()
    assert told["problems"]
    assert told["answers_rev"] == good["answers_rev"]
    assert len(told["promises"]) == len(good["promises"])
    assert client.post("/api/undo").json()["problems"] == []


def test_a_file_that_cannot_be_read_shows_what_it_was_and_lets_nothing_be_put_into_it(client: TestClient, folder: Path) -> None:
    whole = (folder / "router.toml").read_text()
    before = state(client)
    (folder / "router.toml").write_text(whole.replace("[purpose]", "[purpose"))
    told = client.post("/api/outside", json={"choose": "theirs"}).json()
    assert told["problems"][0]["line"] == whole[: whole.index("[purpose]")].count("\n") + 1
    assert [stage["id"] for stage in told["stages"]] == [stage["id"] for stage in before["stages"]]
    assert (told["answers_revision"], told["title"]["revision"]) == (before["title"]["revision"], "1")
    group = client.get("/api/fields", params={"path": "purpose"}).json()
    assert {field["path"]: field["text"] for field in group["fields"]}["purpose.accuracy"]
    assert not any(field["editable"] for field in group["fields"])
    assert (group["can_add"], group["can_remove"]) == ([], False)
    assert told["whole"]
    back = client.post("/api/outside", json={"choose": "whole"}).json()
    assert (back["problems"], back["whole"], back["disk"]) == ([], False, "same")
    assert (folder / "router.toml").read_text() == whole


def test_a_file_that_is_gone_is_told_as_there_again_with_the_change_that_wrote_it(client: TestClient, folder: Path) -> None:
    (folder / "router.toml").unlink()
    made = client.post("/api/edit", json={"edits": [["purpose.accuracy", "0.07 mm"]]}).json()
    assert made["disk"] == "same"
    assert 'accuracy = "0.07 mm"' in (folder / "router.toml").read_text()

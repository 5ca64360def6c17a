"""Two pages on two files: what is meant for the file that is not open any more is refused and writes nothing anywhere."""

from pathlib import Path
from urllib.parse import quote

import pytest
from fastapi.testclient import TestClient

from gantrywright.board.meant import HEADER
from gantrywright.board.office import Office
from gantrywright.intake.document import parse_toml
from gantrywright.intake.resolve import resolve
from gantrywright.study.parcel import packed
from gantrywright.study.study import run

MACHINES = Path(__file__).parents[1] / "machines"

ACTS = [
    ("post", "/api/edit", {"edits": [["purpose.accuracy", "0.07 mm"]]}),
    ("post", "/api/preview", {"edits": [["purpose.accuracy", "0.07 mm"]]}),
    ("post", "/api/undo", None),
    ("post", "/api/redo", None),
    ("post", "/api/keep", {"name": "one"}),
    ("post", "/api/against", {"id": 0}),
    ("post", "/api/forget", {"id": 1}),
    ("post", "/api/restore", {"id": 1}),
    ("post", "/api/outside", {"choose": "mine"}),
    ("post", "/api/jobs", {"kind": "fine-map"}),
    ("get", "/api/fields?path=purpose", None),
    ("get", "/api/scene", None),
    ("get", "/api/history", None),
    ("get", "/api/outside", None),
]


@pytest.fixture
def other(folder: Path) -> Path:
    """A second machine beside the first."""
    file = folder / "second.toml"
    file.write_text((MACHINES / "long_bed.toml").read_text())
    return file


def first(folder: Path) -> dict[str, str]:
    return {HEADER: quote(f"{folder}/router.toml")}


@pytest.mark.parametrize(("method", "address", "body"), ACTS)
def test_what_is_meant_for_the_file_before_is_refused_with_the_state_of_the_open_one(
    client: TestClient, office: Office, folder: Path, other: Path, method: str, address: str, body: object
) -> None:
    client.post("/api/edit", json={"edits": [["purpose.accuracy", "0.06 mm"]]})
    client.post("/api/keep", json={"name": "of the first"})
    client.post("/api/open", json={"path": "second.toml"})
    client.post("/api/keep", json={"name": "of the second"})
    before, jobs = [file.read_text() for file in (folder / "router.toml", other)], office.jobs.listed()
    answer = client.request(method, address, json=body, headers=first(folder))
    assert answer.status_code == 409, address
    told = answer.json()
    assert "meant for router.toml, but second.toml is the file that is open now" in told["detail"]
    assert told["state"]["file"] == {"name": "second.toml", "folder": str(folder)}
    assert [file.read_text() for file in (folder / "router.toml", other)] == before
    assert [keep["name"] for keep in told["state"]["keeps"]] == ["of the second"]
    assert office.jobs.listed() == jobs


@pytest.mark.parametrize(("method", "address", "body"), [act for act in ACTS if act[0] == "post"])
def test_a_change_that_names_no_file_is_refused(client: TestClient, folder: Path, method: str, address: str, body: object) -> None:
    del client.headers[HEADER]
    before = (folder / "router.toml").read_text()
    answer = client.request(method, address, json=body)
    assert answer.status_code == 409
    assert "does not say which machine file" in answer.json()["detail"]
    assert (folder / "router.toml").read_text() == before


def test_revisions_go_on_from_file_to_file_so_that_no_answer_is_taken_for_that_of_another(
    client: TestClient, office: Office, folder: Path, other: Path
) -> None:
    shapes = client.get("/api/scene")
    rev = office.desk.sheet.rev
    opened = client.post("/api/open", json={"path": "second.toml"}).json()
    assert opened["rev"] > rev
    later = client.get("/api/scene", headers={"If-None-Match": shapes.headers["ETag"]})
    assert later.status_code == 200
    assert later.json() != shapes.json()
    late = run(resolve(parse_toml((folder / "router.toml").read_bytes(), folder / "router.toml")))
    before = client.get("/api/state").json()["promises"]
    office._settled(rev, "typical", packed(late))  # a spread of the first file that comes late
    assert client.get("/api/state").json()["promises"] == before

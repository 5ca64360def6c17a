"""What the promises are told against: chosen in the page, remembered by the history, let go when it is forgotten."""

from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from gantrywright.board import desk as desk_module
from gantrywright.board.app import create_app
from gantrywright.board.office import Office
from gantrywright.board.shelf import Shelf

SCREW = "axis.z.drive.main.part"


@pytest.fixture
def kept(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> dict[str, int]:
    """Two kept states: as it was opened, and with another screw; then a third screw is put in. Each screw is a step, however fast."""
    monkeypatch.setattr(desk_module, "JOIN", 0.0)
    numbers = {"first": _asked(client, "keep", name="first", note="")["kept"]["id"]}
    _screw(client, "ball-screw-1610")
    numbers["second"] = _asked(client, "keep", name="second", note="")["kept"]["id"]
    _screw(client, "ball-screw-2020")
    return numbers


def _asked(client: TestClient, url: str, **body: Any) -> dict[str, Any]:
    answer = client.post(f"/api/{url}", json=body)
    assert answer.status_code == 200, answer.text
    return answer.json()  # type: ignore[no-any-return]


def _screw(client: TestClient, part: str) -> dict[str, Any]:
    return _asked(client, "edit", edits=[[SCREW, part]])


def _rapid(state: dict[str, Any]) -> str:
    """How the rapid of Z is told to have changed."""
    return next(str(p["change"]) for p in state["promises"] if p["label"] == "Z rapid")


def test_changes_are_told_against_what_was_chosen(client: TestClient, kept: dict[str, int]) -> None:
    told = client.get("/api/state").json()
    assert told["keeps"] == [{"id": kept["second"], "name": "second"}, {"id": kept["first"], "name": "first"}]
    assert told["kept"] == {"id": kept["second"], "name": "second"}
    first = _asked(client, "against", id=kept["first"])
    assert first["kept"] == {"id": kept["first"], "name": "first"}
    assert _rapid(first) not in ("", _rapid(told))
    opened = _asked(client, "against", id=0)
    assert opened["kept"] is None
    assert _rapid(opened) == _rapid(first)  # it was kept as it was opened
    assert _asked(client, "preview", edits=[[SCREW, "ball-screw-1610"]])["promises"] != told["promises"]
    assert _rapid(_asked(client, "against", id=kept["second"])) == _rapid(told)


@pytest.mark.parametrize("chosen", ["first", "second", None])
def test_the_choice_survives_a_restart(
    client: TestClient, office: Office, folder: Path, kept: dict[str, int], chosen: str | None
) -> None:
    before = _asked(client, "against", id=kept[chosen] if chosen else 0)
    office.close()
    again = Office(Shelf(folder, folder / "memory.json"))
    try:
        again.open(folder / "router.toml")
        with TestClient(create_app(again), base_url="http://127.0.0.1:8000") as later:
            after = later.get("/api/state").json()
            assert after["kept"] == before["kept"]
            # "as it was opened" speaks of this time it was opened
            assert _rapid(after) == (_rapid(before) if chosen else "")
    finally:
        again.close()


def test_all_windows_hear_of_it(client: TestClient, office: Office, kept: dict[str, int]) -> None:
    heard: list[Any] = []
    office.listeners.add(lambda: heard.append((office.announced()["kept"], len(office.announced()["keeps"]))))
    _asked(client, "against", id=kept["first"])
    assert heard[-1] == ({"id": kept["first"], "name": "first"}, 2)
    _asked(client, "forget", id=kept["second"])
    assert heard[-1] == ({"id": kept["first"], "name": "first"}, 1)


def test_a_forgotten_state_is_told_against_no_more_and_no_step_is_lost(client: TestClient, kept: dict[str, int]) -> None:
    steps = client.get("/api/history").json()["steps"]
    assert len(steps) == 2
    told = _asked(client, "forget", id=kept["second"])
    assert told["kept"] == {"id": kept["first"], "name": "first"}
    assert [k["name"] for k in told["keeps"]] == ["first"]
    history = client.get("/api/history").json()
    assert history["steps"] == steps
    assert [row["name"] for row in history["kept"]] == ["first"]
    assert "second" in history["backups"][0]["label"]
    assert [_asked(client, "undo")["redo"] for _ in steps] == [step["label"] for step in steps]  # the newest first
    told = _asked(client, "forget", id=kept["first"])
    assert (told["kept"], told["keeps"]) == (None, [])
    back = _asked(client, "restore", id=history["backups"][0]["id"])
    assert "second" in back["undo"]


@pytest.mark.parametrize("url", ["against", "forget"])
def test_what_is_not_kept_is_told_in_words(client: TestClient, kept: dict[str, int], url: str) -> None:
    answer = client.post(f"/api/{url}", json={"id": 77})
    assert (answer.status_code, answer.json()["detail"]) == (404, "there is no kept state 77")
    assert client.get("/api/state").json()["kept"]["id"] == kept["second"]


def test_what_was_opened_is_no_state_to_forget(client: TestClient, kept: dict[str, int]) -> None:
    assert client.post("/api/forget", json={"id": 0}).status_code == 404


def test_a_text_kept_while_it_makes_no_machine_is_not_told_against(client: TestClient, folder: Path) -> None:
    file = folder / "router.toml"
    file.write_text(file.read_text().replace("format = 1", "format = 1\nnonsense = 2", 1))
    assert _asked(client, "outside", choose="theirs")["problems"]
    told = _asked(client, "keep", name="half done", note="")
    assert (told["kept"], [k["name"] for k in told["keeps"]]) == (None, ["half done"])
    assert client.post("/api/against", json={"id": told["keeps"][0]["id"]}).status_code == 422


def test_a_renamed_state_is_told_against_under_its_new_name(client: TestClient, kept: dict[str, int]) -> None:
    rapid = _rapid(client.get("/api/state").json())
    told = _asked(client, "rename", id=kept["second"], name=" the cheap one ")
    assert told["kept"] == {"id": kept["second"], "name": "the cheap one"}
    assert _rapid(told) == rapid
    told = _asked(client, "rename", id=kept["first"], name="the cheap one")
    assert told["keeps"] == [{"id": kept["second"], "name": "the cheap one"}, {"id": kept["first"], "name": "the cheap one (2)"}]
    assert told["kept"]["name"] == "the cheap one"
    assert client.post("/api/rename", json={"id": 99, "name": "x"}).status_code == 404


def test_a_name_that_is_taken_is_numbered_and_told_so(client: TestClient, kept: dict[str, int]) -> None:
    assert _asked(client, "keep", name="first", note="")["kept"]["name"] == "first (2)"

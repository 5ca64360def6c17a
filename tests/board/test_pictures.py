"""Pictures by their addresses: as data, as SVG, as CSV, of one machine and of two."""

import csv
import io
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from gantrywright.pictures import PICTURES


def test_every_listed_picture_can_be_had_in_every_form(client: TestClient) -> None:
    rows = client.get("/api/pictures").json()
    assert [row["id"] for row in rows] == list(PICTURES)
    for row in rows:
        picture = client.get(f"/api/picture/{row['id']}").json()
        assert picture["id"] == row["id"]
        drawn = client.get(f"/api/picture/{row['id']}.svg")
        assert drawn.headers["content-type"] == "image/svg+xml"
        of = f"-{picture['of']}" if row["of_job"] else ""
        assert drawn.headers["content-disposition"] == f'attachment; filename="{row["id"]}{of}.svg"'
        assert ET.fromstring(drawn.content).tag == "{http://www.w3.org/2000/svg}svg"
        numbers = client.get(f"/api/picture/{row['id']}.csv")
        assert numbers.headers["content-type"].startswith("text/csv")
        later = "worked out with the spread" in picture["words"]  # it has a heading alone
        assert later is (row["id"] in ("cut-lobes", "cut-swing"))
        assert later is (len(list(csv.reader(io.StringIO(numbers.text)))) == 1)


@pytest.mark.parametrize("name", ["lobes", "shares.png", "shares.svg.svg", ""])
def test_what_is_no_picture_is_told_with_those_that_are(client: TestClient, name: str) -> None:
    answer = client.get(f"/api/picture/{name}")
    assert answer.status_code == 404
    if name:
        assert "stiffness-map" in answer.json()["detail"]


def test_the_map_names_the_axes_that_can_be_stood_there(client: TestClient) -> None:
    grid = client.get("/api/picture/stiffness-map").json()["map"]
    at = {name: grid["metres"] * places[-1] for name, places in zip(grid["axes"], (grid["xs"], grid["ys"]), strict=True)}
    travels = {axis["name"]: axis["travel"] for axis in client.get("/api/scene").json()["axes"]}
    assert at == {name: pytest.approx(travels[name]) for name in grid["axes"]}


def test_two_machines_are_drawn_on_one_scale(client: TestClient) -> None:
    client.post("/api/keep", json={"name": "before", "note": ""})
    kept = client.get("/api/history").json()["kept"][0]["id"]
    client.post("/api/edit", json={"edits": [["axis.x.rapid", "100 in/min"]]})
    query = {"with": f"kept:{kept}"}
    listed = client.get("/api/compare", params=query).json()["pictures"]
    assert list(dict.fromkeys(name.partition(":")[0] for name in listed)) == list(PICTURES)
    jobs = list(dict.fromkeys(of for name in listed if (of := name.partition(":")[2])))
    assert listed == [
        name for made in PICTURES.values() for name in ([f"{made.id}:{job}" for job in jobs] if made.of_job else [made.id])
    ]
    for name in listed:
        both = client.get(f"/api/compare/picture/{name}", params=query).json()
        assert both["names"] == ["router.toml", "before"]
        drawn = client.get(f"/api/compare/picture/{name}.svg", params=query)
        assert ET.fromstring(drawn.content).tag.endswith("svg")
        assert client.get(f"/api/compare/picture/{name}.csv", params=query).text.count("\n") > 1
    marks = client.get("/api/compare/picture/force-speed", params=query).json()["marks"]
    wanted = {mark["text"]: mark["x"] for mark in marks if "wanted" in mark["text"]}
    assert wanted["X wanted, router.toml"] == pytest.approx(100)
    assert all(x != pytest.approx(100) for text, x in wanted.items() if text.endswith("before"))


def test_a_file_beside_it_is_drawn_as_it_is_now_not_as_it_was(client: TestClient, folder: Path) -> None:
    text = (folder / "router.toml").read_text()
    (folder / "other.toml").write_text(text)
    query = {"with": "file:other.toml"}
    first = client.get("/api/compare/picture/force-speed", params=query).json()
    assert first["names"] == ["router.toml", "other.toml"]
    (folder / "other.toml").write_text(text.replace('show = "inch"', 'show = "metric"').replace("rapid =", "rapid  =", 1))
    again = client.get("/api/compare/picture/force-speed", params=query).json()
    assert again["x"] == first["x"]  # still in the units of the machine on the desk
    (folder / "other.toml").unlink()
    assert client.get("/api/compare/picture/force-speed", params=query).status_code == 404


def test_a_file_of_another_format_or_none_is_refused_in_words(client: TestClient, folder: Path) -> None:
    text = (folder / "router.toml").read_text()
    (folder / "newer.toml").write_text(text.replace("format = 1", "format = 99", 1))
    (folder / "broken.toml").write_text("name = ")
    for name in ("newer", "broken"):
        for address in ("/api/compare", "/api/compare/picture/shares"):
            answer = client.get(address, params={"with": f"file:{name}.toml"})
            assert answer.status_code == 422
            assert answer.json()["detail"]


@pytest.mark.parametrize(
    ("address", "code"),
    [
        ("/api/compare/picture/shares?with=nothing", 404),
        ("/api/compare/picture/shares", 404),
        ("/api/compare/picture/lobes?with=kept:1", 404),
        ("/api/compare/picture/shares?with=file:../x.toml", 404),
    ],
)
def test_what_cannot_be_compared_is_refused_in_words(client: TestClient, address: str, code: int) -> None:
    answer = client.get(address)
    assert answer.status_code == code
    assert answer.json()["detail"]

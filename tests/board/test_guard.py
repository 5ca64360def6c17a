"""Who may talk to the board."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from gantrywright.board.app import create_app
from gantrywright.board.guard import Guard
from gantrywright.board.office import Office

HERE = "http://127.0.0.1:8000"


@pytest.fixture
def guarded(office: Office) -> Iterator[TestClient]:
    guard = Guard(frozenset({"127.0.0.1", "shop.local"}), key="a-long-random-key")
    with TestClient(create_app(office, guard), base_url="http://shop.local:8000", follow_redirects=False) as made:
        yield made


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "", "evil.example:8000"])
def test_a_foreign_name_that_leads_here_is_refused(client: TestClient, host: str) -> None:
    assert client.get("/api/state", headers={"Host": host}).status_code == 421


@pytest.mark.parametrize("origin", ["http://evil.example", "http://127.0.0.1:9999", "null", "https://127.0.0.1.evil.example"])
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_a_page_of_another_origin_can_neither_read_nor_write(client: TestClient, origin: str, method: str, folder: Path) -> None:
    before = (folder / "router.toml").read_text()
    url = "/api/state" if method == "GET" else "/api/edit"
    answer = client.request(method, url, headers={"Origin": origin}, json={"edits": [["purpose.accuracy", "1 mm"]]})
    assert answer.status_code == 403
    assert "access-control-allow-origin" not in answer.headers
    assert (folder / "router.toml").read_text() == before


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_a_request_without_origin_that_another_site_made_is_refused(client: TestClient, site: str) -> None:
    headers = {"Sec-Fetch-Site": site, "Sec-Fetch-Mode": "no-cors"}
    assert client.get("/api/state", headers=headers).status_code == 403
    assert client.post("/api/undo", headers=headers).status_code == 403


def test_our_own_page_is_let_in(client: TestClient) -> None:
    assert client.get("/api/state", headers={"Origin": HERE, "Sec-Fetch-Site": "same-origin"}).status_code == 200


def test_every_answer_carries_the_strict_policy(client: TestClient) -> None:
    for url in ("/api/state", "/api/nowhere"):
        headers = client.get(url).headers
        assert "default-src 'self'" in headers["content-security-policy"]
        assert "script-src" not in headers["content-security-policy"]  # falls back to 'self': nothing inline, nothing foreign
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["cache-control"] == "no-store"


def test_the_network_needs_the_key_once(guarded: TestClient) -> None:
    assert guarded.get("/api/state").status_code == 401
    assert guarded.get("/api/state?key=wrong").status_code == 401
    assert guarded.get("/api/state?key=ключ").status_code == 401
    first = guarded.get("/?key=a-long-random-key")
    assert first.status_code == 303
    assert "httponly" in first.headers["set-cookie"].lower()
    assert "samesite=strict" in first.headers["set-cookie"].lower()
    assert guarded.get("/api/state").status_code == 200


def test_no_file_outside_is_served(client: TestClient, folder: Path) -> None:
    (folder / "secret.txt").write_text("secret")
    for url in ("/secret.txt", "/../secret.txt", "/assets/../../../../secret.txt", "/assets/%2e%2e/%2e%2e/app.py", "/router.toml"):
        answer = client.get(url)
        assert "secret" not in answer.text
        assert "[machine]" not in answer.text
        assert "create_app" not in answer.text

"""A board on a copy of a machine, in this process."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from fastapi.testclient import TestClient

from gantrywright.board import office as office_module
from gantrywright.board.app import create_app
from gantrywright.board.meant import HEADER
from gantrywright.board.office import Office
from gantrywright.board.shelf import Shelf

MACHINES = Path(__file__).parents[1] / "machines"


class Silent:
    """A settler that settles nothing: most tests need no second process."""

    def __init__(self, told: object) -> None:
        self.asked: list[int] = []

    def ask(self, rev: int, path: Path, text: str) -> None:
        self.asked.append(rev)

    def close(self) -> None:
        pass


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "router.toml").write_text((MACHINES / "fixed_gantry.toml").read_text())
    (tmp_path / "shop.toml").write_text((MACHINES / "shop.toml").read_text())
    return tmp_path


@pytest.fixture
def office(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Office]:
    monkeypatch.setattr(office_module, "Settler", Silent)
    made = Office(Shelf(folder, folder / "memory.json"))
    made.open(folder / "router.toml")
    yield made
    made.close()


class Page(TestClient):
    """Names the file that the program told last, as the page does."""

    def request(self, *args: Any, **more: Any) -> Any:
        answer = super().request(*args, **more)
        told = answer.json() if answer.headers.get("content-type", "").startswith("application/json") else None
        if isinstance(told, dict) and isinstance(told.get("file"), dict):
            self.headers[HEADER] = quote(f"{told['file']['folder']}/{told['file']['name']}")
        return answer


@pytest.fixture
def client(office: Office) -> Iterator[Page]:
    with Page(create_app(office), base_url="http://127.0.0.1:8000") as made:
        made.get("/api/state")
        yield made

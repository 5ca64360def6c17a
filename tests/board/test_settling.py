"""Settled answers from another process."""

from pathlib import Path
from queue import Queue

import pytest

from gantrywright.board.settling import Settler

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo" / "as-built.toml"


@pytest.fixture
def told() -> Queue:
    return Queue()


def until(told: Queue, rev: int, what: str) -> object:
    while True:
        got = told.get(timeout=60)
        if got[:2] == (rev, what):
            return got[2]
        assert got[1] != "failed", got


@pytest.mark.slow
def test_typical_then_settled_then_mended_and_the_newest_wins(told: Queue) -> None:
    from gantrywright.intake.document import read_document
    from gantrywright.intake.resolve import resolve
    from gantrywright.study.parcel import unpacked

    settler = Settler(lambda *got: told.put(got))
    text = DEMO.read_text()
    try:
        settler.ask(1, DEMO, text)
        until(told, 1, "typical")
        settler.ask(2, DEMO, text)
        parcel = until(told, 2, "settled")
        study = unpacked(parcel, resolve(read_document(DEMO)))  # type: ignore[arg-type]
        assert study.settled
        assert study.bands
        until(told, 2, "mended")
        settler._process.kill()  # the machine ran out of memory, say
        settler.ask(3, DEMO, text)
        until(told, 3, "mended")
    finally:
        settler.close()
    seen = [told.get_nowait() for _ in range(told.qsize())]
    assert not any(rev == 1 and what == "mended" for rev, what, _ in seen)


@pytest.mark.slow
def test_a_text_that_cannot_be_worked_on_is_told(told: Queue, monkeypatch: pytest.MonkeyPatch) -> None:
    settler = Settler(lambda *got: told.put(got))
    try:
        settler.ask(
            1, Path("nowhere") / "x.toml", "format = 1\n[machine]\nname = 3\n"
        )  # makes no machine: the desk said so already
        settler.ask(2, DEMO, DEMO.read_text())
        until(told, 2, "typical")
    finally:
        settler.close()

"""Tables that are chosen from and compared in, in a real browser: what of them is seen at three widths."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from driven_board import Board, browsing, lacking, look, stands

pytestmark = [pytest.mark.slow, pytest.mark.skipif(bool(lacking()), reason=lacking() or "-")]
DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"

SEEN = """() => {
  const box = document.querySelector('.parts'), rim = box.getBoundingClientRect();
  const rows = [...box.querySelectorAll('tbody tr')].map((r) => r.getBoundingClientRect());
  const name = box.querySelector('tbody th').getBoundingClientRect();
  return { whole: rows.filter((r) => r.top >= rim.top && r.bottom <= rim.bottom).length, name: name.width,
    wide: box.scrollWidth - box.clientWidth, page: document.documentElement.scrollWidth };
}"""


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with browsing() as made:
        yield made


@pytest.fixture(scope="module")
def board(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Board]:
    folder = tmp_path_factory.mktemp("tables")
    for name in ("first-idea", "as-built"):
        (folder / f"{name}.toml").write_text((DEMO / f"{name}.toml").read_text())
    made = Board(folder / "first-idea.toml", folder)
    yield made
    made.close()


@pytest.mark.parametrize(("width", "height", "least"), [(1440, 900, 10), (768, 1024, 10), (360, 740, 4)])
def test_many_motors_are_seen_at_once_and_their_names_can_be_read(
    browser: Any, board: Board, width: int, height: int, least: int
) -> None:
    page = look(browser, board.url, width=width, height=height)
    stands(page)
    page.evaluate("location.hash = 'drives'")
    page.locator('[data-path="axis.x.drive.main.motor.part"] button', has_text="Choose").click()
    page.wait_for_selector(".parts tbody tr")
    seen = page.evaluate(SEEN)
    assert seen["whole"] >= least
    assert seen["name"] >= 230
    assert seen["page"] == width
    if width != 768:
        assert seen["wide"] <= 0
    else:  # the name stays while the numbers are pushed by
        page.evaluate("document.querySelector('.parts').scrollLeft = 300")
        assert page.evaluate("document.querySelector('.parts tbody th').getBoundingClientRect().left") >= 0
    assert page.troubles == []
    page.context.close()


@pytest.mark.parametrize(("width", "height"), [(1440, 900), (768, 1024), (360, 740)])
def test_better_and_worse_are_seen_beside_the_numbers_compared(browser: Any, board: Board, width: int, height: int) -> None:
    page = look(browser, board.url, width=width, height=height)
    stands(page)
    page.evaluate("location.hash = 'compare'")
    page.fill(".against form input", "as-built.toml")
    page.locator(".against form button").click()
    page.wait_for_selector(".side-by-side td.change strong")
    box = page.evaluate(
        "(() => { const s = document.querySelector('.side-by-side').parentElement; return [s.scrollWidth, s.clientWidth] })()"
    )
    assert box[0] <= box[1]
    page.fill(".against form input", "none.toml")
    page.locator(".against form button").click()
    page.wait_for_selector(".against [role=alert]")
    assert page.locator(".side-by-side").count() == 0
    page.context.close()

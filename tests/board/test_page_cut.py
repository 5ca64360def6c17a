"""The stage of the cut in a real browser: read, worked with the keyboard, its settings taken and given back."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from driven_board import AXE, Board, browsing, lacking, look, stands

pytestmark = [pytest.mark.slow, pytest.mark.skipif(bool(lacking()), reason=lacking() or "-")]
DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"
FITTINGS = 'section[aria-labelledby="cut-fittings"]'


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with browsing() as made:
        yield made


@pytest.fixture
def file(tmp_path: Path) -> Path:
    (tmp_path / "router.toml").write_text((DEMO / "as-built.toml").read_text())
    return tmp_path / "router.toml"


@pytest.fixture
def board(file: Path) -> Iterator[Board]:
    made = Board(file, file.parent)
    yield made
    made.close()


def cut(browser: Any, board: Board, **size: int) -> Any:
    page = look(browser, board.url, **size)
    stands(page)
    page.evaluate("location.hash = 'cut'")
    page.wait_for_selector(FITTINGS)
    return page


def test_settings_are_taken_with_the_keyboard_and_come_back(browser: Any, board: Board, file: Path) -> None:
    before = file.read_text()
    page = cut(browser, board)
    assert "runs if" in page.locator(f"{FITTINGS} .mark").first.inner_text()
    take = page.get_by_role("button", name="Take these settings for fittings")
    take.focus()
    page.keyboard.press("Enter")
    page.wait_for_function("window.__board.state.value.undo === 'fittings: advised settings'")
    assert file.read_text() != before
    stands(page)
    page.wait_for_function(f"document.querySelector('{FITTINGS} .mark').innerText.includes('runs')")
    assert not page.locator(FITTINGS).get_by_text("exceeded").count()
    page.get_by_role("button", name="Undo").first.click()
    page.wait_for_function("window.__board.state.value.undo === null")
    assert file.read_text() == before
    assert page.troubles == []
    page.context.close()


@pytest.mark.parametrize(("width", "height"), [(360, 780), (768, 1024), (1440, 900)])
def test_nothing_overflows_and_axe_finds_nothing_with_all_folds_open(browser: Any, board: Board, width: int, height: int) -> None:
    page = cut(browser, board, width=width, height=height)
    page.evaluate("document.querySelectorAll('.cuts details').forEach((fold) => (fold.open = true))")
    page.wait_for_timeout(300)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    over = "[...document.querySelectorAll('.cuts *')].filter((e) => e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline' && !e.classList.contains('unseen')).map((e) => e.className + ' ' + e.textContent.slice(0, 60))"  # fmt: skip
    assert page.evaluate(over) == []
    if AXE.is_file():
        page.evaluate(AXE.read_text())
        assert page.evaluate("axe.run().then(r => r.violations.map(v => [v.id, v.nodes.map(n => n.target.join(' '))]))") == []
    page.context.close()


def test_the_pictures_are_those_of_the_chosen_job(browser: Any, board: Board) -> None:
    page = cut(browser, board)
    page.wait_for_selector(".picture .bars-long")
    page.get_by_role("button", name="Pictures of fittings").click()
    page.wait_for_selector("text=What limits the cut: fittings")
    assert page.locator(".picture > h3").all_inner_texts() == [
        "What limits the cut: fittings", "Forces over a turn: fittings", "Error of the wall over its height: fittings",
        "Chatter over the speed: fittings", "Swinging over the speed: fittings",
    ]  # fmt: skip
    line = page.locator(".bars .bar-line").first.bounding_box()
    ends = page.locator(".bars .bar-fill").evaluate_all("(bars) => bars.map((bar) => bar.getBoundingClientRect().right)")
    exceeded = page.locator(".bars .bar-text").evaluate_all("(all) => all.map((one) => one.textContent.includes('exceeded'))")
    assert [end < line["x"] + 1 for end in ends] == exceeded
    page.context.close()

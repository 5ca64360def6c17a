"""Ways through the page in a real browser: a first machine and a part by keys alone, long work that is stopped, an addition, a clash."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from driven_board import Board, browsing, lacking, look, stands

pytestmark = [pytest.mark.slow, pytest.mark.skipif(bool(lacking()), reason=lacking() or "-")]
DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"
FOCUSED = "(() => { const a = document.activeElement; return a.id || a.dataset.path || a.textContent.trim() })()"


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with browsing() as made:
        yield made


@pytest.fixture
def file(tmp_path: Path) -> Path:
    copy = tmp_path / "router.toml"
    copy.write_text((DEMO / "first-idea.toml").read_text())
    return copy


@pytest.fixture
def board(file: Path) -> Iterator[Board]:
    made = Board(file, file.parent)
    yield made
    made.close()


def tab_to(page: Any, wanted: str, most: int = 80) -> None:
    """Press Tab until something has the focus."""
    for _ in range(most):
        page.keyboard.press("Tab")
        if page.evaluate(FOCUSED) == wanted:
            return
    raise AssertionError(f"Tab does not lead to {wanted}; it ended at {page.evaluate(FOCUSED)}")


def test_a_first_machine_is_made_by_keys_alone(browser: Any, tmp_path: Path) -> None:
    board = Board(None, tmp_path)
    try:
        page = look(browser, board.url)
        page.wait_for_selector("text=A new machine")
        tab_to(page, "ask-layout")
        page.keyboard.press("ArrowDown")
        tab_to(page, "ask-work_area", 1)
        page.keyboard.press("Control+a")
        page.keyboard.type("24 x 40 x 4 in")
        tab_to(page, "ask-material", 1)
        page.keyboard.type("Medium")
        tab_to(page, "ask-units", 1)
        page.keyboard.press("ArrowDown")
        tab_to(page, "ask-outlet", 1)
        page.keyboard.press("Control+a")
        page.keyboard.type("120 V")
        tab_to(page, "new-folder", 1)
        page.keyboard.type("mine")
        page.keyboard.press("Enter")
        page.wait_for_selector("#ask-work_area-help [role=alert]")
        assert page.evaluate(FOCUSED) == "ask-work_area"
        assert "at most 36 in" in page.inner_text("#ask-work_area-help")
        seen = page.evaluate(
            "(() => { const r = document.querySelector('#ask-work_area-help').getBoundingClientRect(); return [r.top, r.bottom, innerHeight] })()"
        )
        assert 0 <= seen[0] < seen[1] <= seen[2]
        assert not (tmp_path / "mine").exists()
        page.keyboard.press("Control+a")
        page.keyboard.type("24 x 36 x 4 in")
        page.keyboard.press("Enter")
        stands(page)
        text = (tmp_path / "mine" / "machine.toml").read_text()
        for written in ('layout = "fixed-gantry"', 'work_area = "24 x 36 x 4 in"', 'material = "mdf"', 'show = "inch"', '"120 V"'):
            assert written in text
        assert page.troubles == []
    finally:
        board.close()


def test_a_part_is_picked_and_looked_at_by_keys_alone(browser: Any, board: Board) -> None:
    page = look(browser, board.url)
    stands(page)
    chosen = "document.querySelector('#mv-part').value"
    tab_to(page, "Parts")
    page.keyboard.press("Enter")
    tab_to(page, "mv-part", 30)
    page.keyboard.press("Home")
    first = page.evaluate(chosen)
    page.keyboard.press("ArrowDown")
    second = page.evaluate(chosen)
    assert first
    assert second
    assert first != second
    label = page.evaluate("document.querySelector('#mv-part').selectedOptions[0].textContent")
    page.wait_for_function(
        "(l) => document.querySelector('.mv-canvas').ariaLabel.includes('Chosen: ' + l)", arg=label, timeout=5_000
    )
    zoom = page.evaluate("window.__board.views[0].zoom()")
    tab_to(page, "Look at it", 3)
    page.keyboard.press("Enter")
    assert page.evaluate("window.__board.views[0].zoom()") != zoom
    tab_to(page, "Let go", 2)
    page.keyboard.press("Enter")
    assert page.evaluate(chosen) == ""
    assert page.troubles == []


def test_long_work_is_stopped_and_can_be_asked_for_again(browser: Any, board: Board) -> None:
    page = look(browser, board.url)
    stands(page)
    page.evaluate("location.hash = 'stiffness'")
    ask = page.locator(".fine-map > button")
    ask.click()
    job = "window.__board.state.value.jobs.at(-1)"
    page.wait_for_function(f"{job}?.state === 'running' && {job}.fraction > 0.02", timeout=30_000)
    below = children(board.process.pid)
    page.locator(".fine-map").get_by_role("button", name="Stop").click()
    page.wait_for_function(f"{job}.state === 'cancelled'", timeout=5_000)
    assert page.evaluate(f"{job}.fraction") < 1
    page.wait_for_selector(".fine-map >> text=It was stopped.")
    page.wait_for_timeout(1500)
    assert len(children(board.process.pid)) == len(below) - 1
    ask.click()
    page.wait_for_function(f"{job}.state === 'running'", timeout=10_000)
    page.wait_for_function(f"{job}.state === 'done'", timeout=120_000)
    page.wait_for_selector(".fine-map canvas")
    assert page.troubles == []


def children(process: int) -> list[str]:
    """Processes that a process has started, by whichever of its threads, and that still run."""
    return [one for task in Path(f"/proc/{process}/task").iterdir() for one in (task / "children").read_text().split()]


def test_a_bar_that_is_added_is_led_to(browser: Any, board: Board) -> None:
    page = look(browser, board.url)
    stands(page)
    page.evaluate("location.hash = 'frame'")
    page.get_by_role("button", name="a bar").first.click()
    page.wait_for_function(
        "document.activeElement.closest('[data-path]')?.dataset.path.includes('.member.new-bar.')", timeout=10_000
    )
    place = page.evaluate(
        "(() => { const r = document.activeElement.getBoundingClientRect(); return [r.top, r.bottom, innerHeight] })()"
    )
    assert 0 <= place[0] < place[1] <= place[2]
    assert page.troubles == []


def test_both_parts_of_a_clash_are_looked_at_where_they_meet(browser: Any, board: Board) -> None:
    page = look(browser, board.url)
    stands(page)
    page.evaluate("location.hash = 'findings'")
    zoom = page.evaluate("window.__board.views[0].zoom()")
    page.locator(".finding-open", has_text="GEO-301").last.click()
    page.get_by_role("button", name="Show where they meet").click()
    page.wait_for_function("(z) => window.__board.views[0].zoom() > 2 * z", arg=zoom)
    where = page.evaluate("""(() => {
      const view = window.__board.views[0], nut = view.pieces().find((p) => p.part === 'axis.z.drive.main.nut');
      const at = view.screenOf(nut.id), paper = document.querySelector('.mv-canvas').getBoundingClientRect();
      return [at.x > paper.left && at.x < paper.right, at.y > paper.top && at.y < paper.bottom];
    })()""")
    assert where == [True, True]
    assert page.troubles == []


def test_a_typed_refusal_is_told_in_the_page_and_logged_as_no_fault(browser: Any, board: Board) -> None:
    page = look(browser, board.url)
    logged: list[str] = []
    page.on("console", lambda m: logged.append(m.text) if m.type == "error" else None)
    stands(page)
    box = page.locator('[data-path="purpose.rapid"] input')
    box.fill("3 parsecs")
    box.press("Enter")
    page.wait_for_selector('[data-path="purpose.rapid"] [role=alert]')
    page.evaluate("location.hash = 'compare'")
    page.fill(".against form input", "none.toml")
    page.locator(".against form button").click()
    page.wait_for_selector(".against [role=alert]")
    assert logged == []

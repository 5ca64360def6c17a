"""Two windows of a real browser and a file that others touch: nothing typed for one machine is ever written to another."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from driven_board import Board, browsing, lacking, look, stands

pytestmark = [pytest.mark.slow, pytest.mark.skipif(bool(lacking()), reason=lacking() or "-")]
DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"
ACCURACY = '[data-path="purpose.accuracy"]'
ALERT = "document.querySelector('.lines').innerText"


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with browsing() as made:
        yield made


@pytest.fixture
def file(tmp_path: Path) -> Path:
    for name in ("first-idea", "as-built"):
        (tmp_path / f"{name}.toml").write_text((DEMO / f"{name}.toml").read_text())
    return tmp_path / "first-idea.toml"


@pytest.fixture
def board(file: Path) -> Iterator[Board]:
    made = Board(file, file.parent)
    yield made
    made.close()


def at_work(browser: Any, board: Board) -> Any:
    page = look(browser, board.url)
    stands(page)
    page.evaluate("location.hash = 'work'")
    page.wait_for_selector(f"{ACCURACY} input")
    return page


def opens(page: Any, name: str) -> None:
    page.get_by_role("button", name="Open another").click()
    page.locator(".open-path input").fill(name)
    page.locator(".open-path").get_by_role("button").click()
    page.wait_for_function("(n) => window.__board.state.value.file.name === n", arg=name)


def shows(page: Any, name: str) -> None:
    page.wait_for_function("(n) => window.__board.state.value.file.name === n", arg=name, timeout=10_000)


@pytest.mark.parametrize("heard", [True, False])
def test_what_is_typed_for_one_file_is_never_written_to_the_one_that_another_window_opened(
    browser: Any, board: Board, file: Path, heard: bool
) -> None:
    one, other = at_work(browser, board), at_work(browser, board)
    texts = {p.name: p.read_text() for p in file.parent.glob("*.toml")}
    if not heard:  # the announcement does not come: only the refusal tells
        other.add_init_script("window.EventSource = class { addEventListener() {} close() {} }")
        other.reload()
        stands(other)
        other.wait_for_selector(f"{ACCURACY} input")
    box = other.locator(f"{ACCURACY} input")
    box.fill("0.21 mm")
    opens(one, "as-built.toml")
    if not heard:
        box.press("Enter")
    shows(other, "as-built.toml")
    other.wait_for_function(f"{ALERT}.includes('Another window opened as-built.toml')")
    other.wait_for_function(f"{ALERT}.includes('0.21 mm')")
    other.wait_for_selector(f"{ACCURACY} input")
    assert other.locator(f"{ACCURACY} input").input_value() != "0.21 mm"
    assert other.evaluate("document.querySelector('h1').innerText") == one.evaluate("document.querySelector('h1').innerText")
    assert other.evaluate("document.querySelector('.promises').innerText.includes(' was ')") is False
    other.wait_for_timeout(600)
    assert {p.name: p.read_text() for p in file.parent.glob("*.toml")} == texts
    # what is typed from here on is meant for the file that is shown
    fresh = other.locator(f"{ACCURACY} input")
    fresh.fill("0.33 mm")
    fresh.press("Enter")
    one.wait_for_function("window.__board.state.value.undo?.includes('0.33 mm')")
    assert 'accuracy = "0.33 mm"' in (file.parent / "as-built.toml").read_text()
    assert file.read_text() == texts[file.name]
    one.close()
    other.close()


def test_the_drawing_is_that_of_the_file_and_no_promise_is_held_against_the_one_before(browser: Any, board: Board) -> None:
    page = at_work(browser, board)
    box = page.locator(f"{ACCURACY} input")
    box.fill("0.2 mm")
    box.press("Enter")
    page.wait_for_selector(".last-change")
    drawn = "JSON.stringify(window.__board.views[0].pieces())"
    page.wait_for_function("window.__board.views.length === 1 && window.__board.views[0].pieces().length > 0")
    before = page.evaluate(drawn)
    opens(page, "as-built.toml")
    page.wait_for_selector(".promises")
    assert page.locator(".last-change").count() == 0
    assert "was " not in page.locator(".promises").inner_text()
    assert "Opened as-built.toml" in page.locator(".said").inner_text()
    page.wait_for_function("window.__board.views.length === 1 && window.__board.views[0].pieces().length > 0")
    page.wait_for_function(f"(before) => {drawn} !== before", arg=before)
    page.close()


def test_a_change_of_another_window_is_told_by_its_own_name(browser: Any, board: Board) -> None:
    one, other = at_work(browser, board), at_work(browser, board)
    box = one.locator(f"{ACCURACY} input")
    box.fill("0.2 mm")
    box.press("Enter")
    other.wait_for_function("document.querySelector('.last-change')?.innerText.includes('0.2 mm')", timeout=10_000)
    box = other.locator(f"{ACCURACY} input")
    box.fill("0.22 mm")
    box.press("Enter")
    one.wait_for_function("document.querySelector('.last-change')?.innerText.includes('0.22 mm')", timeout=10_000)
    assert "0.22 mm" in one.locator(".tools").inner_text()
    one.close()
    other.close()


def test_a_typo_from_outside_leaves_the_fields_in_view_and_two_ways_back(browser: Any, board: Board, file: Path) -> None:
    page = at_work(browser, board)
    whole, stages = file.read_text(), page.locator(".stages li").count()
    file.write_text(whole.replace("[purpose]", "[purpose"))
    page.get_by_role("button", name="Take theirs").first.click()
    page.wait_for_function(f"{ALERT}.includes('no whole machine')")
    line = whole[: whole.index("[purpose]")].count("\n") + 1
    assert f"{file.name}:{line}" in page.evaluate(ALERT)
    page.wait_for_selector(f"{ACCURACY} output")
    assert page.locator(f"{ACCURACY} input").count() == 0
    assert page.locator(".stages li").count() == stages > 5
    page.get_by_role("button", name="Keep mine: the last whole text").click()
    page.wait_for_selector(f"{ACCURACY} input")
    assert file.read_text() == whole
    page.close()


def test_a_file_that_was_deleted_is_written_again_by_the_next_change(browser: Any, board: Board, file: Path) -> None:
    page = at_work(browser, board)
    file.unlink()
    page.wait_for_function(f"{ALERT}.includes('The next change writes it again')")
    box = page.locator(f"{ACCURACY} input")
    box.fill("0.21 mm")
    box.press("Enter")
    page.wait_for_function(f"!{ALERT}.includes('writes it again')")
    assert file.read_text() == (DEMO / file.name).read_text().replace('accuracy = "0.3 mm"', 'accuracy = "0.21 mm"')
    page.close()


def test_a_refused_write_is_repeated_by_enter(browser: Any, board: Board, file: Path) -> None:
    page = at_work(browser, board)
    whole = file.read_text()
    box = page.locator(f"{ACCURACY} input")
    file.write_text(whole + "# theirs\n")
    box.fill("0.21 mm")
    box.press("Enter")
    page.wait_for_selector(f'{ACCURACY} [role="alert"]')
    file.write_text(whole)
    box.press("Enter")
    page.wait_for_function("window.__board.state.value.undo?.includes('0.21 mm')")
    assert 'accuracy = "0.21 mm"' in file.read_text()
    page.close()


def test_the_verdict_does_not_jump_when_something_is_typed_or_changed(browser: Any, board: Board) -> None:
    page = at_work(browser, board)
    page.wait_for_function("window.__board.state.value.settled.words.startsWith('settled with')", timeout=60_000)
    page.evaluate(
        """() => {
            window.__tallies = new Set();
            const open = () => document.querySelector('.settled').dataset.state !== 'done'; // of fewer samples the new spread may differ
            const note = () => (window.__tallies.size === 0 || open()) && window.__tallies.add(document.querySelector('.cell-verdict .tally')?.innerText.split(/holds/)[0].replace(/\\d+ *$/, ''));
            note();
            new MutationObserver(note).observe(document.querySelector('.cell-verdict'), {subtree: true, childList: true, characterData: true});
        }"""
    )
    box = page.locator('[data-path="purpose.feed"] input')
    box.fill("3.99 m/min")
    page.wait_for_selector('.settled[data-state="ahead"]')
    page.wait_for_timeout(500)
    box.press("Enter")
    page.wait_for_selector('.settled[data-state="pending"]')
    page.wait_for_function("window.__board.state.value.settled.state === 'done'", timeout=60_000)
    page.wait_for_timeout(1500)
    assert len(page.evaluate("[...window.__tallies]")) == 1
    page.close()


def test_long_work_is_stopped_where_it_was_started(browser: Any, board: Board) -> None:
    page = at_work(browser, board)
    page.evaluate("location.hash = 'stiffness'")
    page.get_by_role("button", name="Try all changes").click()
    page.locator(".stiffen .job-here").get_by_role("button", name="Stop").click()
    page.wait_for_selector("text=It was stopped.", timeout=15_000)
    assert page.locator(".job-here").count() == 0
    page.close()

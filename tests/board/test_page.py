"""A new user's sessions in a real browser, from opening to a mended finding, with a keyboard alone, in two windows, through a crash."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from driven_board import AXE, Board, browsing, lacking, look, stands

pytestmark = [pytest.mark.slow, pytest.mark.skipif(bool(lacking()), reason=lacking() or "-")]
DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"
STAGES = ("work", "frame", "guides", "drives", "spindle", "cut", "power", "stiffness", "ringing", "findings", "compare")


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


def value(page: Any, path: str) -> str:
    return page.evaluate("(p) => window.__board.state.value[p]", path)  # type: ignore[no-any-return]


def promised(page: Any, label: str) -> str:
    return page.evaluate("(l) => window.__board.state.value.promises.find((p) => p.label === l).text", label)  # type: ignore[no-any-return]


def field(page: Any, path: str) -> Any:
    return page.locator(f'[data-path="{path}"] input').first


def stage(page: Any, name: str) -> None:
    page.evaluate("(s) => { location.hash = s }", name)
    page.wait_for_timeout(150)


def rev(page: Any) -> int:
    return int(page.evaluate("window.__board.state.value.rev"))


def wait_rev(page: Any, past: int) -> None:
    page.wait_for_function("(r) => window.__board.state.value.rev > r", arg=past, timeout=15_000)


def test_from_open_to_a_mended_finding_and_open_again(browser: Any, board: Board, file: Path) -> None:
    page = look(browser, board.url)
    stands(page)
    fails = page.evaluate("window.__board.state.value.verdict.fail")
    assert fails > 5
    stage(page, "findings")
    page.locator(".finding-open", has_text="DRV-101").first.click()
    page.wait_for_selector("text=What would mend it")
    page.wait_for_selector("text=mends it", timeout=60_000)
    before = rev(page)
    page.get_by_role("button", name="Try it").first.click()
    wait_rev(page, before)
    page.wait_for_function("window.__board.state.value.settled.state === 'done'", timeout=60_000)
    assert page.evaluate("window.__board.state.value.verdict.fail") < fails
    assert value(page, "undo").startswith("try: ")
    text = file.read_text()
    assert text != (DEMO / "first-idea.toml").read_text()
    assert "# Invented demo" in text
    page.close()
    board.close()
    again = Board(file, file.parent)
    try:
        page = look(browser, again.url)
        stands(page)
        assert value(page, "undo").startswith("try: ")
        page.keyboard.press("Control+z")
        wait_rev(page, 1)
        assert file.read_text() == (DEMO / "first-idea.toml").read_text()
        assert page.troubles == []
    finally:
        again.close()


def test_a_half_typed_value_is_previewed_and_never_stored(browser: Any, board: Board, file: Path) -> None:
    page = look(browser, board.url)
    stands(page)
    stage(page, "work")
    text, before = file.read_text(), promised(page, "X rapid")
    box = field(page, "purpose.accuracy")
    box.fill("")
    box.type('1-1/2"', delay=30)
    page.wait_for_timeout(400)
    assert file.read_text() == text
    box.press("Escape")
    assert box.input_value() == "0.3 mm"
    box.fill("3 kg")
    box.press("Enter")
    page.wait_for_selector('[data-path="purpose.accuracy"] [role="alert"]')
    assert file.read_text() == text
    box.fill("1/64 in")
    past = rev(page)
    box.press("Enter")
    wait_rev(page, past)
    assert 'accuracy = "1/64 in"' in file.read_text()
    assert promised(page, "X rapid") == before
    assert page.troubles == []


def test_numbers_follow_what_is_typed_before_it_is_written(browser: Any, board: Board, file: Path) -> None:
    page = look(browser, board.url)
    stands(page)
    stage(page, "drives")
    text = file.read_text()
    page.wait_for_selector('[data-path="axis.x.drive.main.part"] input')
    box = field(page, "axis.x.drive.main.part")
    before = page.locator(".promises").first.inner_text() if page.query_selector(".promises") else page.inner_text("body")
    box.fill("ball-screw-2010")
    page.wait_for_timeout(800)
    after = page.locator(".promises").first.inner_text() if page.query_selector(".promises") else page.inner_text("body")
    assert before != after
    assert file.read_text() == text
    box.press("Escape")


def test_with_the_keyboard_alone(browser: Any, board: Board, file: Path) -> None:
    page = look(browser, board.url)
    stands(page)
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    seen: list[str] = []
    for _ in range(60):
        page.keyboard.press("Tab")
        where = page.evaluate("document.activeElement.closest('[data-path]')?.dataset.path ?? document.activeElement.tagName")
        seen.append(where)
        if where == "purpose.accuracy" and page.evaluate("document.activeElement.tagName") == "INPUT":
            break
    assert "purpose.accuracy" in seen
    past = rev(page)
    page.keyboard.press("Control+a")
    page.keyboard.type("0.2 mm")
    page.keyboard.press("Enter")
    wait_rev(page, past)
    assert 'accuracy = "0.2 mm"' in file.read_text()
    page.evaluate("document.activeElement.blur()")
    past = rev(page)
    page.keyboard.press("Control+z")
    wait_rev(page, past)
    assert 'accuracy = "0.3 mm"' in file.read_text()
    for number, name in enumerate(STAGES[:9], 1):
        page.keyboard.press(str(number))
        page.wait_for_function("(s) => location.hash === '#' + s", arg=name)
    assert page.troubles == []


def test_two_windows_stay_in_step(browser: Any, board: Board) -> None:
    one, other = look(browser, board.url), look(browser, board.url)
    for page in (one, other):
        stands(page)
        stage(page, "work")
    box = field(one, "purpose.accuracy")
    past = rev(other)
    box.fill("0.25 mm")
    box.press("Enter")
    wait_rev(other, past)
    other.wait_for_function("document.querySelector('[data-path=\"purpose.accuracy\"] input').value === '0.25 mm'", timeout=10_000)


def test_a_killed_program_loses_nothing(browser: Any, board: Board, file: Path) -> None:
    page = look(browser, board.url)
    stands(page)
    stage(page, "work")
    box = field(page, "purpose.accuracy")
    past = rev(page)
    box.fill("0.25 mm")
    box.press("Enter")
    wait_rev(page, past)
    box.fill("0.2")  # being typed when the power goes
    board.kill()
    page.wait_for_selector("text=Not connected", timeout=15_000)
    assert box.input_value() == "0.2"
    again = Board(file, file.parent, port=board.port)
    try:
        page.wait_for_selector("text=Not connected", state="detached", timeout=20_000)
        assert box.input_value() == "0.2"
        assert 'accuracy = "0.25 mm"' in file.read_text()
        page.wait_for_function("window.__board.state.value.undo !== null", timeout=10_000)
        box.fill("0.2 mm")
        box.press("Enter")
        page.wait_for_function("window.__board.state.value.rev > 1", timeout=10_000)
        assert 'accuracy = "0.2 mm"' in file.read_text()
    finally:
        again.close()


def test_the_start_page_makes_a_machine(browser: Any, tmp_path: Path) -> None:
    board = Board(None, tmp_path)
    try:
        page = look(browser, board.url)
        page.wait_for_selector("text=A new machine")
        page.get_by_label("folder").first.fill("my-router")
        page.get_by_role("button", name="Make the machine file").click()
        stands(page)
        assert (tmp_path / "my-router" / "machine.toml").is_file()
        assert page.troubles == []
    finally:
        board.close()


def test_the_strict_policy_leaves_the_console_clean(browser: Any, board: Board) -> None:
    page = look(browser, board.url, bypass=False)
    page.wait_for_selector("h2", timeout=20_000)
    page.wait_for_timeout(2500)
    assert page.troubles == []


@pytest.mark.skipif(not AXE.is_file(), reason="axe-core is not installed (npm ci in web/)")
@pytest.mark.parametrize(("width", "height"), [(1440, 900), (1024, 768), (390, 844)])
def test_nothing_for_axe_on_any_stage(browser: Any, board: Board, width: int, height: int) -> None:
    page = look(browser, board.url, width=width, height=height)
    stands(page)
    page.evaluate(AXE.read_text())
    for name in STAGES:
        stage(page, name)
        page.wait_for_timeout(500)
        found = page.evaluate("axe.run().then(r => r.violations.map(v => [v.id, v.nodes.map(n => n.target.join(' '))]))")
        assert found == [], (name, width)
        wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert wide <= 0, (name, width)


@pytest.mark.parametrize(("width", "height"), [(1440, 900), (768, 1024), (360, 740)])
def test_the_buttons_of_the_view_are_one_row_of_full_targets(browser: Any, board: Board, width: int, height: int) -> None:
    page = look(browser, board.url, width=width, height=height)
    stands(page)
    stage(page, "findings")
    if width < 700:
        page.get_by_role("button", name="Drawing", exact=True).click()
    page.wait_for_selector(".mv-views button")
    boxes = [box.bounding_box() for box in page.locator(".mv-views button").all()]
    assert len(boxes) == 9
    assert len({box["y"] for box in boxes}) == 1
    assert all(box["width"] >= 44 and box["height"] >= 44 for box in boxes)
    ways = page.locator(".mv-ways button")
    for button in (ways.first, ways.last):  # each can be brought into view, by the keyboard too
        button.focus()
        edge, box = page.locator(".mv-ways").bounding_box(), button.bounding_box()
        assert box["x"] >= edge["x"] - 1
        assert box["x"] + box["width"] <= edge["x"] + edge["width"] + 1

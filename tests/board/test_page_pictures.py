"""Pictures in a real browser: drawn, read by pointer and by keys, leading to parts and places, saved, let go; the sheet printed."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from driven_board import AXE, Board, browsing, lacking, look, stands
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import resolve
from gantrywright.pictures.guides import block_loads
from gantrywright.pictures.picture import Picture
from gantrywright.study.study import run

pytestmark = [pytest.mark.slow, pytest.mark.skipif(bool(lacking()), reason=lacking() or "-")]
DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"
INKED = """(canvas) => {
  const {data} = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
  const colours = new Set();
  for (let i = 0; i < data.length; i += 4) if (data[i + 3] > 200) colours.add((data[i] << 16) | (data[i + 1] << 8) | data[i + 2]);
  return [...colours];
}"""


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with browsing() as made:
        yield made


@pytest.fixture(scope="module")
def board(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Board]:
    """Nothing here changes the machine: one board serves all tests."""
    folder = tmp_path_factory.mktemp("machine")
    (folder / "router.toml").write_text((DEMO / "first-idea.toml").read_text())
    made = Board(folder / "router.toml", folder)
    yield made
    made.close()


@pytest.fixture
def page(browser: Any, board: Board) -> Iterator[Any]:
    made = look(browser, board.url)
    stands(made)
    yield made
    assert made.troubles == []
    made.context.close()


def stage(page: Any, name: str) -> Any:
    page.evaluate("(s) => { location.hash = s }", name)
    page.wait_for_selector(f'.stages a[aria-current][href="#{name}"]')
    page.wait_for_selector(".picture .picture-in")
    return page.locator(".picture").first


def test_a_chart_shows_its_lines_and_follows_its_room(page: Any) -> None:
    picture = stage(page, "drives")
    canvas = picture.locator("canvas")
    page.wait_for_timeout(300)
    colours = {f"#{colour:06x}" for colour in canvas.evaluate(INKED)}
    assert {"#285b8e", "#cc7a1e", "#3c2213"} <= colours  # a line of each axis
    wide = canvas.bounding_box()["width"]
    page.set_viewport_size({"width": 1100, "height": 900})
    page.wait_for_timeout(300)
    room = picture.locator(".chart").bounding_box()["width"]
    assert canvas.bounding_box()["width"] != wide
    assert canvas.bounding_box()["width"] <= room


def read_at(picture: Picture, place: float) -> str:
    """What is read off lines at a place that is a point of every line that comes so far, with four figures."""
    assert picture.x is not None
    assert picture.y is not None
    told = []
    for line in picture.series:
        value = dict(line.points).get(place)
        told.append(f"{line.name} does not reach" if value is None else f"{line.name} {value:.4g} {picture.y.unit}")
    return f"{picture.x.label} {place:.4g} {picture.x.unit}: {'; '.join(told)}"


def test_pointer_and_keys_read_the_same_numbers(page: Any) -> None:
    picture, lines = stage(page, "guides"), block_loads(run(resolve(read_document(DEMO / "first-idea.toml"))))
    chart = picture.locator(".chart")
    chart.focus()
    page.keyboard.press("Home")
    at_start = chart.get_attribute("aria-valuetext")
    assert at_start == read_at(lines, 0.0)
    page.keyboard.press("End")
    at_end = chart.get_attribute("aria-valuetext")
    assert at_end == read_at(lines, max(place for line in lines.series for place, _ in line.points))
    assert "Y blocks, along X" in at_end
    assert "does not reach" in at_end
    picture.locator(".u-over").scroll_into_view_if_needed()
    over = picture.locator(".u-over").bounding_box()
    page.mouse.move(over["x"] + 1, over["y"] + over["height"] / 2)
    page.wait_for_function("(t) => document.querySelector('.chart').getAttribute('aria-valuetext') === t", arg=at_start)
    page.mouse.move(5, 5)
    page.wait_for_function("document.querySelector('.chart').getAttribute('aria-valuetext').startsWith('nothing read')")


def test_the_machine_goes_where_the_map_was_read(page: Any) -> None:
    picture = stage(page, "stiffness")
    picture.locator('[role="application"]').focus()
    page.keyboard.press("ArrowUp")
    assert "X 625 mm, Y 0 mm: 0.32" in picture.inner_text()
    page.keyboard.press("End")
    picture.get_by_role("button", name="Stand the machine there").click()
    page.wait_for_function("document.querySelector('.machine').innerText.includes('X 1250 mm, Y 0 mm')")
    picture.locator("canvas").click(position={"x": 70, "y": 16})  # the far left corner of the table
    page.wait_for_function("document.querySelector('.heat-read').innerText.includes('X 0 mm, Y 1250 mm')")
    colours = {f"#{colour:06x}" for colour in picture.locator("canvas").evaluate(INKED)}
    assert {"#104483", "#fbd888", "#b4231a"} <= colours  # softest, stiffest, the ring


def test_a_bar_leads_to_its_part(page: Any) -> None:
    stage(page, "stiffness")
    bar = page.locator("button.bar").first
    assert "gantry.beam" in bar.inner_text()
    bar.focus()
    page.keyboard.press("Enter")
    page.wait_for_selector("#chosen-title")
    assert bar.get_attribute("aria-pressed") == "true"


def test_the_table_holds_the_same_and_files_are_saved(page: Any) -> None:
    picture = stage(page, "ringing")
    assert picture.locator("tbody tr").count() == 12
    answer = page.locator(".picture").nth(1)
    answer.get_by_role("button", name="Show as table").click()
    assert answer.locator("tbody tr").count() > 200
    assert answer.locator("canvas").count() == 0
    for form, start in (("SVG", "<svg"), ("CSV", "\ufeffseries")):
        with page.expect_download() as told:
            answer.get_by_role("link", name=form).click()
        assert told.value.suggested_filename == f"receptance.{form.lower()}"
        assert Path(told.value.path()).read_text(encoding="utf-8").startswith(start)


def test_charts_are_let_go_with_their_stage(page: Any) -> None:
    for _ in range(6):
        for name in ("guides", "drives", "ringing"):
            stage(page, name)
    page.wait_for_timeout(200)
    assert page.locator(".uplot").count() == 1
    page.evaluate("(s) => { location.hash = s }", "work")
    page.wait_for_timeout(200)
    assert page.locator(".uplot").count() == 0


def test_the_sheet_prints_on_paper(browser: Any, board: Board) -> None:
    page = look(browser, board.url, bypass=False)
    page.goto(f"{board.url}sheet")
    assert page.locator("img").count() == 3
    assert page.evaluate("[...document.images].every((i) => i.complete && i.naturalWidth > 0)")
    pdf = page.pdf(prefer_css_page_size=True)
    assert pdf.startswith(b"%PDF")
    assert 4 <= len(re.findall(rb"/Type\s*/Page\b", pdf)) <= 14
    boxes = set(re.findall(rb"/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)", pdf))
    assert {(round(float(w)), round(float(h))) for w, h in boxes} <= {(595, 842), (596, 842), (595, 841)}  # A4 in points
    assert page.troubles == []
    page.context.close()


@pytest.mark.parametrize("width", [360, 1200])
def test_nothing_for_axe_on_the_sheet(browser: Any, board: Board, width: int) -> None:
    page = look(browser, board.url, width=width)
    page.goto(f"{board.url}sheet")
    page.evaluate(AXE.read_text())
    assert page.evaluate("axe.run().then((r) => r.violations.map((v) => [v.id, v.nodes.map((n) => n.target.join(' '))]))") == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.context.close()

"""What the page is told of a promise."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from gantrywright.board.desk import Desk
from gantrywright.board.paper import _promises
from gantrywright.board.views import _promise, change, promised, reached, title
from gantrywright.cli.screen import _promise_table
from gantrywright.findings import Status
from gantrywright.intake.document import parse_toml, read_document
from gantrywright.intake.resolve import resolve
from gantrywright.study.promises import Promise
from gantrywright.study.study import run

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


@pytest.mark.parametrize(
    ("what", "value", "wanted", "expected"),
    [
        ("rapid", 0.2, 0.1, True),
        ("rapid", 0.1, 0.1, True),
        ("rapid", 0.05, 0.1, False),
        ("wall error", 0.2e-3, 0.3e-3, True),  # less is better
        ("wall error", 0.4e-3, 0.3e-3, False),
        ("cost", 3000.0, 2400.0, False),
        ("mass", 300.0, 200.0, None),  # neither is better
        ("rapid", None, 0.1, None),
        ("rapid", 0.1, None, None),
    ],
)
def test_reached_is_told_by_the_way_that_is_better(
    what: str, value: float | None, wanted: float | None, expected: bool | None
) -> None:
    assert reached(Promise("axis.x", what, value, "m/s", wanted=wanted)) is expected


@pytest.mark.parametrize(("value", "expected"), [(1178.0, None), (2400.0, None), (2500.0, False)])
def test_a_lower_bound_never_meets_a_budget_but_may_break_it(value: float, expected: bool | None) -> None:
    made = Promise("machine", "cost", value, "EUR", wanted=2400.0, at_least=True)
    assert reached(made) is expected
    assert change(made, 1000.0, "metric", is_kept=True)["better"] is None


def test_what_its_finding_cannot_tell_no_promise_tells(folder: Path) -> None:
    """One truth on the page, on paper and on the command line: an open-loop axis may or may not reach what is wanted."""
    study = run(resolve(read_document(DEMO / "first-idea.toml")))
    judged = {f.subject: f.status for f in study.findings if f.id == "MOT-101"}
    assert {Status.UNKNOWN, Status.FAIL} <= set(judged.values()), "the machine of this test has both"
    told = {row["subject"]: row for row in promised(study, None, {}) if row["what"] == "rapid"}
    for axis, status in judged.items():
        assert told[axis]["value"] < study.machine.axis(axis.removeprefix("axis.")).rapid
        assert (told[axis]["reached"], told[axis]["undecided"]) == ((None, True) if status is Status.UNKNOWN else (False, False))
    unknown = sum(status is Status.UNKNOWN for status in judged.values())
    assert _promises(study).count("not known whether reached") == unknown
    shown = [str(cell) for column in _promise_table(study).columns for cell in column.cells]
    assert sum("not known whether reached" in cell for cell in shown) == unknown


def cost_of(text: str, folder: Path) -> dict[str, object]:
    study = run(resolve(parse_toml(text.encode(), folder / "router.toml")))
    return next(row for row in promised(study, None, {}) if row["what"] == "cost")


def test_cost_is_a_lower_bound_with_some_prices_and_unknown_with_none(folder: Path) -> None:
    text = (folder / "router.toml").read_text()
    some = cost_of(text, folder)
    assert str(some["text"]).startswith("at least ")
    assert "without a price, such as " in str(some["binds"])
    without = re.sub(r'(,\s*)?price = "[^"]*"', "", text)
    assert "price" not in without
    none = cost_of(without, folder)
    assert (none["value"], none["text"], none["reached"], none["change"]) == (None, "unknown", None, "")
    assert "no part to be bought has a price: " in str(none["binds"])


@pytest.mark.parametrize(
    ("made", "before", "system", "unit"),
    [
        (Promise("axis.x", "drive stiffness", 3.08e5, "N/m"), 3.25e5, "metric", "N/um"),
        (Promise("job.frames", "wall error", 5.461e-5, "m", wanted=5e-4), 5e-5, "inch", "thou"),
        (Promise("axis.x", "rapid", 0.2, "m/s", wanted=0.001), 0.19, "metric", "m/min"),
    ],
)
def test_a_promise_speaks_in_one_unit(made: Promise, before: float, system: str, unit: str, folder: Path) -> None:
    study = run(resolve(parse_toml((folder / "router.toml").read_bytes(), folder / "router.toml")))
    study = replace(study, machine=replace(study.machine, show=system))
    wide = replace(made, low=made.value * 0.001, high=made.value * 1000)  # type: ignore[operator]
    told = _promise(study, wide, None, {(made.subject, made.what): before})
    assert told["text"].endswith(f" {unit}")
    assert f" {unit} (" in told["change"]
    assert told["wanted"] == "" or told["wanted"].endswith(f" {unit}")
    low, high = told["band"].split("..")
    assert float(high) / float(low) == pytest.approx(1e6, rel=0.1)  # numbers of one unit


def test_the_revision_counts_the_steps_that_stand(folder: Path) -> None:
    desk = Desk(folder / "router.toml")
    assert (title(desk, desk.sheet)["revision"], title(desk, desk.sheet)["date_of_issue"]) == ("0", "")
    for text in ("0.07 mm", "0.08 mm", "0.09 mm"):
        desk.edit([("purpose.accuracy", text)], text)
        desk.replace_text(desk.sheet.text + "#", "a remark")
    assert title(desk, desk.sheet)["revision"] == "6"
    desk.undo()
    desk.undo()
    assert title(desk, desk.sheet)["revision"] == "4"
    desk.edit([("purpose.accuracy", "0.06 mm")], "another")  # what was undone is left for good
    assert title(desk, desk.sheet)["revision"] == "5"
    for _ in range(5):
        desk.undo()
    assert (title(desk, desk.sheet)["revision"], title(desk, desk.sheet)["date_of_issue"]) == ("0", "")

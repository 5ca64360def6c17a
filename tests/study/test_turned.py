"""What a remedy does to the other findings: nothing that can no longer be judged is called mended, and what gets worse is told."""

from dataclasses import replace
from pathlib import Path

import pytest

from gantrywright.findings import Check, Finding, Status, Verdict, ceiling, judge, unknown
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import again, resolve
from gantrywright.study.remedies import with_remedies
from gantrywright.study.study import run
from gantrywright.study.turned import turned, typically

FIRST_IDEA = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo" / "first-idea.toml"


def finding(id: str, value: float | None, *, watch: float = 0.0) -> Finding:
    check = Check(id, "title", "why", "derived", "remedy", lambda _, __: ())
    said: Verdict = (
        unknown("axis.x", missing="a curve") if value is None else ceiling("axis.x", value=value, limit=1.0, unit="", watch=watch)
    )
    return judge(check, said)


OWN = finding("DRV-101", 2.0)


@pytest.mark.parametrize(
    ("before", "after", "watch", "better", "worse"),
    [
        (1.5, 0.5, 0.0, ["also mends MOT-101 axis.x"], []),
        (1.5, None, 0.0, [], ["becomes unknown: MOT-101 axis.x"]),
        (0.5, None, 0.0, [], ["becomes unknown: MOT-101 axis.x"]),
        (None, None, 0.0, [], []),
        (None, 1.5, 0.0, [], ["but then fails MOT-101 axis.x"]),
        (0.5, 1.5, 0.0, [], ["but then fails MOT-101 axis.x"]),
        (1.2, 1.3, 0.0, [], ["makes worse: MOT-101 axis.x (margin -20 % to -30 %)"]),
        (1.2, 1.22, 0.0, [], []),
        (0.1, 0.7, 0.0, [], []),
        (0.1, 0.7, 0.5, [], ["makes worse: MOT-101 axis.x (margin +90 % to +30 %)"]),
        (0.6, 0.7, 0.5, [], ["makes worse: MOT-101 axis.x (margin +40 % to +30 %)"]),
    ],
)  # fmt: skip
def test_what_gets_better_and_what_gets_worse(
    before: float | None, after: float | None, watch: float, better: list[str], worse: list[str]
) -> None:
    was, now = (finding("MOT-101", value, watch=watch) for value in (before, after))
    assert turned([OWN, was], [finding("DRV-101", 0.5), now], OWN) == (better, worse)


def test_where_there_is_still_hope_a_little_less_is_told() -> None:
    doubtful = replace(finding("STR-103", 1.22), status=Status.WATCH)  # by its spread it may hold
    assert turned([doubtful], [finding("STR-103", 1.24)], OWN)[1] == ["makes worse: STR-103 axis.x (margin -22 % to -24 %)"]
    assert turned([finding("STR-103", 1.22)], [finding("STR-103", 1.24)], OWN)[1] == []


def test_every_tried_remedy_of_a_machine_names_what_becomes_unknown_and_mends_nothing_of_it() -> None:
    document = read_document(FIRST_IDEA)
    study = with_remedies(run(resolve(document)), again(document))
    was = {(f.id, f.subject): typically(f).status for f in study.findings}
    seen = 0
    for found in (f for f in study.findings if f.remedies):
        for change, remedy in zip(found.verdict.changes, found.remedies, strict=True):
            after = {(f.id, f.subject): f.status for f in run(resolve(revise(document, change.edits))).findings}
            lost = [
                f"{id} {at}"
                for (id, at), s in after.items()
                if s is Status.UNKNOWN and was.get((id, at)) not in (None, Status.UNKNOWN)
            ]
            others = [name for name in lost if name != f"{found.id} {found.subject}"]
            told = "; ".join(remedy.effects)
            assert all(name not in told.partition("also mends ")[2].partition(";")[0] for name in others), told
            if others:
                assert remedy.harms, told
                assert f"becomes unknown: {', '.join(others[:1])}" in told
                seen += 1
    assert seen, "the machine of this test has such remedies"

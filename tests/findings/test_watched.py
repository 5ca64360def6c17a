"""A value that is only watched is told against the limit where watching begins."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from gantrywright.findings import Check, Finding, Status, Verdict, ceiling, floor, holds, judge, watched

CHECK = Check("CUT-103", "title", "why", "derived", "remedy", lambda _, __: ())


def judged(verdict: Verdict) -> Finding:
    return judge(CHECK, verdict)


@pytest.mark.parametrize(
    ("kind", "value", "limit", "watch", "begins", "margin"),
    [
        (floor, 111e-6, 45e-6, 1 / 0.3 - 1, 150e-6, -0.26),  # a chip below the usual range, above where teeth rub
        (floor, 3.0, 2.0, 1.0, 4.0, -0.25),
        (ceiling, 80.0, 100.0, 0.4, 60.0, -1 / 3),
    ],
)
def test_limit_and_margin_are_those_of_watching(
    kind: Callable[..., Verdict], value: float, limit: float, watch: float, begins: float, margin: float
) -> None:
    found = judged(kind("job.a", value=value, limit=limit, unit="m", watch=watch))
    assert found.status is Status.WATCH
    told = watched(found)
    assert told is not None
    assert told.limit == pytest.approx(begins)
    assert told.margin == pytest.approx(margin, abs=1e-9)
    by_itself = kind("job.a", value=value, limit=told.limit, unit="m")
    assert told.margin == pytest.approx(by_itself.margin), "as if the check had been asked with that limit"


@pytest.mark.parametrize(
    "verdict",
    [
        floor("a", value=5.0, limit=2.0, unit="", watch=1.0),  # well
        floor("a", value=1.0, limit=2.0, unit="", watch=1.0),  # fails
        ceiling("a", value=80.0, limit=100.0, unit="", watch=1e9),  # never better than to be watched
        replace(ceiling("a", value=120.0, limit=100.0, unit="", watch=0.05), margin=0.0),  # a caution, capped
        replace(ceiling("a", value=90.0, limit=100.0, unit="", watch=1e-9), margin=0.0),
        holds("a", true=True, note=""),
        ceiling("a", value=0.0, limit=0.0, unit="", watch=0.1),
    ],
)
def test_others_are_told_against_their_own_limit(verdict: Verdict) -> None:
    assert watched(judged(verdict)) is None


def test_what_may_fail_is_told_against_its_limit() -> None:
    found = judged(floor("a", value=3.0, limit=2.0, unit="", watch=1.0))
    assert watched(replace(found, worse=-0.01)) is None
    assert watched(replace(found, worse=0.01)) is not None

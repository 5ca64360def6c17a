"""Status from margins, typical and sampled."""

import numpy as np
import pytest

from gantrywright.base.samples import ranked
from gantrywright.findings import Check, Status, Verdict, ceiling, check, floor, holds, judge, judge_spread, unknown


@check("DRV-999", title="A thing stays below its limit", why="Otherwise it breaks.", source="definition", remedy="Change it.")
def thing(machine: object, results: object) -> list[Verdict]:
    return []


def test_a_decorated_function_is_a_check() -> None:
    assert isinstance(thing, Check)
    assert list(thing.judge(None, None)) == []


@pytest.mark.parametrize(
    ("value", "limit", "watch", "status"),
    [(8.0, 10.0, 0.0, Status.OK), (8.0, 10.0, 0.3, Status.WATCH), (10.5, 10.0, 0.0, Status.FAIL), (10.0, 10.0, 0.0, Status.OK)],
)
def test_ceiling(value: float, limit: float, watch: float, status: Status) -> None:
    verdict = ceiling("a", value=value, limit=limit, unit="N", watch=watch)
    assert verdict.margin == pytest.approx(1 - value / limit)
    assert judge(thing, verdict).status is status


@pytest.mark.parametrize(("value", "limit", "status"), [(3.0, 2.0, Status.OK), (1.9, 2.0, Status.FAIL)])
def test_floor(value: float, limit: float, status: Status) -> None:
    verdict = floor("a", value=value, limit=limit, unit="")
    assert verdict.margin == pytest.approx(value / limit - 1)
    assert judge(thing, verdict).status is status


def test_unknown_is_never_ok() -> None:
    assert judge(thing, unknown("a", missing="its rating")).status is Status.UNKNOWN
    assert judge(thing, ceiling("a", value=float("nan"), limit=1.0, unit="")).status is Status.UNKNOWN


def test_a_fact() -> None:
    assert judge(thing, holds("a", true=True, note="it does")).status is Status.OK
    assert judge(thing, holds("a", true=False, note="it does not")).status is Status.FAIL


@pytest.mark.parametrize(("centre", "status"), [(5.0, Status.OK), (10.0, Status.WATCH), (15.0, Status.FAIL)])
def test_spread_decides_by_both_ends(centre: float, status: Status) -> None:
    samples = {"x": np.linspace(-1, 1, 201)}
    typical = judge(thing, ceiling("a", value=centre, limit=10.0, unit="N"))
    found = judge_spread(typical, ceiling("a", value=centre + samples["x"], limit=10.0, unit="N"), ranked(samples))
    assert found.status is status
    assert found.low == pytest.approx(centre - 0.9, abs=0.01)
    assert found.high == pytest.approx(centre + 0.9, abs=0.01)
    assert found.settle == ("x" if status is Status.WATCH else "")


def test_probability_is_the_share_that_passes() -> None:
    samples = {"x": np.linspace(0, 1, 1000)}
    found = judge_spread(
        judge(thing, ceiling("a", value=0.5, limit=0.75, unit="")),
        ceiling("a", value=samples["x"], limit=0.75, unit=""),
        ranked(samples),
    )
    assert found.probability == pytest.approx(0.75, abs=0.002)

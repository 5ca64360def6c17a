"""A machine that is softer than was believed: its readings name what is, and what is believed after them comes nearer to the truth."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from gantrywright.base.units import Array
from gantrywright.disciplines.structure.analyse import tip_at
from gantrywright.disciplines.structure.reading_checks import measured_as_predicted
from gantrywright.disciplines.structure.readings import readings
from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.findings import Finding, Status, judge
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import again, resolve
from gantrywright.model.machine import Machine, Observation
from gantrywright.results.ledger import Ledger
from gantrywright.results.readings import Reading
from gantrywright.study.readings import CHECK, Lessons, explained, lessons
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.statistics import draw

BENCH = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo" / "bench.toml"
AT = (0.15, 0.2, 0.04)
POSE = {"x": 0.15, "y": 0.2, "z": 0.04 + 0.008125}
SHAFT = "spindle.part.shaft"
THINNER = 14.8 / 16
SAMPLES = 128
X = "structure.tip.stiffness_x"


@cache
def samples() -> Mapping[str, Array]:
    spreads = resolve(read_document(BENCH)).spreads
    return draw({path: spread for path, spread in spreads.items() if spread.high > spread.low}, SAMPLES)


@cache
def machines() -> tuple[Machine, Machine]:
    """As the file says, typical and sampled."""
    resolved = again(read_document(BENCH))
    return resolved({}, ()), resolved(samples(), ())


def predicted(machine: Machine, seen: tuple[Observation, ...], ledger: Ledger, earlier: tuple[Reading, ...] = ()) -> tuple[Reading, ...]:  # fmt: skip
    skeleton = skeleton_of(machine).skeleton
    assert skeleton is not None
    return readings(replace(machine, observations=seen), skeleton, Mesher(skeleton), ledger, earlier)


@cache
def real() -> tuple[float, float]:
    """Along X, of a machine whose spindle has a thinner shaft than the file says: stiffness, N/m, and frequency, Hz."""
    built = resolve(revise(read_document(BENCH), ((SHAFT, f"{16 * THINNER} mm"),)))
    push, tap = predicted(built, seen(1.0, 1.0), Ledger())
    return float(cast("float", push.predicted)), float(cast("float", tap.predicted))


def seen(stiffness: float, frequency: float, doubt: float = 0.02) -> tuple[Observation, ...]:
    """A push and a tap along X by instruments that are known to a standard uncertainty."""
    along: Any = {"at": AT, "along": (1.0, 0.0, 0.0)}
    return (
        Observation("push", "stiffness", "", stiffness, doubt * stiffness, "N/m", **along),
        Observation("tap", "frequency", "", frequency, doubt * frequency, "Hz", **along),
    )


def learned(stiffness: float, frequency: float, *, doubt: float = 0.02, status: Status = Status.OK) -> Lessons:
    first, many = machines()
    ledger, both = Ledger(), seen(stiffness, frequency, doubt)
    typical = predicted(first, both, Ledger())
    sampled = predicted(many, both, ledger, typical)
    tip = tip_at(many, POSE)
    assert tip is not None
    ledger.note(X, tip.stiffness[0], unit="N/m", formula="k", source="derived", title="along X")
    told = [SimpleNamespace(id=CHECK, subject=f"measured.{name}", status=status) for name in ("push", "tap")]
    return lessons(
        typical, sampled, cast("Any", told), ledger, [X], first.spreads, samples(), lambda path: "m" if path == SHAFT else ""
    )


def test_what_is_really_thinner_is_named_with_how_much() -> None:
    push = learned(*real()).compared[0]
    assert push.causes[0].path == SHAFT
    assert push.causes[0].factor == pytest.approx(THINNER, rel=0.03)
    assert push.percentile < 0.3


def test_what_is_believed_comes_nearer_to_the_truth_and_narrower() -> None:
    found = learned(*real())
    (tip,) = found.figures
    truth = real()[0]
    assert abs(tip.after[1] - truth) < 0.5 * abs(tip.before[1] - truth)
    assert tip.after[0] < truth < tip.after[2]
    assert tip.after[2] - tip.after[0] < 0.8 * (tip.before[2] - tip.before[0])
    shaft = next(each for each in found.inputs if each.path == SHAFT)
    assert shaft.unit == "m"
    assert abs(shaft.after[1] - 0.016 * THINNER) < abs(shaft.before[1] - 0.016 * THINNER)


def test_a_reading_as_expected_narrows_and_hardly_moves() -> None:
    first, _ = machines()
    push, tap = predicted(first, seen(1.0, 1.0), Ledger())
    (tip,) = learned(float(cast("float", push.predicted)), float(cast("float", tap.predicted))).figures
    assert tip.after[1] == pytest.approx(tip.before[1], rel=0.03)
    assert tip.after[2] - tip.after[0] < tip.before[2] - tip.before[0]


def test_a_coarse_instrument_teaches_little() -> None:
    (tip,) = learned(*real(), doubt=1.0).figures
    assert tip.after == pytest.approx(tip.before, rel=0.05)


def test_a_reading_that_does_not_fit_corrects_nothing() -> None:
    found = learned(*real(), status=Status.FAIL)
    assert found.figures == found.inputs == ()
    assert len(found.compared) == 2


@pytest.mark.parametrize(
    ("times", "words"), [(1.0, f"{SHAFT} times 0.9"), (0.6, "more than is believed of it"), (1e-3, "not even a factor of 10")]
)
def test_the_finding_says_what_would_explain_it(times: float, words: str) -> None:
    stiffness, frequency = real()
    found = learned(times * stiffness, frequency)
    machine = replace(machines()[0], observations=seen(times * stiffness, frequency))
    results = SimpleNamespace(structure=SimpleNamespace(readings=[each.reading for each in found.compared]))
    first = judge(measured_as_predicted, next(iter(measured_as_predicted.judge(machine, results))))
    said: Finding = explained(replace(first, status=Status.WATCH), found, "metric")
    assert words in said.verdict.note
    assert SHAFT in said.verdict.remedy
    assert said.verdict.limit == found.compared[0].band[0]
    assert np.isfinite(found.compared[0].causes[0].factor)

"""Readings of the finished machine: the same pose and direction as was pushed, the mode that a tap shows, and how far off is told."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from gantrywright.base.samples import ranked
from gantrywright.base.units import Real
from gantrywright.disciplines.structure.analyse import tip_at
from gantrywright.disciplines.structure.dynamics import COUNT, LONGEST
from gantrywright.disciplines.structure.reading_checks import measured_as_predicted
from gantrywright.disciplines.structure.readings import pose_at, readings
from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.disciplines.structure.statics import solved
from gantrywright.findings import Finding, Status, judge, judge_spread
from gantrywright.intake.resolve import load_machine
from gantrywright.model.frame import Vector
from gantrywright.model.machine import Machine, Observation
from gantrywright.results.ledger import Ledger
from gantrywright.results.readings import Reading
from gantrywright.theory.frames.assembly import stiffness
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.mesh import Mesher

BENCH = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo" / "bench.toml"
AT = (0.2, 0.4, 0.02)
ASKEW = (0.6, 0.0, 0.8)
ROUTES = 2e-3
"""Another pose is solved in fewer nodes: those that share a place differ by so much."""


@cache
def bench() -> Machine:
    return load_machine(BENCH)


def read(*seen: Observation) -> tuple[Reading, ...]:
    machine = replace(bench(), observations=seen)
    skeleton = skeleton_of(machine).skeleton
    assert skeleton is not None
    return readings(machine, skeleton, Mesher(skeleton), Ledger())


def pushed(along: Vector = ASKEW, *, value: Real | None = 1e6, at: Vector | None = AT, between: tuple[str, ...] = (), of: str = "") -> Observation:  # fmt: skip
    return Observation("push", "stiffness", of, value, 0.05e6, "N/m", at=at, along=along, between=between)


def tapped(along: Vector) -> Observation:
    return Observation("tap", "frequency", "", 30.0, 1.0, "Hz", at=AT, along=along)


def test_a_push_is_compared_at_its_own_place_and_along_its_own_direction() -> None:
    """Against the 3 x 3 give of the tip, which another route of the program makes."""
    tip = tip_at(bench(), pose_at(bench(), AT))
    assert tip is not None
    assert tip.pose == pytest.approx({"x": 0.2, "y": 0.4, "z": 0.02 + 0.008125})
    (found,) = read(pushed())
    assert found.predicted == pytest.approx(1 / (np.array(ASKEW) @ tip.give[:3, :3] @ np.array(ASKEW)), rel=ROUTES)
    assert sum(share for _, share in found.held) == pytest.approx(1, abs=0.1)  # what holds less than 2 % is not told


def test_shares_of_a_push_along_an_axis_are_those_of_the_tip() -> None:
    tip = tip_at(bench(), pose_at(bench(), AT))
    assert tip is not None
    told: dict[str, float] = {}
    for share in tip.shares:
        told[share.group] = told.get(share.group, 0.0) + float(share.along[1])
    (found,) = read(pushed((0.0, 1.0, 0.0)))
    for name, held in found.held:
        assert held == pytest.approx(told[name], abs=ROUTES)


def test_a_reading_without_a_place_is_taken_as_drawn() -> None:
    drawn = bench().drawn_at
    tip = tip_at(bench(), dict(zip("xyz", drawn, strict=True)))
    assert tip is not None
    (found,) = read(pushed((1.0, 0.0, 0.0), at=None))
    assert found.predicted == pytest.approx(tip.stiffness[0], rel=ROUTES)


def test_against_the_floor_the_table_and_what_holds_it_count_otherwise() -> None:
    (by_table,), (by_floor,) = read(pushed(between=("work", "tool"))), read(pushed(between=("tool", "floor")))
    assert by_table.predicted == read(pushed())[0].predicted
    assert by_floor.predicted != pytest.approx(by_table.predicted, rel=1e-3)
    assert "floor" in by_floor.where


@pytest.mark.parametrize("along", [(1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)])
def test_a_tap_is_compared_with_the_mode_that_answers_loudest(along: Vector) -> None:
    """By a dense solution, sorted by what each mode holds of the give."""
    from scipy.linalg import eigh

    skeleton = skeleton_of(bench()).skeleton
    assert skeleton is not None
    here = solved(Mesher(skeleton), pose_at(bench(), AT), longest=LONGEST)
    inverse, shapes = eigh(mass_matrix(here.mesh.frame).toarray(), stiffness(here.rows, here.coefficients).toarray())
    held = (along @ (here.mesh.load[:, :3].T @ shapes)) ** 2  # of shapes of unit strain this is what each holds of the give
    lowest = np.argsort(-inverse)[:COUNT]
    loudest = lowest[np.argmax(held[lowest])]
    (found,) = read(tapped(along))
    assert found.predicted == pytest.approx(1 / np.sqrt(inverse[loudest]) / (2 * np.pi), rel=1e-5)
    assert found.mode
    assert all(np.isfinite(hertz) for _, hertz in found.others)


@pytest.mark.parametrize(
    ("seen", "word"),
    [
        (pushed(value=None), "value"),
        (pushed(between=("tool", "gantry.beam")), "gantry.beam"),
        (pushed(of="gantry"), "gantry"),
        (replace(pushed(), along=None), "along"),
    ],
)
def test_what_cannot_be_compared_says_why(seen: Observation, word: str) -> None:
    (found,) = read(seen)
    assert found.predicted is None
    assert word in found.missing


# ---- the verdict

NOISE = np.random.default_rng(1).standard_normal(400)
BAND = np.exp(np.linspace(np.log(0.8e6), np.log(1.25e6), 400))
"""Predictions from which the 5 % and the 95 % point are 0.818 and 1.222 N/um."""


def judged(measured: float, deviation: float) -> Finding:
    """The finding of one reading against the band, first from typical values, then with samples."""
    from types import SimpleNamespace

    def verdict(value: Real, predicted: Real) -> object:
        seen = Observation("push", "stiffness", "", value, deviation, "N/m", along=(1.0, 0.0, 0.0))
        reading = Reading("push", "stiffness", "N/m", value, deviation, predicted, "along X", held=(("gantry.beam", 0.5),))
        machine = SimpleNamespace(observations=(seen,), show="metric")
        (said,) = measured_as_predicted.judge(machine, SimpleNamespace(structure=SimpleNamespace(readings=(reading,))))
        return said

    first = judge(measured_as_predicted, verdict(measured, 1e6))  # type: ignore[arg-type]
    return judge_spread(first, verdict(measured + deviation * NOISE, BAND), ranked({"noise": NOISE}))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("measured", "deviation", "status"),
    [
        (1.0e6, 0.01e6, Status.OK),
        (1.21e6, 0.05e6, Status.OK),  # inside, however uncertain
        (0.78e6, 0.05e6, Status.WATCH),  # outside by less than the instrument may be off
        (0.78e6, 0.005e6, Status.FAIL),
        (1.9e6, 0.05e6, Status.FAIL),
        (0.6e6, 0.5e6, Status.WATCH),  # such an instrument tells nothing
    ],
)
def test_a_reading_is_judged_by_the_band_and_by_its_instrument(measured: float, deviation: float, status: Status) -> None:
    assert judged(measured, deviation).status is status


def test_the_note_names_what_would_explain_it() -> None:
    """Half of the give in the beam: at 0.4 of the stiffness it must be 0.25 times as stiff."""
    said = judged(0.4e6, 0.01e6).verdict.note
    assert "gantry.beam holds 50 %" in said
    assert "0.25 times" in said

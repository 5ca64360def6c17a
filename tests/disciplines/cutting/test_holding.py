"""Holds of the work against what the formulas of the theory come to by hand, and what is told where something is lacking."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from gantrywright.base.samples import typical
from gantrywright.catalog.holding import table_friction
from gantrywright.catalog.kinds import Thread
from gantrywright.disciplines.cutting.holding import held
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job, Workpiece
from gantrywright.results.jobs import Holding, Runs
from gantrywright.study.study import run, simulated
from gantrywright.theory.statistics import draw

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo"


def resolved(*edits: tuple[str, Any]) -> Machine:
    return resolve(revise(read_document(DEMO / "as-built.toml"), edits))


BUILT = resolved()


def frames(machine: Machine = BUILT) -> Job:
    return machine.jobs[0]


def answered(job: Job, push: Any = 40.0, lift: Any = 0.0, machine: Machine = BUILT) -> Holding:
    found = held(machine, job, push, lift)
    assert found is not None
    return found


def kept(kind: str, **keys: Any) -> Job:
    """The job with another hold, its work 0.2 x 0.1 m and 20 mm thick."""
    hold = frames().hold_down
    assert hold is not None
    blank = {"count": None, "force": None, "screw_diameter": None, "screw_depth": None, "pressure": None, "board": None}
    blank |= {"strength": 40e3 if kind == "tape" else None}
    return replace(
        frames(), hold_down=replace(hold, kind=kind, **{**blank, **keys}), work=Workpiece((0.2, 0.1, 0.02), (0.0, 0.0, 0.0))
    )


def test_screws_hold_sideways_more_than_their_heads_rub() -> None:
    """Johansen's six ways by hand for 4 mm screws, 12 mm of plywood (680) on fibreboard (740), 14 mm deep: the shank tilts on both sides."""
    d = 1.1 * 0.65 * 4.0
    work, board = 0.082 * 680 * d**-0.3, 0.082 * 740 * d**-0.3
    ratio, deep = board / work, 14 / 12
    tilted = (
        work
        * 12
        * d
        / (1 + ratio)
        * (np.sqrt(ratio + 2 * ratio**2 * (1 + deep + deep**2) + ratio**3 * deep**2) - ratio * (1 + deep))
    )
    bent = 0.3 * 600 * d**2.6
    in_work = (
        1.0
        * work
        * 12
        * d
        / (2 + ratio)
        * (np.sqrt(2 * ratio * (1 + ratio) + 4 * ratio * (2 + ratio) * bent / (work * d * 144)) - ratio)
    )
    each = min(tilted, in_work)
    found = answered(frames())
    assert typical(found.inputs["sideways_each"].value) == pytest.approx(each, rel=1e-6)
    rubs = 0.2 * 8 * 0.25 * 108.25e6 * 0.74**2 * 0.004 * 0.014
    share = found.inputs["share"].value
    assert typical(found.slip) == pytest.approx(share * (8 * 0.4 * each + rubs) / 2, rel=1e-6)
    assert 8 * 0.4 * each > 1.5 * rubs


def test_screws_in_work_of_no_told_thickness_hold_by_friction_alone_and_say_so() -> None:
    found = answered(replace(frames(), work=None))
    assert "friction alone" in found.words
    assert "sideways_each" not in found.inputs
    assert typical(found.slip) < 0.3 * typical(answered(frames()).slip)


def test_metal_bears_on_no_wood_screw() -> None:
    metal = replace(frames(), material=BUILT.jobs[1].material)
    assert "friction alone" in answered(metal).words


def test_the_path_stays_clear_of_metal() -> None:
    assert "12 mm" in answered(frames()).note  # (6 mm cutter + 8 mm head)/2 + 5 mm
    assert "8 mm off the edge" in answered(kept("clamps", count=4, force=500.0)).note


def test_push_and_lift_use_up_tape_together() -> None:
    job = replace(kept("tape", area=0.01), work=None)
    alone, both = answered(job, push=20.0), answered(job, push=20.0, lift=50.0)
    share = alone.inputs["share"].value
    use = 20 / (40e3 * 0.01 * share) + 50 / (22e3 * 0.01)
    assert 20.0 / typical(both.slip) == pytest.approx(2 * use, rel=1e-6)
    assert typical(alone.slip) == pytest.approx(40e3 * 0.01 * share / 2, rel=1e-6)
    assert typical(both.lift) == pytest.approx(110.0)


def test_a_lift_at_the_edge_peels_tape_before_it_tears_it_off_evenly() -> None:
    """Edge stress of an even field: 6 M/(l b^2) over what is left of it, the lift acting at the far edge."""
    job = kept("tape", area=0.02)
    use = 6 * (20 * 0.02 + 50 * 0.05) / (0.1 * (22e3 * 0.02 - 50))
    assert 20.0 / typical(answered(job, push=20.0, lift=50.0).slip) == pytest.approx(2 * use, rel=1e-6)


def test_a_vacuum_seal_opens_at_a_third_of_what_tips_the_work() -> None:
    """A high narrow block: N b/6 of moment opens the edge, whatever friction would hold."""
    tall = replace(kept("vacuum", area=0.02, pressure=30e3, friction=5.0), work=Workpiece((0.2, 0.1, 0.2), (0.0, 0.0, 0.0)))
    found = answered(tall, push=30.0)
    assert typical(found.slip) == pytest.approx(600 * 0.1 / 6 / 0.2 / 2)
    clamped = replace(kept("clamps", count=4, force=150.0, friction=5.0), work=tall.work)
    assert typical(answered(clamped, push=80.0).slip) == pytest.approx(3 * typical(found.slip))


def test_a_vacuum_table_leaks_by_its_open_board_and_by_the_kerf() -> None:
    hold = {"area": 0.02, "board": 0.019, "pump_pressure": 25e3, "pump_flow": 0.06}
    through = answered(kept("vacuum", **hold))
    shallow = answered(replace(kept("vacuum", **hold), passes=1))  # 6 mm of 20 mm
    deep = answered(replace(kept("vacuum", **hold), passes=4))
    assert typical(shallow.inputs["pressure"].value) == typical(through.inputs["pressure"].value)
    assert typical(deep.inputs["pressure"].value) < typical(shallow.inputs["pressure"].value) < 25e3
    bare = typical(shallow.inputs["open_board"].value)
    assert bare == pytest.approx(1.25**2 - 0.02 + 0.4413 * 0.019 * 0.6, rel=1e-4)
    assert typical(deep.inputs["open_board"].value) > bare + 0.6 * 0.006


def test_a_pump_without_a_told_leak_is_unknown() -> None:
    found = answered(kept("vacuum", area=0.02, pump_pressure=25e3, pump_flow=0.06))
    assert found.slip is None
    assert "leak" in found.missing


@pytest.mark.parametrize("kind", ["vacuum", "screws", "clamps", "slots", "tape"])
def test_a_hold_of_which_nothing_is_told_is_unknown(kind: str) -> None:
    found = answered(kept(kind))
    assert found.slip is None
    assert found.lift is None
    assert "job.frames.hold_down" in found.missing


@pytest.mark.parametrize(
    "job",
    [
        frames(),
        kept("vacuum", area=0.02, board=0.019, pump_pressure=25e3, pump_flow=0.06),
        kept("tape", area=0.01),
        kept("clamps", count=4, force=500.0),
    ],
    ids=["screws", "vacuum", "tape", "clamps"],
)
def test_samples_give_what_each_gives_alone(job: Job) -> None:
    pushes, lifts = np.array([10.0, 60.0, 300.0]), np.array([0.0, 5.0, 30.0])
    together = np.broadcast_to(answered(job, pushes, lifts).slip, 3)
    for k in range(3):
        assert together[k] == pytest.approx(typical(answered(job, pushes[k], lifts[k]).slip), rel=1e-9)


def test_the_hold_follows_the_band_of_the_friction_under_it() -> None:
    """Clamps of told force press with no doubt, so that slip goes as friction alone: its 5 % and 95 % as those of the table."""
    band = table_friction("aluminium").spread
    assert band is not None
    path = "job.fittings.hold_down.friction"
    assert BUILT.spreads[path] == band
    sampled = resolve(read_document(DEMO / "as-built.toml"), samples=draw({path: band}, 512))
    typically = typical(answered(BUILT.jobs[1], push=1.0).slip)
    slip = answered(sampled.jobs[1], push=1.0, machine=sampled).slip
    assert np.quantile(slip, (0.05, 0.95)) == pytest.approx(
        [typically * band.low / band.typical, typically * band.high / band.typical], rel=0.02
    )


def test_the_hold_of_tape_and_of_turned_clamps_follows_what_is_usual_for_them() -> None:
    strengths, factors = np.array([30e3, 40e3, 50e3]), np.array([0.12, 0.2, 0.25])
    taped = answered(replace(kept("tape", area=0.01, strength=strengths), work=None), push=20.0)
    assert taped.slip / taped.slip[1] == pytest.approx(strengths / 40e3)
    assert taped.lift / taped.lift[1] == pytest.approx(strengths / 40e3)
    keys = {"force": None, "torque": "5 N m", "thread": "M8"}
    turned = resolved(*((f"job.fittings.hold_down.{key}", value) for key, value in keys.items()))
    hold = turned.jobs[1].hold_down
    assert hold is not None
    each = answered(replace(turned.jobs[1], hold_down=replace(hold, nut_factor=factors)), push=1.0).lift
    assert each == pytest.approx(4 * 5.0 / (factors * 8e-3) / 2)
    assert typical(answered(turned.jobs[1], push=1.0).lift) == pytest.approx(each[1])


@pytest.mark.parametrize(
    ("kind", "keys", "lacking"),
    [
        ("clamps", {"count": 4, "force": 500.0, "friction": None}, "friction"),
        ("tape", {"area": 0.01, "strength": None}, "strength"),
        (
            "clamps",
            {"count": 4, "torque": 5.0, "thread": Thread(id="M8", source="iso-724", diameter=8e-3), "nut_factor": None},
            "nut_factor",
        ),
    ],
)
def test_a_hold_of_unknown_friction_strength_or_nut_factor_is_unknown(kind: str, keys: dict[str, Any], lacking: str) -> None:
    found = answered(kept(kind, **keys))
    assert found.slip is None
    assert f"job.frames.hold_down.{lacking}" in found.missing


@pytest.mark.parametrize("job", [frames(), kept("tape", area=0.01), kept("vacuum", area=0.02, pressure=16e3)])
def test_every_number_tells_where_it_came_from(job: Job) -> None:
    for name, given in answered(job).inputs.items():
        assert given.path or given.note, name


def test_no_limit_of_the_built_machine_is_unknown() -> None:
    answers = simulated(run(BUILT)).results.jobs.jobs
    assert [limit.id for answer in answers.values() for limit in answer.unknown] == []
    assert all(answer.runs is not Runs.UNKNOWN for answer in answers.values())

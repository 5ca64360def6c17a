"""What jobs come to on whole machines: limits against the machine with other settings, advice against the file that takes it."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from gantrywright.base.samples import typical
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.results.jobs import JobAnswer, Runs
from gantrywright.study.study import Study, run, simulated

DEMO = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo"


def studied(name: str, *edits: tuple[str, str], deep: bool = False) -> Study:
    study = run(resolve(revise(read_document(DEMO / f"{name}.toml"), edits)))
    return simulated(study) if deep else study


@pytest.fixture(scope="module")
def built() -> Study:
    return studied("as-built", deep=True)


def job(study: Study, name: str) -> JobAnswer:
    return study.results.jobs.jobs[name]


def limit(answer: JobAnswer, id: str) -> tuple[float, float, float]:
    found = next(limit for limit in answer.limits if limit.id == id)
    assert found.value is not None
    assert found.limit is not None
    assert found.ceiling is not None
    return typical(found.value), typical(found.limit), typical(found.ceiling)


@pytest.mark.parametrize(
    ("id", "least", "most"),
    [
        ("spindle-power", 0.999, 1.001),
        ("outlet", 0.98, 1.02),
        ("flutes", 0.999, 1.001),
        ("accuracy", 0.65, 1.35),
        ("cutter", 0.2, 1.001),
    ],
)
def test_at_its_ceiling_a_limit_is_just_used_up(built: Study, id: str, least: float, most: float) -> None:
    """Depth changed until the removal rate is the ceiling: the file with that depth meets the limit, exactly where it grows with depth.

    What the outlet leaves also hangs on the drives, which push harder; a deeper cut is pushed nearer to the collet, so that its cutter bears more
    than proportion says.
    """
    answer = job(built, "fittings")
    ceiling = limit(answer, id)[2]
    assert answer.removal is not None
    deeper = studied("as-built", ("job.fittings.depth", f"{3 * ceiling / typical(answer.removal):.9f} mm"))
    value, allowed, _ = limit(job(deeper, "fittings"), id)
    assert least <= value / allowed <= most


def test_the_lowest_ceiling_binds(built: Study) -> None:
    for answer in built.results.jobs.jobs.values():
        known = [typical(limit.ceiling) for limit in answer.limits if limit.ceiling is not None]
        assert known == sorted(known)
        assert answer.binds is answer.limits[0]


@pytest.mark.parametrize("name", ["as-built", "first-idea", "bench"])
def test_advised_settings_keep_every_known_limit(name: str) -> None:
    study = studied(name, deep=True)
    for answer in study.results.jobs.jobs.values():
        if answer.advice is None:
            assert answer.no_advice or answer.missing
            continue
        told, path = answer.advice, f"job.{answer.job}"
        taken = studied(
            name, (f"{path}.depth", f"{told.depth * 1000:.6f} mm"), (f"{path}.feed", f"{told.feed:.8f} m/s"), (f"{path}.passes", str(told.passes)),
            (f"{path}.speed", f"{told.speed * 30 / np.pi:.4f} rpm"), deep=True,
        )  # fmt: skip
        after = job(taken, answer.job)
        over = {limit.id: typical(limit.used) for limit in after.limits if limit.used is not None and limit.exceeded}
        assert not over, (answer.job, over)
        assert typical(after.removal) == pytest.approx(told.removal, rel=1e-6)


def test_what_is_not_known_is_never_taken_as_kept() -> None:
    loose = studied("bench", ("job.escutcheons.hold_down.kind", "clamps"), ("job.escutcheons.hold_down.count", "2"))
    answer = job(loose, "escutcheons")
    assert any(limit.id == "hold-down" for limit in answer.unknown)
    kept = replace(answer, limits=tuple(limit for limit in answer.limits if not limit.exceeded))
    assert kept.runs is Runs.UNKNOWN
    assert replace(kept, limits=tuple(limit for limit in kept.limits if limit.ceiling is not None)).runs is Runs.YES
    assert JobAnswer("x", None, missing="its cutter").runs is Runs.UNKNOWN


def test_before_it_was_looked_at_in_depth_chatter_is_pending() -> None:
    answer = job(studied("as-built"), "frames")
    assert answer.pending
    assert answer.lobes is None
    assert answer.advice is None
    assert next(limit for limit in answer.limits if limit.id == "chatter").ceiling is None


def test_a_softer_machine_chatters_sooner_and_is_pushed_farther(built: Study) -> None:
    soft = job(studied("as-built", ("job.fittings.stick_out", "60 mm"), deep=True), "fittings")
    hard = job(built, "fittings")
    assert hard.lobes is not None
    assert soft.lobes is not None
    assert soft.lobes.depth.min() < hard.lobes.depth.min()
    assert abs(typical(soft.wall.worst)) > abs(typical(hard.wall.worst))  # type: ignore[union-attr]


def test_power_of_a_small_outlet_is_what_the_worked_example_says() -> None:
    """120 V, 15 A, 80 %, 3.6 A of other loads, power factor 0.60, efficiencies 0.80 and 0.95: 460 W at the shaft (derived, electrics)."""
    study = studied("bench", ("site.load.pump.power", f"{3.6 * 120 * 0.8:.4f} W"), ("site.load.pump.outlet", "wall"))
    answer = job(study, "box-sides")
    without = limit(job(studied("bench"), "box-sides"), "outlet")[1]
    assert without - limit(answer, "outlet")[1] == pytest.approx(3.6 * 120 * 0.6 * 0.8 * 0.95, rel=1e-6)
    whole = 12 * 120 * 0.6 * 0.8 * 0.95
    assert whole - (without - limit(answer, "outlet")[1]) == pytest.approx(460, abs=1)


def test_a_wall_of_a_machine_that_does_not_give_is_off_by_run_out_alone(built: Study) -> None:
    from gantrywright.disciplines.cutting.accuracy import off
    from gantrywright.disciplines.cutting.cut import cut_of, setting_of
    from gantrywright.disciplines.cutting.tool import Body

    cut = cut_of(built.machine, built.machine.jobs[1])
    assert cut is not None
    rigid = Body(0.0, 6e-3, 20e-3, 6e-3, 6e-3, 1e20, 1e20, 14_500.0)
    found = off(cut, setting_of(cut), np.zeros((6, 6)), rigid, rigid)
    assert all(typical(wall.most) == pytest.approx(typical(cut.run_out)) for wall in found.walls)
    assert found.bottom == pytest.approx(0.0, abs=1e-12)


def test_a_groove_of_a_v_bit_is_no_slot_of_its_whole_diameter() -> None:
    """60 degrees, 3 mm deep: a triangle of 3 mm x 3.46 mm / 2 = 5.196 mm2; at 2 m/min 10.39 cm3/min."""
    study = studied(
        "as-built", ("job.frames.cutter.part", "v-bit-60-12"), ("job.frames.depth", "3 mm"), ("job.frames.feed", "2 m/min"), ("job.frames.passes", "1")
    )  # fmt: skip
    answer = job(study, "frames")
    assert typical(answer.removal) * 6e7 == pytest.approx(10.392, rel=0.01)
    assert typical(study.results.cutting.jobs[0].power) < 60.0


def test_a_speed_that_the_spindle_does_not_turn_is_told() -> None:
    for speed, id in (("40000 rpm", "speed"), ("3000 rpm", "slow-speed")):
        answer = job(studied("as-built", ("job.frames.speed", speed)), "frames")
        assert id in {limit.id for limit in answer.limits if limit.exceeded}, speed
        assert answer.runs is not Runs.YES


def test_a_chip_that_rubs_is_told() -> None:
    answer = job(studied("as-built", ("job.frames.feed", "0.5 m/min")), "frames")
    assert next(limit for limit in answer.limits if limit.id == "rubbing").exceeded
    assert not any(limit.id == "rubbing" for limit in job(studied("as-built"), "frames").limits)


@pytest.mark.parametrize(
    "edits",
    [(), (("job.fittings.feed", "0.1 m/min"),), (("job.fittings.speed", "40000 rpm"),), (("job.fittings.speed", "3000 rpm"),)],
)
def test_a_ceiling_is_what_its_opened_working_says(edits: tuple[tuple[str, str], ...]) -> None:
    ledger = studied("as-built", *edits, deep=True).results.ledger
    ceilings = [figure for figure in ledger if ".ceiling." in figure.path and figure.path.startswith("job.")]
    assert len(ceilings) > 20
    for figure in ceilings:
        shown = {given.name: abs(typical(given.value)) for given in figure.inputs}
        high, low = (shown["at_the_job"], shown["allowed"])[:: -1 if "value/limit" in figure.formula else 1]
        used = max(high / low, 1e-6)
        assert typical(figure.value) == pytest.approx(shown["removal"] / used, rel=1e-9), figure.path
        for given in figure.inputs:
            if given.path in ledger:
                assert abs(typical(ledger[given.path].value)) == pytest.approx(abs(typical(given.value)), rel=1e-9), (
                    figure.path,
                    given.path,
                )

"""The structure of whole machines: what is found, what it must agree with, and what is said where there is no answer."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from gantrywright.disciplines.structure import analyse as room
from gantrywright.disciplines.structure.analyse import analyse
from gantrywright.findings import Status
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.results.structure import StructureResult
from gantrywright.study.study import Study, run, settle

ROOT = Path(__file__).parents[3]
DEMO = ROOT / "src" / "gantrywright" / "data" / "demo"
MACHINES = ROOT / "tests" / "machines"
FILES = {
    "first-idea": DEMO / "first-idea.toml", "as-built": DEMO / "as-built.toml", "bench": DEMO / "bench.toml",
    "salvaged": MACHINES / "salvaged.toml", "fixed_gantry": MACHINES / "fixed_gantry.toml", "long_bed": MACHINES / "long_bed.toml",
}  # fmt: skip


def study_of(name: str, *edits: tuple[str, str]) -> Study:
    return run(again(read_document(FILES[name]))({}, edits))


@pytest.fixture(scope="module", params=FILES)
def study(request: pytest.FixtureRequest) -> Study:
    return study_of(request.param)


@pytest.fixture(scope="module")
def as_built() -> tuple[Study, Study]:
    resolve = again(read_document(FILES["as-built"]))
    typical = run(resolve({}, ()))
    return typical, settle(typical, resolve)


def structure(study: Study) -> StructureResult:
    return study.results.structure


def test_every_machine_has_an_answer(study: Study) -> None:
    found = structure(study)
    assert found.lacking == ()
    assert found.broken == ()
    assert found.worst is not None
    assert found.middle is not None
    assert found.worst.least > 1e4


def test_shares_sum_to_the_whole_in_every_direction(study: Study) -> None:
    for tip in (structure(study).worst, structure(study).middle):
        assert tip is not None
        for k in range(3):
            assert sum(float(share.along[k]) for share in tip.shares) == pytest.approx(1, abs=1e-7)
        assert sum(float(share.weakest) for share in tip.shares) == pytest.approx(1, abs=1e-7)
        assert sum(held for _, held in tip.soft_parts()) == pytest.approx(1, abs=1e-7)


def test_the_softest_place_is_the_softest_of_the_map(study: Study) -> None:
    found = structure(study)
    assert found.grid is not None
    assert found.worst is not None
    least = (1 / np.linalg.eigvalsh(found.grid.give)[..., -1]).min()
    assert float(found.worst.least) == pytest.approx(least, rel=room.AGREES)
    assert float(found.worst.least) <= float(found.middle.least) * (1 + 1e-9)  # type: ignore[union-attr]


def test_no_direction_is_softer_than_the_softest(study: Study) -> None:
    tip = structure(study).worst
    assert tip is not None
    assert np.linalg.norm(tip.softest) == pytest.approx(1)
    assert all(float(k) >= float(tip.least) * (1 - 1e-9) for k in tip.stiffness)
    along = np.array(tip.softest) @ tip.give[:3, :3] @ np.array(tip.softest)
    assert 1 / along == pytest.approx(float(tip.least), rel=1e-9)


def test_push_off_is_give_times_force(study: Study) -> None:
    found = structure(study)
    assert found.worst is not None
    softest = np.linalg.eigvalsh(found.worst.give[:2, :2])[-1]
    forces = {job.job: job for job in study.results.cutting.jobs}
    assert {job.job for job in found.jobs} == set(forces)
    for job in found.jobs:
        assert job.mean == pytest.approx(softest * forces[job.job].mean_in_plane)
        assert job.peak == pytest.approx(softest * forces[job.job].peak_in_plane)


def test_a_heavier_head_sags_more_over_the_table() -> None:
    light, heavy = study_of("as-built"), study_of("as-built", ("spindle.mount.mass", "40 kg"))
    assert float(structure(heavy).sag or 0) > 1.5 * float(structure(light).sag or 0) > 0


def test_a_thicker_carriage_stiffens_what_it_holds() -> None:
    before, after = structure(study_of("as-built")), structure(study_of("as-built", ("carriage.size", "230 x 330 x 25 mm")))
    assert before.worst is not None
    assert after.worst is not None
    held = dict(before.worst.soft_parts())["carriage.plate"]
    gain = float(after.worst.least) / float(before.worst.least)
    assert 1.05 < gain <= 1 / (1 - held) * 1.02  # never more than if the plate gave nothing (its place moves the tip a little)


def test_the_band_holds_the_typical_value(as_built: tuple[Study, Study]) -> None:
    typical, settled = as_built
    for letter in "xyz":
        low, high = settled.bands[f"structure.tip.stiffness_{letter}"]
        assert low < float(typical.results.ledger[f"structure.tip.stiffness_{letter}"].value) < high


def test_forces_that_stay_never_overstate_the_stiffness(as_built: tuple[Study, Study]) -> None:
    # principle of minimum complementary energy, sample by sample
    resolve = again(read_document(FILES["as-built"]))
    typical = as_built[0]
    rng = np.random.default_rng(3)
    spreads = [path for path, spread in typical.machine.spreads.items() if "stiffness" in path and not spread.placed]
    samples = {path: typical.machine.spreads[path].typical * rng.uniform(0.4, 2.5, 24) for path in spreads}
    machine = resolve(samples, ())
    results = typical.results
    found = analyse(machine, results.cutting, results.motion, results.ledger, results.structure)
    assert found.worst is not None
    for letter, full in zip("xyz", found.worst.stiffness, strict=True):
        first = np.asarray(found.first_order[letter])
        assert np.all(first <= np.asarray(full) * (1 + 1e-9))
        assert np.any(first > 0.5 * np.asarray(full))


def test_what_would_narrow_the_band_is_an_input_that_spreads(as_built: tuple[Study, Study]) -> None:
    _, settled = as_built
    named = {path for pairs in settled.unknowns.values() for path, _ in pairs}
    assert named
    assert named <= set(settled.machine.spreads)


def test_a_material_without_a_modulus_is_named() -> None:
    study = study_of("as-built", ("gantry.uprights.material", "sand"))
    found = structure(study)
    assert found.worst is None
    assert "gantry.upright-left.material.modulus" in found.lacking
    assert {f.status for f in study.findings if f.id == "STR-102"} == {Status.UNKNOWN}
    assert {f.status for f in study.findings if f.id == "STR-901"} == {Status.UNKNOWN}


def test_two_routes_that_differ_break_the_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = room.stiffness_map

    def wrong(*given: object, **named: object) -> object:
        found = whole(*given, **named)  # type: ignore[arg-type]
        return replace(found, give=found.give * 1.02)

    monkeypatch.setattr(room, "stiffness_map", wrong)
    study = study_of("bench")
    found = structure(study)
    assert found.worst is None
    assert "differ" in found.broken[0]
    assert {f.status for f in study.findings if f.id == "STR-901"} == {Status.FAIL}
    paths = [figure.path for figure in study.results.ledger]
    rest_on_it = [
        path for path in paths if path.startswith("structure.") and not path.startswith(("structure.heat.", "structure.joint."))
    ]
    assert rest_on_it == []  # warmth, and springs of joints, rest on no solution

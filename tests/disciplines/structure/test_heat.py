"""Warmth on whole machines: against a hand calculation, a case that cancels, laws, and what the checks say."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from gantrywright.base.units import Real
from gantrywright.catalog.tables import Catalog
from gantrywright.disciplines.structure import heat as room
from gantrywright.disciplines.structure.heat import carried, heat, hold_of, strip_of
from gantrywright.disciplines.structure.heat_checks import grows_with_the_work, straight_when_warm
from gantrywright.findings import Verdict
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again
from gantrywright.model.axis import Rail
from gantrywright.model.frame import Vector
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.ledger import Ledger
from gantrywright.results.structure import HeatAnswer, StructureResult
from gantrywright.study.study import run

BENCH = Path(__file__).parents[3] / "src" / "gantrywright" / "data" / "demo" / "bench.toml"


@pytest.fixture(scope="module")
def bench() -> Machine:
    return again(read_document(BENCH))({}, ())


@pytest.fixture(scope="module")
def results(bench: Machine) -> Results:
    return run(bench).results


def answer(machine: Machine, subject: str, kind: str = "bow", ledger: Ledger | None = None) -> HeatAnswer:
    found = heat(machine, ledger if ledger is not None else Ledger())
    return next(one for one in found if (one.subject, one.kind) == (subject, kind))


def moved(machine: Machine, **rails: tuple[float, float, Vector]) -> Machine:
    """The machine with rails of the X axis at another place along Y and Z, with another normal."""

    def place(rail: Rail) -> Rail:
        name = rail.path.rpartition(".")[2]
        if name not in rails:
            return rail
        y, z, normal = rails[name]
        return replace(rail, start=(rail.start[0], y, z), stop=(rail.stop[0], y, z), normal=normal)

    return replace(
        machine, axes=tuple(replace(a, rails=tuple(map(place, a.rails))) if a.name == "x" else a for a in machine.axes)
    )  # fmt: skip


def judged(machine: Machine, results: Results, rule: object) -> dict[str, Verdict]:
    stiff = StructureResult(heat=heat(machine, Ledger()))
    return {verdict.subject: verdict for verdict in rule.judge(machine, replace(results, structure=stiff))}  # type: ignore[attr-defined]


def test_rail_steel_is_the_row_of_the_materials() -> None:
    row = Catalog().find("material", "rail-steel")
    assert tuple(row.cells[name].value for name in ("modulus", "density", "expansion")) == (
        room.RAIL_MODULUS,
        room.RAIL_DENSITY,
        room.RAIL_EXPANSION,
    )


def test_beam_with_two_rails_on_its_front_by_hand(bench: Machine) -> None:
    # a tube 3 in deep, front to back; both rails sit on its front, so they count as one strip: Timoshenko's two strips
    beam = next(member for member in bench.members if member.path == "gantry.beam")
    area, second, deep = beam.section.area, beam.section.second_moment_width, 0.0762
    assert abs(beam.width_axis[1]) == pytest.approx(1)
    steel = 2 * 1.4 / 7850  # m2, size 15: 1.4 kg/m each
    offset = deep / 2 + 0.0075  # to the middle of a rail 15 mm high
    gap = (23e-6 - 11.5e-6) * 12 / 1.8  # 68 to 80 degrees Fahrenheit
    bend = 70e9 * second + 206e9 * steel * 0.015**2 / 12
    curvature = gap * offset / (offset**2 + bend * (1 / (206e9 * steel) + 1 / (70e9 * area)))
    found = answer(bench, "gantry.beam")
    assert float(found.value) == pytest.approx(curvature * 0.3048**2 / 8, rel=1e-6)
    assert "middle moves to the back" in found.words
    assert 0 < found.relieved < found.value


def test_the_bow_ends_with_a_rail_that_is_shorter_than_the_travel(bench: Machine) -> None:
    axes = tuple(replace(axis, travel=2.0) if axis.name == "x" else axis for axis in bench.axes)
    ratio = float(answer(replace(bench, axes=axes), "gantry.beam").value) / float(answer(bench, "gantry.beam").value)
    assert ratio == pytest.approx((22 / 12) ** 2)


def test_rails_on_opposite_faces_cancel(bench: Machine) -> None:
    level = 0.220475
    two_faced = moved(bench, upper=(0.330575, level, (0.0, -1.0, 0.0)), lower=(0.406775, level, (0.0, 1.0, 0.0)))
    found = answer(two_faced, "gantry.beam")
    assert float(found.value) < 1e-3 * float(answer(bench, "gantry.beam").value)
    assert "stays straight" in found.words


def test_bow_grows_with_the_warming_while_screws_hold(bench: Machine) -> None:
    site = replace(bench.site, ambient_high=bench.site.ambient + 2 * (bench.site.ambient_high - bench.site.ambient))
    warm, warmer = answer(bench, "gantry.beam"), answer(replace(bench, site=site), "gantry.beam")
    assert float(warmer.value) == pytest.approx(2 * float(warm.value), rel=1e-9)
    assert warmer.relieved < 2 * warm.relieved


def test_a_cold_day_that_is_farther_off_bows_the_other_way(bench: Machine) -> None:
    cold = replace(bench.site, ambient_low=bench.site.ambient - (bench.site.ambient_high - bench.site.ambient) - 1)
    found = answer(replace(bench, site=cold), "gantry.beam")
    assert found.warming < 0
    assert "middle moves to the front" in found.words


def test_a_rail_in_two_pieces_holds_half(bench: Machine) -> None:
    rail = bench.axis("x").rails[0]
    assert hold_of(replace(rail, joined_at=(0.3,))) == pytest.approx(hold_of(rail) / 2)
    # 22 in with a hole every 60 mm and 10 mm at the ends: 9 gaps
    assert hold_of(rail) / hold_of(replace(rail, stop=rail.start)) == pytest.approx(9, abs=0.01)


def test_screws_of_a_larger_rail_hold_more(bench: Machine) -> None:
    rail = bench.axis("x").rails[0]
    larger = replace(rail, part=replace(rail.part, hole=0.007))
    assert hold_of(larger) > 2 * hold_of(rail)  # M6 instead of M4
    # hand: class 8.8 M4 at 90 % of 640 N/mm2 is 4.4 kN at thread friction 0.12 (vdi-2230, from memory); / 1.6 x 0.15 a screw
    assert hold_of(replace(rail, stop=rail.start)) == pytest.approx(4400 / 1.6 * 0.15, rel=0.02)


def test_growth_against_each_work_by_hand(bench: Machine) -> None:
    ledger = Ledger()
    found = answer(bench, "axis.x.drive.main", "growth", ledger)
    # 12 in of steel screw against brass
    assert float(found.value) == pytest.approx(0.3048 * (20e-6 - 11.5e-6) * 12 / 1.8, rel=1e-6)
    assert "short" in found.words
    assert "escutcheons" in found.figure
    maple = ledger["structure.heat.axis.x.drive.main.growth_against.box-sides"]
    assert float(maple.value) == pytest.approx(0.3048 * (11.5e-6 - 4e-6) * 12 / 1.8, rel=1e-6)


def test_a_plastic_counts_as_a_metal_and_is_told(bench: Machine) -> None:
    def grown(*expansions: float) -> HeatAnswer:
        jobs = tuple(
            replace(job, material=replace(job.material, expansion=one)) for job, one in zip(bench.jobs, expansions, strict=True)
        )
        return answer(replace(bench, jobs=jobs), "axis.x.drive.main", "growth")

    plastic, metal = grown(4e-6, 110e-6), grown(4e-6, room.METAL)
    assert float(plastic.value) == pytest.approx(float(metal.value))
    assert "one temperature" in plastic.words
    assert "one temperature" not in metal.words
    # 0.3048 m x 98.5e-6 x 6.67 K = 0.2 mm
    assert "7.88 thou" in plastic.words
    most = max(row.cells["expansion"].value for row in Catalog().rows("material") if row.id.startswith(("al-", "steel", "brass")))
    assert most == room.METAL


def test_every_answer_opens(bench: Machine) -> None:
    ledger = Ledger()
    for found in heat(bench, ledger):
        figure = ledger[found.figure]
        assert figure.unit == "m"
        assert np.abs(figure.value) == pytest.approx(float(found.value))
        assert "structure.heat.warming" in [given.path for given in figure.inputs]


def test_samples_agree_with_one_by_one(bench: Machine) -> None:
    expansion, modulus = np.array([21e-6, 23e-6, 8e-6]), np.array([60e9, 70e9, 75e9])

    def of(expansion: Real, modulus: Real) -> tuple[HeatAnswer, ...]:
        members = tuple(replace(m, material=replace(m.material, expansion=expansion, modulus=modulus)) for m in bench.members)
        return heat(replace(bench, members=members), Ledger())

    many = of(expansion, modulus)
    for k in range(3):
        for wide, single in zip(many, of(float(expansion[k]), float(modulus[k])), strict=True):
            assert wide.subject == single.subject
            assert np.broadcast_to(wide.value, 3)[k] == pytest.approx(float(single.value), rel=1e-9)
            assert np.broadcast_to(wide.relieved, 3)[k] == pytest.approx(float(single.relieved), rel=1e-9)


def test_the_strip_lies_beyond_the_face(bench: Machine) -> None:
    one = next(one for one in carried(bench) if one.path == "bed.slab")
    strip = strip_of(one.rails[0], one)
    assert strip is not None
    up = 0 if abs(one.axes[0][2]) > 0.5 else 1
    assert abs(strip.place[up]) == pytest.approx(0.0254 + 0.0075, abs=1e-6)  # half of a 2 in slab, half of a rail


def test_checks_pass_and_fail_by_the_accuracy(bench: Machine, results: Results) -> None:
    loose = judged(bench, results, straight_when_warm)
    assert set(loose) == {"gantry.beam", "bed.slab", "carriage.plate"}
    assert all(verdict.margin > 0 for verdict in loose.values())  # type: ignore[operator]
    fine = replace(bench, purpose=replace(bench.purpose, accuracy=17.4e-6))
    assert judged(fine, results, straight_when_warm)["gantry.beam"].margin < 0  # type: ignore[operator]
    assert judged(fine, results, grows_with_the_work)["axis.x.drive.main"].margin > 0  # type: ignore[operator]
    finest = replace(bench, purpose=replace(bench.purpose, accuracy=10e-6))
    assert judged(finest, results, grows_with_the_work)["axis.x.drive.main"].margin < 0  # type: ignore[operator]


@pytest.mark.parametrize("rule", [straight_when_warm, grows_with_the_work])
def test_nothing_known_gives_no_verdict(bench: Machine, results: Results, rule: object) -> None:
    even = replace(bench.site, ambient_low=bench.site.ambient, ambient_high=bench.site.ambient)
    for machine, words in (
        (replace(bench, purpose=replace(bench.purpose, accuracy=None)), "purpose.accuracy"),
        (replace(bench, site=even), "site.ambient"),
    ):
        found = judged(machine, results, rule)
        assert found
        assert all(verdict.value is None and words in verdict.missing for verdict in found.values())


def test_a_material_of_unknown_expansion_is_named(bench: Machine, results: Results) -> None:
    members = tuple(replace(m, material=replace(m.material, expansion=None)) for m in bench.members)
    found = judged(replace(bench, members=members), results, straight_when_warm)
    assert "gantry.beam.material" in found["gantry.beam"].missing
    assert found["carriage.plate"].value is not None

"""The jobs of the examples, recomputed by hand from their texts, and what a file may say of the cut and of the hold-down."""

from pathlib import Path

import numpy as np
import pytest
from helper_reading import example, read_whole, told, with_changes

from gantrywright.base.spread import Origin, Spread
from gantrywright.base.units import Real
from gantrywright.catalog.holding import holding, table_friction
from gantrywright.intake import jobs
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.edge_wear import edge_factors
from gantrywright.intake.grammar.holding import HOLD
from gantrywright.intake.grammar.purpose import JOB
from gantrywright.intake.resolve import resolve

EXAMPLE = read_document(Path(__file__).parents[1] / "machines" / "long_bed.toml")


def test_jobs_fill_in_what_they_leave_out() -> None:
    cabinet, jigs = jobs.jobs(example("salvaged"))
    assert (cabinet.slot, cabinet.width) == (True, pytest.approx(0.006))
    assert cabinet.plunge == pytest.approx(3.5 / 60 / 3)
    assert cabinet.stick_out == pytest.approx(0.030)
    assert cabinet.share == pytest.approx(0.7)
    assert jigs.share == pytest.approx(0.3)
    assert cabinet.hold_down is not None
    assert (cabinet.hold_down.kind, cabinet.hold_down.pressure) == ("vacuum", pytest.approx(18e3))
    assert jigs.hold_down is not None
    assert jigs.hold_down.pressure is None
    assert jigs.width == pytest.approx(1.2e-3)


def test_jobs_without_shares_share_alike() -> None:
    assert [job.share for job in jobs.jobs(example("long_bed"))] == pytest.approx([0.5, 0.5])


def test_job_feed_is_the_wanted_feed_where_it_says_none(tmp_path: Path) -> None:
    path, _ = with_changes(
        tmp_path, "long_bed", ('feed = "6 m/min"\nspeed', "speed"), ('feed = "6 m/min"\naccuracy', 'feed = "4.5 m/min"\naccuracy')
    )
    assert jobs.jobs(read_whole(path))[0].feed == pytest.approx(4.5 / 60)


def test_job_without_any_cutter_is_a_problem(tmp_path: Path) -> None:
    path, _ = with_changes(
        tmp_path,
        "long_bed",
        ('cutter = "ball-nose-12-2f"\nwidth', "width"),
        ('[tool]\ncutter = "ball-nose-12-2f"\nstick_out = "38 mm"\n', ""),
    )
    reading = read_whole(path)
    jobs.jobs(reading)
    assert "job.paddle-blade: lacks cutter, and there is no [tool]" in told(reading.problems)


def first_job_told(tmp_path: Path, *changes: tuple[str, str]) -> str:
    path, _ = with_changes(tmp_path, "salvaged", *changes)
    reading = read_whole(path)
    jobs.jobs(reading)
    return told(reading.problems)


def test_a_slot_may_not_be_of_another_width_than_its_cutter(tmp_path: Path) -> None:
    said = first_job_told(tmp_path, ("slot = true\n", 'slot = true\nwidth = "3 mm"\n'))
    assert "job.cabinet-sides.width: goes against slot = true, which cuts the cutter's 6 mm" in said
    assert "goes against" not in first_job_told(tmp_path, ("slot = true\n", 'slot = true\nwidth = "6 mm"\n'))


def test_no_pass_is_wider_than_its_cutter(tmp_path: Path) -> None:
    assert "job.cabinet-sides.width: is wider than the cutter: one pass takes 6 mm" in first_job_told(
        tmp_path, ("slot = true\n", 'width = "9 mm"\n')
    )
    assert "wider" not in first_job_told(tmp_path, ("slot = true\n", 'width = "6 mm"\n'))


def test_milling_wants_a_width_and_a_drill_has_one(tmp_path: Path) -> None:
    assert "job.cabinet-sides: lacks width, or slot = true" in first_job_told(tmp_path, ("slot = true\n", ""))
    misspelt = first_job_told(tmp_path, ("slot = true\n", 'widht = "2 mm"\n'))
    assert "nearest: width" in misspelt
    assert "lacks width" not in misspelt
    wrong = first_job_told(tmp_path, ("slot = true\n", 'width = "2 kg"\n'))
    assert "job.cabinet-sides.width" in wrong
    assert "lacks width" not in wrong
    machine = resolve(
        revise(EXAMPLE, (("job.paddle-blade.cutter", "drill-6"), ("job.paddle-blade.width", None), ("job.paddle-blade.slot", None)))
    )
    blade = next(job for job in machine.jobs if job.name == "paddle-blade")
    assert blade.width == pytest.approx(6e-3)
    assert not blade.slot


def test_the_cut_is_taken_as_usual_until_it_is_written() -> None:
    cabinet = jobs.jobs(example("salvaged"))[0]
    assert (cabinet.grain, cabinet.edge, cabinet.edge_factor) == ("all", "used", 1.0)
    assert cabinet.run_out == pytest.approx(20e-6), "of the spindle's part"
    assert cabinet.hold_down is not None
    assert cabinet.hold_down.safety == 2.0
    lacking = (
        cabinet.hold_down.torque,
        cabinet.hold_down.thread,
        cabinet.hold_down.pump_flow,
        cabinet.hold_down.board,
        cabinet.hold_down.tabs,
    )
    assert lacking == (None,) * 5


def test_grain_run_out_and_worn_edges_are_kept(tmp_path: Path) -> None:
    path, _ = with_changes(tmp_path, "long_bed", ('cutter = "ball-nose-12-2f"\nwidth', 'grain = "across"\nedge = "worn"\nrun_out = "35 um"\ncutter = "ball-nose-12-2f"\nwidth'))  # fmt: skip
    noted: dict[str, Spread] = {}

    def note(path: str, spread: Spread, origin: Origin) -> Real:
        noted[path] = spread
        assert origin.kind == "default"
        assert origin.source
        return spread.typical

    blade = next(job for job in jobs.jobs(read_whole(path), note) if job.name == "paddle-blade")
    assert (blade.grain, blade.edge, blade.run_out, blade.edge_factor) == ("across", "worn", pytest.approx(35e-6), 2.5)
    worn = noted["job.paddle-blade.edge_factor"]
    assert (worn.low, worn.high) == (2.0, 3.0)


def test_a_written_edge_factor_replaces_the_usual_one(tmp_path: Path) -> None:
    path, _ = with_changes(
        tmp_path, "long_bed", ('cutter = "ball-nose-12-2f"\nwidth', 'edge_factor = 1.4\ncutter = "ball-nose-12-2f"\nwidth')
    )
    machine = resolve(read_document(path))
    assert next(job for job in machine.jobs if job.name == "paddle-blade").edge_factor == 1.4
    assert "job.paddle-blade.edge_factor" not in machine.spreads
    assert "job.foam-core.edge_factor" in machine.spreads


def test_edges_rub_the_harder_the_duller_they_are() -> None:
    spreads = [edge_factors()[edge][0] for edge in ("new", "used", "worn")]
    for ends in ([s.low for s in spreads], [s.typical for s in spreads], [s.high for s in spreads]):
        assert ends == sorted(ends)
        assert len(set(ends)) == 3


def test_the_key_tells_the_bands_of_the_table() -> None:
    told = JOB.key_map["edge_factor"].otherwise
    for edge, (_, origin) in edge_factors().items():
        assert f"{edge} {origin.text}" in told


HELD = {
    "clamps": ('kind = "slots", count = 4, torque = "10 N m", thread = "M8"', "slots"),
    "screws": ('kind = "screws", count = 6, screw_diameter = "4 mm", screw_depth = "15 mm", safety = 3', "screws"),
    "pump": ('kind = "vacuum", area = "0.06 m2", pump_pressure = "25 kPa", pump_flow = "200 m3/h", board = "18 mm", leak = "200 mm2"', "vacuum"),
    "tape": ('kind = "tape", area = "0.01 m2", strength = "40 kPa", tabs = { count = 4, width = "6 mm", thickness = "1.5 mm" }', "tape"),
}  # fmt: skip


def held(tmp_path: Path, words: str, *more: tuple[str, str]) -> jobs.HoldDown:
    path, _ = with_changes(tmp_path, "salvaged", ('kind = "vacuum", area = "0.30 m2", pressure = "18 kPa"', words), *more)
    found = jobs.jobs(read_whole(path))[0].hold_down
    assert found is not None
    return found


def test_everything_that_is_said_of_the_hold_down_is_kept(tmp_path: Path) -> None:
    slots = held(tmp_path, HELD["clamps"][0])
    assert slots.thread is not None
    assert (slots.kind, slots.count, slots.torque, slots.thread.diameter) == ("slots", 4, 10.0, pytest.approx(8e-3))
    screws = held(tmp_path, HELD["screws"][0])
    assert (screws.screw_diameter, screws.screw_depth, screws.safety) == pytest.approx((4e-3, 15e-3, 3.0))
    pump = held(tmp_path, HELD["pump"][0])
    assert (pump.pump_pressure, pump.pump_flow, pump.board, pump.leak) == pytest.approx((25e3, 200 / 3600, 18e-3, 200e-6))
    tape = held(tmp_path, HELD["tape"][0])
    assert tape.tabs is not None
    assert (tape.strength, tape.tabs.count, tape.tabs.width, tape.tabs.thickness) == pytest.approx((40e3, 4, 6e-3, 1.5e-3))
    assert tape.pressure is None


@pytest.mark.parametrize(
    ("words", "noted"),
    [
        (HELD["clamps"][0], {"friction", "nut_factor"}),
        (f"{HELD['clamps'][0]}, friction = 0.3, nut_factor = 0.15", set()),
        ('kind = "clamps", count = 4, force = "500 N"', {"friction"}),
        (HELD["screws"][0], {"friction"}),
        (HELD["pump"][0], {"friction"}),
        (HELD["tape"][0], set()),
        ('kind = "tape", area = "0.01 m2"', {"strength"}),
    ],
)
def test_what_a_hold_counts_on_is_estimated_where_the_file_is_silent(tmp_path: Path, words: str, noted: set[str]) -> None:
    path, _ = with_changes(tmp_path, "salvaged", ('kind = "vacuum", area = "0.30 m2", pressure = "18 kPa"', words))
    machine = resolve(read_document(path))
    hold, before = machine.jobs[0].hold_down, f"{machine.jobs[0].path}.hold_down."
    assert hold is not None
    found = {key.removeprefix(before): spread for key, spread in machine.spreads.items() if key.startswith(before)}
    usual = {"friction": table_friction(machine.jobs[0].material.group)}
    usual |= {"strength": holding()["tape-shear"], "nut_factor": holding()["nut-factor"]}
    estimated = found.keys() & usual.keys()
    assert estimated == noted
    for key in noted:
        assert found[key] == usual[key].spread
        assert getattr(hold, key) == usual[key].value
        assert machine.origins[before + key].source == usual[key].source
        sampled = resolve(read_document(path), samples={before + key: np.array([1.0, 2.0])}).jobs[0].hold_down
        assert list(getattr(sampled, key)) == [1.0, 2.0]


def test_the_keys_of_the_hold_tell_the_bands_of_the_tables() -> None:
    assert table_friction("plywood").text in HOLD.key_map["friction"].otherwise
    assert HOLD.key_map["nut_factor"].otherwise == holding()["nut-factor"].text
    assert HOLD.key_map["strength"].otherwise == holding()["tape-shear"].text


def test_an_unknown_thread_is_told(tmp_path: Path) -> None:
    path, _ = with_changes(
        tmp_path, "salvaged", ('kind = "vacuum", area = "0.30 m2", pressure = "18 kPa"', 'kind = "clamps", thread = "M8.5"')
    )
    reading = read_whole(path)
    jobs.jobs(reading)
    assert "job.cabinet-sides.hold_down.thread: no thread 'M8.5'" in told(reading.problems)


BOARD = """[spoilboard]
thickness = "18 mm"
cutter = "surfacing-25-2f"
tram_across = "0.1 mm/m"
tram_along = "-50 um/m"

[tool]"""


def test_the_spoilboard(tmp_path: Path) -> None:
    assert resolve(read_document(with_changes(tmp_path, "salvaged")[0])).spoilboard is None
    path, _ = with_changes(tmp_path, "salvaged", ("[tool]", BOARD))
    board = resolve(read_document(path)).spoilboard
    assert board is not None
    assert board.material is not None
    assert board.cutter is not None
    assert (board.material.id, board.cutter.id) == ("mdf", "surfacing-25-2f")
    assert (board.thickness, board.step_over, board.tram_across, board.tram_along) == pytest.approx((18e-3, 12.5e-3, 1e-4, -5e-5))


def test_a_board_under_vacuum_is_the_spoilboard_where_nothing_else_is_said(tmp_path: Path) -> None:
    vacuum = 'kind = "vacuum", area = "0.30 m2"'
    assert held(tmp_path, vacuum, ("[tool]", BOARD)).board == pytest.approx(18e-3)
    assert held(tmp_path, f'{vacuum}, board = "12 mm"', ("[tool]", BOARD)).board == pytest.approx(12e-3)


def test_words_in_doubt_are_the_same_in_every_sample() -> None:
    told = (
        ("way", "climb or conventional"),
        ("grain", "across or along"),
        ("edge", "used or worn"),
        ("hold_down.kind", "tape or screws"),
    )
    paths = {f"job.paddle-blade.{key}": words for key, words in told}
    samples = {path: np.array([0.0, 1.0, 1.0]) for path in paths}
    machine = resolve(revise(EXAMPLE, tuple(paths.items())), samples=samples)
    blade = next(job for job in machine.jobs if job.name == "paddle-blade")
    assert blade.hold_down is not None
    assert (blade.way, blade.grain, blade.edge, blade.hold_down.kind) == ("both", "all", "used", "tape")
    band = machine.spreads["job.paddle-blade.edge_factor"]
    assert (band.low, band.typical, band.high) == (0.9, 1.0, 3.0), "as sharp as used ones, as dull as worn ones"


def test_a_hold_down_of_an_unknown_kind_is_none() -> None:
    machine = resolve(revise(EXAMPLE, (("job.paddle-blade.hold_down.kind", "unknown"),)))
    assert next(job for job in machine.jobs if job.name == "paddle-blade").hold_down is None

"""Every check of supplies and settings, heard to speak and to be silent."""

from dataclasses import replace

import pytest

from fed_machine import results_of
from gantrywright.base.values import PhaseCurrent
from gantrywright.disciplines.electrics import checks
from gantrywright.findings import Finding, Status, checks_in, judge
from gantrywright.model.machine import Machine
from motor_machines import SERVOS, set_to, supplied, wishing, with_part
from simple_machine import DRIVER, STEPPER, simple_machine

ALL = {check.id: check for check in checks_in(checks)}


def found(id: str, machine: Machine) -> list[Finding]:
    results = results_of(machine)
    return [judge(ALL[id], verdict) for verdict in ALL[id].judge(machine, results)]


def statuses(id: str, machine: Machine) -> set[Status]:
    return {finding.status for finding in found(id, machine)}


def test_ids() -> None:
    wanted = ["ELE-101", "ELE-102", "ELE-103", "ELE-104", "ELE-105", "ELE-201", "ELE-301", "ELE-401", "ELE-402", "ELE-403"]
    assert sorted(ALL) == wanted


def test_window_of_the_drivers() -> None:
    assert statuses("ELE-101", simple_machine()) == {Status.OK}
    high = found("ELE-101", supplied(simple_machine(), set=50.0))  # 2 % of tolerance lift it over 50 V
    assert [f.status for f in high if "highest" in f.subject] == [Status.FAIL]
    assert high[0].verdict.changes[0].edits == (("supply.main.set", "45 V"),)
    low = found("ELE-101", supplied(simple_machine(), set=20.0))
    assert [f.status for f in low if "lowest" in f.subject] == [Status.FAIL]
    assert statuses("ELE-101", with_part(simple_machine(), driver=replace(DRIVER, highest=None, lowest=None))) == {Status.UNKNOWN}


@pytest.mark.parametrize(("limit", "practice", "too_high"), [(60.0, 50.0, 58.0), (48.0, 36.0, 47.0)])
def test_practice_stays_below_the_limit(limit: float, practice: float, too_high: float) -> None:
    # trade facts, common practice without source: a 60 V driver is fed about 50 V, a 48 V one about 36 V
    machine = with_part(simple_machine(), driver=replace(DRIVER, highest=limit))
    assert statuses("ELE-102", supplied(machine, set=practice)) == {Status.OK}
    assert statuses("ELE-102", supplied(machine, set=too_high)) == {Status.WATCH}


def test_own_range_of_the_supply() -> None:
    assert statuses("ELE-103", simple_machine()) == {Status.OK}
    assert Status.FAIL in statuses("ELE-103", supplied(simple_machine(), set=40.0))
    assert Status.FAIL in statuses("ELE-103", supplied(simple_machine(), set=56.0))
    assert found("ELE-103", supplied(simple_machine(), set=None)) == []


def test_a_low_line_matters_only_without_regulation() -> None:
    assert found("ELE-104", simple_machine()) == []
    plain = supplied(simple_machine(), part={"regulated": False})
    assert statuses("ELE-104", wishing(plain, rapid=0.05)) == {Status.OK}
    assert statuses("ELE-104", wishing(plain, rapid=0.0755)) == {Status.FAIL}  # reached at full voltage, not 10 % lower


def test_voltage_and_inductance_is_only_a_caution() -> None:
    assert statuses("ELE-105", simple_machine()) == {Status.OK}
    assert statuses("ELE-105", with_part(simple_machine(), replace(STEPPER, inductance=1e-3))) == {Status.WATCH}
    assert found("ELE-105", SERVOS) == []


def test_power() -> None:
    assert statuses("ELE-201", simple_machine()) == {Status.OK}
    (weak,) = found("ELE-201", supplied(simple_machine(), part={"power": 200.0}))
    assert weak.status is Status.FAIL
    assert "two thirds" in weak.verdict.note
    assert statuses("ELE-201", supplied(simple_machine(), part={"current": 4.0})) == {Status.FAIL}
    assert statuses("ELE-201", supplied(simple_machine(), part={"power": None, "current": None})) == {Status.UNKNOWN}
    assert statuses("ELE-201", with_part(simple_machine(), replace(STEPPER, resistance=None))) == {Status.UNKNOWN}


def test_bus_peak() -> None:
    assert statuses("ELE-301", simple_machine()) == {Status.OK}
    small = with_part(
        supplied(simple_machine(), set=47.0, part={"capacitance": 1e-3, "lowest": 30.0}), driver=replace(DRIVER, capacitance=1e-5)
    )
    (lifted,) = found("ELE-301", small)
    assert lifted.status is Status.FAIL
    ((path, text),) = lifted.verdict.changes[0].edits
    assert path == "supply.main.set"
    assert found("ELE-301", supplied(small, set=float(text.removesuffix(" V"))))[0].status is not Status.FAIL
    nothing = with_part(supplied(simple_machine(), part={"capacitance": None}), driver=replace(DRIVER, capacitance=None))
    assert statuses("ELE-301", nothing) == {Status.UNKNOWN}


def test_current_above_what_the_driver_gives() -> None:
    assert statuses("ELE-403", set_to(simple_machine(), PhaseCurrent(5.6, "peak"))) == {Status.OK}
    assert statuses("ELE-403", set_to(simple_machine(), PhaseCurrent(5.7, "peak"))) == {Status.FAIL}
    assert statuses("ELE-403", set_to(simple_machine(), None)) == {Status.UNKNOWN}
    assert statuses("ELE-403", with_part(simple_machine(), driver=replace(DRIVER, current=None))) == {Status.UNKNOWN}


def test_current_above_the_rating() -> None:
    assert statuses("ELE-401", simple_machine()) == {Status.OK}
    hot = found("ELE-401", set_to(simple_machine(), PhaseCurrent(4.6, "rms")))  # 6.5 A peak against 5.94 A
    assert {f.status for f in hot} == {Status.FAIL}
    assert hot[0].verdict.changes[0].edits == (("axis.x.drive.main.driver.current", "5.60 A peak"),), (
        "no more than the driver gives"
    )
    assert statuses("ELE-401", set_to(simple_machine(), None)) == {Status.UNKNOWN}


def test_the_trap_of_peak_and_rms_is_watched() -> None:
    assert statuses("ELE-402", simple_machine()) == {Status.OK}
    assert statuses("ELE-402", set_to(simple_machine(), PhaseCurrent(4.2, "peak"))) == {Status.WATCH}
    assert statuses("ELE-402", set_to(simple_machine(), PhaseCurrent(4.2, "rms"))) == {Status.OK}

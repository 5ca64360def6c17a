import pytest

from gantrywright.base.sources import PLAIN, sources
from gantrywright.catalog.holding import holding, tab_thickness, table_friction
from gantrywright.disciplines.cutting.chip_load import chip_loads
from gantrywright.theory.cutting import fasteners, screw_shear, vacuum

TABLES = ("board", "metal", "rubber")


@pytest.mark.parametrize("name", holding())
def test_every_value_is_above_zero_within_its_band_and_has_a_source(name: str) -> None:
    usual = holding()[name]
    assert usual.value > 0
    assert usual.spread is None or 0 < usual.spread.low < usual.value < usual.spread.high
    assert usual.source in PLAIN - {""} or usual.source in sources()


def test_values_are_read_in_si() -> None:
    assert holding()["tape-shear"].value == 40e3
    assert holding()["tab-width"].value == pytest.approx(6e-3)
    assert holding()["ridge"].value == pytest.approx(7e-6)


def test_table_and_formulas_take_the_same_defaults() -> None:
    known = holding()
    assert known["nut-factor"].value == fasteners.NUT_FACTOR
    assert known["wood-screw-use"].value == fasteners.USED
    assert known["wood-screw-shear-use"].value == screw_shear.USED
    assert known["end-grain"].value == fasteners.END_GRAIN
    assert known["path-clearance"].value == fasteners.CLEARANCE
    assert known["gap-discharge"].value == vacuum.DISCHARGE


def test_stronger_pumps_hold_more_pressure() -> None:
    held = [holding()[f"{pump}-pressure"].value for pump in ("vacuum-cleaner", "side-channel", "vane-pump")]
    assert held == sorted(held)


@pytest.mark.parametrize("table", TABLES)
@pytest.mark.parametrize("group", [*chip_loads(), ""])
def test_every_work_has_a_friction_on_every_table(group: str, table: str) -> None:
    friction = table_friction(group, table)
    assert friction.spread is not None
    assert 0.05 < friction.spread.low < friction.value < friction.spread.high < 1.0


def test_work_that_is_not_known_has_the_widest_band_on_board() -> None:
    other, steel = table_friction("").spread, table_friction("steel").spread
    assert other is not None
    assert steel is not None
    assert other.low <= steel.low
    assert other.high >= steel.high


def test_a_table_that_nobody_measured_is_an_error() -> None:
    with pytest.raises(KeyError):
        table_friction("steel", "ice")


def test_tabs_of_metal_are_thinner() -> None:
    assert tab_thickness("aluminium").value < tab_thickness("plywood").value

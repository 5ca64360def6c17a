"""The table of usual cutting speeds."""

import pytest

from gantrywright.base.sources import PLAIN, sources
from gantrywright.catalog.columns import columns_of
from gantrywright.catalog.kinds import Material
from gantrywright.disciplines.cutting.cutting_speed import cutting_speeds, drill_speeds


def test_every_group_of_materials_has_a_speed_with_a_source() -> None:
    assert set(cutting_speeds()) == set(columns_of(Material)["group"].kind.split("/"))
    for name, speed in cutting_speeds().items():
        assert 0 < speed.low < speed.high, name
        assert speed.source in PLAIN - {""} or speed.source in sources(), name


def test_speeds_are_read_in_metres_per_second() -> None:
    steel = cutting_speeds()["steel"]
    assert (steel.low, steel.high) == pytest.approx((1.0, 2.5))  # 60 to 150 m/min


def test_metals_are_cut_slower_the_harder_they_are() -> None:
    tops = [cutting_speeds()[group].high for group in ("steel", "brass", "aluminium", "softwood")]
    assert tops == sorted(tops)


def test_drills_have_a_speed_in_every_group_and_carbide_bears_more() -> None:
    groups = columns_of(Material)["group"].kind.split("/")
    assert set(drill_speeds()) == {(group, of) for group in groups for of in ("high-speed-steel", "carbide")}
    for (group, of), speed in drill_speeds().items():
        assert 0 < speed.low < speed.high <= cutting_speeds()[group].high, (group, of)
        assert speed.source in PLAIN - {""} or speed.source in sources()
    for group in groups:
        assert drill_speeds()[group, "high-speed-steel"].high < drill_speeds()[group, "carbide"].high

import pytest

from gantrywright.base.sources import sources
from gantrywright.catalog.slot_nuts import slot_load


@pytest.mark.parametrize(
    ("opening", "profile", "nut", "load"),
    [
        (0.0052, "standard", "standard", 1e3),
        (0.0062, "light", "", 1e3),
        (0.0082, "light", "heavy", 7e3),
        (0.008, "standard", "standard", 10e3),
    ],
)
def test_published_loads(opening: float, profile: str, nut: str, load: float) -> None:
    found = slot_load(opening, profile=profile, nut=nut)
    assert found is not None
    assert found.least == found.most == load
    assert found.source in sources()


def test_a_profile_that_is_not_named_leaves_a_band() -> None:
    found = slot_load(0.0082, nut="standard")
    assert found is not None
    assert (found.least, found.most) == (3.5e3, 10e3)


def test_a_slot_that_nobody_printed_is_unknown() -> None:
    assert slot_load(0.0102) is None
    assert slot_load(0.0082, profile="feather") is None

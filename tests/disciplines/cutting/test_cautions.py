import re

import numpy as np
import pytest

from gantrywright.base.sources import PLAIN, sources
from gantrywright.disciplines.cutting.cautions import Facts, cautions, cautions_of
from gantrywright.disciplines.cutting.chip_load import chip_loads

RPM = np.pi / 30
WOOD = ("softwood", "hardwood", "plywood", "fibreboard")
FIRST = re.compile(r"local .*(rules|limit)|limit .* where you work|manual|licensed|data sheet", re.IGNORECASE)
FORBIDDEN = re.compile(r"\b(safe|safely|safety|compliant|compliance|certified)\b", re.IGNORECASE)


def told(*cuts: Facts) -> dict[str, tuple[str, ...]]:
    return {each.caution.id: each.jobs for each in cautions_of(cuts)}


@pytest.mark.parametrize("name", cautions())
def test_every_caution_is_whole_and_puts_others_first(name: str) -> None:
    caution = cautions()[name]
    assert all((caution.subject, caution.title, caution.words, caution.sources))
    assert FIRST.search(caution.defers), caution.defers
    assert not FORBIDDEN.search(" ".join((caution.title, caution.words, caution.measured, caution.defers)))
    assert all(source in PLAIN - {""} or source in sources() for source in caution.sources)


@pytest.mark.parametrize("name", cautions())
def test_every_caution_hangs_on_what_jobs_have(name: str) -> None:
    when = cautions()[name].when
    groups = {*when.get("groups", ()), *(group for side in when.get("together", ()) for group in side)}
    assert groups <= {*chip_loads(), ""}
    assert set(when.get("hold_down", ())) <= {"vacuum", "clamps", "slots", "screws", "tape"}
    assert set(when.get("cooling", ())) <= {"water", "fan", "none"}


@pytest.mark.parametrize("name", cautions())
def test_every_caution_can_be_told_and_only_those_without_conditions_always_are(name: str) -> None:
    when = cautions()[name].when
    sides = when.get("together", [["steel"]])
    cuts = [
        Facts(
            f"job{number}",
            group=when.get("groups", [side[0]])[0],
            diameter=0.05,
            speed=24000 * RPM,
            hold_down=when.get("hold_down", ["clamps"])[0],
            cooling=when.get("cooling", ["fan"])[0],
        )
        for number, side in enumerate(sides)
    ]
    assert name in told(*cuts)
    plain = told(Facts("plain", group="rubbish", diameter=0.001, speed=100.0, hold_down="by hand", cooling="ice"))
    assert (name in plain) == (not when)


def test_all_subjects_of_the_trade_are_there() -> None:
    assert {"dust", "fire", "noise", "eyes", "thrown parts", "hands", "hold-down"} <= {c.subject for c in cautions().values()}


def test_without_jobs_nothing_is_told() -> None:
    assert cautions_of(()) == ()


@pytest.mark.parametrize("wood", WOOD)
@pytest.mark.parametrize("metal", ["aluminium", "brass", "steel"])
def test_metal_and_wood_on_one_machine_are_told_for_both(wood: str, metal: str) -> None:
    assert "metal-with-wood" not in told(Facts("a", group=wood), Facts("b", group="hdpe"))
    assert "metal-with-wood" not in told(Facts("b", group=metal))
    found = told(Facts("a", group=wood), Facts("b", group=metal), Facts("c", group="foam"))
    assert found["metal-with-wood"] == ("a", "b")


def test_job_of_unknown_material_is_told_so_and_no_other() -> None:
    found = told(Facts("a"), Facts("b", group="plywood"))
    assert found["dust-unknown"] == ("a",)
    assert found["dust-wood"] == ("b",)


def test_hold_down_brings_its_own_caution() -> None:
    found = told(Facts("a", hold_down="vacuum"), Facts("b", hold_down="tape"), Facts("c", hold_down="screws"))
    assert (found["vacuum-lost"], found["tape-lets-go"], found["screws-in-the-way"]) == (("a",), ("b",), ("c",))
    assert "clamps-in-the-way" not in found


def test_large_and_fast_cutters_are_told_of() -> None:
    small, large = Facts("small", diameter=0.006, speed=24000 * RPM), Facts("large", diameter=0.05, speed=18000 * RPM)
    found = told(small, large)
    assert found["marked-speed"] == found["fast-edge"] == ("large",)


def test_speed_that_is_not_known_may_be_any() -> None:
    assert told(Facts("a", diameter=0.006))["fast-edge"] == ("a",)


def test_numbers_are_those_of_the_fastest_edge() -> None:
    """CU-37: 3 g off 25 mm at 24 000 rpm: 31.4 m/s, 1.48 J."""
    slow, fast = Facts("a", diameter=0.006, speed=24000 * RPM), Facts("b", diameter=0.025, speed=24000 * RPM)
    words = next(each.words for each in cautions_of((slow, fast)) if each.caution.id == "thrown")
    assert "3 g off the edge of the 25 mm cutter leaves with 31 m/s and 1.5 J" in words
    unknown = next(each.words for each in cautions_of((Facts("a", diameter=0.025),)) if each.caution.id == "thrown")
    assert "m/s" not in unknown
    assert "{" not in unknown

"""Every spring of a drive is a figure that opens, as it is where the drive is softest."""

from dataclasses import replace

import numpy as np
import pytest

from drive_cases import drives, with_fit
from gantrywright.model.axis import Reduction
from simple_machine import BEARING, SCREW, simple_machine

PATH = "axis.x.drive.main"


def test_the_links_where_it_is_softest_make_up_the_least_stiffness() -> None:
    found, ledger = drives(simple_machine())
    answer = found.drives[PATH]
    assert set(answer.links) == {"shaft", "bearing", "wind_up", "coupling", "nut", "bracket"}
    assert 1 / sum(1 / k for k in answer.links.values()) == pytest.approx(answer.stiffness_least)
    for name, value in answer.links.items():
        assert ledger[f"{PATH}.{name}_stiffness"].value == value
        assert ledger[f"{PATH}.{name}_stiffness"].unit == "N/m"
    inputs = {given.name: given.path for given in ledger[f"{PATH}.stiffness_least"].inputs}
    assert inputs == {name: f"{PATH}.{name}_stiffness" for name in answer.links}
    most = {given.name: given.value for given in ledger[f"{PATH}.stiffness_most"].inputs}
    assert 1 / sum(1 / k for k in most.values()) == pytest.approx(answer.stiffness_most)


def test_figures_name_what_to_measure() -> None:
    ledger = drives(simple_machine())[1]
    paths = {
        name: {i.path for i in ledger[f"{PATH}.{name}_stiffness"].inputs} for name in ("nut", "bearing", "bracket", "coupling")
    }
    assert paths["nut"] == {f"{PATH}.nut.stiffness"}
    assert paths["bearing"] == {f"{PATH}.bearing.stiffness"}
    assert paths["bracket"] == {f"{PATH}.bracket"}
    assert f"{PATH}.coupling.stiffness" in paths["coupling"]


def test_a_stage_is_one_more_link() -> None:
    machine = with_fit("x", reduction=Reduction("belt", ratio=2.0, stiffness=300.0))
    found, ledger = drives(machine)
    assert found.drives[PATH].links["stage"] == pytest.approx(300 * (2 * np.pi / 0.010) ** 2)
    assert {i.path for i in ledger[f"{PATH}.stage_stiffness"].inputs} >= {f"{PATH}.reduction.stiffness"}


def test_an_unknown_link_leaves_the_others_open_and_the_whole_unknown() -> None:
    found, ledger = drives(with_fit("x", parts={"bearing": None}))
    answer = found.drives[PATH]
    assert answer.stiffness_least is None
    assert answer.stiffness_most is None
    assert "bearing" not in answer.links
    assert f"{PATH}.shaft_stiffness" in ledger
    assert f"{PATH}.stiffness_least" not in ledger


def test_each_sample_has_its_own_softest_place() -> None:
    """Far end held or not: in the first case the middle is softest, in the other the far end."""
    ends, bearings = np.array([1.0, 0.0]), replace(BEARING, stiffness=np.array([1e12, 1e12]))
    sampled, ledger = drives(with_fit("x", parts={"far_end_held": ends, "bearing": bearings, "coupling": None, "part": SCREW}))
    both = sampled.drives[PATH]
    for i in range(2):
        one = drives(with_fit("x", parts={"far_end_held": ends[i], "bearing": replace(BEARING, stiffness=1e12), "coupling": None}))
        alone = one[0].drives[PATH]
        assert both.stiffness_least[i] == pytest.approx(alone.stiffness_least)
        assert both.stiffness_most[i] == pytest.approx(alone.stiffness_most)
        assert both.links["shaft"][i] == pytest.approx(alone.links["shaft"])
    place = next(given.value for given in ledger[f"{PATH}.shaft_stiffness"].inputs if given.name == "distance")
    assert place[0] < place[1]
    most = {given.name: given.value for given in ledger[f"{PATH}.stiffness_most"].inputs}
    assert 1 / sum(1 / np.asarray(k) for k in most.values()) == pytest.approx(both.stiffness_most)

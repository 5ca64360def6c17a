"""What a machine file says of the screws of its joints, and what is taken where it says nothing."""

from pathlib import Path
from typing import Any

import pytest

from gantrywright.base.errors import FileProblems
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.model.bodies import Bolting
from gantrywright.model.machine import Machine

LONG = Path(__file__).parents[1] / "machines" / "long_bed.toml"
SLOT, CORE = "joint.base-cross", "joint.beam-left"


def machine(**edits: Any) -> Machine:
    return resolve(revise(read_document(LONG), tuple(edits.items())))


def of(joint: str, **edits: Any) -> Bolting:
    return next(
        j.bolting for j in machine(**{f"{joint}.bolts.{key}": value for key, value in edits.items()}).joints if j.path == joint
    )


def test_what_is_usual_has_its_band_under_its_key() -> None:
    spreads = machine().spreads
    told = {key: spreads[f"{SLOT}.bolts.{key}"] for key in ("friction", "scatter", "bears")}
    assert (told["friction"].low, told["friction"].typical, told["friction"].high) == (0.08, 0.12, 0.16)
    assert (told["scatter"].low, told["scatter"].typical, told["scatter"].high) == (1.4, 1.6, 1.8)
    assert (told["bears"].low, told["bears"].high) == (10e3, 15e3)  # slot 8, heavy profile: standard to heavy nut


@pytest.mark.parametrize(("tightening", "scatter"), [("by-feel", 2.8), ("power-tool", 3.2)])
def test_the_way_of_tightening_has_its_scatter(tightening: str, scatter: float) -> None:
    assert of(SLOT, tightening=tightening).scatter == scatter


def test_the_end_of_a_profile_is_tapped_whatever_is_said() -> None:
    found = of(CORE)
    assert (found.into, found.tapped, found.strength) == ("tapped", "gantry.beam", 245e6)
    assert found.engagement == pytest.approx(0.016)
    assert of(CORE, engagement="12 mm").engagement == pytest.approx(0.012)


def test_length_less_what_it_goes_through_is_engaged() -> None:
    """The upright is a slotted profile, of which the screw goes through the floor of a slot: a quarter of its module."""
    assert of(CORE, length="25 mm").engagement == pytest.approx(0.025 - 0.25 * 0.040)


def test_what_is_told_counts() -> None:
    found = of(SLOT, friction=0.14, torque="9 N m", bears="4 kN", scatter=2.0)
    assert (found.friction, found.torque, found.bears, found.scatter) == (0.14, 9.0, 4e3, 2.0)


@pytest.mark.parametrize("key", ["friction", "tightening", "scatter", "torque", "bears", "engagement"])
def test_what_is_unknown_stays_unknown(key: str) -> None:
    assert key in of(CORE, **{key: "unknown"}).missing


def test_an_insert_is_unknown_until_it_is_told() -> None:
    assert "bears" in of(SLOT, into="insert").missing
    assert not of(SLOT, into="insert", bears="3 kN").missing


@pytest.mark.parametrize(("key", "value", "word"), [("friction", -0.1, "negative"), ("tightening", "by eye", "by-feel"), ("torque", "0 N m", "greater than 0")])  # fmt: skip
def test_what_cannot_be_is_refused(key: str, value: Any, word: str) -> None:
    with pytest.raises(FileProblems) as caught:
        of(SLOT, **{key: value})
    assert word in str(caught.value)
    assert f"{SLOT}.bolts.{key}" in str(caught.value)

"""The springs of each kind of drive against the sum written out by hand, at one place, along the travel, and with samples."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.catalog import kinds
from gantrywright.model.drives import drive_kinds
from gantrywright.model.drives.protocol import Drive, DriveParts
from gantrywright.model.drives.series import Link, in_a_row
from gantrywright.theory import screw_stiffness
from simple_machine import BEARING, COUPLING, NUT, SCREW

PATH = "axis.x.drive.main"
E, G, D = 206e9, 79.3e9, 0.0131
AREA = np.pi / 4 * D**2
RACK = kinds.Rack(module=0.001, width=0.015, helix=0.0)
PINION = kinds.Pinion(module=0.001, teeth=20, width=0.012, helix=0.0)
BELT = kinds.Belt(pitch=0.005, width=0.010, stiffness=275e3)
PULLEY = kinds.Pulley(pitch=0.005, teeth=20)


def drive(kind: str, **changes: Any) -> Drive:
    given: dict[str, Any] = {
        "path": PATH, "kind": kind, "free_length": 1.0, "travel": 0.7, "nearest": 0.1, "farthest": 0.8, "rise": 0.0,
        "coupling": COUPLING, "bracket": 90e6,
    }  # fmt: skip
    given |= {
        "ball-screw": {"part": SCREW, "nut": NUT, "bearing": BEARING},
        "lead-screw": {
            "part": kinds.LeadScrew(diameter=0.016, root=D, lead=0.010, starts=1),
            "nut": kinds.Nut(stiffness=50e6),
            "bearing": BEARING,
        },
        "rack": {"part": RACK, "pinion": PINION},
        "belt": {"part": BELT, "pulley": PULLEY},
    }[kind]
    return drive_kinds()[kind](DriveParts(**given | changes))


def by_hand(kind: str, x: float) -> dict[str, float]:
    """Every spring from first principles, N/m."""
    travel = {"ball-screw": 0.010, "lead-screw": 0.010, "rack": np.pi * 0.020, "belt": 0.100}[kind]
    common = {"coupling": 60 * (2 * np.pi / travel) ** 2, "bracket": 90e6}
    screw = {
        "shaft": E * AREA / x, "bearing": 60e6,
        "wind_up": G * np.pi * D**4 / 32 / x * (2 * np.pi / 0.010) ** 2,
    }  # fmt: skip
    own = {
        "ball-screw": screw | {"nut": 120e6},
        "lead-screw": screw | {"nut": 50e6},
        "rack": {"mesh": 20e9 * 0.012},
        "belt": {"belt": 275e3 * (1 / x + 1 / (2 - x))},
    }[kind]
    return common | own


def softness(links: tuple[Link, ...]) -> Any:
    return sum(1 / np.asarray(link.stiffness) for link in links)


KINDS = ("ball-screw", "lead-screw", "rack", "belt")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("x", [0.15, 0.8])
def test_every_link_and_their_sum_by_hand(kind: str, x: float) -> None:
    expected = by_hand(kind, x)
    links = drive(kind).series(x)
    assert {link.name: link.stiffness for link in links} == pytest.approx(expected, rel=1e-6)
    assert drive(kind).axial_stiffness(x) == pytest.approx(1 / sum(1 / k for k in expected.values()), rel=1e-6)
    assert len({link.path for link in links}) == len(links)
    assert all(link.path == f"{PATH}.{link.name}_stiffness" for link in links)


@pytest.mark.parametrize("kind", KINDS)
def test_samples_and_places_give_what_each_alone_gives(kind: str) -> None:
    brackets, places = np.array([40e6, 90e6, 200e6]), np.array([0.1, 0.3, 0.5, 0.8])
    sampled = drive(kind, bracket=brackets)
    grid = sampled.axial_stiffness(places)
    assert np.shape(grid) == (3, 4)
    assert np.shape(sampled.axial_stiffness(0.3)) == (3,)
    assert np.shape(drive(kind).axial_stiffness(places)) == (4,)
    assert np.shape(drive(kind).axial_stiffness(0.3)) == ()
    for i, bracket in enumerate(brackets):
        for j, place in enumerate(places):
            assert grid[i, j] == pytest.approx(drive(kind, bracket=bracket).axial_stiffness(place))
    assert np.broadcast_to(softness(sampled.series(places)), (3, 4)) == pytest.approx(1 / grid)


@pytest.mark.parametrize(("kind", "changes", "name"), [
    ("ball-screw", {"bearing": None}, "bearing"),
    ("lead-screw", {"bearing": replace(BEARING, stiffness=None, bore=None)}, "bearing"),
    ("rack", {"part": replace(RACK, width=None), "pinion": replace(PINION, width=None)}, "mesh"),
    ("belt", {"part": replace(BELT, stiffness=None)}, "belt"),
])  # fmt: skip
def test_an_unknown_link_is_named_and_makes_the_sum_unknown(kind: str, changes: dict[str, Any], name: str) -> None:
    unknown = drive(kind, **changes)
    assert [link.name for link in unknown.series(0.4) if link.stiffness is None] == [name]
    assert unknown.axial_stiffness(0.4) is None


def test_a_shaft_held_at_both_ends_is_the_pair_of_its_sides() -> None:
    """1/k_b + x/(E A) on the one side, 1/k_b + (L - x)/(E A) on the other, side by side."""
    held = {link.name: link.stiffness for link in drive("ball-screw", far_end_held=1.0).series(0.3)}
    near, far = 1 / 60e6 + 0.3 / (E * AREA), 1 / 60e6 + 0.7 / (E * AREA)
    assert 1 / (1 / held["shaft"] + 1 / held["bearing"]) == pytest.approx(1 / near + 1 / far)
    assert held["bearing"] < 120e6
    assert held["bearing"] > 60e6


@given(
    distance=st.floats(0.05, 0.95), bearing=st.floats(1e7, 1e9), root=st.floats(0.008, 0.04)
)  # fmt: skip
def test_shaft_and_bearings_in_series_are_the_whole_pair(distance: float, bearing: float, root: float) -> None:
    common = {"root_diameter": root, "elastic_modulus": E, "distance": distance, "free_length": 1.0}
    apart = [
        function(**common, bearing_stiffness=bearing, far_end_held=1.0)
        for function in (screw_stiffness.held_shaft_stiffness, screw_stiffness.held_bearing_stiffness)
    ]
    whole = screw_stiffness.both_ends_stiffness(**common, near_bearing=bearing, far_bearing=bearing)
    assert screw_stiffness.in_series(first=apart[0], second=apart[1]) == pytest.approx(whole)


def test_the_near_part_is_what_equal_give_of_both_sides_asks() -> None:
    """A bar fixed at both ends and pushed at a quarter of its length: the near end takes three quarters."""
    part = screw_stiffness.near_end_part(
        root_diameter=D, elastic_modulus=E, distance=0.25, free_length=1.0, bearing_stiffness=np.inf,
        far_end_held=np.array([1.0, 0.0]),
    )  # fmt: skip
    assert part == pytest.approx([0.75, 1.0])


def test_a_turning_nut_needs_no_end_bearing_and_does_not_twist() -> None:
    """Clamped in blocks at both ends: E A (1/x + 1/(L - x)); the nut brings its own bearings along."""
    still = drive("ball-screw", turns="nut", bearing=None, coupling=None, far_end_held=1.0)
    links = {link.name: link.stiffness for link in still.series(0.25)}
    assert set(links) == {"shaft", "nut", "bracket"}
    assert links["shaft"] == pytest.approx(E * AREA * (1 / 0.25 + 1 / 0.75))
    own_bearing = drive("ball-screw", turns="nut", coupling=None, far_end_held=1.0).series(0.25)
    assert {link.name: link.stiffness for link in own_bearing}["bearing"] == 60e6


def test_a_link_of_no_give_adds_nothing_and_a_doubtful_end_is_elementwise() -> None:
    rigid = Link("motor", f"{PATH}.motor_stiffness", np.inf, f"{PATH}.motor")
    assert in_a_row((rigid, *drive("rack").series(0.1)), 0.1) == pytest.approx(drive("rack").axial_stiffness(0.1))
    doubtful = drive("ball-screw", far_end_held=np.array([0.0, 1.0])).axial_stiffness(np.array([0.2, 0.6]))
    assert doubtful[0] == pytest.approx(drive("ball-screw").axial_stiffness(np.array([0.2, 0.6])))
    assert np.all(doubtful[1] > doubtful[0])

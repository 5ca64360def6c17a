from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from gantrywright.base.values import Rating
from gantrywright.catalog import kinds
from gantrywright.model.drives import drive_kinds
from gantrywright.model.drives.ball_screw import BallScrewDrive, make
from gantrywright.model.drives.defaults import stage_stiffness_band, stiffness_band
from gantrywright.model.drives.protocol import DriveParts
from gantrywright.theory.screw_strength import END_FIXITY
from simple_machine import BEARING, COUPLING, NUT, SCREW

FIXED_SUPPORTED = END_FIXITY["fixed-supported"]


def screw(**changes: Any) -> BallScrewDrive:
    given = {
        "path": "axis.x.drive.main", "kind": "ball-screw", "part": replace(SCREW, lead=0.005), "free_length": 1.0, "travel": 0.7,
        "nearest": 0.1, "farthest": 0.8, "rise": 0.0, "nut": NUT, "bearing": BEARING, "coupling": None, "bracket": 1e30,
    } | changes  # fmt: skip
    return make(DriveParts(**given))


def limit(drive: Any, reason: str) -> float:
    return next(float(x.speed) for x in drive.speed_limits() if x.reason == reason)


def load(drive: Any, reason: str) -> float:
    return next(float(x.force) for x in drive.load_limits() if x.reason == reason)


def test_registered() -> None:
    assert {"ball-screw", "lead-screw", "rack", "belt"} <= set(drive_kinds())
    assert "shaft" not in drive_kinds()


def test_wrong_part_is_refused() -> None:
    with pytest.raises(TypeError, match=r"axis\.x\.drive\.main"):
        screw(part=kinds.Belt(pitch=0.005))


def test_chain_of_springs() -> None:
    """S-15: shaft over 0.8 m 34.71, bearing 60, nut 120, twist 452.6 N/um: 17.85 N/um together."""
    assert screw().axial_stiffness(0.8) == pytest.approx(17.85e6, rel=3e-3)


def test_coupling_and_bracket_soften() -> None:
    """1/17.85 + 1/100 + 1/94.7 (60 N m/rad at lead 5), N/um."""
    assert screw(coupling=COUPLING, bracket=100e6).axial_stiffness(0.8) == pytest.approx(13.06e6, rel=3e-3)


def test_far_end_held_stiffens_and_doubt_is_elementwise() -> None:
    both = screw(far_end_held=np.array([0.0, 1.0]))
    places = np.array([0.1, 0.5, 0.8])
    map_ = both.axial_stiffness(places)
    assert map_.shape == (2, 3)
    assert map_[0] == pytest.approx(screw().axial_stiffness(places))
    assert np.all(map_[1] > map_[0])


def test_samples_meet_places() -> None:
    drive = screw(part=replace(SCREW, root=np.array([0.0125, 0.0131, 0.0135, 0.0131])))
    assert drive.axial_stiffness(np.linspace(0.1, 0.8, 5)).shape == (4, 5)
    assert drive.axial_stiffness(0.8).shape == (4,)
    assert limit(screw(), "whirl") > 0


def test_unknown_bearing_is_unknown_stiffness() -> None:
    assert screw(bearing=None).axial_stiffness(0.5) is None
    assert screw(bearing=replace(BEARING, stiffness=None)).axial_stiffness(0.5) == pytest.approx(screw().axial_stiffness(0.5))
    assert screw(bearing=replace(BEARING, stiffness=None, bore=None)).axial_stiffness(0.5) is None


def test_nut_stiffness_by_size_and_play() -> None:
    nut = replace(NUT, stiffness=None)
    assert screw(nut=nut).nut_stiffness == pytest.approx(60e6)
    assert screw(nut=replace(nut, backlash=0.0)).nut_stiffness == pytest.approx(120e6)
    assert screw(nut=None, part=replace(SCREW, diameter=0.032)).nut_stiffness == pytest.approx(300e6)
    band = stiffness_band("ball_nut", 0.016)
    assert (band.low, band.typical, band.high) == (60e6, 120e6, 200e6)
    assert stage_stiffness_band("belt").low < stage_stiffness_band("gearbox").low


def test_whirl_limit_holds_eight_tenths() -> None:
    """2470 rpm without safety (S-01): 1976 rpm may be used."""
    assert limit(screw(), "whirl") * 60 / (2 * np.pi) == pytest.approx(1976, rel=2e-3)


def test_speed_value() -> None:
    assert limit(screw(), "speed value") * 60 / (2 * np.pi) == pytest.approx(4375)


def test_turning_nut() -> None:
    """The screw stands still: whirl is only a caution, the nut's inertia counts, d n still holds, nothing winds up."""
    still = screw(turns="nut", nut=replace(NUT, inertia=2e-4))
    assert [(x.reason, x.hard) for x in still.speed_limits()] == [("whirl", False), ("speed value", True)]
    assert still.inertia == 2e-4
    assert still.axial_stiffness(0.8) > screw().axial_stiffness(0.8)
    by_size = screw(turns="nut").inertia
    assert by_size == pytest.approx(np.pi * 7850 * 0.045 * (0.028**4 - 0.016**4) / 32)


def test_inertia_of_the_shaft() -> None:
    """A bar of 14.4 mm (0.9 of 16), 1 m: 3.314e-5 kg m2."""
    assert screw().inertia == pytest.approx(3.314e-5, rel=1e-3)


def test_buckling_counts_bearing_to_farthest_nut_and_half_the_load() -> None:
    """S-02 fixed-supported 6013 N on 1 m: 9395 N on 0.8 m, half of it."""
    assert load(screw(), "buckling") == pytest.approx(4698, rel=2e-3)


def test_ratings_and_what_remains_of_them() -> None:
    worn = screw(remaining=0.5, bearing=replace(BEARING, static=Rating(6000.0, "static")))
    assert load(worn, "nut, static") == pytest.approx(16000 * 0.5 / 2)
    assert load(worn, "end bearing, static") == pytest.approx(3000.0)
    assert "nut, static" not in [x.reason for x in screw(part=replace(SCREW, static=None)).load_limits()]


def test_life() -> None:
    """S-08: 7.6 kN at 800 N and lead 5: 4287 km; half the rating left is an eighth."""
    part, nut = replace(SCREW, lead=0.005, dynamic=Rating(7600.0, "turns", 1e6)), replace(NUT, dynamic=None)
    assert screw(part=part, nut=nut).life(mean_force=800.0) == pytest.approx(4287e3, rel=1e-3)
    assert screw(part=part, nut=nut, remaining=0.5).life(mean_force=-800.0) == pytest.approx(4287e3 / 8, rel=1e-3)
    assert screw(part=replace(part, dynamic=None), nut=nut).life(mean_force=800.0) is None


def test_life_of_a_rating_by_distance_and_of_a_preloaded_nut() -> None:
    inch = replace(NUT, dynamic=Rating(7600.0, "distance", 25_400.0))
    assert screw(nut=inch).life(mean_force=760.0) == pytest.approx(25_400 * 1000)
    held = replace(NUT, dynamic=Rating(7600.0, "turns", 1e6), preload=400.0)
    assert screw(nut=held).life(mean_force=600.0) == pytest.approx(1006e6 * 0.005, rel=2e-3)


def test_efficiency_given_wins_both_ways() -> None:
    assert screw().efficiency == pytest.approx(0.9077, rel=1e-3)
    assert screw().back_efficiency == pytest.approx(0.8986, rel=1e-3)
    assert screw(efficiency=0.8).efficiency == 0.8
    assert screw(efficiency=0.8).back_efficiency == pytest.approx(0.75)
    assert screw(nut=replace(NUT, friction=0.02)).efficiency < screw().efficiency
    assert screw().self_locking() == 0.0
    assert screw(efficiency=0.4).self_locking() == 1.0


def test_travel_per_turn_measured_wins() -> None:
    assert screw().travel_per_turn == 0.005
    assert screw(travel_per_turn=0.005003).travel_per_turn == 0.005003


def test_drag_adds_the_preload() -> None:
    assert screw().drag_torque == pytest.approx(0.05)
    assert screw(nut=replace(NUT, preload=400.0)).drag_torque == pytest.approx(0.05 + 0.0505, abs=1e-4)
    assert screw(bearing=None, part=replace(SCREW, drag=None)).drag_torque == pytest.approx(0.05)


def test_lost_motion() -> None:
    assert screw().lost_motion == 4e-5
    assert screw(nut=replace(NUT, backlash=None)).lost_motion is None
    assert screw(nut=replace(NUT, backlash=None, preload=300.0)).lost_motion == 0.0
    assert screw(nut=None).lost_motion is None


@pytest.mark.parametrize(("grade", "expected"), [("T7", 52e-6 * 0.7 / 0.3), ("C5", 18e-6 * 0.7 / 0.3), ("P5", 36e-6), ("", None)])
def test_lead_error(grade: str, expected: float | None) -> None:
    got = screw(part=replace(SCREW, grade=grade)).lead_error()
    assert got is None if expected is None else got == pytest.approx(expected)


def test_growth() -> None:
    assert screw().growth(10.0) == pytest.approx(11.5e-6 * 0.7 * 10)


def test_workings_give_what_is_answered() -> None:
    drive = screw(nut=replace(NUT, preload=400.0))
    by_name = {working.name: working.value for working in drive.workings()}
    assert by_name["whirl_speed"] * 0.8 == pytest.approx(limit(drive, "whirl"))
    assert by_name["screw_efficiency"] == drive.efficiency
    assert by_name["lead_error_by_rate"] == drive.lead_error()
    assert by_name["preload_torque"] > 0
    assert len(by_name) == len(drive.workings())

"""Friction of the faces of joints: by their state, with a band, and open to be measured."""

import numpy as np
import pytest
from placed import document, machine, revised

from gantrywright.intake.placing.face_friction import friction_table
from gantrywright.intake.resolve import resolve
from gantrywright.model.bodies import Joint
from gantrywright.model.machine import Machine

SHARED = "gantry.joint.bolted.friction"


def joint(made: Machine, path: str) -> Joint:
    return next(j for j in made.joints if j.path == path)


def test_every_state_of_faces_has_a_band() -> None:
    assert set(friction_table()) == {"as-found", "as-extruded", "sawn", "milled", "shimmed", "bedded", "wood"}
    for row in friction_table().values():
        assert 0 < row.spread.low < row.spread.typical < row.spread.high


def test_faces_take_the_friction_of_their_state() -> None:
    foot = joint(machine("fixed_gantry"), "joint.foot-left")
    assert foot.faces == "bedded"
    assert foot.friction == friction_table()["bedded"].typical
    assert joint(revised("fixed_gantry", ("joint.foot-left.faces", "milled")), "joint.foot-left").friction == pytest.approx(0.17)


def test_sheets_take_that_of_wood() -> None:
    made = machine("long_bed")
    wooden = [j for j in made.joints if j.bolts and j.path.startswith("bed.bearer-1 + ")]
    assert [j.friction for j in wooden] == [friction_table()["wood"].typical]


def test_it_is_told_with_its_band_and_table() -> None:
    told = machine("fixed_gantry").stated[SHARED]
    assert told.spread == friction_table()["bedded"].spread
    assert told.origin.path == "face-friction.csv bedded"


def test_what_is_written_or_measured_goes_before() -> None:
    own = revised("fixed_gantry", ("joint.foot-left.friction", "0.4"))
    assert joint(own, "joint.foot-left").friction == pytest.approx(0.4)
    assert SHARED not in own.stated
    all_of_kind = revised("fixed_gantry", (SHARED, "0.3"))
    assert joint(all_of_kind, "joint.foot-right").friction == pytest.approx(0.3)


def test_samples_go_through() -> None:
    tried = np.array([0.14, 0.2, 0.3])
    made = resolve(document("fixed_gantry"), samples={SHARED: tried})
    assert joint(made, "joint.foot-left").friction == pytest.approx(tried)


def test_what_no_friction_holds_has_none() -> None:
    assert all(j.friction is None for j in machine("fixed_gantry").joints if j.kind in ("welded", "glued"))
    assert all(j.friction is None for j in machine("fixed_gantry").joints if not j.bolts)

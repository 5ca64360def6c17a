"""The force of a screw by hand: after its torque, its friction, its way of tightening, and what holds it."""

from dataclasses import replace

import numpy as np
import pytest

from gantrywright.catalog.kinds import Thread
from gantrywright.disciplines.structure.clamping import STRIPPED, Clamp, clamp_of
from gantrywright.model.bodies import Bolting, Joint, JointStiffness
from gantrywright.results.ledger import Ledger

M8 = Thread(id="M8", diameter=0.008, pitch=0.00125, head=0.013, clearance_medium=0.009)
MADE = Bolting(path="joint.one.bolts")
JOINT = Joint(
    path="joint.one", a="wall", b="arm", kind="bolted", points=((0.0, 0.0, 0.0),), normal=(1.0, 0.0, 0.0), bolts=4, thread="M8", faces="milled",
    friction=0.15, stiffness=JointStiffness(), bolting=MADE,
)  # fmt: skip
YIELD = 18.6e3
"""M8 8.8 at 90 % of yield, thread friction 0.12: printed as 18.6 kN (vdi-2230)."""
TORQUE = 24.98
"""That brings it there under a socket cap head that presses on a ring of 12.35 mm with a hole of 9 mm, by hand:
18.627 kN (0.16 x 1.25 + 0.58 x 7.188 x 0.12 + 0.12 (12.35 + 9)/4) mm = 25.0 N m; hexagon head: 24.6 N m printed."""


def clamp(**changed: object) -> Clamp:
    bolting = replace(MADE, **changed)  # type: ignore[arg-type]
    return clamp_of(replace(JOINT, bolting=bolting), M8, Ledger(), "structure.joint.one")


def test_without_a_torque_the_screw_is_tightened_to_its_yield() -> None:
    found = clamp()
    assert found.most == found.bears == pytest.approx(YIELD, rel=2e-3)
    assert found.torque == pytest.approx(TORQUE, rel=3e-3)
    assert found.least == pytest.approx(YIELD / 1.6, rel=2e-3)
    assert found.tightened is None


def test_a_torque_gives_its_share_of_that() -> None:
    """Half the torque gives half the force, at the same friction."""
    found = clamp(torque=TORQUE / 2)
    assert found.tightened == pytest.approx(YIELD / 2, rel=3e-3)
    assert found.most == found.tightened
    assert "torque" in found.words


def test_too_much_torque_presses_no_harder_than_the_thread_bears() -> None:
    found = clamp(torque=2 * TORQUE)
    assert found.tightened == pytest.approx(2 * YIELD, rel=3e-3)
    assert found.most == found.bears == pytest.approx(YIELD, rel=2e-3)


@pytest.mark.parametrize(("friction", "force"), [(0.10, 19.5e3), (0.12, 18.6e3), (0.14, 17.7e3)])
def test_friction_in_the_thread_takes_of_what_the_screw_bears(friction: float, force: float) -> None:
    """Printed rows of M8 8.8 (vdi-2230, from memory)."""
    assert clamp(friction=friction).bears == pytest.approx(force, rel=0.03)


def test_a_slippery_screw_is_pressed_harder_by_the_same_torque() -> None:
    slippery, dry = (float(np.asarray(clamp(torque=12.0, friction=mu).most)) for mu in (0.08, 0.16))
    by_hand = (0.16 * 1.25 + 0.58 * 7.188 * 0.16 + 0.16 * (12.35 + 9) / 4) / (
        0.16 * 1.25 + 0.58 * 7.188 * 0.08 + 0.08 * (12.35 + 9) / 4
    )
    assert slippery / dry == pytest.approx(by_hand, rel=1e-3)


def test_by_feel_the_least_is_less() -> None:
    assert clamp(tightening="by-feel", scatter=2.8).least == pytest.approx(YIELD / 2.8, rel=2e-3)


def test_a_slot_bears_what_it_bears() -> None:
    found = clamp(into="slot-nut", bears=5e3)
    assert found.most == found.bears == 5e3
    assert found.least == pytest.approx(5e3 / 1.6)
    assert found.torque == pytest.approx(TORQUE * 5e3 / YIELD, rel=3e-3)
    assert "slot-nut" in found.words


def test_a_shallow_thread_in_aluminium_strips_first() -> None:
    """6 mm of M8 in Rm 245 MPa: 16.83 mm2 of thread a mm (Fed-Std-H28), 0.6 Rm in shear, a pitch of run-in: 11.75 kN."""
    found = clamp(into="tapped", engagement=0.006, strength=245e6, tapped="gantry.beam")
    strip = 16.83 * (6 - 1.25) * 0.6 * 245
    assert strip == pytest.approx(11.75e3, rel=2e-3)
    assert found.bears == pytest.approx(STRIPPED * strip, rel=3e-3)
    assert "gantry.beam" in found.words
    deep = clamp(into="tapped", engagement=0.016, strength=245e6, tapped="gantry.beam")
    assert deep.bears == pytest.approx(YIELD, rel=2e-3)


def test_a_slot_that_is_known_within_a_band_gives_a_band() -> None:
    found = clamp(bears=np.array([4e3, 8e3, 30e3]), scatter=np.array([1.6, 1.6, 1.8]), into="slot-nut")
    assert found.least == pytest.approx(np.array([4e3 / 1.6, 8e3 / 1.6, YIELD / 1.8]), rel=2e-3)

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from gantrywright.theory import bolts as b

M8 = {"diameter": 0.008, "pitch": 0.00125}
HEAD = {"head_bearing": 0.01233, "hole": 0.009}
frictions, forces = st.floats(0.05, 0.4), st.floats(100.0, 1e5)


@given(forces, frictions, frictions)
def test_torque_and_preload_undo_each_other(force: float, thread: float, head: float) -> None:
    same = {**M8, **HEAD, "thread_friction": thread, "head_friction": head}
    torque = b.tightening_torque(preload=force, **same)
    assert b.preload_of_torque(torque=torque, **same) == pytest.approx(force)


def test_nut_factor_of_the_workshop() -> None:
    """M/(F d): 0.16 to 0.17 at a friction of 0.12, 0.19 at 0.14 with hexagon heads; 0.2 stands for dry steel."""
    factors = []
    for mu in (0.12, 0.14):
        torque = b.tightening_torque(preload=1.0, **M8, thread_friction=mu, head_friction=mu, head_bearing=0.01163, hole=0.009)
        factors.append(torque / 0.008)
    assert factors == pytest.approx([0.165, 0.189], abs=0.003)


@given(frictions)
def test_slippery_threads_take_more_preload(mu: float) -> None:
    loads = [b.yield_preload(**M8, proof_strength=640e6, thread_friction=f) for f in (mu, mu + 0.01)]
    assert loads[0] > loads[1]
    assert loads[0] < 0.9 * 640e6 * 36.61e-6


@given(st.floats(0.003, 0.016), st.floats(0.2, 12.0), st.floats(1e9, 210e9))
def test_clamped_cones_by_integration(diameter: float, relative: float, modulus: float) -> None:
    """Two frusta that start with 1.5 d under head and nut, less the screw's hole of its own diameter."""
    length = relative * diameter

    def give(x: float) -> float:
        wide = 1.5 * diameter + 2 * 0.5774 * x
        return 4 / (np.pi * modulus * (wide**2 - diameter**2))

    assert b.clamp_stiffness(diameter=diameter, length=length, elastic_modulus=modulus) == pytest.approx(
        1 / (2 * quad(give, 0, length / 2)[0]), rel=1e-6
    )


@given(forces, st.floats(-1e5, 1e5), st.floats(0.0, 1.0))
def test_screw_and_faces_balance_the_pull(preload: float, pull: float, share: float) -> None:
    screw = b.screw_force(preload=preload, pull=pull, share=share)
    faces = b.residual_clamp(preload=preload, pull=pull, share=share)
    assert screw - faces == pytest.approx(pull, abs=1e-9 * preload + 1e-9 * abs(pull))


def test_full_torque_crushes_soft_aluminium() -> None:
    force = b.yield_preload(**M8, proof_strength=640e6, thread_friction=0.12)
    assert b.head_pressure(force=force, **HEAD) > 300e6
    assert b.head_pressure(force=force, head_bearing=0.016, hole=0.009) < 200e6


@pytest.mark.parametrize(("head", "printed"), [(7.0, 6.53), (8.5, 8.03), (10.0, 9.38), (13.0, 12.33), (16.0, 15.33), (18.0, 17.23)])
def test_ring_under_a_socket_head(head: float, printed: float) -> None:
    assert b.bearing_diameter(head=head) == pytest.approx(printed, rel=0.02)


def test_cap_heads_take_a_little_more_torque() -> None:
    mu = {"thread_friction": 0.12, "head_friction": 0.12, "hole": 0.009}
    hexagon = b.tightening_torque(preload=1.0, **M8, **mu, head_bearing=0.01163)
    cap = b.tightening_torque(preload=1.0, **M8, **mu, head_bearing=0.01233)
    assert 1.01 < cap / hexagon < 1.04


def test_samples_pass_through() -> None:
    mu = np.array([0.1, 0.14])
    assert b.yield_preload(**M8, proof_strength=640e6, thread_friction=mu) == pytest.approx([19.10e3, 18.13e3], rel=1e-3)

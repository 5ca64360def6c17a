import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import threads as t

COARSE = {0.004: 0.0007, 0.005: 0.0008, 0.006: 0.001, 0.008: 0.00125, 0.010: 0.0015, 0.012: 0.00175}


@pytest.mark.parametrize(
    ("screw", "tapped", "low", "high"),
    [("8.8", 360e6, 0.98, 1.06), ("8.8", 310e6, 1.16, 1.23), ("8.8", 215e6, 1.66, 1.77), ("12.9", 215e6, 2.53, 2.70)],
)
def test_depth_of_thread_in_diameters(screw: str, tapped: float, low: float, high: float) -> None:
    """Steel one diameter, hard aluminium 1.2, soft aluminium 1.7; a screw 12.9 in soft aluminium 2.6: M5 to M10."""
    strength = t.SCREW_CLASSES[screw].tensile
    for diameter, pitch in list(COARSE.items())[1:5]:
        depth = t.engagement_needed(diameter=diameter, pitch=pitch, screw_strength=strength, tapped_strength=tapped)
        assert low < depth / diameter < high


@given(st.sampled_from(list(COARSE)), st.floats(100e6, 700e6), st.floats(300e6, 1300e6))
def test_screw_breaks_just_as_the_hole_strips(diameter: float, tapped: float, screw: float) -> None:
    same = {"diameter": diameter, "pitch": COARSE[diameter]}
    depth = t.engagement_needed(**same, screw_strength=screw, tapped_strength=tapped)
    force = t.strip_force(**same, engagement=depth + same["pitch"], tapped_strength=tapped)
    assert force == pytest.approx(screw * t.stress_area(**same))


def test_run_in_does_not_hold() -> None:
    assert t.strip_force(diameter=0.008, pitch=0.00125, engagement=0.001, tapped_strength=300e6) == 0.0


def test_diameters_keep_their_order() -> None:
    for diameter, pitch in COARSE.items():
        limits = t.thread_limits(diameter=diameter, pitch=pitch)
        assert t.core_diameter(diameter=diameter, pitch=pitch) < limits.most_bore < limits.least_pitch < limits.most_pitch
        assert limits.most_pitch < limits.least_outer < diameter


def test_samples_pass_through() -> None:
    diameters, pitches = np.array(list(COARSE)), np.array(list(COARSE.values()))
    together = t.tapped_shear_area(diameter=diameters, pitch=pitches)
    assert together == pytest.approx([t.tapped_shear_area(diameter=d, pitch=p) for d, p in COARSE.items()])

"""Cutting forces against a plain sum over slices, teeth and angles."""

import numpy as np
import pytest

from gantrywright.theory.cutting import engagement as eg
from gantrywright.theory.cutting import forces as cf

A = cf.Coefficients(796e6, 27.7e3, 169e6, 30.8e3, 222e6, 1.4e3)


def slice_sum(flutes: int, depth: float, chip: float, diameter: float, helix: float, start: float, stop: float) -> np.ndarray:
    """Along the feed, across, axial, torque at each of 720 angles, 1200 slices."""
    angles = np.linspace(0, 2 * np.pi, 720, endpoint=False)
    heights = (np.arange(1200) + 0.5) * depth / 1200
    teeth = 2 * np.pi / flutes * np.arange(flutes)
    phi = angles[:, None, None] - teeth[:, None] - 2 * np.tan(helix) / diameter * heights
    phi = np.mod(phi, 2 * np.pi)
    cuts = (phi >= start) & (phi <= stop)
    h = chip * np.sin(phi)
    dz = depth / 1200 * cuts
    tangential, radial, axial = (
        (A.shear * h + A.edge) * dz,
        (A.radial_shear * h + A.radial_edge) * dz,
        (A.axial_shear * h + A.axial_edge) * dz,
    )
    parts = (
        -tangential * np.cos(phi) - radial * np.sin(phi), tangential * np.sin(phi) - radial * np.cos(phi), axial, tangential * diameter / 2
    )  # fmt: skip
    return np.array([part.sum(axis=(1, 2)) for part in parts])


@pytest.mark.parametrize(
    ("flutes", "depth", "diameter", "helix", "width", "way"),
    [
        (2, 3e-3, 6e-3, 30.0, 6e-3, "conventional"),
        (3, 6e-3, 6e-3, 35.0, 1.0e-3, "climb"),
        (2, 10e-3, 6e-3, -25.0, 2.0e-3, "conventional"),
        (1, 40e-3, 4e-3, 40.0, 4e-3, "conventional"),  # the helix reaches more than a whole turn round
        (2, 35e-3, 4e-3, -40.0, 1e-3, "climb"),
    ],
)
def test_means_and_peaks(flutes: int, depth: float, diameter: float, helix: float, width: float, way: eg.Way) -> None:
    start, stop = eg.engagement(diameter=diameter, width=width, way=way)
    beta = np.radians(helix)
    slices = slice_sum(flutes, depth, 5e-5, diameter, beta, float(start), float(stop))
    means = cf.mean_forces(cut=A, flutes=flutes, depth=depth, feed_per_tooth=5e-5, diameter=diameter, start=start, stop=stop)
    scale = np.hypot(*slices[:2]).max()
    np.testing.assert_allclose((means.along_feed, means.across, means.axial), slices[:3].mean(axis=1), atol=2e-3 * scale)
    assert means.torque == pytest.approx(slices[3].mean(), rel=5e-3)
    sums = cf.edge_sums(flutes=flutes, depth=depth, feed_per_tooth=5e-5, diameter=diameter, helix=beta, start=start, stop=stop)
    peaks = cf.peak_forces(cut=A, sums=sums, diameter=diameter)
    assert peaks.in_plane == pytest.approx(np.hypot(*slices[:2]).max(), rel=5e-3)
    assert peaks.axial == pytest.approx(slices[2].max(), rel=5e-3)
    assert peaks.torque == pytest.approx(slices[3].max(), rel=5e-3)

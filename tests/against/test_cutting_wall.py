"""The error of a wall against slices of the edge, summed one by one at the moment when a tooth passes each height."""

import numpy as np
import pytest

from gantrywright.theory.cutting import edges, engagement, wall
from gantrywright.theory.cutting.forces import Coefficients

A = Coefficients(796e6, 27.7e3, 169e6, 30.8e3, 222e6, 1.4e3)
GIVE = 1e-6 * np.array([[0.643, 0.02, 0.05], [0.02, 0.793, -0.08], [0.05, -0.08, 0.15]])
SLICES = 4000


def by_slices(flutes: int, depth: float, helix: float, start: float, stop: float, way: str, count: int) -> np.ndarray:
    lag = 2 * np.tan(helix) / 6e-3
    heights = (np.arange(SLICES) + 0.5) * depth / SLICES
    errors = []
    for z in np.linspace(0.0, depth, count):
        tip = (0.0 if way == "conventional" else np.pi) + lag * z
        force = np.zeros(3)
        for tooth in range(flutes):
            phi = np.mod(tip - 2 * np.pi * tooth / flutes - lag * heights + 1e-12, 2 * np.pi) - 1e-12
            phi = phi[(phi >= start - 1e-9) & (phi <= stop + 1e-9)]
            h = 5e-5 * np.sin(phi)
            t, r, a = A.shear * h + A.edge, A.radial_shear * h + A.radial_edge, A.axial_shear * h + A.axial_edge
            force += depth / SLICES * np.array([
                (-t * np.cos(phi) - r * np.sin(phi)).sum(), (t * np.sin(phi) - r * np.cos(phi)).sum(), -a.sum(),
            ])  # fmt: skip
        errors.append((1.0 if way == "conventional" else -1.0) * (GIVE @ force)[1])
    return np.array(errors)


@pytest.mark.parametrize(
    ("flutes", "depth", "helix", "width", "way"),
    [
        (2, 3e-3, 30.0, 0.6e-3, "climb"),
        (2, 12e-3, 30.0, 0.6e-3, "conventional"),
        (3, 9e-3, -25.0, 2e-3, "climb"),
        (4, 20e-3, 40.0, 6e-3, "conventional"),  # other teeth of a slot cut while one makes the wall
        (4, 20e-3, 40.0, 6e-3, "climb"),
        (1, 30e-3, 45.0, 4e-3, "climb"),
    ],
)
def test_wall(flutes: int, depth: float, helix: float, width: float, way: engagement.Way) -> None:
    start, stop = engagement.engagement(diameter=6e-3, width=width, way=way)
    edge = edges.end_mill(depth=depth, diameter=6e-3, helix=np.radians(helix), start=start, stop=stop)
    found = wall.wall_error(
        cut=A, edge=edge, flutes=flutes, feed_per_tooth=5e-5, run_out=0.0, run_out_angle=0.0, give=GIVE, way=way
    )
    expected = by_slices(flutes, depth, np.radians(helix), float(start), float(stop), way, wall.HEIGHTS)
    np.testing.assert_allclose(found.error, expected, atol=5e-3 * np.abs(expected).max())

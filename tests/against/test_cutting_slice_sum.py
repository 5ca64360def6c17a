"""Cutting forces over a turn against slices, teeth and angles one by one, on a surface that is remembered."""

from itertools import pairwise

import numpy as np
import pytest

import cut_by_slices as brute
from gantrywright.theory.cutting import edges
from gantrywright.theory.cutting.cycle import Grain, force_cycle, peak_forces
from gantrywright.theory.cutting.engagement import Way, engagement
from gantrywright.theory.cutting.forces import Coefficients, mean_forces
from gantrywright.theory.cutting.run_out import signed_chips

A = Coefficients(796e6, 27.7e3, 169e6, 30.8e3, 222e6, 1.4e3)
PLAIN = brute.Material((796e6, 169e6, 222e6), (27.7e3, 30.8e3, 1.4e3))
EVEN = 2 * np.pi / brute.ANGLES * np.arange(brute.ANGLES)


def compare(
    edge: edges.Edge, slices: list[brute.Slice], flutes: int, run_out: float = 0.0, turned: float = 0.0, close: float = 4e-3
) -> None:
    told = force_cycle(cut=A, edge=edge, flutes=flutes, feed_per_tooth=5e-5, run_out=run_out, run_out_angle=turned, angles=EVEN)
    counted = brute.traces(slices, flutes, 5e-5, lambda _: PLAIN, run_out, turned)
    for trace, expected in zip((told.along_feed, told.across, told.axial, told.torque), counted, strict=True):
        scale = np.abs(expected).max()
        assert np.abs(trace - expected).mean() < close * scale
        assert np.abs(trace - expected).max() < (3e-2 if close < 5e-3 else 0.3) * scale  # at the steps of entering and leaving
        assert trace.mean() == pytest.approx(expected.mean(), abs=close * scale)
    peak = peak_forces(cut=A, edge=edge, flutes=flutes, feed_per_tooth=5e-5, run_out=run_out, run_out_angle=turned)
    assert peak.in_plane == pytest.approx(np.hypot(*counted[:2]).max(), rel=2.5 * close)
    assert peak.torque == pytest.approx(counted[3].max(), rel=2.5 * close)
    assert abs(peak.axial) == pytest.approx(np.abs(counted[2]).max(), rel=2.5 * close)


@pytest.mark.parametrize(
    ("flutes", "depth", "diameter", "helix", "width", "way", "run_out", "turned"),
    [
        (2, 3e-3, 6e-3, 30.0, 6e-3, "conventional", 0.0, 0.0),
        (2, 3e-3, 6e-3, 30.0, 6e-3, "conventional", 10e-6, 0.0),
        (2, 3e-3, 6e-3, 30.0, 3e-3, "climb", 40e-6, 0.4),  # one tooth does all
        (3, 6e-3, 6e-3, 35.0, 1.0e-3, "climb", 8e-6, 1.0),
        (4, 6e-3, 6e-3, 35.0, 4.0e-3, "conventional", 15e-6, 0.2),
        (2, 10e-3, 6e-3, -25.0, 2.0e-3, "conventional", 5e-6, 2.0),
        (1, 40e-3, 4e-3, 40.0, 4e-3, "conventional", 10e-6, 0.0),  # the helix reaches more than a whole turn round
        (2, 35e-3, 4e-3, -40.0, 1e-3, "climb", 0.0, 0.0),
    ],
)
def test_end_mills(
    flutes: int, depth: float, diameter: float, helix: float, width: float, way: Way, run_out: float, turned: float
) -> None:
    start, stop = engagement(diameter=diameter, width=width, way=way)
    beta = np.radians(helix)
    edge = edges.end_mill(depth=depth, diameter=diameter, helix=beta, start=start, stop=stop)
    slices = brute.stacked(
        400, depth, lambda z, dz: brute.Slice(dz, 2 * np.tan(beta) / diameter * z, diameter / 2, float(start), float(stop))
    )
    compare(edge, slices, flutes, run_out, turned)
    if run_out == 0:
        told = force_cycle(cut=A, edge=edge, flutes=flutes, feed_per_tooth=5e-5, run_out=0.0, run_out_angle=0.0).mean
        closed = mean_forces(cut=A, flutes=flutes, depth=depth, feed_per_tooth=5e-5, diameter=diameter, start=start, stop=stop)
        assert told.torque == pytest.approx(closed.torque, rel=2e-3)
        assert told.in_plane == pytest.approx(closed.in_plane, rel=2e-3)


@pytest.mark.parametrize(("depth", "run_out"), [(9e-3, 0.0), (9e-3, 10e-6), (3e-3, 0.0), (18e-3, 5e-6)])
def test_compression_cutter(depth: float, run_out: float) -> None:
    rate = 2 * np.tan(np.radians(30)) / 6e-3
    edge = edges.compression(depth=depth, diameter=6e-3, helix=np.radians(30), up_cut=5e-3, start=0.0, stop=np.pi)

    def of(z: float, dz: float) -> brute.Slice:
        lower = z < 5e-3
        return brute.Slice(dz, rate * (z if lower else 10e-3 - z), 3e-3, 0.0, np.pi, hand=1.0 if lower else -1.0)

    compare(edge, brute.stacked(450, depth, of), 2, run_out)


@pytest.mark.parametrize(("width", "way"), [(6e-3, "conventional"), (1e-3, "climb"), (1.5e-3, "conventional")])
def test_ball_nose(width: float, way: Way) -> None:
    depth, radius, rate = 2e-3, 3e-3, 2 * np.tan(0.5) / 6e-3
    edge = edges.ball_nose(depth=depth, diameter=6e-3, helix=0.5, width=width, way=way, slices=80)
    face = np.sqrt(depth * (6e-3 - depth)) - width  # where the stock begins, from the axis
    tilts = np.linspace(0, np.arccos(1 - depth / radius), 801)
    slices = []
    for low, high in pairwise(tilts):
        middle = (low + high) / 2
        here = radius * np.sin(middle)
        arc = np.arccos(np.clip(face / here, -1, 1))
        start, stop = (0.0, arc) if way == "conventional" else (np.pi - arc, np.pi)
        height = radius * (np.cos(low) - np.cos(high))
        z = radius * (1 - np.cos(middle))
        slices.append(brute.Slice(height, rate * z, here, start, stop, normal_out=np.sin(middle)))
    compare(edge, slices, 2, 5e-6, close=1.5e-2)


def test_v_bit_in_a_groove() -> None:
    depth, half = 3e-3, np.radians(45)
    edge = edges.v_bit(depth=depth, diameter=12e-3, tip=0.2e-3, included_angle=2 * half, width=12e-3, way="climb", slices=40)
    slices = brute.stacked(
        400, depth, lambda z, dz: brute.Slice(dz, 0.0, 0.1e-3 + z * np.tan(half), 0.0, np.pi, normal_out=np.cos(half))
    )
    compare(edge, slices, 2)


@pytest.mark.parametrize("gamma", [0.0, 60.0, -60.0, 90.0])
def test_grain(gamma: float) -> None:
    """Coefficients that change as the tooth turns, by the angle between its velocity and the grain."""
    along = Coefficients(14e6, 1.2e3, 1.4e6, 1.2e3, 3e6, 0.0)
    across = Coefficients(35e6, 3.0e3, 7e6, 3.0e3, 8e6, 0.0)
    grain = np.array([np.cos(np.radians(gamma)), np.sin(np.radians(gamma))])

    def material(phi: float) -> brute.Material:
        share = 1 - float(np.array([np.cos(phi), -np.sin(phi)]) @ grain) ** 2
        mixed = [a + (b - a) * share for a, b in ((14e6, 35e6), (1.4e6, 7e6), (3e6, 8e6), (1.2e3, 3e3), (1.2e3, 3e3), (0.0, 0.0))]
        return brute.Material((mixed[0], mixed[1], mixed[2]), (mixed[3], mixed[4], mixed[5]))

    start, stop = engagement(diameter=6e-3, width=3e-3, way="climb")
    edge = edges.end_mill(depth=6e-3, diameter=6e-3, helix=0.5, start=start, stop=stop)
    told = force_cycle(
        cut=along, edge=edge, flutes=2, feed_per_tooth=2e-4, run_out=10e-6, run_out_angle=0.0, angles=EVEN,
        grain=Grain(across, np.radians(gamma)),
    )  # fmt: skip
    rate = 2 * np.tan(0.5) / 6e-3
    slices = brute.stacked(400, 6e-3, lambda z, dz: brute.Slice(dz, rate * z, 3e-3, float(start), float(stop)))
    counted = brute.traces(slices, 2, 2e-4, material, 10e-6)
    for trace, expected in zip((told.along_feed, told.across, told.axial, told.torque), counted, strict=True):
        assert np.abs(trace - expected).max() < 1e-2 * np.abs(expected).max()


@pytest.mark.parametrize("flutes", [1, 2, 3, 4, 6])
@pytest.mark.parametrize("run_out", [0.0, 5e-6, 20e-6, 80e-6])
def test_chips_against_a_remembered_surface(flutes: int, run_out: float) -> None:
    """The least over all earlier teeth is what a surface that is cut and moves on leaves."""
    told = signed_chips(flutes=flutes, feed_per_tooth=5e-5, run_out=run_out, run_out_angle=0.7, angles=EVEN[1 : brute.ANGLES // 2])
    counted = brute.chips(flutes, 5e-5, run_out, 0.7)[:, 1 : brute.ANGLES // 2]
    np.testing.assert_allclose(np.maximum(told, 0.0), counted, atol=1e-12)

"""Forces over a turn: check values, orientation values of common cuts, laws."""

from dataclasses import fields

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gantrywright.theory.cutting import cycle as cy
from gantrywright.theory.cutting import edges
from gantrywright.theory.cutting.engagement import Way, engagement
from gantrywright.theory.cutting.forces import Coefficients, coefficients, cutting_power, mean_forces
from gantrywright.theory.cutting.sums import edge_sums

A = Coefficients(796e6, 27.7e3, 169e6, 30.8e3, 222e6, 1.4e3)
"""Coefficient set of the check values, aluminium 7050."""
MDF = Coefficients(35e6, 2.5e3, 8.75e6, 2.5e3, 9.8e6, 0.0)
WAYS = st.sampled_from(["climb", "conventional"])
TRACES = ("along_feed", "across", "axial", "torque")


def mill(width: float, way: Way, *, depth: float = 3e-3, helix: float = 30.0, diameter: float = 6e-3) -> edges.Edge:
    start, stop = engagement(diameter=diameter, width=width, way=way)
    return edges.end_mill(depth=depth, diameter=diameter, helix=np.radians(helix), start=start, stop=stop)


SLOT = mill(6e-3, "conventional")


def turn(edge: edges.Edge, cut: Coefficients = A, *, flutes: int = 2, chip: float = 50e-6, run_out: float = 0.0) -> cy.Cycle:
    return cy.force_cycle(cut=cut, edge=edge, flutes=flutes, feed_per_tooth=chip, run_out=run_out, run_out_angle=0.0)


def peak(edge: edges.Edge, cut: Coefficients = A, *, flutes: int = 2, chip: float = 50e-6, run_out: float = 0.0) -> cy.PeakForces:
    return cy.peak_forces(cut=cut, edge=edge, flutes=flutes, feed_per_tooth=chip, run_out=run_out, run_out_angle=0.0)


def test_peaks_of_a_slot() -> None:
    """CU-07."""
    for got in (peak(SLOT), turn(SLOT).peak):
        np.testing.assert_allclose(
            (got.along_feed, got.across, got.axial, got.torque, got.in_plane), (192.8, 218.8, 37.04, 0.6025, 229.4), rtol=2e-3
        )
    assert peak(mill(6e-3, "conventional", helix=0)).in_plane == pytest.approx(234.2, rel=2e-3)


def test_mdf_slot() -> None:
    """CU-33."""
    got = peak(mill(6e-3, "conventional", depth=9e-3), MDF, chip=0.25e-3)
    assert got.in_plane == pytest.approx(89.0, rel=2e-3)
    assert got.axial == pytest.approx(19.4, rel=2e-3)


def test_means_of_the_trace_are_the_closed_form() -> None:
    """CU-04, CU-05, CU-06."""
    for width, way, expected in (
        (6e-3, "conventional", (-71.50, 112.60, 25.40, 0.47734)),
        (0.6e-3, "climb", (16.17, 27.50, 2.980, 0.07387)),
        (3e-3, "conventional", (-81.20, 22.86, 12.70, 0.23867)),
    ):
        got = turn(mill(width, way)).mean
        np.testing.assert_allclose((got.along_feed, got.across, got.axial, got.torque), expected, rtol=2e-3)


@pytest.mark.parametrize(
    ("cut", "flutes", "way", "cutter", "chip", "speed", "expected"),
    # shear N/mm2, edge N/mm, ratios; diameter, width, depth mm; feed per tooth mm; rev/min; mean N, peak N, torque N m, power W
    [
        ((14, 1.2, 0.1, 1.0), 2, "conventional", (6, 6, 6), 0.25, 18_000, (16, 28, 0.062, 116)),  # softwood, along
        ((60, 5.0, 0.2, 1.0), 2, "conventional", (6, 6, 6), 0.20, 18_000, (61, 105, 0.228, 429)),  # hardwood, end grain
        ((35, 2.5, 0.25, 1.0), 2, "conventional", (6, 6, 6), 0.25, 18_000, (39, 69, 0.145, 274)),  # MDF
        ((38, 2.5, 0.25, 1.0), 2, "conventional", (6, 6, 6), 0.20, 18_000, (36, 62, 0.132, 249)),  # birch plywood
        ((120, 3.0, 0.3, 1.0), 1, "conventional", (6, 6, 4), 0.12, 18_000, (20, 73, 0.073, 138)),  # acrylic
        ((650, 14.0, 0.25, 0.9), 1, "conventional", (6, 6, 1.5), 0.04, 18_000, (18.5, 66, 0.069, 130)),  # aluminium, slot
        ((650, 14.0, 0.25, 0.9), 2, "climb", (6, 0.6, 6), 0.05, 18_000, (35, 117, 0.089, 168)),  # aluminium, side
        ((1900, 40.0, 0.4, 1.2), 3, "conventional", (6, 6, 0.3), 0.02, 5_400, (26.4, 30, 0.087, 49)),  # mild steel
        ((250, 18.0, 0.5, 1.2), 4, "conventional", (6, 6, 3), 0.03, 9_000, (131, 143, 0.41, 386)),  # carbon laminate
        ((35, 2.5, 0.25, 1.0), 2, "climb", (25, 15, 0.5), 0.25, 14_000, (2.4, 6.1, 0.030, 43)),  # facing MDF
    ],
)
def test_orientation_values_of_common_cuts(
    cut: tuple[float, ...], flutes: int, way: Way, cutter: tuple[float, ...], chip: float, speed: float, expected: tuple[float, ...]
) -> None:
    shear, edge, shear_ratio, edge_ratio = cut
    diameter, width, depth = (v * 1e-3 for v in cutter)
    helix = np.radians(25.0)
    cutting = coefficients(shear=shear * 1e6, edge=edge * 1e3, shear_ratio=shear_ratio, edge_ratio=edge_ratio, helix=helix)
    engaged = mill(width, way, depth=depth, helix=25.0, diameter=diameter)
    means = edges.mean_over(cut=cutting, edge=engaged, flutes=flutes, feed_per_tooth=chip * 1e-3)
    most = peak(engaged, cutting, flutes=flutes, chip=chip * 1e-3)
    turns = speed / 60
    power = cutting_power(
        cut=cutting, flutes=flutes, depth=depth, width=width, diameter=diameter, feed=chip * 1e-3 * flutes * turns, speed=2 * np.pi * turns
    )  # fmt: skip
    np.testing.assert_allclose((means.in_plane, most.in_plane, means.torque, power), expected, rtol=2e-2)
    assert means.torque * 2 * np.pi * turns == pytest.approx(power)


def test_one_tooth_that_does_all_is_a_cutter_of_one_flute() -> None:
    """From the point where twice the eccentricity is the feed per tooth a cutter of two flutes is one of one flute."""
    alone = turn(SLOT, flutes=1, chip=100e-6)
    for run_out in (25e-6, 100e-6):
        uneven = turn(SLOT, run_out=run_out)
        for name in TRACES:
            np.testing.assert_allclose(getattr(uneven, name), getattr(alone, name), atol=1e-9)
    assert 1.4 < peak(SLOT, run_out=25e-6).in_plane / peak(SLOT).in_plane < 2.0  # rubbing does not double


@given(run_out=st.floats(0, 60e-6), turned=st.floats(0, 6.3), flutes=st.integers(1, 4), helix=st.floats(-40, 40))
@settings(max_examples=40)
def test_run_out_moves_chip_from_tooth_to_tooth_but_loses_none(run_out: float, turned: float, flutes: int, helix: float) -> None:
    only_shear = Coefficients(700e6, 0.0, 200e6, 0.0)
    edge = mill(6e-3, "conventional", helix=helix)
    uneven, even = (
        cy.force_cycle(cut=only_shear, edge=edge, flutes=flutes, feed_per_tooth=50e-6, run_out=e, run_out_angle=turned).mean
        for e in (run_out, 0.0)
    )
    assert uneven.torque == pytest.approx(even.torque, rel=3e-3)


@given(depth=st.floats(1e-4, 0.03), helix=st.floats(-40, 40), width=st.floats(2e-4, 6e-3), flutes=st.integers(1, 4), way=WAYS)
@settings(max_examples=60)
def test_means_do_not_know_of_the_helix_and_peaks_are_never_below_them(
    depth: float, helix: float, width: float, flutes: int, way: Way
) -> None:
    edge = mill(width, way, depth=depth, helix=helix)
    means = mean_forces(
        cut=A, flutes=flutes, depth=depth, feed_per_tooth=5e-5, diameter=6e-3, start=edge[0].start, stop=edge[0].stop
    )
    told, most = turn(edge, flutes=flutes).mean, peak(edge, flutes=flutes)
    scale = most.in_plane
    close = (means.along_feed, means.across, means.axial)
    assert (told.along_feed, told.across, told.axial) == pytest.approx(close, abs=1e-2 * scale)
    assert most.in_plane >= 0.999 * means.in_plane
    assert most.torque >= 0.999 * means.torque
    trace = turn(edge, flutes=flutes).peak
    assert most.in_plane >= 0.998 * trace.in_plane  # fewer even angles, but none of the steps is missed


@given(width=st.floats(1e-4, 6e-3), depth=st.floats(2e-4, 0.02), flutes=st.integers(1, 4))
@settings(max_examples=40)
def test_climb_mirrors_conventional(width: float, depth: float, flutes: int) -> None:
    """A straight cutter seen in a mirror along the feed and backwards in time: what shear pushes across, rubbing pushes along."""
    count = 360
    up, down = (
        turn(mill(width, way, depth=depth, helix=0.0), Coefficients(7e8, 2e4, 0.0, 0.0), flutes=flutes)
        for way in ("conventional", "climb")
    )
    back = (count // 2 - np.arange(count)) % count
    rises = [np.abs(trace - np.roll(trace, side)) for trace in (up.along_feed, up.across) for side in (1, -1)]
    inner = np.max(rises, axis=0) < 0.1 * up.in_plane.max()  # not where a tooth enters or leaves
    assert inner.sum() > 0.9 * count
    scale = np.abs(up.across).max()
    np.testing.assert_allclose(down.torque[back][inner], up.torque[inner], atol=6e-3 * up.torque.max())
    np.testing.assert_allclose(down.across[back][inner], up.across[inner], atol=6e-3 * scale)
    np.testing.assert_allclose(down.along_feed[back][inner], -up.along_feed[inner], atol=6e-3 * scale)


def test_no_width_no_depth_no_force() -> None:
    for edge in (mill(0.0, "climb"), mill(0.0, "conventional"), mill(6e-3, "conventional", depth=0.0)):
        got = turn(edge, run_out=5e-6)
        assert all(np.abs(getattr(got, name)).max() < 1e-9 for name in TRACES)


def test_down_cut_pushes_the_tool_out_of_the_work() -> None:
    lifting, pressing = (
        coefficients(shear=35e6, edge=2.5e3, shear_ratio=0.25, edge_ratio=1.0, helix=np.radians(h)) for h in (30, -30)
    )
    up, down = peak(SLOT, lifting), peak(mill(6e-3, "conventional", helix=-30), pressing)
    assert up.axial > 0 > down.axial
    assert up.axial == pytest.approx(-down.axial, rel=1e-6)


def test_a_cut_is_turned_into_the_axes_of_the_table() -> None:
    along = turn(SLOT)
    across = along.turned(np.pi / 2)
    np.testing.assert_allclose(across.across, along.along_feed, atol=1e-9)
    np.testing.assert_allclose(across.along_feed, -along.across, atol=1e-9)
    np.testing.assert_allclose(along.turned(0.7).in_plane, along.in_plane)


def test_grain_of_equal_coefficients_is_none() -> None:
    grained = cy.force_cycle(
        cut=A, edge=SLOT, flutes=2, feed_per_tooth=5e-5, run_out=5e-6, run_out_angle=0.0, grain=cy.Grain(A, 0.4)
    )
    np.testing.assert_allclose(grained.across, turn(SLOT, run_out=5e-6).across)


SAMPLED = {
    "depth": np.array([2e-3, 5e-3, 9e-3]), "diameter": np.array([5e-3, 6e-3, 8e-3]), "helix": np.array([-0.4, 0.0, 0.6]),
    "start": np.array([0.0, 0.4, 1.0]), "stop": np.array([2.0, 3.0, np.pi]), "feed_per_tooth": np.array([2e-5, 5e-5, 1e-4]),
    "run_out": np.array([0.0, 6e-6, 30e-6]), "run_out_angle": np.array([0.0, 0.5, 2.0]), "gamma": np.array([0.0, 0.7, -1.0]),
}  # fmt: skip
TYPICAL = {name: float(values[1]) for name, values in SAMPLED.items()}


def told(values: dict[str, float], factor: float = 1.0) -> tuple[cy.Cycle, cy.PeakForces]:
    cut = Coefficients(*(getattr(A, field.name) * factor for field in fields(A)))
    across = Coefficients(*(getattr(A, field.name) * 1.5 for field in fields(A)))
    edge = edges.end_mill(**{name: values[name] for name in ("depth", "diameter", "helix", "start", "stop")})
    rest = {name: values[name] for name in ("feed_per_tooth", "run_out", "run_out_angle")}
    grain = cy.Grain(across, values["gamma"])
    return (
        cy.force_cycle(cut=cut, edge=edge, flutes=3, grain=grain, **rest),
        cy.peak_forces(cut=cut, edge=edge, flutes=3, grain=grain, **rest),
    )


@pytest.mark.parametrize(
    "names",
    [("feed_per_tooth", "run_out"), ("run_out_angle",), ("gamma",), ("depth",), ("helix", "run_out"), ("start",), ("diameter", "gamma"),
     tuple(SAMPLED)],
    ids=" and ".join,
)  # fmt: skip
def test_samples_are_answered_one_by_one(names: tuple[str, ...]) -> None:
    """Geometry common to all samples goes another way through the sums than that of one sample each."""
    factors = np.array([0.7, 1.0, 1.4])
    trace, most = told(TYPICAL | {name: SAMPLED[name] for name in names}, factors)  # type: ignore[arg-type]
    for i in range(3):
        alone, its = told(TYPICAL | {name: float(SAMPLED[name][i]) for name in names}, float(factors[i]))
        for name in TRACES:
            whole = np.broadcast_to(getattr(trace, name), (3, cy.ANGLES))[i]
            np.testing.assert_allclose(whole, getattr(alone, name), atol=1e-6 * np.abs(getattr(alone, name)).max())
        assert np.broadcast_to(most.in_plane, 3)[i] == pytest.approx(its.in_plane, rel=2e-3)


def test_sampled_coefficients_need_no_new_geometry() -> None:
    angles = cy.rotation_angles()
    sums = edge_sums(edge=SLOT, flutes=2, feed_per_tooth=50e-6, run_out=5e-6, run_out_angle=0.0, angles=angles)
    many = Coefficients(*(getattr(A, field.name) * np.linspace(0.5, 1.5, 11) for field in fields(A)))
    got = cy.forces_at(cut=many, sums=sums, angles=angles)
    assert got.across.shape == (11, cy.ANGLES)
    np.testing.assert_allclose(got.across[5], turn(SLOT, run_out=5e-6).across)
    np.testing.assert_allclose(np.asarray(got.peak.in_plane), np.linspace(0.5, 1.5, 11) * turn(SLOT, run_out=5e-6).peak.in_plane)

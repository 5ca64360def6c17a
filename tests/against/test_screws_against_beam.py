"""Whirl and buckling against a beam model."""

import importlib.util
from pathlib import Path

import pytest

from gantrywright.theory.screw_strength import END_FIXITY, buckling_warming, euler_load, whirl_speed

_spec = importlib.util.spec_from_file_location("beam_model", Path(__file__).with_name("beam_model.py"))
beam = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(beam)

SCREW = {"diameter": 0.0131, "length": 1.0, "modulus": 206e9}
ENDS = {
    "fixed-free": (beam.FIXED, beam.FREE), "supported-supported": (beam.SUPPORTED, beam.SUPPORTED),
    "fixed-supported": (beam.FIXED, beam.SUPPORTED), "fixed-fixed": (beam.FIXED, beam.FIXED), "clamped-clamped": (beam.FIXED, beam.FIXED),
}  # fmt: skip


@pytest.mark.parametrize("ends", ENDS)
def test_whirl(ends: str) -> None:
    ours = whirl_speed(
        root_diameter=0.0131, free_length=1.0, whirl_root=END_FIXITY[ends].whirl_root, elastic_modulus=206e9, density=7850.0
    )
    assert ours == pytest.approx(beam.first_speed(*ENDS[ends], density=7850.0, **SCREW), rel=1e-5)


@pytest.mark.parametrize("ends", ENDS)
def test_buckling(ends: str) -> None:
    ours = euler_load(
        root_diameter=0.0131, column_length=1.0, buckling_factor=END_FIXITY[ends].buckling_factor, elastic_modulus=206e9
    )
    assert ours == pytest.approx(beam.buckling(*ENDS[ends], **SCREW), rel=1e-5)


@pytest.mark.parametrize(("node", "ratio"), [(6, 1.175), (30, 2.987), (54, 1.684)])
def test_nut_as_a_pin_only_raises_the_whirl_speed(node: int, ratio: float) -> None:
    """S-04: nut at 0.1, 0.5 and 0.9 of a fixed-supported screw; leaving it out is on the slow side everywhere."""
    bare = beam.first_speed(*ENDS["fixed-supported"], density=7850.0, **SCREW)
    pinned = beam.first_speed(*ENDS["fixed-supported"], density=7850.0, pins=(node,), **SCREW)
    assert pinned / bare == pytest.approx(ratio, rel=5e-3)


def test_no_place_of_the_nut_lowers_the_whirl_speed() -> None:
    bare = beam.first_speed(*ENDS["fixed-supported"], density=7850.0, **SCREW)
    assert min(beam.first_speed(*ENDS["fixed-supported"], density=7850.0, pins=(n,), **SCREW) for n in range(1, 60)) > bare


def test_buckling_by_warmth() -> None:
    """A rigidly held screw pushes with E A alpha dT; at the critical warming that is the beam's buckling load."""
    warming = buckling_warming(root_diameter=0.0131, free_length=1.0, buckling_factor=4.0, expansion=11.5e-6)
    push = 206e9 * 3.141592653589793 / 4 * 0.0131**2 * 11.5e-6 * warming
    assert push == pytest.approx(beam.buckling(beam.FIXED, beam.FIXED, **SCREW), rel=1e-5)

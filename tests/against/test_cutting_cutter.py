"""The give, the first mode and the exchange of cutters against a frame of bars and a small beam program."""

import importlib.util
from pathlib import Path

import numpy as np
import pytest
from scipy.linalg import eigh

from gantrywright.theory.cutting import cutter_give as cg
from gantrywright.theory.cutting import other_tool as ot
from held_spindle import CARBIDE, give, machine

_spec = importlib.util.spec_from_file_location("beam_model", Path(__file__).with_name("beam_model.py"))
assert _spec is not None
assert _spec.loader is not None
beam = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(beam)
FINE = 40


def stepped(shank: float, flutes: float, thin: float, thick: float, per_flute: float) -> tuple[np.ndarray, np.ndarray]:
    """Stiffness and mass of two beams end to end, held at the first node; no shear."""
    parts = [
        beam.matrices(FINE, shank, 600e9 * np.pi / 64 * thick**4, 14500 * np.pi / 4 * thick**2),
        beam.matrices(FINE, flutes, 600e9 * np.pi / 64 * thin**4, per_flute),
    ]
    size = 2 * (2 * FINE + 1)
    whole = [np.zeros((size, size)), np.zeros((size, size))]
    for number, part in enumerate(parts):
        at = slice(2 * FINE * number, 2 * FINE * number + 2 * (FINE + 1))
        for big, small in zip(whole, part, strict=False):
            big[at, at] += small
    return whole[0][2:, 2:], whole[1][2:, 2:]


@pytest.mark.parametrize(("shank", "flutes"), [(0.012, 0.018), (0.010, 0.020), (0.004, 0.04)])
def test_against_a_beam(shank: float, flutes: float) -> None:
    per_flute = 14500 * 0.6 * np.pi / 4 * 0.006**2
    k, m = stepped(shank, flutes, 0.0048, 0.006, per_flute)
    bar = {
        "shank_length": shank, "shank_diameter": 0.006, "flute_length": flutes, "flute_diameter": 0.0048, "elastic_modulus": 600e9,
        "shear_modulus": np.inf,
    }  # fmt: skip
    squares, shapes = eigh(k, m)
    mode = cg.first_mode(flute_area_share=0.6, cutting_diameter=0.006, density=14500.0, **bar)
    assert mode.frequency == pytest.approx(np.sqrt(squares[0]) / (2 * np.pi), rel=1e-3)
    assert mode.stiffness == pytest.approx(squares[0] / shapes[-2, 0] ** 2, rel=2e-3)
    gives = np.linalg.inv(k)
    places = np.concatenate((np.linspace(0, shank, FINE + 1)[1:], shank + np.linspace(0, flutes, FINE + 1)[1:]))
    above_tip = shank + flutes - places
    formula = cg.give_between(force_at=above_tip[None, :], seen_at=above_tip[:, None], **bar)
    np.testing.assert_allclose(formula, gives[::2, ::2], rtol=1e-6)


FIRM_COLLET = {"collet_stiffness": 1e13, "collet_tilt": 1e10}


def own_matrix(flutes: float, core: float) -> np.ndarray:
    return cg.tip_matrix(
        shank_length=0.03 - flutes, shank_diameter=0.006, flute_length=flutes, flute_diameter=core * 0.006,
        elastic_modulus=CARBIDE.modulus, shear_modulus=CARBIDE.shear_modulus,
    )  # fmt: skip


@pytest.mark.parametrize("core", [0.7, 0.9])
def test_the_cutter_of_a_machine_is_exchanged_for_another_as_if_drawn_with_it(core: float) -> None:
    drawn = give(machine(cutter={"core": 0.8, "flute_length": 0.021}))
    redrawn = give(machine(cutter={"core": core, "flute_length": 0.012}))
    exchanged = ot.give_with_other(
        give=drawn, drawn=own_matrix(0.021, 0.8), other=own_matrix(0.012, core), stick_out=0.03, other_stick_out=0.03
    )
    scale = np.sqrt(np.outer(np.diag(redrawn), np.diag(redrawn)))
    np.testing.assert_allclose(exchanged / scale, redrawn / scale, atol=1e-3)


def test_what_is_left_without_the_cutter_is_the_nose_of_the_spindle_carried_down() -> None:
    rest = ot.without_cutter(give=give(machine(**FIRM_COLLET)), cutter=own_matrix(0.021, 0.8))
    carried = ot.moved_give(give=give(machine(tool=False)), by=np.array([0.0, 0.0, -0.03]))
    scale = np.sqrt(np.outer(np.diag(carried), np.diag(carried)))
    np.testing.assert_allclose(
        rest / scale, carried / scale, atol=5e-3
    )  # the frame has a seam between shank and flutes, 0.3 % of the turn

"""Give, stress and first mode of a stepped cutter."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting import cutter_give as cg

BAR: dict[str, Any] = {
    "shank_length": 0.010, "shank_diameter": 0.006, "flute_length": 0.020, "flute_diameter": 0.0048, "elastic_modulus": 600e9,
    "shear_modulus": 245e9,
}  # fmt: skip
heights = st.floats(0.0, 0.032)


@given(heights, heights)
def test_force_and_place_change_places(one: float, other: float) -> None:
    there, back = (cg.give_between(force_at=a, seen_at=b, **BAR) for a, b in ((one, other), (other, one)))
    assert there == pytest.approx(back, rel=1e-9, abs=1e-20)
    own = [cg.give_between(force_at=a, seen_at=a, **BAR) for a in (one, other)]
    assert there <= np.sqrt(own[0] * own[1]) * (1 + 1e-9) + 1e-20


def test_nothing_gives_at_the_collet_face() -> None:
    assert cg.give_between(force_at=0.030, seen_at=0.0, **BAR) == pytest.approx(0.0, abs=1e-18)
    assert cg.give_between(force_at=0.0, seen_at=0.035, **BAR) == pytest.approx(0.0, abs=1e-18)


@given(st.floats(1.5, 4.0))
def test_give_of_a_cutter_of_the_same_form_goes_with_one_over_its_size(times: float) -> None:
    bigger = {name: value * times if "modulus" not in name else value for name, value in BAR.items()}
    assert cg.tip_give(**BAR) / cg.tip_give(**bigger) == pytest.approx(times)
    same = {"flute_area_share": 0.6, "density": 14500.0}
    small, big = (
        cg.first_mode(cutting_diameter=0.006, **same, **BAR),
        cg.first_mode(cutting_diameter=0.006 * times, **same, **bigger),
    )
    assert small.frequency / big.frequency == pytest.approx(times)
    assert big.stiffness / small.stiffness == pytest.approx(times)


def test_a_plain_cantilever_rings_as_the_tables_say() -> None:
    """Root 1.8751 and modal tip stiffness 3.0916 E I/L^3 (blevins-1979)."""
    plain = BAR | {"shank_length": 0.0, "flute_length": 0.03, "flute_diameter": 0.006, "shear_modulus": np.inf}
    mode = cg.first_mode(flute_area_share=1.0, cutting_diameter=0.006, density=14500.0, **plain)
    bending, mass = 600e9 * np.pi / 64 * 0.006**4, 14500.0 * np.pi / 4 * 0.006**2
    assert mode.frequency == pytest.approx(1.8751**2 / (2 * np.pi * 0.03**2) * np.sqrt(bending / mass), rel=1e-3)
    assert mode.mass == pytest.approx(mass * 0.03 / 4, rel=2e-3)
    assert mode.stiffness == pytest.approx(1.8751**4 / 4 * bending / 0.03**3, rel=3e-3)


def test_the_matrix_of_the_tip_holds_the_give_of_the_tip_and_no_more() -> None:
    give = cg.tip_matrix(**BAR)
    np.testing.assert_allclose(give, give.T)
    assert give[0, 0] == give[1, 1] == pytest.approx(cg.tip_give(**BAR))
    assert give[2, 2] == pytest.approx((0.010 / 0.006**2 + 0.020 / 0.0048**2) / (600e9 * np.pi / 4))
    assert np.linalg.eigvalsh(give).min() > 0


@given(st.floats(0.0, 0.018))
def test_stress_is_the_moment_over_the_section_where_it_is_worst(at: float) -> None:
    sizes = {name: value for name, value in BAR.items() if "modulus" not in name}
    stress = cg.cutter_stress(force=100.0, force_at=at, **sizes)
    section = np.pi / 32 * np.array([0.0048, 0.006]) ** 3
    assert stress == pytest.approx(100.0 * max((0.020 - at) / section[0], (0.030 - at) / section[1]))
    no_shank = sizes | {"shank_length": 0.0, "shank_diameter": 0.003}
    assert cg.cutter_stress(force=100.0, force_at=at, **no_shank) == pytest.approx(100.0 * (0.020 - at) / section[0])


def test_seat() -> None:
    assert cg.seat_give(lateral=60e6, tilt=3e4, reach=0.03) == pytest.approx(1 / 60e6 + 0.03**2 / 3e4)


def test_samples_are_answered_one_by_one() -> None:
    moduli, thick = np.array([580e9, 630e9]), np.array([0.0045, 0.005])
    many = BAR | {"elastic_modulus": moduli, "flute_diameter": thick}
    give, matrix = np.asarray(cg.tip_give(**many)), cg.tip_matrix(**many)
    mode = cg.first_mode(flute_area_share=0.6, cutting_diameter=0.006, density=14500.0, **many)
    for i in range(2):
        one = BAR | {"elastic_modulus": moduli[i], "flute_diameter": thick[i]}
        assert give[i] == pytest.approx(cg.tip_give(**one))
        np.testing.assert_allclose(matrix[i], cg.tip_matrix(**one))
        alone = cg.first_mode(flute_area_share=0.6, cutting_diameter=0.006, density=14500.0, **one)
        np.testing.assert_allclose([np.asarray(value)[i] for value in mode[:6]], alone[:6])
        np.testing.assert_allclose(mode.whole, alone.whole)  # neither density nor lengths are sampled

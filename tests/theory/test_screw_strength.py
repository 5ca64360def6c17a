import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import screw_strength as s

STEEL = {"elastic_modulus": 206e9, "density": 7850.0}
diameters, spans, roots = st.floats(0.005, 0.05), st.floats(0.3, 4.0), st.sampled_from([3.516, 9.870, 15.418, 22.373])


@given(diameters, spans, roots)
def test_twice_the_span_is_a_quarter_of_the_speed(diameter: float, span: float, root: float) -> None:
    one = s.whirl_speed(root_diameter=diameter, free_length=span, whirl_root=root, **STEEL)
    two = s.whirl_speed(root_diameter=diameter, free_length=2 * span, whirl_root=root, **STEEL)
    assert two == pytest.approx(one / 4)


@given(diameters, spans, roots)
def test_twice_the_diameter_is_twice_the_speed(diameter: float, span: float, root: float) -> None:
    one = s.whirl_speed(root_diameter=diameter, free_length=span, whirl_root=root, **STEEL)
    assert s.whirl_speed(root_diameter=2 * diameter, free_length=span, whirl_root=root, **STEEL) == pytest.approx(2 * one)


@given(diameters, spans)
def test_twice_the_diameter_buckles_at_sixteen_times(diameter: float, span: float) -> None:
    load = {"column_length": span, "buckling_factor": 1.0, "elastic_modulus": 206e9}
    thin = s.euler_load(root_diameter=diameter, **load)
    assert s.euler_load(root_diameter=2 * diameter, **load) == pytest.approx(16 * thin)


@given(st.floats(0.05, 2.0))
def test_column_never_bears_more_than_either_law(length: float) -> None:
    given_ = {"root_diameter": 0.0131, "column_length": length, "buckling_factor": 2.046, "elastic_modulus": 206e9}
    load = float(s.buckling_load(yield_strength=400e6, **given_))
    assert load <= float(s.euler_load(**given_)) * (1 + 1e-9)
    assert load <= 400e6 * np.pi / 4 * 0.0131**2


def test_laws_meet_at_half_the_yield_strength() -> None:
    limit = np.sqrt(2 * np.pi**2 * 206e9 / 400e6)
    length = limit * 0.0131 / 4 * np.array([0.999999, 1.000001])
    both = s.buckling_load(
        root_diameter=0.0131, column_length=length, buckling_factor=1.0, elastic_modulus=206e9, yield_strength=400e6
    )
    assert both == pytest.approx([200e6 * np.pi / 4 * 0.0131**2] * 2, rel=1e-5)


def test_factors_are_applied_once() -> None:
    assert s.whirl_limit(whirl_speed=100.0) == pytest.approx(80.0)
    assert s.buckling_limit(buckling_load=1000.0) == pytest.approx(500.0)


def test_samples_pass_through() -> None:
    roots_ = np.array([9.870, 15.418])
    assert s.whirl_speed(root_diameter=0.013, free_length=1.0, whirl_root=roots_, **STEEL).shape == (2,)

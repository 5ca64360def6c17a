"""Equivalent load, safety, life, friction and misalignment of guides: check values and laws."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.base.errors import OutOfRange
from gantrywright.base.values import Rating
from gantrywright.theory import guide_life, guide_misalignment, guides

FORCES = st.floats(1.0, 1e5)
C100 = Rating(13.7e3, "distance", 100e3)


def test_life_over_its_own_reference() -> None:
    assert guide_life.rating_life(rating=C100, load=900.0) == pytest.approx(352_700e3, rel=1e-3)  # G-04


def test_rating_for_half_the_distance() -> None:
    assert guide_life.rating_at(rating=C100, reference=50e3) == pytest.approx(17.26e3, rel=1e-3)  # G-05, ISO 14728-1: 1.26
    assert guide_life.rating_at(rating=C100, reference=50e3, exponent=10 / 3) / 13.7e3 == pytest.approx(1.2311, rel=1e-4)


def test_a_rating_for_50_km_gives_the_same_life_and_a_bare_one_none() -> None:
    """G-06: taken as a 100 km rating the 50 km figure doubles the life; kept with its reference it does not."""
    half = Rating(guide_life.rating_at(rating=C100, reference=50e3), "distance", 50e3)
    assert guide_life.rating_life(rating=half, load=900.0) == pytest.approx(352_700e3, rel=1e-3)
    wrong = Rating(half.force, "distance", 100e3)
    assert guide_life.rating_life(rating=wrong, load=900.0) == pytest.approx(705_400e3, rel=1e-3)
    for bad in (Rating(13.7e3, "turns", 1e6), Rating(13.7e3, "static"), Rating(13.7e3, "distance", 0.0)):
        with pytest.raises(OutOfRange, match="distance"):
            guide_life.rating_life(rating=bad, load=900.0)


def test_mean_of_steps() -> None:
    mean = guide_life.cube_mean(loads=np.array([1200.0, 500.0, 250.0]), shares=np.array([0.1, 0.3, 0.6]))
    assert mean == pytest.approx(603.4, rel=1e-3)  # G-07
    assert guide_life.rating_life(rating=C100, load=mean) == pytest.approx(1_170_500e3, rel=1e-3)


def test_ramp_is_the_limit_of_many_steps() -> None:
    steps = np.linspace(200, 1000, 100_001)
    assert guide_life.cube_mean_of_ramp(least=200.0, most=1000.0) == pytest.approx(
        guide_life.cube_mean(loads=steps, shares=np.ones(steps.size)), rel=1e-5
    )


@given(load=FORCES, factor=st.floats(1.1, 10.0))
def test_twice_the_load_an_eighth_of_the_life(load: float, factor: float) -> None:
    life = guide_life.rating_life(rating=C100, load=load)
    assert guide_life.rating_life(rating=C100, load=load * factor) == pytest.approx(life / factor**3)


def test_static_safety_of_one_block_with_moments() -> None:
    moments = guides.moment_load(moment=60.0, static_moment=200.0, static_rating=20e3) + guides.moment_load(
        moment=-20.0, static_moment=150.0, static_rating=20e3
    )
    assert guides.static_safety(static_rating=20e3, load=4400.0 + moments) == pytest.approx(1.531, rel=1e-3)  # G-10


@given(load=FORCES, preload=st.floats(0.0, 1e4))
def test_loaded_side_bears_load_and_preload(load: float, preload: float) -> None:
    loaded = guides.loaded_side(load=load, preload=preload)
    assert loaded >= load * (1 - 1e-12)
    assert loaded <= load + preload + 1e-9
    assert loaded - load <= preload + 1e-9  # the unloaded side never grows


def test_friction_without_preload_is_friction_times_load() -> None:
    assert guides.rolling_friction(load=1200.0, preload=0.0, friction=0.004) == pytest.approx(4.8)
    # with preload and no load: both sets of rows roll under it
    assert guides.rolling_friction(load=0.0, preload=300.0, friction=0.004) == pytest.approx(2 * 300 * 0.004)


@given(load=FORCES, ratio=st.floats(0.1, 10))
def test_loads_are_linear(load: float, ratio: float) -> None:
    one = guides.equivalent_load(lateral=load, normal=-load / 2)
    assert guides.equivalent_load(lateral=-load * ratio, normal=load / 2 * ratio) == pytest.approx(one * ratio)


def test_a_structure_that_gives_takes_load_off_the_blocks() -> None:
    rigid = guide_misalignment.corner_load(error=20e-6, stiffness=250e6)
    soft = guide_misalignment.corner_load(error=20e-6, stiffness=250e6, structure=62.5e6)
    assert soft == pytest.approx(rigid / 2)


def test_functions_take_samples() -> None:
    preload = np.array([0.0, 100.0, 1e4])
    got = guides.rolling_friction(load=500.0, preload=preload, friction=0.004)
    one = [guides.rolling_friction(load=500.0, preload=float(p), friction=0.004) for p in preload]
    np.testing.assert_allclose(got, one)

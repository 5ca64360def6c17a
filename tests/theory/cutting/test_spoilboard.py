import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting.spoilboard import (
    depth_left_over,
    facing_depth,
    facing_passes,
    facings_left,
    pressed_sag,
    pushed_sag,
    spacing_for_step,
    tram_slope,
    tram_step,
)
from gantrywright.theory.plate_strip import plate_stiffness, strip_give

SLOPE = st.floats(-5e-3, 5e-3)


@given(across=SLOPE, along=SLOPE, part=st.floats(0.05, 0.95), factor=st.floats(0.1, 10.0))
def test_ridges_scale_with_slope_and_with_size(across: float, along: float, part: float, factor: float) -> None:
    height = tram_step(across=across, along=along, diameter=0.025, spacing=0.025 * part)
    assert tram_step(across=across * factor, along=along * factor, diameter=0.025, spacing=0.025 * part) == pytest.approx(
        factor * height, rel=1e-6, abs=1e-15
    )
    assert tram_step(across=across, along=along, diameter=0.025 * factor, spacing=0.025 * factor * part) == pytest.approx(
        factor * height, rel=1e-6, abs=1e-15
    )
    assert tram_step(across=-across, along=-along, diameter=0.025, spacing=0.025 * part) == height


@given(across=SLOPE, along=SLOPE, part=st.floats(0.05, 0.95))
def test_nod_never_makes_more_than_step_and_hollow_together(across: float, along: float, part: float) -> None:
    both, step, hollow = (
        float(tram_step(across=a, along=f, diameter=0.025, spacing=0.025 * part))
        for a, f in ((across, along), (across, 0.0), (0.0, along))
    )
    assert 0 <= both <= (step + hollow) * (1 + 1e-9) + 1e-15


def test_square_head_leaves_nothing() -> None:
    assert tram_step(across=0.0, along=0.0, diameter=0.025, spacing=0.01) == 0.0


def test_passes_too_far_apart_leave_strips() -> None:
    assert tram_step(across=1e-3, along=1e-3, diameter=0.025, spacing=0.026) == np.inf


def test_no_jump_where_the_step_gives_way_to_the_hollow() -> None:
    """At t_a^2 s = t_f^2 (2 R - s)."""
    nod = 1e-3 * np.sqrt(0.01 / 0.015)
    either = [float(tram_step(across=1e-3, along=nod * (1 + e), diameter=0.025, spacing=0.01)) for e in (-1e-7, 1e-7)]
    assert either[0] == pytest.approx(either[1], rel=1e-4)


def test_dial_tells_the_slope_and_the_slope_the_spacing() -> None:
    slope = tram_slope(difference=0.1e-3, sweep=0.1)
    assert spacing_for_step(across=slope, step=5e-6, diameter=0.025) == pytest.approx(5e-3)
    assert tram_step(across=slope, along=0.0, diameter=0.025, spacing=5e-3) == pytest.approx(5e-6)
    assert spacing_for_step(across=3e-4, step=5e-6, diameter=0.025) == pytest.approx(0.6 * 0.025)  # 16.7 mm would do
    assert spacing_for_step(across=np.array([0.0, 1e-5]), step=5e-6, diameter=0.025) == pytest.approx(0.6 * 0.025)


def test_facing_takes_all_that_stands_up_and_counts_whole_passes() -> None:
    depth = facing_depth(unevenness=0.3e-3, slope=-0.4e-3, length=0.5, ridge=0.01e-3, margin=0.09e-3)
    assert depth == pytest.approx(0.6e-3)
    assert facing_passes(depth=0.6e-3, each=0.3e-3) == 2
    assert facing_passes(depth=0.61e-3, each=0.3e-3) == 3


def test_board_lasts_while_enough_of_it_stays() -> None:
    np.testing.assert_array_equal(facings_left(thickness=0.018, least=0.012, depth=np.array([0.6e-3, 0.7e-3])), [10, 8])
    assert facings_left(thickness=0.010, least=0.012, depth=0.6e-3) == 0


def test_board_that_runs_on_sags_a_fifth_under_vacuum() -> None:
    plate = plate_stiffness(modulus=3e9, thickness=0.018)
    free, on = (pressed_sag(pressure=20e3, span=0.15, plate=plate, continuous=c) for c in (0.0, 1.0))
    assert free == pytest.approx(5 * on)


def test_push_in_the_middle_is_that_of_the_strip_on_bearers() -> None:
    plate = plate_stiffness(modulus=3e9, thickness=0.018)
    strip = float(np.asarray(strip_give(plate=plate, span=0.3, place=0.5)))
    assert pushed_sag(force=50.0, span=0.3, plate=plate) == pytest.approx(50.0 * strip, rel=1e-3)


def test_cut_goes_as_deep_into_the_board_as_board_and_work_differ() -> None:
    assert depth_left_over(board_band=0.1e-3, work_band=0.2e-3, sag=0.05e-3) == pytest.approx(0.35e-3)

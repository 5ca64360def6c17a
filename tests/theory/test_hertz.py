"""Laws of contacts, and the raceways of blocks against the estimates that the program takes for built-in ones."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.intake.placing.estimates import block_stiffness
from gantrywright.theory.hertz import (
    block_raceway_stiffness,
    both_contacts,
    contact_constant,
    contact_modulus,
    contact_slimness,
    contact_stiffness,
)

STEEL = contact_modulus(elastic_modulus=208e9, poisson=0.3)
BLOCKS = {15: (3.175e-3, 12, 11e3), 20: (3.969e-3, 13, 18e3), 25: (4.762e-3, 13, 26e3)}
"""Ball, loaded balls a row, dynamic rating: plausible, from memory."""
INSTALLED = (0.4, 0.7)
"""Built-in over raceway: skirts, rail and screws give too; common practice, no source."""


def raceway(size: int, share: float, conformity: float) -> float:
    ball, count, rating = BLOCKS[size]
    return float(
        block_raceway_stiffness(
            ball=ball, balls_per_row=count, conformity=conformity, preload=share * rating, contact_modulus=STEEL
        )
    )


@given(st.floats(1e-3, 0.2), st.floats(0.0, 0.99))
def test_contacts_scale_with_the_root_of_their_size(radius: float, difference: float) -> None:
    one, four = (
        contact_constant(contact_modulus=STEEL, curvature_sum=2 / r, curvature_difference=difference) for r in (radius, 4 * radius)
    )
    assert four / one == pytest.approx(2.0, rel=1e-9)


def test_slimmer_contacts_bear_more() -> None:
    difference = np.linspace(0.0, 0.99, 30)
    constants = contact_constant(contact_modulus=STEEL, curvature_sum=400.0, curvature_difference=difference)
    assert np.all(np.diff(contact_slimness(curvature_difference=difference)) > 0)
    assert np.all(np.diff(constants) > 0)


def test_stiffness_is_the_slope_of_the_load() -> None:
    constant, approach, step = 1e10, 2e-6, 1e-10
    load = constant * approach**1.5
    slope = (constant * (approach + step) ** 1.5 - constant * (approach - step) ** 1.5) / (2 * step)
    assert contact_stiffness(constant=constant, load=load) == pytest.approx(slope, rel=1e-6)


def test_two_like_contacts_give_twice_as_far() -> None:
    both = both_contacts(first=1e10, second=1e10)
    assert both == pytest.approx(1e10 / 2**1.5)


@pytest.mark.parametrize("size", BLOCKS)
@pytest.mark.parametrize(("preload", "shares"), [("light", (0.02, 0.02)), ("medium", (0.05, 0.08))])
def test_estimates_of_blocks_are_raceways_with_what_carries_them(size: int, preload: str, shares: tuple[float, float]) -> None:
    estimate = block_stiffness(size / 1e3, preload)["normal"].spread
    low, high = INSTALLED[0] * raceway(size, shares[0], 0.54), INSTALLED[1] * raceway(size, shares[1], 0.52)
    assert estimate.low == pytest.approx(low, rel=0.15)
    assert estimate.high == pytest.approx(high, rel=0.15)
    assert low < estimate.typical < high


def test_preload_stiffens_a_block_by_its_cube_root() -> None:
    assert raceway(20, 0.08, 0.53) / raceway(20, 0.01, 0.53) == pytest.approx(2.0, rel=1e-9)

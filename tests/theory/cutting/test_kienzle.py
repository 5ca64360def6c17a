"""The power law of the cutting force and the line that touches it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting import kienzle

CHIPS = st.floats(5e-6, 1e-3)
EXPONENTS = st.floats(0.0, 0.4)


@given(chip=CHIPS, exponent=EXPONENTS)
def test_the_line_has_force_and_slope_of_the_power_law(chip: float, exponent: float) -> None:
    def force(h: float) -> float:
        return kienzle.specific_force(chip=h, unit_force=1780e6, exponent=exponent) * h  # type: ignore[return-value]

    line = kienzle.tangent(chip=chip, unit_force=1780e6, exponent=exponent)
    assert line.shear * chip + line.edge == pytest.approx(force(chip))
    step = 1e-5 * chip
    assert line.shear == pytest.approx((force(chip + step) - force(chip - step)) / (2 * step), rel=1e-6)


@given(chip=CHIPS, other=CHIPS, exponent=EXPONENTS)
def test_the_line_never_tells_less_than_the_power_law(chip: float, other: float, exponent: float) -> None:
    line = kienzle.tangent(chip=chip, unit_force=1780e6, exponent=exponent)
    power_law = kienzle.specific_force(chip=other, unit_force=1780e6, exponent=exponent) * other
    assert line.shear * other + line.edge >= power_law * (1 - 1e-9)


def test_more_rake_eases_and_wear_adds() -> None:
    six = np.radians(6.0)
    assert kienzle.corrected(unit_force=1780e6, rake=np.radians(16.0), table_rake=six, wear=1.0) == pytest.approx(0.85 * 1780e6)
    assert kienzle.corrected(unit_force=1780e6, rake=six, table_rake=six, wear=1.4) == pytest.approx(1.4 * 1780e6)

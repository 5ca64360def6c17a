"""Contacts against the integrals of the approach themselves: from a chosen ellipse and load to curvatures and approach by quadrature."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import ellipe, ellipkm1

from gantrywright.theory.hertz import contact_constant, contact_slimness, elliptic_integrals

MODULUS = 114.2857e9


def ellipse(long: float, short: float, load: float) -> tuple[float, float, float]:
    """Sum and difference over sum of the curvatures, and approach, that make this ellipse under this load.

    Pressure over an ellipse sinks a half space by 3 Q/(4 pi E*) integral (1 - x^2/(a^2+w) - y^2/(b^2+w)) dw/sqrt((a^2+w)(b^2+w)w).
    """
    a, b = long**2, short**2
    front = 3 * load / (4 * np.pi * MODULUS)

    def integral(p: float, q: float) -> float:
        # w = b (t/(1 - t))^2 takes the root at 0 and the endless range away
        def inner(t: float) -> float:
            w = b * (t / (1 - t)) ** 2
            return 2 * np.sqrt(b) / (1 - t) ** 2 / (np.sqrt((a + w) * (b + w)) * (a + w) ** p * (b + w) ** q)

        return float(quad(inner, 0.0, 1.0, epsabs=0, epsrel=1e-11, limit=200)[0])

    approach, flat, steep = front * integral(0, 0), front * integral(1, 0), front * integral(0, 1)
    return 2 * (flat + steep), (steep - flat) / (steep + flat), approach


@pytest.mark.parametrize("slimness", [1.0, 1.3, 3.0, 8.0, 25.0])
def test_load_over_approach(slimness: float) -> None:
    load = 35.0
    total, difference, approach = ellipse(slimness * 8e-5, 8e-5, load)
    ours = contact_constant(contact_modulus=MODULUS, curvature_sum=total, curvature_difference=difference)
    assert contact_slimness(curvature_difference=difference) == pytest.approx(slimness, rel=1e-6)
    assert ours * approach**1.5 == pytest.approx(load, rel=1e-7)


def test_elliptic_integrals() -> None:
    slimness = np.geomspace(1.0, 1e3, 50)
    first, second = elliptic_integrals(slimness=slimness)
    np.testing.assert_allclose(first, ellipkm1(slimness**-2), rtol=1e-12)
    np.testing.assert_allclose(second, ellipe(1 - slimness**-2), rtol=1e-12)

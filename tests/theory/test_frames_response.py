"""The answer of the tip to a swinging force: one mode by hand, whole frames by direct solution."""

import numpy as np
import pytest

from gantrywright.theory.frames.assembly import stiffness, stretches
from gantrywright.theory.frames.frame import load_at
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.modes import damping_ratio, modal_loss, modes, strain_shares
from gantrywright.theory.frames.response import receptance, receptance_by_solving, weakest, worth_looking
from small_gantry import TIP, small_gantry


def one_mode(kind: str, frequencies: np.ndarray, k: float = 2e7, m: float = 40.0, zeta: float = 0.03) -> np.ndarray:
    return receptance(frequencies=frequencies, squares=np.array([k / m]), at_tip=np.array([[m**-0.5]]), damping=np.array([zeta]),
                      static=np.array([[1 / k]]), kind=kind)  # fmt: skip


def test_one_mass_on_a_spring() -> None:
    """S-12: k 2e7, m 40, zeta 0.03: peak 8.33709e-7 m/N, least real part -4.04531e-7 m/N."""
    grid = worth_looking(modes=np.array([112.540]), damping=np.array([0.03]), lowest=5.0, highest=500.0, count=200)
    found = weakest(grid, one_mode("viscous", grid))
    assert found.peak == pytest.approx([8.33709e-7], rel=1e-3)
    assert found.least_real == pytest.approx([-4.04531e-7], rel=1e-3)
    fine = np.linspace(100.0, 125.0, 20001)
    found = weakest(fine, one_mode("viscous", fine))
    assert found.peak == pytest.approx([8.33709e-7], rel=1e-5)
    assert found.frequency == pytest.approx([112.540 * np.sqrt(1 - 2 * 0.03**2)], rel=1e-4)
    assert found.least_real == pytest.approx([-4.04531e-7], rel=1e-5)
    assert found.least_real_frequency == pytest.approx([112.540 * np.sqrt(1 + 2 * 0.03)], rel=1e-4)


def test_hysteretic_damping_has_its_own_peak() -> None:
    fine = np.linspace(100.0, 125.0, 20001)
    found = weakest(fine, one_mode("hysteretic", fine))
    assert found.peak == pytest.approx([1 / (2e7 * 0.06)], rel=1e-5)  # 1/(k eta) at the natural frequency itself
    assert found.least_real == pytest.approx([-1 / (2 * 2e7 * 0.06)], rel=1e-5)


@pytest.fixture(scope="module")
def gantry():
    frame = small_gantry(parts=4, lump=True)
    rows, mass = stretches(frame), mass_matrix(frame)
    loads = load_at(frame, TIP, np.zeros(3))[:, :3]
    static = loads.T @ np.linalg.solve(stiffness(rows, frame.coefficients).toarray(), loads)
    loss = np.full(len(frame.coefficients), 0.003)
    loss[-24:] = 0.08
    return frame, rows, mass, loads, static, loss


def by_modes(gantry, count: int, frequencies: np.ndarray, kind: str = "hysteretic") -> np.ndarray:
    frame, rows, mass, loads, static, loss = gantry
    found = modes(stiffness(rows, frame.coefficients), mass, count)
    shares = strain_shares(stretches=rows @ found.shapes, coefficients=frame.coefficients)
    zeta = damping_ratio(loss=modal_loss(shares=shares, loss=loss))
    return receptance(
        frequencies=frequencies, squares=found.squares, at_tip=loads.T @ found.shapes, damping=zeta, static=static, kind=kind
    )


@pytest.mark.parametrize(("loss", "within"), [("alike", 0.003), ("in the feet", 0.08)])
def test_modes_with_the_static_rest_come_near_the_direct_solution(gantry, loss: str, within: float) -> None:
    """Loss that is alike in all parts leaves only what higher modes do; loss in a few joints also couples the modes, which is left out."""
    frame, rows, mass, loads, static, uneven = gantry
    losses = uneven if loss == "in the feet" else np.full_like(uneven, 0.03)
    frequencies = np.concatenate([np.geomspace(5, 260, 60), [27.92, 39.82, 93.75]])
    exact = receptance_by_solving(stiffness(rows, frame.coefficients * (1 + 1j * losses)), mass, loads, frequencies)
    peak = np.abs(exact).max()
    assert np.abs(by_modes((*gantry[:5], losses), 20, frequencies) - exact).max() < within * peak
    np.testing.assert_allclose(exact, exact.swapaxes(1, 2), atol=1e-12 * peak)
    without = by_modes((*gantry[:4], 0 * static, losses), 20, frequencies[:3])  # 0 static: the rest is taken off, not left out
    assert np.abs(without - exact[:3]).max() > 0.5 * np.abs(static).max()


def test_the_static_limit_is_that_of_all_modes(gantry) -> None:
    answer = by_modes(gantry, 4, np.array([1e-3]), "viscous")
    np.testing.assert_allclose(answer[0].real, gantry[4], atol=1e-6 * gantry[4].max())
    assert np.abs(answer.imag).max() < 1e-5 * gantry[4].max()


def test_samples_lead() -> None:
    frequencies = np.linspace(100.0, 120.0, 50)
    squares, zeta = np.array([[4e5], [5e5], [6e5]]), np.array([[0.02], [0.03], [0.04]])
    many = receptance(
        frequencies=frequencies, squares=squares, at_tip=np.array([[0.1], [0.2]]), damping=zeta, static=np.eye(2) * 1e-7
    )
    assert many.shape == (3, 50, 2, 2)
    for number in range(3):
        one = receptance(frequencies=frequencies, squares=squares[number], at_tip=np.array([[0.1], [0.2]]), damping=zeta[number],
                         static=np.eye(2) * 1e-7)  # fmt: skip
        np.testing.assert_allclose(many[number], one, rtol=1e-12)
    assert weakest(frequencies, many).peak.shape == (3, 2)


def test_no_peak_falls_between_the_frequencies_looked_at() -> None:
    grid = worth_looking(
        modes=np.array([30.0, 31.0, 900.0]), damping=np.array([0.002, 0.01, 0.01]), lowest=5.0, highest=500.0, count=100
    )
    assert np.all(np.diff(grid) > 0)
    assert {30.0, 31.0, 5.0, 500.0} <= set(grid)
    assert grid.max() == 500.0
    assert len(grid) <= 100

import numpy as np
import pytest
from scipy.integrate import quad_vec

from chatter_cases import TURN, head_modes
from gantrywright.theory.cutting import lobes as lb
from gantrywright.theory.cutting import modes as md
from gantrywright.theory.cutting import process_damping as pd

SPEEDS = np.linspace(6000, 24000, 7) * TURN
CUT = {"flutes": 2, "diameter": 6e-3, "start": 0.4, "stop": np.pi}


def bit() -> md.FeedModes:
    """Bending of a 6 mm cutter, both ways."""
    return md.feed_modes(
        frequencies=np.full(2, 7000.0), stiffness=np.full(2, 3.3e6), damping=np.full(2, 0.02), directions=np.eye(2)
    )


def held(modes: md.FeedModes, coefficient: float | np.ndarray, shear: float | np.ndarray = 650e6) -> np.ndarray:
    top = float(np.max(modes.frequencies))
    lines = md.worth_scanning(
        frequencies=np.ravel(modes.frequencies)[:2], damping=np.full(2, 0.02), lowest=top / 20, highest=8 * top
    )
    return pd.held_limit(
        modes=modes, frequencies=lines, coefficient=coefficient, shear=shear, radial_ratio=0.25, speeds=SPEEDS, deepest=50e-3, **CUT
    )


def test_mean_damping_is_the_integral_of_the_normals() -> None:
    def at(angle: float) -> np.ndarray:
        normal = np.array([np.sin(angle), np.cos(angle)])
        return np.outer(normal, normal)

    found = pd.mean_damping(coefficient=1e5, speed=2000.0, **CUT)
    expected = 2 * 1e5 / (2 * np.pi * 2000.0 * 3e-3) * quad_vec(at, 0.4, np.pi)[0]
    np.testing.assert_allclose(found, expected, rtol=1e-9)


def test_damping_of_a_mode_is_that_of_a_dashpot_at_the_tip() -> None:
    modes = head_modes()
    per_depth = np.diag([4e4, 0.0])
    more = pd.held_modes(modes=modes, per_depth=per_depth, depth=1e-3).damping
    mass = 6e6 / modes.squares[0]
    np.testing.assert_allclose(more - modes.damping, [40.0 / (2 * mass * np.sqrt(modes.squares[0])), 0.0], rtol=1e-12)


def test_without_it_the_limit_is_that_of_the_lobes() -> None:
    modes = bit()
    lines = md.worth_scanning(frequencies=modes.frequencies, damping=modes.damping, lowest=350.0, highest=56000.0)
    factors = lb.directional_factors(start=0.4, stop=np.pi, radial_ratio=0.25)
    on = lb.lobe_curves(frequencies=lines, receptance=md.feed_receptance(modes=modes, frequencies=lines), factors=factors)
    plain = lb.zero_order_limit(curves=on, shear=650e6, flutes=2, speeds=SPEEDS).depth
    np.testing.assert_allclose(held(modes, 1e-3), plain, rtol=2e-3)


def test_at_the_limit_the_damped_modes_are_at_theirs() -> None:
    modes, coefficient = bit(), 2e4
    depth = held(modes, coefficient)[3]
    per_depth = pd.mean_damping(coefficient=coefficient, speed=SPEEDS[3], **CUT)
    damped = pd.held_modes(modes=modes, per_depth=per_depth, depth=depth)
    lines = md.worth_scanning(frequencies=damped.frequencies, damping=damped.damping, lowest=350.0, highest=56000.0)
    factors = lb.directional_factors(start=0.4, stop=np.pi, radial_ratio=0.25)
    on = lb.lobe_curves(frequencies=lines, receptance=md.feed_receptance(modes=damped, frequencies=lines), factors=factors)
    again = lb.zero_order_limit(curves=on, shear=650e6, flutes=2, speeds=SPEEDS[3:4]).depth
    assert depth == pytest.approx(again[0], rel=0.03)


def test_holds_small_bits_and_hardly_a_head() -> None:
    coefficient = pd.ploughing(shear=650e6)
    assert coefficient == pytest.approx(1e5, rel=0.05)
    assert (held(bit(), coefficient) > 1.2 * held(bit(), 1e-3)).all()
    low, high = held(head_modes(), 1e-3), held(head_modes(), coefficient)
    assert (high >= low * 0.999).all()
    assert (high[-1] / low[-1]) < 1.2


def test_samples_are_as_one_by_one() -> None:
    coefficients, shears = np.array([1e4, 5e4]), np.array([600e6, 700e6])
    both = held(bit(), coefficients, shears)
    assert both.shape == (2, len(SPEEDS))
    np.testing.assert_allclose(both[1], held(bit(), 5e4, 700e6), rtol=1e-9)

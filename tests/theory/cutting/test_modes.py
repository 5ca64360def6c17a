import numpy as np
import pytest

from chatter_cases import two_modes
from gantrywright.theory.cutting import modes as md
from gantrywright.theory.frames.response import receptance

LINES = np.array([30.0, 590.0, 640.0, 900.0])


def skewed() -> md.FeedModes:
    found = md.feed_modes(
        frequencies=np.array([80.0, 600.0, 660.0]),
        stiffness=np.array([2e6, 5e6, 6e6]),
        damping=np.array([0.03, 0.035, 0.02]),
        directions=np.array([[1.0, 2.0], [3.0, -1.0], [0.2, 1.0]]),
    )
    return md.FeedModes(found.squares, found.shapes, found.damping, np.array([[2e-8, 5e-9], [5e-9, 3e-8]]))


def test_receptance_is_that_of_the_structure() -> None:
    modes = skewed()
    static = modes.residual + np.einsum("im,jm->ij", modes.shapes, modes.shapes / modes.squares)
    other = receptance(frequencies=LINES, squares=modes.squares, at_tip=modes.shapes, damping=modes.damping, static=static)
    np.testing.assert_allclose(md.feed_receptance(modes=modes, frequencies=LINES), other, rtol=1e-10)


def test_stiffness_is_that_along_the_mode() -> None:
    rest = md.feed_receptance(modes=two_modes(), frequencies=np.array([0.0]))[0]
    np.testing.assert_allclose(rest, np.eye(2) / 5.6e6, rtol=1e-12)


def test_turning_modes_is_turning_the_receptance() -> None:
    modes, angles = skewed(), np.radians([0.0, 30.0, 90.0, 200.0])
    plain = md.feed_receptance(modes=modes, frequencies=LINES)
    turned = md.feed_receptance(modes=modes.turned(angles), frequencies=LINES)
    np.testing.assert_allclose(turned, md.turned_receptance(receptance=plain, angle=angles), rtol=1e-10)
    np.testing.assert_allclose(turned[0], plain)
    np.testing.assert_allclose(
        turned[2][:, 0, 0], plain[:, 1, 1], rtol=1e-10
    )  # a feed to the left: what was to the left is along it
    np.testing.assert_allclose(turned[2][:, 0, 1], -plain[:, 0, 1], rtol=1e-10)


def test_samples_and_directions_at_once() -> None:
    one = skewed()
    modes = md.FeedModes(np.stack([one.squares] * 3), np.stack([one.shapes] * 3), one.damping * np.ones((3, 1)), one.residual)
    quick = modes.quicker(np.array([1.0, 1.1, 0.9]))
    found = md.feed_receptance(modes=quick.turned(np.array([[0.0], [0.5]])), frequencies=LINES)
    assert found.shape == (2, 3, 4, 2, 2)
    alone = md.feed_receptance(modes=one.quicker(1.1).turned(0.5), frequencies=LINES)
    np.testing.assert_allclose(found[1, 1], alone, rtol=1e-10)


def test_quicker_keeps_what_gives_at_rest() -> None:
    quick = two_modes().quicker(1.3)
    np.testing.assert_allclose(quick.frequencies, [780.0, 858.0])
    np.testing.assert_allclose(md.feed_receptance(modes=quick, frequencies=np.array([0.0]))[0], np.eye(2) / 5.6e6, rtol=1e-12)


def test_modes_left_out_stay_in_the_give() -> None:
    modes = skewed()
    few = modes.below(610.0)
    assert few.squares.shape == (2,)
    rest = np.array([0.0])
    np.testing.assert_allclose(
        md.feed_receptance(modes=few, frequencies=rest), md.feed_receptance(modes=modes, frequencies=rest), rtol=1e-10
    )


def test_residual_as_modes() -> None:
    modes = skewed()
    all_modes = modes.with_residual_as_modes(frequency=9000.0, damping=0.02)
    assert all_modes.squares.shape == (5,)
    np.testing.assert_allclose(
        md.feed_receptance(modes=all_modes, frequencies=LINES), md.feed_receptance(modes=modes, frequencies=LINES), rtol=2e-2
    )
    noisy = md.FeedModes(modes.squares, modes.shapes, modes.damping, np.diag([1e-8, -1e-12]))
    assert noisy.with_residual_as_modes(frequency=9000.0, damping=0.02).squares.shape == (4,)


def test_frequencies_crowd_about_modes() -> None:
    lines = md.worth_scanning(frequencies=np.array([600.0]), damping=np.array([0.03]), lowest=5.0, highest=6000.0)
    assert (np.diff(lines) > 0).all()
    assert lines[0] == pytest.approx(5.0)
    assert lines[-1] == pytest.approx(6000.0)
    inside = lines[(lines > 582) & (lines < 618)]
    assert len(inside) > 15

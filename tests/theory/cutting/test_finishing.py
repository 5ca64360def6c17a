"""Light last passes."""

from typing import Any

import numpy as np
import pytest

from gantrywright.theory.cutting import finishing
from gantrywright.theory.cutting.forces import Coefficients

SHARP = Coefficients(650e6, 3e3, 160e6, 3e3, 180e6, 0.0)
DULL = Coefficients(650e6, 40e3, 160e6, 40e3, 180e6, 0.0)
CUT: dict[str, Any] = {
    "depth": 6e-3, "diameter": 6e-3, "helix": np.radians(30), "flutes": 2, "feed_per_tooth": 4e-5, "run_out": 0.0, "run_out_angle": 0.0,
    "give": 0.4e-6 * np.eye(3), "way": "climb",
}  # fmt: skip


def test_wider_passes_push_further() -> None:
    widths = (0.05e-3, 0.1e-3, 0.3e-3, 1e-3)
    errors = finishing.errors_by_width(cut=SHARP, widths=widths, **CUT)
    assert np.all(np.diff(np.abs(errors)) > 0)
    assert np.all(errors < 0)  # climb milling leaves metal


def test_the_widest_pass_that_keeps_the_tolerance() -> None:
    widths, errors = np.array([1.0, 2.0, 3.0, 4.0]), np.array([[-1.0, 2.0, -5.0, 2.0], [-9.0, 0.0, 0.0, 0.0]])
    np.testing.assert_allclose(finishing.finishing_width(tolerance=3.0, widths=widths, errors=errors), [2.0, 0.0])
    assert finishing.finishing_width(tolerance=6.0, widths=widths, errors=errors[0]) == 4.0


@pytest.mark.parametrize("cut", [SHARP, DULL])
def test_what_a_second_pass_takes_and_leaves_is_what_was_there(cut: Coefficients) -> None:
    left = -30e-6
    found = finishing.spring_pass(left=left, cut=cut, **CUT)
    assert found.error == pytest.approx(left + found.width)
    again = finishing.errors_by_width(cut=cut, widths=[found.width], **CUT)
    assert found.width > 0
    # in balance: what it was pushed off is what it did not take; its mean, of which the worst is twice at most
    assert 1.0 <= again[0] / found.error < 2.6


def test_a_second_pass_never_takes_off_all_and_a_dull_cutter_takes_less() -> None:
    sharp, dull = (finishing.spring_pass(left=-30e-6, cut=cut, **CUT) for cut in (SHARP, DULL))
    assert sharp.error > dull.error > -30e-6
    assert sharp.error < 0


def test_where_nothing_was_left_the_wall_stays() -> None:
    found = finishing.spring_pass(left=12e-6, cut=SHARP, **CUT)
    assert (found.width, found.error) == (0.0, 12e-6)


def test_a_straight_cutter_with_a_dull_edge_only_rubs() -> None:
    found = finishing.spring_pass(left=-10e-6, cut=DULL, **CUT | {"helix": 0.0})
    assert (found.width, found.error) == (0.0, pytest.approx(-10e-6))

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from gantrywright.theory import bolt_groups as g

SQUARE = ((0.03, 0.04, 0.0), (-0.03, 0.04, 0.0), (0.03, -0.04, 0.0), (-0.03, -0.04, 0.0))
UNEVEN = ((0.0, 0.0, 0.0), (0.06, 0.01, 0.0), (0.05, 0.07, 0.0), (-0.02, 0.03, 0.0), (0.01, 0.02, 0.0))
UP = (0.0, 0.0, 1.0)
components = st.lists(st.floats(-1e3, 1e3), min_size=6, max_size=6)
places = st.tuples(st.floats(-0.5, 0.5), st.floats(-0.5, 0.5), st.floats(-0.5, 0.5))
turns = st.tuples(st.floats(-3, 3), st.floats(-3, 3), st.floats(-3, 3))


def turned(by: tuple[float, float, float]) -> NDArray[np.float64]:
    from scipy.spatial.transform import Rotation

    matrix: NDArray[np.float64] = Rotation.from_rotvec(by).as_matrix()
    return matrix


@given(components, places, turns)
def test_forces_of_the_screws_add_up_to_the_wrench(wrench: list[float], at: Any, turn: Any) -> None:
    matrix = turned(turn)
    points = [tuple(matrix @ point) for point in UNEVEN]
    normal = matrix @ UP
    found = g.bolt_forces(wrench=np.array(wrench), at=at, points=points, normal=tuple(normal))
    each = found.shear + np.outer(found.pull, normal)
    assert each.sum(axis=0) == pytest.approx(np.array(wrench[:3]), abs=1e-6)
    moments = sum(np.cross(np.array(point) - at, force) for point, force in zip(points, each, strict=True))
    assert moments == pytest.approx(np.array(wrench[3:]), abs=1e-6)
    assert found.unheld == pytest.approx(0.0, abs=1e-6)


@given(components, places, turns)
def test_turning_everything_turns_nothing(wrench: list[float], at: Any, turn: Any) -> None:
    matrix = turned(turn)
    plain = g.bolt_forces(wrench=np.array(wrench), at=at, points=UNEVEN, normal=UP)
    whole = np.concatenate((matrix @ wrench[:3], matrix @ wrench[3:]))
    points = [tuple(matrix @ point) for point in UNEVEN]
    other = g.bolt_forces(wrench=whole, at=tuple(matrix @ at), points=points, normal=tuple(matrix @ UP))
    assert other.pull == pytest.approx(plain.pull, abs=1e-6)
    assert other.sideways == pytest.approx(plain.sideways, abs=1e-6)


def test_stiffest_share_of_all() -> None:
    """The centroid method is what equal springs under a rigid plate give: least squares of the pulls."""
    points = np.array(UNEVEN)[:, :2]
    found = g.bolt_forces(wrench=np.array([0, 0, 100.0, 7.0, -3.0, 0]), at=(0, 0, 0), points=UNEVEN, normal=UP)
    plate = np.column_stack((np.ones(5), points))  # stretch of a spring: w + turn_x y - turn_y x
    plate[:, 1], plate[:, 2] = points[:, 1], -points[:, 0]
    motion = np.linalg.solve(plate.T @ plate, np.array([100.0, 7.0, -3.0]))
    assert found.pull == pytest.approx(plate @ motion)


def test_row_has_no_arm_about_its_own_line() -> None:
    row = ((0.0, 0.0, 0.0), (0.1, 0.0, 0.0), (0.2, 0.0, 0.0))
    found = g.bolt_forces(wrench=np.array([0, 0, 0, 12.0, 4.0, 0]), at=(0.1, 0, 0), points=row, normal=UP)
    assert found.pull == pytest.approx([20.0, 0.0, -20.0])
    assert found.unheld == pytest.approx(12.0)
    assert g.levered_pull(forces=found, lever=0.02) == pytest.approx([220.0, 200.0, 180.0])


def test_single_screw_holds_no_moment() -> None:
    found = g.bolt_forces(wrench=np.array([3.0, 4, 100, 0, 6, 5]), at=(0, 0, 0), points=((0, 0, 0),), normal=UP)
    assert found.pull == pytest.approx([100.0])
    assert found.sideways == pytest.approx([5.0])
    assert (float(found.unheld), float(found.unheld_twist)) == pytest.approx((6.0, 5.0))
    assert g.turning_utilisation(moment=-5.0, clamp=1e3, friction=0.2, radius=0.005) == pytest.approx(5.0)


def test_gaping_and_clamps() -> None:
    pull = np.array([-100.0, 400.0])
    assert g.opening_utilisation(pull=pull, preload=1000.0, share=0.25) == pytest.approx(0.3)
    assert g.clamps(pull=pull, preload=1000.0, share=0.25) == pytest.approx([1075.0, 700.0])
    assert g.clamps(pull=np.array([5000.0]), preload=1000.0, share=0.25) == pytest.approx([0.0])


def test_plain_force_slips_at_the_friction_of_all() -> None:
    clamp = np.array([1000.0, 500.0, 200.0, 300.0])
    middle = tuple(clamp @ np.array(SQUARE) / clamp.sum())
    used = g.slip_utilisation(
        wrench=np.array([300.0, 0, 50.0, 0, 0, 0]), at=middle, points=SQUARE, normal=UP, clamp=clamp, friction=0.15
    )
    assert used == pytest.approx(1.0)


def test_plain_twist_slips_at_the_friction_times_the_arm() -> None:
    twist = np.array([0.0, 0, 0, 0, 0, 0.15 * 4000 * 0.05])
    same = {"wrench": twist, "at": (0.3, 0.2, 0.1), "points": SQUARE, "normal": UP, "clamp": np.full(4, 1000.0)}
    assert g.slip_utilisation(**same, friction=0.15) == pytest.approx(1.0)
    assert g.slip_utilisation(**same, friction=0.15, faces=2.0) == pytest.approx(0.5)


def test_single_screw_holds_a_twist_by_its_ring() -> None:
    same = {
        "wrench": np.array([0.0, 0, 0, 0, 0, 1.0]),
        "at": (0, 0, 0),
        "points": ((0, 0, 0),),
        "normal": UP,
        "clamp": np.array([1e3]),
    }
    assert g.slip_utilisation(**same, friction=0.2, pressed_radius=0.005) == pytest.approx(1.0)
    assert np.isinf(g.slip_utilisation(**same, friction=0.2))


def test_faces_that_nothing_presses_slip() -> None:
    used = g.slip_utilisation(wrench=np.ones(6), at=(0, 0, 0), points=SQUARE, normal=UP, clamp=np.zeros(4), friction=0.2)
    assert np.isinf(used)


@given(components, st.floats(0.1, 10.0))
def test_slip_grows_with_the_load(wrench: list[float], times: float) -> None:
    same = {"at": (0.1, 0.0, 0.2), "points": UNEVEN, "normal": UP, "clamp": np.arange(1.0, 6.0) * 300, "friction": 0.15}
    one = g.slip_utilisation(wrench=np.array(wrench), **same)
    assert g.slip_utilisation(wrench=times * np.array(wrench), **same) == pytest.approx(times * one, abs=1e-9)


def test_samples_and_cases_keep_their_axes() -> None:
    wrench = np.random.default_rng(1).normal(size=(6, 5, 3)) * 100
    found = g.bolt_forces(wrench=wrench, at=(0.1, 0, 0.3), points=UNEVEN, normal=UP)
    preload = np.linspace(1e3, 2e3, 5)[:, None]
    clamp = g.clamps(pull=found.pull, preload=preload, share=0.2)
    used = g.slip_utilisation(
        wrench=wrench, at=(0.1, 0, 0.3), points=UNEVEN, normal=UP, clamp=clamp, friction=np.full((5, 1), 0.15)
    )
    assert found.pull.shape == clamp.shape == (5, 5, 3)
    alone = g.bolt_forces(wrench=wrench[:, 2, 1], at=(0.1, 0, 0.3), points=UNEVEN, normal=UP)
    assert found.pull[:, 2, 1] == pytest.approx(alone.pull)
    one = g.slip_utilisation(
        wrench=wrench[:, 2, 1], at=(0.1, 0, 0.3), points=UNEVEN, normal=UP, clamp=clamp[:, 2, 1], friction=0.15
    )
    assert np.asarray(used)[2, 1] == pytest.approx(one)

"""The general carriage against its closed form, statics, and what must hold whichever way the machine is turned."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gantrywright.base.units import GRAVITY, Array
from gantrywright.theory.carriage import (
    Spring,
    carriage_load,
    drive_share_of_yaw,
    four_blocks,
    response,
    sign_patterns,
    worst_sum,
)

Vectors = tuple[tuple[float, float, float], ...]
CASES = {
    "G-01": (
        (0.160, 0.220), ((-300, 150, 80), (0, 0, -18 * GRAVITY)), ((0.020, 0.050, -0.150), (0, 0.030, 0.090)), (0, 0, 0.020), 300.0,
        (93.75, 93.75, -18.75, -18.75), (-130.31, -226.70, 178.44, 82.05),
    ),
    "G-02": (
        (0.140, 0.160), ((200, 0, -250), (0, -14 * GRAVITY, 0)), ((0, -0.300, 0.140), (0, -0.050, 0.110)), (0, 0, -0.010), -200.0,
        (179.96, 179.96, -248.61, -248.61), (111.93, -451.21, 326.21, -236.93),
    ),
}  # fmt: skip


def block_springs(spacing: float, across: float, turn: Array, normal: float = 2e8, lateral: float = 2e8) -> list[Spring]:
    made = []
    for x in (spacing / 2, -spacing / 2):
        for y in (across / 2, -across / 2):
            at = tuple(turn @ (x, y, 0.0))
            made += [Spring(at, tuple(turn[:, 1]), lateral), Spring(at, tuple(turn[:, 2]), normal)]
    return made


def rotation(seed: int) -> Array:
    q, _ = np.linalg.qr(np.random.default_rng(seed).normal(size=(3, 3)))
    return q * np.sign(np.linalg.det(q))


@pytest.mark.parametrize("case", CASES)
def test_statics_of_two_rails_with_two_blocks(case: str) -> None:
    (spacing, across), forces, places, drive, push, lateral, normal = CASES[case]
    force, moment, drive_force = carriage_load(forces=forces, places=places, drive=drive)
    got_lateral, got_normal = four_blocks(force=force, moment=moment, spacing=spacing, across=across)
    assert drive_force == pytest.approx(push)
    np.testing.assert_allclose(got_lateral, lateral, atol=0.05)
    np.testing.assert_allclose(got_normal, normal, atol=0.05)


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("seed", [0, 1, 2])
def test_six_by_six_solve_gives_the_closed_form_however_the_machine_is_turned(case: str, seed: int) -> None:
    """A beam front is a tilted table: turn rails, loads and weight together and no block notices."""
    (spacing, across), forces, places, drive, push, lateral, normal = CASES[case]
    turn = rotation(seed) if seed else np.eye(3)
    springs = [*block_springs(spacing, across, turn), Spring(tuple(turn @ drive), tuple(turn[:, 0]), 3e7)]
    force = turn @ np.sum(forces, axis=0)
    moment = turn @ np.sum(np.cross(places, forces), axis=0)
    got = response(springs) @ np.concatenate((force, moment))
    np.testing.assert_allclose(got[0:8:2], lateral, atol=0.05)
    np.testing.assert_allclose(got[1:8:2], normal, atol=0.05)
    assert got[8] == pytest.approx(-push)


def test_reactions_balance_any_load_on_odd_carriages() -> None:
    """Three rails with five blocks of unequal stiffness and two drives: forces and moments of all springs sum to the load."""
    random = np.random.default_rng(3)
    springs = [Spring((x, y, z), n, k) for (x, y, z), k in zip(random.normal(size=(5, 3)) * 0.2, random.uniform(1e7, 4e8, 5), strict=True)
               for n in ((0, 1, 0), (0, 0, 1))]  # fmt: skip
    springs += [Spring((0, y, 0.01), (1, 0, 0), 2e7) for y in (-0.4, 0.5)]
    springs += [Spring((0, 0, 0), (1, 0, 0), 1e4, turns=True)]
    load = random.normal(size=6) * 100
    reaction = response(springs) @ load
    total = np.zeros(6)
    for spring, size in zip(springs, reaction, strict=True):
        push = np.asarray(spring.direction) * size
        total += np.concatenate((np.zeros(3), push) if spring.turns else (push, np.cross(spring.at, push)))
    np.testing.assert_allclose(total, load, rtol=1e-9, atol=1e-9)


def test_a_wide_gantry_is_squared_by_its_drives() -> None:
    spacing, across, drive, lateral = 0.2, 1.0, 5e7, 1.6e8
    springs = block_springs(spacing, across, np.eye(3), lateral=lateral)
    springs += [Spring((0, y, 0), (1, 0, 0), drive) for y in (-0.55, 0.55)]
    got = response(springs)[:, 5]
    share = drive_share_of_yaw(drive_stiffness=drive, drive_spacing=1.1, lateral_stiffness=lateral, spacing=spacing)
    assert abs(got[8]) * 1.1 == pytest.approx(share)
    assert share == pytest.approx(30.25 / 36.65)


def test_samples_are_answered_one_by_one() -> None:
    stiff = np.array([1e8, 2e8, 4e8])
    many = response([*block_springs(0.2, 0.3, np.eye(3), normal=stiff), Spring((0, 0, 0), (1, 0, 0), 1e7)])  # type: ignore[arg-type]
    one = response([*block_springs(0.2, 0.3, np.eye(3), normal=2e8), Spring((0, 0, 0), (1, 0, 0), 1e7)])
    assert many.shape == (3, 9, 6)
    np.testing.assert_allclose(many[1], one, atol=1e-9)


def test_a_body_that_is_not_held_is_refused() -> None:
    with pytest.raises(np.linalg.LinAlgError):
        response([Spring((0, 0, 0), (1, 0, 0), 1e6)])


@settings(max_examples=40)
@given(seed=st.integers(0, 10_000), count=st.sampled_from([2, 3, 5]))
def test_worst_sum_is_the_worst_of_all_sign_combinations(seed: int, count: int) -> None:
    random = np.random.default_rng(seed)
    steady, either = random.normal(size=count), random.normal(size=(3, count))
    plane, axial = random.normal(size=(2, count)), random.normal(size=count)
    got = worst_sum(steady=steady, either_way=either, plane=plane, plane_force=2.0, axial=axial, axial_force=0.7)
    turns = np.linspace(0, 2 * np.pi, 721)
    worst = 0.0
    for signs in sign_patterns(5).T:  # three loads of either sign, the axial one, and a common sign that steady does not share
        for common in (1, -1):
            fixed = steady + common * (signs[:3] @ either + signs[3] * 0.7 * axial)
            around = fixed + 2.0 * (np.cos(turns)[:, None] * plane[0] + np.sin(turns)[:, None] * plane[1])
            worst = max(worst, float(np.abs(around).sum(axis=1).max()))
    assert float(got) == pytest.approx(worst, rel=1e-4)


def test_worst_sum_keeps_samples_apart() -> None:
    steady = np.array([[1.0, -1.0], [2.0, 0.0]])
    got = worst_sum(
        steady=steady, either_way=np.zeros((1, 2, 2)), plane=np.zeros((2, 2, 2)), plane_force=np.array([1.0, 5.0]),
        axial=np.ones((2, 2)), axial_force=np.array([0.0, 1.0]),
    )  # fmt: skip
    np.testing.assert_allclose(got, (2.0, 4.0))

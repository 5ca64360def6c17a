"""Screw torque, falling, preload and life by routes that share no code with the formulas."""

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from gantrywright.theory import belts, lead_screws, racks, rotation, screw_life, screw_stiffness, screws
from gantrywright.theory.falling import fall_acceleration, fall_speed, fall_time


def contact(slope: float, half_flank: float, friction: float, slides: float) -> np.ndarray:
    """Force of a thread flank for unit normal force, as (tangential, axial); friction against the way the nut slides on the helix."""
    along = np.array([0.0, np.cos(slope), np.sin(slope)])  # radial, tangential, axial
    flank = np.array([np.cos(half_flank), 0.0, -np.sin(half_flank)])
    normal = np.cross(flank, along)
    normal /= np.linalg.norm(normal)
    force = normal * np.sign(normal[2]) - slides * friction * along
    return force[1:]


@pytest.mark.parametrize(("diameter", "lead", "flank", "friction"), [
    (0.014, 0.004, 30.0, 0.12), (0.007, 0.008, 30.0, 0.12), (0.01143, 0.00254, 29.0, 0.15), (0.030, 0.008, 0.0, 0.08),
])  # fmt: skip
def test_thread_torque(diameter: float, lead: float, flank: float, friction: float) -> None:
    slope, half = np.arctan(lead / (np.pi * diameter)), np.radians(flank / 2)
    given = {"force": 1000.0, "lead": lead, "pitch_diameter": diameter, "flank": np.radians(flank), "friction": friction}
    up = contact(slope, half, friction, 1.0)
    down = contact(slope, half, friction, -1.0)
    raising = -1000.0 * up[0] / up[1] * diameter / 2
    lowering = 1000.0 * down[0] / down[1] * diameter / 2
    assert lead_screws.raising_torque(**given) == pytest.approx(raising, rel=1e-9)
    assert lead_screws.lowering_torque(**given) == pytest.approx(lowering, rel=1e-9)


@pytest.mark.parametrize(("mass", "diameter", "lead"), [(12.0, 0.016, 0.005), (12.0, 0.016, 0.010), (20.0, 0.020, 0.020)])
def test_fall_by_forces_on_the_thread(mass: float, diameter: float, lead: float) -> None:
    """Unknown normal force and acceleration from the two equations of motion, then integrated."""
    slope, friction, inertia, resisting = np.arctan(lead / (np.pi * diameter)), 0.01, 5e-5, 0.06
    tangential, axial = contact(slope, 0.0, friction, -1.0)
    # m g - N axial = m a ; N (-tangential) d/2 - T_f = J 2 pi a / p
    system = np.array([[axial, mass], [-tangential * diameter / 2, -inertia * 2 * np.pi / lead]])
    _, expected = np.linalg.solve(system, np.array([mass * 9.80665, resisting]))
    back = screws.backdriving_efficiency(lead_angle=slope, friction=friction)
    ours = fall_acceleration(
        mass=mass, force=mass * 9.80665, travel_per_radian=lead / (2 * np.pi), back_efficiency=back, resisting_torque=resisting,
        inertia=inertia,
    )  # fmt: skip
    assert ours == pytest.approx(expected, rel=1e-9)
    bottom = lambda _, y: y[0] - 0.1  # noqa: E731
    bottom.terminal = True
    fallen = solve_ivp(lambda _, y: [y[1], expected], (0, 10), [0.0, 0.0], events=bottom, rtol=1e-9, atol=1e-12)
    assert fall_time(acceleration=ours, distance=0.1) == pytest.approx(fallen.t_events[0][0], rel=1e-6)
    assert fall_speed(acceleration=ours, distance=0.1) == pytest.approx(fallen.y_events[0][0][1], rel=1e-6)


def opposed_contacts(preload: float, force: float) -> float:
    """Load on the loaded side of two opposed Hertz contacts: deflections to the power 2/3 add to the preload's."""
    return brentq(
        lambda one: one ** (2 / 3) + max(one - force, 0.0) ** (2 / 3) - 2 * preload ** (2 / 3),
        max(preload, force),
        2 * preload + force,
    )


@pytest.mark.parametrize(("ratio", "exact"), [(1.0, 1.5424), (2.0, 2.1800), (2.8284, 2.8284)])
def test_preloaded_side(ratio: float, exact: float) -> None:
    assert opposed_contacts(1.0, ratio) == pytest.approx(exact, rel=1e-3)
    ours = float(screw_life.loaded_side(preload=1.0, force=ratio))
    assert exact * 0.9999 <= ours <= exact * 1.025


def test_preload_is_lost_where_it_is_said() -> None:
    """Just below 2.83 times the preload the far side still bears; it bears nothing there, by the contacts too."""
    limit = screw_life.LIFT_OFF
    assert opposed_contacts(1.0, limit) == pytest.approx(limit, rel=1e-9)
    assert screw_life.unloaded_side(preload=1.0, force=limit * 1.001) == 0.0
    assert screw_life.unloaded_side(preload=1.0, force=limit * 0.9) > 0.0


def test_mean_force_by_damage() -> None:
    """S-09: damage of each case added up over one hour."""
    forces, speeds, shares = np.array([1500.0, 600.0, 200.0]), np.array([300.0, 800.0, 1500.0]), np.array([0.2, 0.5, 0.3])
    damage = sum(
        speed * 60 * share / ((7600 / force) ** 3 * 1e6) for force, speed, share in zip(forces, speeds, shares, strict=True)
    )
    mean = screw_life.cube_mean_force(forces=forces, speeds=speeds, time_shares=shares)
    turning = screw_life.mean_speed(speeds=speeds, time_shares=shares) * 2 * np.pi / 60
    hours = screw_life.life_time(life=screw_life.life_turns(dynamic_rating=7600.0, mean_force=mean), mean_speed=turning) / 3600
    assert hours == pytest.approx(1 / damage, rel=1e-9)
    assert hours == pytest.approx(25_013, rel=1e-3)


def test_inertia_by_integration() -> None:
    """Rings of a tube."""
    expected, _ = quad(lambda r: 2 * np.pi * r * 7850.0 * 0.3 * r**2, 0.005, 0.02)
    assert rotation.cylinder_inertia(diameter=0.04, bore=0.01, length=0.3, density=7850.0) == pytest.approx(expected, rel=1e-9)


def chain(springs: list[tuple[int, int, float]], size: int, loaded: int) -> float:
    """Stiffness at a node of a chain of springs; node 0 is the ground."""
    k = np.zeros((size, size))
    for a, b, stiffness in springs:
        k[np.ix_([a, b], [a, b])] += stiffness * np.array([[1, -1], [-1, 1]])
    force = np.zeros(size)
    force[loaded] = 1.0
    moved = np.linalg.solve(k[1:, 1:], force[1:])
    return float(1 / moved[loaded - 1])


@pytest.mark.parametrize("place", [0.1, 0.45, 0.9])
def test_screw_held_at_both_ends_by_springs(place: float) -> None:
    strength = 206e9 * np.pi / 4 * 0.0131**2
    expected = chain([(0, 1, 60e6), (1, 2, strength / place), (2, 3, strength / (1 - place)), (3, 0, 90e6)], 4, 2)
    ours = screw_stiffness.both_ends_stiffness(
        root_diameter=0.0131, elastic_modulus=206e9, distance=place, free_length=1.0, near_bearing=60e6, far_bearing=90e6
    )
    assert ours == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("place", [0.2, 0.6, 1.0])
def test_belt_loop_by_springs(place: float) -> None:
    """Carriage, idler that turns freely (the way round it is two lengths in a row), drive pulley as ground."""
    expected = chain([(0, 1, 275e3 / place), (1, 2, 275e3 / (1.2 - place)), (2, 0, 275e3 / 1.2)], 3, 1)
    assert belts.loop_stiffness(specific_stiffness=275e3, distance=place, span=1.2) == pytest.approx(expected, rel=1e-9)
    assert belts.one_sided_stiffness(specific_stiffness=275e3, distance=place) < expected


def test_backlash_by_moving_a_rack_tooth() -> None:
    """Opening the centre distance leaves a gap of opening times sine of the pressure angle, square to each flank."""
    gap = 1e-4 * np.sin(np.radians(20.0))
    assert racks.opening_backlash(opening=1e-4, helix=0.0) == pytest.approx(2 * gap / np.cos(np.radians(20.0)), rel=1e-9)

"""A rigid body on springs: how a load spreads over guide blocks and drives, whatever their number and place.

Linear: the response to unit loads is found once for a carriage; loads of all cases and poses are then small products with it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Newton, NewtonMetre, NewtonPerMetre, Number, Real

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Spring:
    """A spring along (or about) one direction at one place."""

    at: Point
    """From the point that moments are taken about, m."""
    direction: Point
    """Unit vector."""
    stiffness: Real
    """N/m, or N m/rad where it turns."""
    turns: bool = False


@formula("R = k J K^-1, K = sum k J^T J, J = [n ; r x n]", source="definition")
def response(springs: Sequence[Spring]) -> Array:
    """Force in each spring per unit of each load on the body.

    Args:
        springs: All springs; together they must hold the body in all six directions.

    Returns:
        Rows: springs, in N or N m, positive along their direction, as the body pushes on the spring. Columns: the load on the body,
        Fx, Fy, Fz, Mx, My, Mz. Shape (n_springs, 6), or (n_samples, n_springs, 6).

    Example:
        >>> posts = [Spring((x, 0, 0), n, 1e6) for x in (-1.0, 1.0) for n in ((1, 0, 0), (0, 1, 0), (0, 0, 1))]
        >>> twist = Spring((0, 0, 0), (1, 0, 0), 1.0, turns=True)
        >>> response([*posts, twist])[:, 2].round(3).tolist()  # 1 N along z: half on each of the two upright springs
        [0.0, 0.0, 0.5, 0.0, 0.0, 0.5, 0.0]
    """
    at = np.array([spring.at for spring in springs], dtype=float)
    along = np.array([spring.direction for spring in springs], dtype=float)
    turning = np.array([spring.turns for spring in springs])[:, None]
    lever = np.concatenate((np.where(turning, 0.0, along), np.where(turning, along, np.cross(at, along))), axis=1)
    stiffness = np.stack(np.broadcast_arrays(*(np.asarray(s.stiffness, dtype=float) for s in springs)), axis=-1)
    # forces in N and moments in N m differ by a length; a length of the size of the carriage keeps the solve well conditioned
    size = max(float(np.sqrt((at**2).sum(axis=1).mean())), 1e-3)
    measure = np.array([1, 1, 1, 1 / size, 1 / size, 1 / size])
    scaled = lever * measure
    whole = np.einsum("...s,si,sj->...ij", stiffness, scaled, scaled)
    spread = np.linalg.solve(whole, np.broadcast_to(np.eye(6), whole.shape))
    result: Array = stiffness[..., :, None] * (scaled @ spread) * measure
    return result


@formula("Pz = Fz/4 + Mx y/c^2 - My x/l^2; Py = Fy/4 + Mz x/l^2", source="derived")
def four_blocks(
    *, force: tuple[Newton, Newton, Newton], moment: tuple[NewtonMetre, NewtonMetre, NewtonMetre], spacing: Metre, across: Metre
) -> tuple[tuple[Newton, ...], tuple[Newton, ...]]:
    """Closed form for two rails with two equal blocks each.

    Args:
        force: On the carriage: along travel, lateral, away from the rails.
        moment: About the middle of the four blocks, in the plane of the raceways, drive force included.
        spacing: Of the blocks along a rail.
        across: Between the rails.

    Returns:
        Lateral loads and normal loads of the blocks (+x, +y), (+x, -y), (-x, +y), (-x, -y).
    """
    lateral, normal = [], []
    for x in (spacing / 2, -spacing / 2):
        for y in (across / 2, -across / 2):
            lateral.append(force[1] / 4 + moment[2] * x / spacing**2)
            normal.append(force[2] / 4 + moment[0] * y / across**2 - moment[1] * x / spacing**2)
    return tuple(lateral), tuple(normal)


@formula("F = sum F_j, M = sum r_j x F_j, drive force at its own line", source="definition")
def carriage_load(
    *, forces: Sequence[tuple[Newton, Newton, Newton]], places: Sequence[Point], drive: Point
) -> tuple[tuple[Newton, ...], tuple[NewtonMetre, ...], Newton]:
    """Forces on a carriage and the drive force that balances them along its travel (first axis).

    Args:
        forces: On the carriage.
        places: Where each acts, from the middle of the blocks.
        drive: Where nut, belt or pinion pushes.

    Returns:
        Force and moment that the blocks bear, and the drive force.
    """
    total = [_sum(force[i] for force in forces) for i in range(3)]
    pairs = [*zip(forces, places, strict=True), ((-total[0], 0.0, 0.0), drive)]
    moment = tuple(_sum(place[j] * force[k] - place[k] * force[j] for force, place in pairs) for j, k in ((1, 2), (2, 0), (0, 1)))
    return (total[0] - total[0], total[1], total[2]), moment, -total[0]


@formula("max over s in {-1, 1} of sum_k |P0_k + sum_i s_i P_ik| = max over signs t of |t.P0| + sum_i |t.P_i|", source="derived")
def worst_sum(*, steady: Array, either_way: Array, plane: Array, plane_force: Newton, axial: Array, axial_force: Newton) -> Array:
    """Greatest sum of magnitudes when loads of either sign, and one of any direction in a plane, act together.

    Exact, and needs no list of load cases: for every pattern of signs of the components each load takes its worst sign, and the load
    in the plane its worst direction.

    Args:
        steady: Components under the loads that are always there, shape (..., k).
        either_way: Components under loads of either sign, shape (n_loads, ..., k).
        plane: Components per newton along the two directions of the plane, shape (2, ..., k).
        plane_force: Force in the plane, in whatever direction is worst.
        axial: Components per newton across that plane, shape (..., k).
        axial_force: Greatest magnitude across it.

    Returns:
        Shape (...).
    """
    patterns = sign_patterns(steady.shape[-1])
    forces = np.asarray(plane_force), np.asarray(axial_force)
    spread = tuple(force.reshape(force.shape + (1,) * (steady.ndim - force.ndim)) for force in forces)
    either = np.abs(either_way @ patterns).sum(axis=0)
    in_plane = np.hypot(*(plane @ patterns))
    total: Array = np.abs(steady @ patterns) + either + in_plane * spread[0] + np.abs(axial @ patterns) * spread[1]
    worst: Array = total.max(axis=-1)
    return worst


def sign_patterns(count: int) -> Array:
    """All patterns of signs of some components up to the common sign, shape (count, 2^(count - 1))."""
    bits = (np.arange(2 ** (count - 1))[None, :] >> np.arange(count)[:, None]) & 1
    return np.asarray(1.0 - 2.0 * bits, dtype=float)


@formula("share = k_d c_d^2/2 / (k_d c_d^2/2 + k_y l^2)", source="derived")
def drive_share_of_yaw(
    *, drive_stiffness: NewtonPerMetre, drive_spacing: Metre, lateral_stiffness: NewtonPerMetre, spacing: Metre
) -> Number:
    """Part of a yaw moment that two parallel drives take, the rest comes on four blocks."""
    drives = drive_stiffness * drive_spacing**2 / 2
    return drives / (drives + lateral_stiffness * spacing**2)


def _sum(values: object) -> Real:
    total: Real = 0.0
    for value in values:  # type: ignore[attr-defined]
        total = total + value
    return total

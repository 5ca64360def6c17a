"""Mass of a frame that matches how its bars bend, and the loads that weight and acceleration put on it."""

from typing import TYPE_CHECKING

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, KilogramPerMetre, Metre, Number
from gantrywright.theory.frames.assembly import GROUND, to_ends
from gantrywright.theory.frames.frame import PER_NODE, Bars, Frame, Lumps

if TYPE_CHECKING:
    from scipy.sparse import csr_array

PLANES = ((1, 5, 1.0), (2, 4, -1.0))
"""Shift, turn and sign of the slope in the height and in the width plane."""


@formula("M = integral of m N_v^T N_v + rho I N_t^T N_t dx", source="friedman-kosmatka-1993")
def plane_mass(*, length: Metre, mass: KilogramPerMetre, rotary: Number, shear: Number) -> Array:
    """Mass of a bar in one plane of bending.

    Args:
        length: Of the bar, shape (b,) or a number, as all others.
        mass: Per metre.
        rotary: rho I in that plane, kg m.
        shear: Shear parameter p in that plane.

    Returns:
        Shape (b, 4, 4): deflection and slope of the first end, then of the second.

    Source:
        Friedman and Kosmatka.
    """
    m, i, p, size = (np.asarray(value, dtype=float) for value in (mass, rotary, shear, length))
    own, other = 70 * p**2 + 147 * p + 78, 35 * p**2 + 63 * p + 27
    near, far = (35 * p**2 + 77 * p + 44) * size / 4, (35 * p**2 + 63 * p + 26) * size / 4
    turn, cross = (7 * p**2 + 14 * p + 8) * size**2 / 4, (7 * p**2 + 14 * p + 6) * size**2 / 4
    moving = _filled(own, near, other, -far, turn, -cross)
    lean = -(15 * p - 3) * size
    still = 36.0 + 0 * p
    tilting = _filled(still, lean, -still, lean, (10 * p**2 + 5 * p + 4) * size**2, (5 * p**2 - 5 * p - 1) * size**2)
    whole: Array = (m * size / (210 * (1 + p) ** 2))[..., None, None] * moving
    whole += (i / (30 * (1 + p) ** 2 * size))[..., None, None] * tilting
    return whole


def _filled(vv: Array, vt: Array, vw: Array, vs: Array, tt: Array, ts: Array) -> Array:
    """Symmetric 4 x 4 of a bar that is alike seen from both ends."""
    rows = ((vv, vt, vw, vs), (vt, tt, -vs, ts), (vw, -vs, vv, -vt), (vs, ts, -vt, tt))
    return np.stack([np.stack(np.broadcast_arrays(*row), axis=-1) for row in rows], axis=-2)


def bar_mass(bars: Bars) -> Array:
    """Mass of bars from the motions of their ends in own axes, shape (b, 12, 12)."""
    whole = np.zeros((len(bars.length), 12, 12))
    spin = bars.rotary.sum(axis=1)
    for at, per_metre in ((0, bars.mass), (3, spin)):
        third = per_metre * bars.length / 3
        whole[:, at, at] = whole[:, at + 6, at + 6] = third
        whole[:, at, at + 6] = whole[:, at + 6, at] = third / 2
    for plane, (shift, turn, sign) in enumerate(PLANES):
        signs = np.array([1.0, sign, 1.0, sign])
        one = plane_mass(length=bars.length, mass=bars.mass, rotary=bars.rotary[:, plane], shear=bars.shear[:, plane])
        places = np.array([shift, turn, shift + 6, turn + 6])
        whole[:, places[:, None], places] = one * signs[:, None] * signs
    return whole


def lump_mass(lumps: Lumps) -> Array:
    """Mass of lumps from the motions of the nodes that hold them, shape (l, 6, 6)."""
    count = len(lumps.mass)
    own = np.zeros((count, PER_NODE, PER_NODE))
    own[:, :3, :3] = lumps.mass[:, None, None] * np.eye(3)
    own[:, 3:, 3:] = lumps.inertia
    arms = np.broadcast_to(lumps.arm[:, None], (count, 2, 3))
    carried = to_ends(np.broadcast_to(np.eye(3), (count, 3, 3)), arms)[:, 0]
    return carried.swapaxes(1, 2) @ own @ carried


def mass_matrix(frame: Frame) -> "csr_array":
    """Mass of all degrees of freedom: bars as they bend, lumps with their arms and inertia; shape (6 n, 6 n), sparse."""
    from scipy.sparse import coo_array

    bars, lumps = frame.bars, frame.lumps
    ends = to_ends(bars.axes, bars.arms)
    own = bar_mass(bars).reshape(-1, 2, PER_NODE, 2, PER_NODE).swapaxes(2, 3)  # (b, end, end, 6, 6)
    of_bars = (ends.swapaxes(-1, -2)[:, :, None] @ own @ ends[:, None]).swapaxes(2, 3)
    at_bars = PER_NODE * bars.ends[:, :, None] + np.arange(PER_NODE)
    at_lumps = PER_NODE * lumps.node[:, None] + np.arange(PER_NODE)
    blocks = (
        (of_bars.reshape(-1, 12, 12), at_bars.reshape(-1, 12)),
        (lump_mass(lumps)[lumps.node != GROUND], at_lumps[lumps.node != GROUND]),
    )
    values = np.concatenate([block.ravel() for block, _ in blocks])
    rows = np.concatenate([np.broadcast_to(at[:, :, None], block.shape).ravel() for block, at in blocks])
    columns = np.concatenate([np.broadcast_to(at[:, None, :], block.shape).ravel() for block, at in blocks])
    matrix = coo_array((values, (rows, columns)), shape=(frame.freedoms, frame.freedoms)).tocsr()
    matrix.eliminate_zeros()
    return matrix


def acceleration_load(mass: "csr_array", acceleration: Array) -> Array:
    """Loads as if every point were pulled with one acceleration: weight for that of free fall, inertia for minus a frame's own.

    Args:
        mass: From `mass_matrix`.
        acceleration: Along x, y, z, m/s2, shape (3,) or, for several cases, (3, k).

    Returns:
        Shape (6 n,) or (6 n, k).
    """
    acceleration = np.asarray(acceleration, dtype=float)
    node = np.concatenate([acceleration, np.zeros_like(acceleration)])
    load: Array = mass @ np.tile(node, (mass.shape[0] // PER_NODE, *(1,) * (node.ndim - 1)))
    return load

"""A group of equal screws under a wrench: what each pulls and shears, whether the faces slip, whether they gape.

Places are plain floats. A wrench is an array of shape ``(6, ...)``: three forces and three moments first, samples and load cases on any
further axes, which every answer keeps; answers of single screws have the screw first, ``(screws, ...)``.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Newton, NewtonMetre, Number, Real

Point: TypeAlias = tuple[float, float, float]

NO_ARM = 1e-9
"""Spread (sum of squared arms, m2, and its ratio of one direction to the other) below which a pattern has no arm."""
NO_TWIST = 1e-9
"""Twist over force, m, that is taken for none where nothing has an arm."""
NOTHING = 1e-300
"""Keeps a division by nothing finite; its result is then replaced."""
SHARINGS = 5
"""How often the friction is shared out anew."""
CREEP = 1e-3
"""Least creep of a screw over the fastest, so that none is taken to hold without limit."""


@dataclass(frozen=True, slots=True)
class BoltForces:
    """Outer forces of the screws of a group."""

    pull: Array
    """Apart, along the normal; negative presses. Shape ``(screws, ...)``."""
    shear: Array
    """Vectors in the plane of the faces, ``(screws, 3, ...)``."""
    unheld: Array
    """Moment in the plane of the faces that the pattern has no arm against, as a row of screws along its own line, ``(...)``."""
    unheld_twist: Array
    """Moment about the normal that a single screw has no arm against, ``(...)``."""

    @property
    def sideways(self) -> Array:
        """Size of the shear of each screw, ``(screws, ...)``."""
        sizes: Array = np.linalg.norm(self.shear, axis=1)
        return sizes


@formula("F_i = F/n + M x r_i/sum r^2 (sum r r^T where the pattern is uneven)", source="shigley")
def bolt_forces(*, wrench: Array, at: Point, points: Sequence[Point], normal: Point) -> BoltForces:
    """Pull and shear of every screw by the centroid method: rigid parts, equal springs.

    A joint that does not gape holds moments by its faces, all over; this shares them among the screws, which stands for the same in
    every pattern that has an arm. Where it has none, the rest is told as ``unheld`` and goes to `levered_pull`.

    Args:
        wrench: Forces and moments on the part that the normal points to, ``(6, ...)``, N and N m.
        at: Point that the moments are about.
        points: Places of the screws.
        normal: Of the faces, from the part that holds to the one that is held.

    Returns:
        Of every screw.

    Source:
        [shigley] centroid of a group of bolts.
    """
    wrench = np.asarray(wrench, dtype=float)
    places, n = np.asarray(points, dtype=float), _unit(normal)
    centre = places.mean(axis=0)
    arms = places - centre
    force = wrench[:3]
    moment = wrench[3:] + np.tensordot(_turning(np.asarray(at) - centre), force, 1)
    flat = arms - np.outer(arms @ n, n)
    pull, unheld = _pulls(force, moment, flat, n)
    polar = float(np.sum(flat**2))
    twist = np.tensordot(n, moment, 1)
    within = force - np.multiply.outer(n, np.tensordot(n, force, 1))
    shear = np.broadcast_to(within / len(places), (len(places), *within.shape)).copy()
    if polar > NO_ARM:
        shear += np.multiply.outer(np.cross(n, flat), twist / polar)
        twist = np.zeros_like(twist)
    return BoltForces(pull, shear, unheld, np.abs(twist))


def _pulls(force: Array, moment: Array, flat: Array, n: Array) -> tuple[Array, Array]:
    """Pull of each screw, and the size of the moment that no arm holds."""
    arms = np.cross(flat, n)  # a pull F n at r has the moment F (r x n)
    spread = arms.T @ arms
    inverse = np.linalg.pinv(spread, rcond=NO_ARM, hermitian=True) if np.trace(spread) > NO_ARM else np.zeros((3, 3))
    across = moment - np.multiply.outer(n, np.tensordot(n, moment, 1))
    pull = np.tensordot(n, force, 1) / len(flat) + np.tensordot(arms @ inverse, across, 1)
    rest = across - np.tensordot(spread @ inverse, across, 1)
    return pull, np.linalg.norm(rest, axis=0)


@formula("F_i = F_pull,i + M_unheld/(n h)", source="derived")
def levered_pull(*, forces: BoltForces, lever: Metre) -> Array:
    """Pull of each screw when the moment without an arm prises the faces apart about their edge.

    Args:
        forces: Of the group.
        lever: From the screws to that edge of the faces.

    Returns:
        Shape ``(screws, ...)``, N.
    """
    more: Array = forces.pull + forces.unheld / (len(forces.pull) * lever)
    return more


@formula("u = max((1 - C) F_i/F_M,min)", source="vdi-2230")
def opening_utilisation(*, pull: Array, preload: Newton, share: Number) -> Number:
    """How near the faces are to gaping at the screw that is pulled most: 1 gapes.

    Args:
        pull: Of each screw, ``(screws, ...)``.
        preload: Least, of one screw.
        share: Of the pull that the screw feels.
    """
    worst: Real = np.max(np.maximum((1 - share) * pull, 0.0) / preload, axis=0)
    return worst


@formula("F_K,i = max(F_M - (1 - C) F_i, 0)", source="vdi-2230")
def clamps(*, pull: Array, preload: Newton, share: Number) -> Array:
    """Force that presses the faces together at each screw.

    Args:
        pull: Of each screw, ``(screws, ...)``.
        preload: Least, of one screw.
        share: Of the pull that the screw feels.

    Returns:
        Shape ``(screws, ...)``, N.
    """
    left: Array = np.maximum(preload - (1 - share) * pull, 0.0)
    return left


@formula(
    "u = max_i |T_i|/(n_faces mu F_K,i), T_i = w_i (v + omega x r_i) in balance with F and T, w_i = F_K,i/|v + omega x r_i|",
    source="derived",
)
def slip_utilisation(
    *,
    wrench: Array,
    at: Point,
    points: Sequence[Point],
    normal: Point,
    clamp: Array,
    friction: Number,
    faces: Number = 1.0,
    pressed_radius: Metre = 0.0,
) -> Number:
    """How near the faces are to slipping under a force and a twist together: 1 slips.

    Friction is shared out so that it balances the wrench, first by how hard each screw presses, then again and again by how the faces
    would creep. Each sharing is one way in which the faces can hold, so that they certainly do below 1 (lower bound of limit analysis);
    the best of them lies within a few per cent of what they hold at most.

    Args:
        wrench: Forces and moments on the held part, ``(6, ...)``, N and N m.
        at: Point that the moments are about.
        points: Places of the screws.
        normal: Of the faces.
        clamp: Force that presses the faces together at each screw, ``(screws, ...)`` or ``(screws,)``.
        friction: Of the faces.
        faces: How many faces would have to slide.
        pressed_radius: Radius at which the ring round each screw presses, which is the only arm of a single screw, m.

    Returns:
        Shape ``(...)``; infinite where nothing presses, and where a twist meets no arm.
    """
    wrench = np.asarray(wrench, dtype=float)
    n = _unit(normal)
    first, second = _in_plane(n)
    places = np.asarray(points, dtype=float) - np.asarray(at)
    clamp = _to(np.asarray(clamp, dtype=float), wrench.ndim)
    x, y = (_to(places @ axis, clamp.ndim) for axis in (first, second))
    load = tuple(np.tensordot(axis, part, 1) for axis, part in ((first, wrench[:3]), (second, wrench[:3]), (n, wrench[3:])))
    weight, best = clamp, np.full(np.broadcast_shapes(clamp.shape[1:], wrench.shape[1:]), np.inf)
    loose = clamp.sum(axis=0) <= 0
    for _ in range(SHARINGS):
        creep, armless = _creep(load, weight, x, y, pressed_radius)
        loose = loose | armless
        used = np.where(clamp > 0, weight * creep / np.where(clamp > 0, clamp, 1.0), 0.0)
        best = np.minimum(best, np.max(used, axis=0))
        weight = clamp / np.maximum(creep, CREEP * np.max(creep, axis=0) + NOTHING)
    return np.where(loose, np.inf, best) / (faces * friction)


def _creep(load: tuple[Array, ...], weight: Array, x: Array, y: Array, ring: Metre) -> tuple[Array, Array]:
    """How fast the worst point round each screw creeps where every screw resists by its weight, and whether a twist meets no arm."""
    total = np.maximum(weight.sum(axis=0), NOTHING)
    middle_x, middle_y = (weight * x).sum(axis=0) / total, (weight * y).sum(axis=0) / total
    x, y = x - middle_x, y - middle_y
    along, across = load[0], load[1]
    twist = load[2] - (middle_x * across - middle_y * along)
    arms = x**2 + y**2 + ring**2
    polar = (weight * arms).sum(axis=0)
    held = polar > NO_ARM * NO_ARM * total
    turn = np.where(held, twist / np.where(held, polar, 1.0), 0.0)
    armless = ~held & (np.abs(twist) > NO_TWIST * np.hypot(along, across) + NOTHING)
    creep: Array = np.hypot(along / total - turn * y, across / total + turn * x) + np.abs(turn) * ring
    return creep, armless


@formula("u = |M|/(mu F r)", source="derived")
def turning_utilisation(*, moment: NewtonMetre, clamp: Newton, friction: Number, radius: Metre) -> Number:
    """How near a part that one screw holds is to turning about it: 1 turns.

    Args:
        moment: About the screw.
        clamp: Least force that presses.
        friction: Of the faces.
        radius: Mean radius at which they press.
    """
    return np.abs(moment) / (friction * clamp * radius)


def _turning(arm: Array) -> Array:
    """The matrix that makes the moment arm x force of a force."""
    x, y, z = arm
    return np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])


def _unit(vector: Point | Array) -> Array:
    found: Array = np.asarray(vector, dtype=float)
    return found / np.linalg.norm(found)


def _in_plane(n: Array) -> tuple[Array, Array]:
    """Two unit vectors square to the normal, right-handed with it."""
    start = np.eye(3)[int(np.argmin(np.abs(n)))]
    first = _unit(np.cross(start, n))
    return first, np.cross(n, first)


def _to(array: Array, axes: int) -> Array:
    """The array with axes of one added at its end."""
    return array.reshape(array.shape + (1,) * (axes - array.ndim))

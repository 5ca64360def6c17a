"""How hard a part that friction holds can be pushed off its centre before it slips: exact plastic limit.

A push beside the centre of the grip turns the part as well as shifting it, and then holds far less than the same push through the
centre. Places are plain floats; what comes back is a share of the friction force, so that pressure and friction may be sampled.
"""

from functools import cache

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Newton, Number

SPOTS = 12
"""Points of quadrature along each side of a pressed rectangle: within 0.2 % of the integral wherever the part turns about."""
ROUNDS = 16
"""How often the shares of friction are set anew by how the part would slide."""
RAYS = 16
"""Directions over half a turn in which the push of a cutter is tried; the grip is the same against a push to the other side."""
STILL = 1e-3
"""Least slide of a point over the fastest, so that a point about which the part turns is not taken to hold without limit."""


@formula("F/F_0 = min over sliding v with v_P . d = 1 of sum s_i |v(r_i)|", source="derived")
def held_share(*, points: Array, shares: Array, at: Array, along: Array) -> Number:
    """Part of the whole friction force that is left against a push at a place in a direction: 1 through the centre of the grip.

    Friction is shared out in balance with the push, again and again by how the part would then slide; every sharing is one way in which
    the part can be held, so that it certainly is up to what is told (lower bound of limit analysis). The least work of all slidings, the
    upper bound, is met within a few thousandths for faces and within two hundredths for a few clamps.

    Args:
        points: Places that press, shape (n, 2), m.
        shares: Part of the whole friction force that each bears, shape (n,), adding up to 1.
        at: Where the part is pushed, shape (..., 2), m.
        along: Direction of the push, unit vectors, shape (..., 2).

    Returns:
        Shape (...), 0 to 1; a single point holds no push that passes beside it.

    Source:
        [derived] limit analysis of friction; linear programming and a search over all centres of turning find the same (tests/against).
    """
    points, shares, at, along = (np.asarray(value, dtype=float) for value in (points, shares, at, along))
    arms = points - at[..., None, :]
    reach = np.maximum(np.sqrt(np.max(np.sum(arms**2, axis=-1), axis=-1)), 1e-12)[..., None]
    forth = along[..., None, :]
    x, y = arms[..., 0], arms[..., 1]
    side = np.stack((-forth[..., 1], forth[..., 0]), axis=-1)
    turn_x, turn_y = -y / reach, x / reach
    turned_forth = forth[..., 0] * turn_x + forth[..., 1] * turn_y
    turned_side = side[..., 0] * turn_x + side[..., 1] * turn_y
    arm2 = turn_x**2 + turn_y**2
    weight = np.broadcast_to(shares, x.shape)
    best = np.zeros(at.shape[:-1])
    for _ in range(ROUNDS):
        total, cross, polar, lean = (np.sum(weight * part, axis=-1) for part in (np.ones_like(x), turned_side, arm2, turned_forth))
        # side-step s and turn w of least work: [total cross; cross polar] [s; w] = -[0; lean]
        free = total * polar - cross**2
        held = free > 1e-12 * total * polar
        turn = np.where(held, -lean * total / np.where(held, free, 1.0), 0.0)
        step = -turn * cross / total
        slide = np.hypot(1 + turn[..., None] * turned_forth, step[..., None] + turn[..., None] * turned_side)
        bears = weight * slide
        push = np.sum(weight * (1 + turn[..., None] * turned_forth), axis=-1)
        most = np.max(np.where(shares > 0, bears / np.where(shares > 0, shares, 1.0), 0.0), axis=-1)
        balanced = held | (np.abs(lean) <= 1e-9 * total)
        best = np.maximum(best, np.where(balanced & (most > 0), push / np.where(most > 0, most, 1.0), 0.0))
        weight = shares / np.maximum(slide, STILL * np.max(slide, axis=-1, keepdims=True) + 1e-12)
    return best if best.ndim else float(best)


@formula("least of F/F_0 over the corners of the part and all directions", source="derived")
def least_share(*, points: Array, shares: Array, corners: Array) -> Number:
    """Part of the friction force that is left against a push at the worst place of a part, in the worst direction.

    What a grip stands is a convex set of forces and moments, so that a convex part is never worse off between its corners than at them.

    Args:
        points: Places that press, shape (n, 2), m.
        shares: Part of the whole friction force that each bears, shape (n,), adding up to 1.
        corners: Of the part, or of its outline without hollows, shape (c, 2), m.

    Returns:
        One number.
    """
    turns = np.arange(RAYS) * np.pi / RAYS
    rays = np.stack((np.cos(turns), np.sin(turns)), axis=-1)
    at = np.repeat(np.asarray(corners, dtype=float), RAYS, axis=0)
    along = np.tile(rays, (len(corners), 1))
    arms = at - np.asarray(shares) @ np.asarray(points)
    sizes = np.hypot(arms[:, 0], arms[:, 1])
    across = np.stack((-arms[:, 1], arms[:, 0]), axis=-1)[sizes > 0] / sizes[sizes > 0, None]
    found = held_share(points=points, shares=shares, at=np.concatenate((at, at[sizes > 0])), along=np.concatenate((along, across)))
    return float(np.min(found))


def rectangle(*, length: Metre, width: Metre) -> tuple[Array, Array]:
    """Points that stand for an evenly pressed rectangle with its middle at the origin.

    Args:
        length: Along x, m.
        width: Along y, m.

    Returns:
        Places (n, 2) and the share of each (n,).
    """
    nodes, weights = _gauss()
    x, y = np.meshgrid(nodes * length / 2, nodes * width / 2, indexing="ij")
    places: Array = np.stack((x.ravel(), y.ravel()), axis=-1)
    return places, np.outer(weights, weights).ravel() / 4


@formula("F/F_0 of an evenly pressed rectangle", source="derived")
def rectangle_share(*, length: Metre, width: Metre, at: tuple[Metre, Metre], along: tuple[Number, Number]) -> Number:
    """Part of the friction force of an evenly pressed rectangle that is left against a push at a place in a direction.

    Args:
        length: Along x, m.
        width: Along y, m.
        at: Where it is pushed, from its middle, m.
        along: Direction of the push.

    Returns:
        0 to 1.

    Example:
        >>> round(rectangle_share(length=0.2, width=0.1, at=(0.1, 0.05), along=(0.0, 1.0)), 3)
        0.475
    """
    points, shares = rectangle(length=length, width=width)
    direction = np.asarray(along, dtype=float)
    return held_share(points=points, shares=shares, at=np.asarray(at), along=direction / np.hypot(*direction))


@formula("least of F/F_0 over the corners of an evenly pressed rectangle and all directions", source="derived")
def worst_rectangle_share(*, length: Metre, width: Metre) -> Number:
    """Part of the friction force of an evenly pressed rectangle that is left wherever it is pushed: 0.41 (a strip) to 0.46 (a square).

    Args:
        length: m.
        width: m.

    Returns:
        The same for every size of one shape.

    Example:
        >>> round(worst_rectangle_share(length=0.1, width=0.1), 2)
        0.46
    """
    return _worst(float(length), float(width))


@cache
def _worst(length: float, width: float) -> float:
    points, shares = rectangle(length=length, width=width)
    return float(least_share(points=points, shares=shares, corners=np.array([[length / 2, width / 2]])))


@formula("F = sum mu_i N_i s_i/S", source="derived")
def slip_limit(*, friction_forces: tuple[Newton, ...], shares: tuple[Number, ...], safety: Number = 1.0) -> Newton:
    """Push that a part held in several ways at once certainly stands: each way by its own share of the same push.

    The ways help one another when the part turns, so that they hold a little more together than is told here.

    Args:
        friction_forces: Friction coefficient times normal force, of each way.
        shares: What is left of each against the push, from `held_share`.
        safety: Divisor.

    Returns:
        Force.
    """
    total: Newton = 0.0
    for force, share in zip(friction_forces, shares, strict=True):
        total = total + force * share
    return total / safety


@cache
def _gauss() -> tuple[Array, Array]:
    nodes, weights = np.polynomial.legendre.leggauss(SPOTS)
    return nodes, weights

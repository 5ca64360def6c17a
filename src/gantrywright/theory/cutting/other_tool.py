"""From the tool that a machine is drawn with to the tool of a job: give at another tip, height and direction.

Shifts and turns stand together as (x, y, z, about x, about y, about z), z upwards along the spindle. Cutters are told by their own give
(`cutter_give.tip_matrix`): in series with all the rest, so that one may be taken out and another put in.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Number, Pascal, Radian
from gantrywright.theory.cutting.cutter_give import give_between


@formula("u' = u + theta x d", source="definition")
def moved_motions(*, motions: Array, by: Array) -> Array:
    """Shift and turn of another point of the same rigid piece.

    Args:
        motions: Shift and turn of the first point in some cases or modes, shape (..., 6, m).
        by: From the first point to the other, shape (..., 3).

    Returns:
        Of the other point, shape (..., 6, m).
    """
    return carry(by) @ motions


@formula("C' = T C T^T, T = [[1, -[d]x], [0, 1]]", source="derived")
def moved_give(*, give: Array, by: Array) -> Array:
    """Give at another point of the same rigid piece.

    Args:
        give: Shift and turn per force and moment at the first point, shape (..., 6, 6).
        by: From the first point to the other, shape (..., 3).

    Returns:
        The same at the other point, shape (..., 6, 6).
    """
    way = carry(by)
    return way @ give @ np.swapaxes(way, -1, -2)


@formula("C_rest = C_tip - C_cutter", source="derived")
def without_cutter(*, give: Array, cutter: Array) -> Array:
    """Give at the tip of all but the cutter: as if the cutter were rigid.

    Args:
        give: At the tip, cutter and all, shape (..., 6, 6).
        cutter: Of its cutter alone, shape (..., 6, 6).
    """
    return give - cutter


@formula("C' = T (C_tip - C_cutter) T^T + C'_cutter, d = (0, 0, L - L')", source="derived")
def give_with_other(*, give: Array, drawn: Array, other: Array, stick_out: Metre, other_stick_out: Metre) -> Array:
    """Give at the tip of another cutter in the same collet, the machine standing as before.

    Args:
        give: At the tip of the drawn cutter, all together, shape (..., 6, 6).
        drawn: Of the drawn cutter alone, `cutter_give.tip_matrix`, shape (..., 6, 6).
        other: Of the other cutter alone, shape (..., 6, 6).
        stick_out: Of the drawn cutter from its collet.
        other_stick_out: Of the other.

    Returns:
        At the other tip, shape (..., 6, 6).
    """
    rest = without_cutter(give=give, cutter=drawn)
    return moved_give(give=rest, by=upwards(stick_out - other_stick_out)) + other


@formula("C(z) = J(z) C_rest J(a)^T + c(z, a) diag(1, 1, 0) + C_zz", source="derived")
def give_at_heights(
    *, rest: Array, axial: Number, force_at: Metre, heights: Array, shank_length: Metre, shank_diameter: Metre, flute_length: Metre,
    flute_diameter: Metre, elastic_modulus: Pascal, shear_modulus: Pascal,
) -> Array:  # fmt: skip
    """Shift of the cutter at some heights per force at another.

    Args:
        rest: Give at the tip of all but the cutter, shape (..., 6, 6).
        axial: Give of the cutter along itself, entry (2, 2) of its `tip_matrix`.
        force_at: Height of the force above the tip, half the depth of cut.
        heights: Above the tip, shape (h,), or (..., h).
        shank_length: Of the plain shank from the collet face to the flutes.
        shank_diameter: Of the shank.
        flute_length: From there to the tip.
        flute_diameter: Of the round bar that bends like the fluted part.
        elastic_modulus: Of the cutter.
        shear_modulus: Of the cutter.

    Returns:
        Shape (..., h, 3, 3).
    """
    load = carry(upwards(force_at))[..., :3, :]
    seen = carry(upwards(heights))[..., :3, :]
    machine = seen @ (rest @ np.swapaxes(load, -1, -2))[..., None, :, :]
    held = {
        name: np.asarray(value, float)[..., None]
        for name, value in (
            ("force_at", force_at), ("shank_length", shank_length), ("shank_diameter", shank_diameter), ("flute_length", flute_length),
            ("flute_diameter", flute_diameter), ("elastic_modulus", elastic_modulus), ("shear_modulus", shear_modulus),
        )
    }  # fmt: skip
    bends = np.asarray(give_between(seen_at=heights, **held))[..., None, None] * np.diag([1.0, 1.0, 0.0])
    give: Array = machine + bends + np.asarray(axial, float)[..., None, None, None] * np.diag([0.0, 0.0, 1.0])
    return give


@formula("C' = R C R^T, R = [[cos g, sin g, 0], [-sin g, cos g, 0], [0, 0, 1]]", source="definition")
def give_in_feed_axes(*, give: Array, direction: Radian) -> Array:
    """Give told along the feed, to its left and upwards.

    Args:
        give: Along X, Y, Z of the machine, shape (..., 3, 3).
        direction: Of the feed, counter-clockwise from X; several have shape (d,).

    Returns:
        Shape (..., 3, 3), or (..., d, 3, 3).
    """
    turn = _turn(direction)
    wide = give if turn.ndim == 2 else give[..., None, :, :]
    return turn @ wide @ np.swapaxes(turn, -1, -2)


def upwards(height: Metre) -> Array:
    """A way along the spindle, shape (..., 3)."""
    up = np.asarray(height, float)
    return np.stack((0 * up, 0 * up, up), axis=-1)


def carry(by: Array) -> Array:
    """What takes shift and turn to another point of the same rigid piece, shape (..., 6, 6)."""
    x, y, z = np.moveaxis(np.asarray(by, float), -1, 0)
    moved = np.zeros((*np.shape(x), 6, 6))
    moved[...] = np.eye(6)
    moved[..., 0, 4], moved[..., 0, 5] = z, -y
    moved[..., 1, 3], moved[..., 1, 5] = -z, x
    moved[..., 2, 3], moved[..., 2, 4] = y, -x
    return moved


def _turn(direction: Radian) -> Array:
    cos, sin = np.cos(direction), np.sin(direction)
    turn = np.zeros((*np.shape(cos), 3, 3))
    turn[..., 0, 0] = turn[..., 1, 1] = cos
    turn[..., 0, 1], turn[..., 1, 0] = sin, -np.asarray(sin)
    turn[..., 2, 2] = 1.0
    return turn

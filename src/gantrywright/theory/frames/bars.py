"""A straight elastic bar: its six natural stiffnesses, its inner motions, and its give between ends that are held.

Own axes of a bar: x along it, y the height axis, z = x cross y. Motions of a point in the order along x, y, z, then about x, y, z.
All stiffness is elementwise; an axis of bars, places or motions stands last.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Array,
    Metre,
    Newton,
    NewtonMetrePerRadian,
    NewtonPerMetre,
    NewtonSquareMetre,
    Number,
    Real,
)

SIGNS = np.array([1.0, -1.0])
"""A slope dv/dx is a turn about +z, a slope dw/dx a turn about -y."""


@formula("d = E A / L", source="przemieniecki-1968")
def axial_stiffness(*, axial: Newton, length: Metre) -> NewtonPerMetre:
    """Force that pulls the ends of a bar apart by one metre.

    Args:
        axial: E A.
        length: Of the bar.

    Source:
        Przemieniecki, chapter 5.
    """
    return axial / length


@formula("d = G J / L", source="przemieniecki-1968")
def torsion_stiffness(*, torsion: NewtonSquareMetre, length: Metre) -> NewtonMetrePerRadian:
    """Torque that turns one end of a bar against the other by one radian; warping is free.

    Args:
        torsion: G J.
        length: Of the bar.

    Source:
        Przemieniecki, chapter 5.
    """
    return torsion / length


@formula("d = E I / L", source="przemieniecki-1968")
def even_bending_stiffness(*, bending: NewtonSquareMetre, length: Metre) -> NewtonMetrePerRadian:
    """Two equal and opposite end moments that turn the ends against each other by one radian.

    Args:
        bending: E I in the plane of bending.
        length: Of the bar.

    Source:
        Przemieniecki, chapter 5, in natural motions.
    """
    return bending / length


@formula("p = 12 E I / (G A_s L^2)", source="przemieniecki-1968")
def shear_parameter(*, bending: NewtonSquareMetre, shear: Newton, length: Metre) -> Number:
    """How much a bar gives in shear against bending: 0 for a slender one.

    Args:
        bending: E I in the plane of bending.
        shear: G A_s for a force in that plane; infinite where shear is not to give.
        length: Of the bar.

    Source:
        Przemieniecki, chapter 5.

    Example:
        >>> shear_parameter(bending=1.0, shear=12.0, length=0.5), shear_parameter(bending=1.0, shear=float("inf"), length=0.5)
        (4.0, 0.0)
    """
    return 12 * bending / (shear * length**2)


@formula("d = 3 E I / (L (1 + p))", source="przemieniecki-1968")
def odd_bending_stiffness(*, bending: NewtonSquareMetre, length: Metre, shear_parameter: Number = 0.0) -> NewtonMetrePerRadian:
    """Two equal end moments for one radian of the sum of both end slopes against the chord: bending with shear.

    Its give L/(3 E I) + 4/(G A_s L) splits exactly into bending and shear.

    Args:
        bending: E I in the plane of bending.
        length: Of the bar.
        shear_parameter: p; 0 leaves the bending part alone.

    Source:
        Przemieniecki, chapter 5, in natural motions.
    """
    return 3 * bending / (length * (1 + shear_parameter))


@formula("d = E A/L, G J/L, E I/L, 3 E I/(L (1 + p)), in two planes", source="przemieniecki-1968")
def natural_coefficients(*, length: Metre, axial: Newton, torsion: NewtonSquareMetre, bend_height: NewtonSquareMetre,
                      bend_width: NewtonSquareMetre, shear_height: Newton = np.inf, shear_width: Newton = np.inf) -> Array:  # fmt: skip
    """Natural coefficients of bars.

    Args:
        length: Shape (b,) or a number.
        axial: E A, shape (..., b).
        torsion: G J.
        bend_height: E I in the plane of the height axis.
        bend_width: E I in the other plane.
        shear_height: G A_s for a force along the height axis.
        shear_width: G A_s for a force along z.

    Returns:
        Shape (..., b, 6) in the order of `frame.NATURAL`.

    Source:
        Przemieniecki, chapter 5, in natural motions.
    """
    parts = [axial_stiffness(axial=axial, length=length), torsion_stiffness(torsion=torsion, length=length)]
    for bend, shear in ((bend_height, shear_height), (bend_width, shear_width)):
        softness = shear_parameter(bending=bend, shear=shear, length=length)
        parts.append(even_bending_stiffness(bending=bend, length=length))
        parts.append(odd_bending_stiffness(bending=bend, length=length, shear_parameter=softness))
    return np.stack(np.broadcast_arrays(*parts), axis=-1)


@formula("e = u2-u1, rx2-rx1, rz2-rz1, rz1+rz2-2(v2-v1)/L, ry2-ry1, ry1+ry2+2(w2-w1)/L", source="derived")
def natural_rows(*, length: Array, shear_centre: Array | None = None) -> Array:
    """Natural motions of bars from the motions of their ends at the centroid, in own axes.

    Bars bend with shear as their shear centre moves: v - z_s rx and w + y_s rx stand for v and w.

    Args:
        length: Shape (b,).
        shear_centre: From the centroid along y and z, m, shape (b, 2); None where it is the centroid.

    Returns:
        Shape (b, 6, 12); columns: first end, then second end.

    Source:
        Derived: six motions that no rigid motion stirs and that do no work on each other.
    """
    rows = np.zeros((*np.shape(length), 6, 12))
    slope = 2 / np.asarray(length)
    for row, turn in ((0, 0), (1, 3), (2, 5), (4, 4)):
        rows[..., row, turn], rows[..., row, turn + 6] = -1.0, 1.0
    for row, shift, turn, sign in ((3, 1, 5, -1.0), (5, 2, 4, 1.0)):
        rows[..., row, turn] = rows[..., row, turn + 6] = 1.0
        rows[..., row, shift], rows[..., row, shift + 6] = -sign * slope, sign * slope
    return rows if shear_centre is None else seen_from(rows, shear_centre, back=True)


def seen_from(rows: Array, shear_centre: Array, *, back: bool = False) -> Array:
    """Turn rows that take motions at the centroid into rows that take those of the shear centre across the bar.

    Motion along the bar stays that of the centroid, where a pull does not bend.

    Args:
        rows: Shape (..., 6) or (..., 12), columns of one end or of two, own axes.
        shear_centre: From the centroid along y and z, m, shape (..., 2) with the leading axes of ``rows`` but for its last but one.
        back: The other way round.
    """
    told = rows.copy()
    sign = -1.0 if back else 1.0
    up, side = (sign * shear_centre[..., k, None] for k in (0, 1))
    for end in range(0, rows.shape[-1], 6):
        told[..., end + 3] += side * rows[..., end + 1] - up * rows[..., end + 2]
    return told


@formula("v, dv/dx of a bar that gives in shear, cubic in x/L, exact for loads at its ends", source="friedman-kosmatka-1993")
def inner_motion(*, place: Array, length: Metre, shear_height: Number, shear_width: Number) -> Array:
    """Motion of a place inside a bar that is loaded at its ends only, from the motions of its ends, in own axes.

    Args:
        place: Distance from the first end over the length, 0 to 1, shape (...,).
        length: Of the bar; shape (...,) or a number, as the next two.
        shear_height: Shear parameter p in the plane of the height axis.
        shear_width: Shear parameter in the other plane.

    Returns:
        Shape (..., 6, 12); columns: first end, then second end.

    Source:
        Friedman and Kosmatka.
    """
    place, length = np.broadcast_arrays(np.asarray(place, dtype=float), length)
    motion = np.zeros((*np.broadcast_shapes(place.shape, np.shape(shear_height), np.shape(shear_width)), 6, 12))
    for along in (0, 3):
        motion[..., along, along], motion[..., along, along + 6] = 1 - place, place
    for softness, shift, turn, sign in ((shear_height, 1, 5, 1.0), (shear_width, 2, 4, -1.0)):
        columns = (shift, turn, shift + 6, turn + 6)
        signs = (1.0, sign, 1.0, sign)
        for row, terms in ((shift, _deflection(place, length, softness)), (turn, _slope(place, length, softness))):
            for column, term, of_column in zip(columns, terms, signs, strict=True):
                motion[..., row, column] = term * of_column * (1.0 if row == shift else sign)
    return motion


def _deflection(x: Array, length: Real, p: Real) -> tuple[Real, Real, Real, Real]:
    """Deflection at x from v1, slope 1, v2, slope 2."""
    scale = 1 / (1 + p)
    first = scale * (2 * x**3 - 3 * x**2 - p * x + 1 + p)
    return (
        first,
        scale * length * (x**3 - (2 + p / 2) * x**2 + (1 + p / 2) * x),
        1 - first,
        scale * length * (x**3 - (1 - p / 2) * x**2 - p / 2 * x),
    )


def _slope(x: Array, length: Real, p: Real) -> tuple[Real, Real, Real, Real]:
    """Turn of the section at x from v1, slope 1, v2, slope 2."""
    scale = 1 / (1 + p)
    chord = scale * 6 / length * (x**2 - x)
    return (chord, scale * (3 * x**2 - (4 + p) * x + 1 + p), -chord, scale * (3 * x**2 - (2 - p) * x))


@formula("F = F_free - F_free(., L) F_free(L, L)^-1 F_free(L, .), F_free of a bar held at its first end only", source="derived")
def clamped_give(*, places: Array, length: Metre, axial: Newton, torsion: NewtonSquareMetre, bend_height: NewtonSquareMetre,
                 bend_width: NewtonSquareMetre, shear_height: Newton = np.inf, shear_width: Newton = np.inf) -> Array:  # fmt: skip
    """Joint give of places inside one bar whose two ends are held: what the motion of the ends alone leaves out.

    The motion of a loaded place is `inner_motion` of the ends plus this give times the loads on all places. Places may coincide or
    stand at an end (where the give is nil).

    Args:
        places: Distance from the first end, m, shape (..., k); leading axes broadcast with those of the stiffness.
        length: Of the bar.
        axial: E A, a number or shape (...,).
        torsion: G J.
        bend_height: E I in the plane of the height axis.
        bend_width: E I in the other plane.
        shear_height: G A_s for a force along the height axis.
        shear_width: G A_s for a force along z.

    Returns:
        Shape (..., 6 k, 6 k), m/N and rad/(N m), own axes, place by place.

    Source:
        Derived: unit loads on a cantilever, its far end then brought back.
    """
    places = np.asarray(places, dtype=float)
    own = [np.asarray(value, dtype=float) for value in (axial, torsion, bend_height, bend_width, shear_height, shear_width)]
    lead = np.broadcast_shapes(places.shape[:-1], np.shape(length), *(value.shape for value in own))
    count = places.shape[-1]
    length = np.broadcast_to(length, lead)[..., None]
    wide = np.concatenate([np.broadcast_to(places, (*lead, count)), length], axis=-1)
    give = np.zeros((*lead, count, 6, count, 6))
    pull, twist, *planes = [np.broadcast_to(value, lead)[..., None, None] for value in own]
    inner = wide[..., :-1]
    reach = np.minimum(inner[..., :, None], inner[..., None, :]) - inner[..., :, None] * inner[..., None, :] / length[..., None]
    give[..., :, 0, :, 0], give[..., :, 3, :, 3] = reach / pull, reach / twist
    for bend, shear, shift, turn, sign in ((planes[0], planes[2], 1, 5, 1.0), (planes[1], planes[3], 2, 4, -1.0)):
        block = _brought_back(_cantilever_give(wide, bend, shear))
        give[..., :, shift, :, shift] = block[..., :, 0, :, 0]
        give[..., :, shift, :, turn] = sign * block[..., :, 0, :, 1]
        give[..., :, turn, :, shift] = sign * block[..., :, 1, :, 0]
        give[..., :, turn, :, turn] = block[..., :, 1, :, 1]
    return give.reshape(*lead, 6 * count, 6 * count)


def _cantilever_give(places: Array, bend: Array, shear: Array) -> Array:
    """Deflection and slope at each place from force and moment at each place, shape (..., k, 2, k, 2)."""
    here, there = places[..., :, None], places[..., None, :]
    near = np.minimum(here, there)
    give = np.empty((*near.shape[:-1], 2, near.shape[-1], 2))
    give[..., :, 0, :, 0] = (here * there * near - (here + there) * near**2 / 2 + near**3 / 3) / bend + near / shear
    give[..., :, 0, :, 1] = (here * near - near**2 / 2) / bend
    give[..., :, 1, :, 0] = (there * near - near**2 / 2) / bend
    give[..., :, 1, :, 1] = near / bend
    return give


def _brought_back(give: Array) -> Array:
    """Give of all places but the last when the last is held, shape (..., k - 1, 2, k - 1, 2)."""
    lead, count = give.shape[:-4], give.shape[-4] - 1
    flat = give.reshape(*lead, 2 * count + 2, 2 * count + 2)
    inner, far, held = flat[..., :-2, :-2], flat[..., -2:, :-2], flat[..., -2:, -2:]
    left = inner - np.swapaxes(far, -1, -2) @ np.linalg.solve(held, far)
    return left.reshape(*lead, count, 2, count, 2)

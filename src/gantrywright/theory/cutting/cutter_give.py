"""How a cutter bends, where it is loaded and where it is looked at, its stress and its first mode.

A stepped round cantilever from the collet face to the tip: shank, then the fluted part as the plain round bar that bends like it
(`theory.tools.bending_diameter`). Heights count upwards from the tip. Every function is elementwise; an axis of heights is the last one.
"""

from typing import NamedTuple

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Array,
    Hertz,
    Kilogram,
    KilogramPerCubicMetre,
    Metre,
    MetrePerNewton,
    Newton,
    NewtonMetrePerRadian,
    NewtonPerMetre,
    Number,
    Pascal,
    Real,
)
from gantrywright.theory.sections.plain import ring_second_moment, round_shear_area

POINTS = 12
"""Gauss points on each of shank and flutes at which the mass of a cutter is lumped for its first mode."""


class FirstMode(NamedTuple):
    """First bending mode of a cutter that is held at its collet."""

    frequency: Hertz
    mass: Kilogram
    """Modal mass where the tip moves by 1."""
    stiffness: NewtonPerMetre
    """Modal stiffness at the tip."""
    carried: Kilogram
    """Integral of mass times shape: what a shifting collet stirs it by."""
    tilted: Real
    """Integral of mass times shape times the way down from the collet, kg m: what a turning collet stirs it by."""
    slope: Real
    """Of the shape at the tip, 1/m."""
    whole: tuple[Kilogram, Real, Real]
    """Mass that stands out of the collet, and its first and second moments about the collet face, kg, kg m, kg m2."""


@formula("c(z, a) = integral over x of [(x - z)(x - a)/(E I) + 1/(G A_s)] from max(z, a) to the collet", source="derived")
def give_between(
    *, force_at: Metre, seen_at: Metre, shank_length: Metre, shank_diameter: Metre, flute_length: Metre, flute_diameter: Metre,
    elastic_modulus: Pascal, shear_modulus: Pascal,
) -> MetrePerNewton:  # fmt: skip
    """Sideways give of a cutter against its collet between two heights, bending and shear.

    Args:
        force_at: Height of the force above the tip.
        seen_at: Height above the tip at which the motion is told.
        shank_length: Of the plain shank from the collet face to the flutes.
        shank_diameter: Of the shank.
        flute_length: From there to the tip.
        flute_diameter: Of the round bar that bends like the fluted part.
        elastic_modulus: Of the cutter.
        shear_modulus: Of the cutter; infinite leaves shear out.

    Returns:
        Deflection per force; the same where both heights change places; 0 inside the collet.

    Source:
        Derived: unit load. Shear area of a round bar as everywhere in the house, 0.85 of the area (others take 0.9: 0.1 % of the whole).
    """
    out = shank_length + flute_length
    start = np.maximum(np.maximum(force_at, seen_at), 0.0)
    give: Real = 0.0
    for low, high, diameter in ((0.0 * out, flute_length, flute_diameter), (flute_length, out, shank_diameter)):
        below = np.clip(start, low, high)
        second, area = _section(diameter, elastic_modulus, shear_modulus)
        give = (
            give
            + _lever_integral(below, high, force_at, seen_at) / (elastic_modulus * second)
            + (high - below) / (shear_modulus * area)
        )
    return give


@formula("c = [L_f^3/I_f + ((L_s + L_f)^3 - L_f^3)/I_s]/(3 E) + sum L/(G A_s)", source="derived")
def tip_give(
    *, shank_length: Metre, shank_diameter: Metre, flute_length: Metre, flute_diameter: Metre, elastic_modulus: Pascal,
    shear_modulus: Pascal,
) -> MetrePerNewton:  # fmt: skip
    """Sideways give of a cutter's tip against its collet, bending and shear.

    Args:
        shank_length: Of the plain shank from the collet face to the flutes.
        shank_diameter: Of the shank.
        flute_length: From there to the tip.
        flute_diameter: Of the round bar that bends like the fluted part.
        elastic_modulus: Of the cutter.
        shear_modulus: Of the cutter.

    Returns:
        Deflection per force.
    """
    return give_between(
        force_at=0.0, seen_at=0.0, shank_length=shank_length, shank_diameter=shank_diameter, flute_length=flute_length,
        flute_diameter=flute_diameter, elastic_modulus=elastic_modulus, shear_modulus=shear_modulus,
    )  # fmt: skip


@formula("c = 1/k + a^2/k_t", source="derived")
def seat_give(*, lateral: NewtonPerMetre, tilt: NewtonMetrePerRadian, reach: Metre) -> MetrePerNewton:
    """What collet and spindle add to the give of a cutter: shift and tilt at the collet face.

    Args:
        lateral: Stiffness sideways at the collet face.
        tilt: Stiffness about it.
        reach: From the collet face to the force.
    """
    return 1 / lateral + reach**2 / tilt


@formula("C = integrals of 1, x, x^2 over E I, of 1 over G A_s, E A, G J", source="derived")
def tip_matrix(
    *, shank_length: Metre, shank_diameter: Metre, flute_length: Metre, flute_diameter: Metre, elastic_modulus: Pascal,
    shear_modulus: Pascal,
) -> Array:  # fmt: skip
    """Give of a cutter's tip against its collet for forces along and moments about x, y, z; z upwards along the cutter.

    Args:
        shank_length: Of the plain shank from the collet face to the flutes.
        shank_diameter: Of the shank.
        flute_length: From there to the tip.
        flute_diameter: Of the round bar that bends like the fluted part.
        elastic_modulus: Of the cutter.
        shear_modulus: Of the cutter.

    Returns:
        Shift and turn at the tip per force and moment there, shape (..., 6, 6).
    """
    out = shank_length + flute_length
    turn: Real = 0.0
    both: Real = 0.0
    shift: Real = 0.0
    along: Real = 0.0
    about: Real = 0.0
    for low, high, diameter in ((0.0 * out, flute_length, flute_diameter), (flute_length, out, shank_diameter)):
        second, area = _section(diameter, elastic_modulus, shear_modulus)
        bending = elastic_modulus * second
        turn = turn + (high - low) / bending
        both = both + (high**2 - low**2) / 2 / bending
        shift = shift + (high**3 - low**3) / 3 / bending + (high - low) / (shear_modulus * area)
        along = along + (high - low) / (elastic_modulus * np.pi / 4 * diameter**2)
        about = about + (high - low) / (2 * shear_modulus * second)
    give = np.zeros((*np.shape(shift), 6, 6))
    for at, value in {(0, 0): shift, (1, 1): shift, (2, 2): along, (3, 3): turn, (4, 4): turn, (5, 5): about}.items():
        give[(..., *at)] = value
    give[..., 0, 4] = give[..., 4, 0] = -np.asarray(both)
    give[..., 1, 3] = give[..., 3, 1] = both
    return give


@formula("s = 32 F max((z_s - a)/(pi d_f^3), (L - a)/(pi d_s^3))", source="derived")
def cutter_stress(
    *, force: Newton, force_at: Metre, shank_length: Metre, shank_diameter: Metre, flute_length: Metre, flute_diameter: Metre
) -> Pascal:
    """Greatest bending stress of a cutter: where the flutes end or at the collet face.

    Args:
        force: Across the cutter, greatest of a revolution.
        force_at: Height of the force above the tip, half the depth of cut.
        shank_length: Of the plain shank from the collet face to the flutes; 0 where the flutes begin in the collet.
        shank_diameter: Of the shank.
        flute_length: From there to the tip.
        flute_diameter: Of the round bar that bends like the fluted part.

    Returns:
        Stress of the plain round bars; what the ends of the flutes add is for the limit to hold.
    """
    at_flutes = np.maximum(flute_length - force_at, 0.0) / flute_diameter**3
    at_collet = np.where(shank_length > 0, np.maximum(shank_length + flute_length - force_at, 0.0) / shank_diameter**3, 0.0)
    stress: Real = 32 * force / np.pi * np.maximum(at_flutes, at_collet)
    return stress


@formula("det(1/w^2 - sqrt(m_i) c(z_i, z_j) sqrt(m_j)) = 0 at Gauss points", source="derived")
def first_mode(
    *, shank_length: Metre, shank_diameter: Metre, flute_length: Metre, flute_diameter: Metre, flute_area_share: Number,
    cutting_diameter: Metre, elastic_modulus: Pascal, shear_modulus: Pascal, density: KilogramPerCubicMetre,
) -> FirstMode:  # fmt: skip
    """First bending mode of a cutter in a stiff collet.

    Args:
        shank_length: Of the plain shank from the collet face to the flutes.
        shank_diameter: Of the shank.
        flute_length: From there to the tip.
        flute_diameter: Of the round bar that bends like the fluted part.
        flute_area_share: Metal left of the full circle between the flutes, about 0.6: what has mass.
        cutting_diameter: Of that full circle.
        elastic_modulus: Of the cutter.
        shear_modulus: Of the cutter.
        density: Of the cutter.

    Returns:
        Frequency, modal mass and stiffness at the tip; turning of the sections left out.
    """
    at, weight = np.polynomial.legendre.leggauss(POINTS)
    at, weight = (at + 1) / 2, weight / 2
    long, shank = np.asarray(flute_length, float)[..., None], np.asarray(shank_length, float)[..., None]
    circle = np.pi / 4 * density
    per_flute = np.asarray(circle * flute_area_share * cutting_diameter**2, float)[..., None]
    per_shank = np.asarray(circle * shank_diameter**2, float)[..., None]
    low, high, light, heavy = np.broadcast_arrays(
        long * at, long + shank * at, long * weight * per_flute, shank * weight * per_shank
    )
    places = np.concatenate((low, high), axis=-1)
    root = np.sqrt(np.concatenate((light, heavy), axis=-1))
    held = {
        name: np.asarray(value, float)[..., None, None]
        for name, value in (
            ("shank_length", shank_length), ("shank_diameter", shank_diameter), ("flute_length", flute_length),
            ("flute_diameter", flute_diameter), ("elastic_modulus", elastic_modulus), ("shear_modulus", shear_modulus),
        )
    }  # fmt: skip
    gives = np.asarray(give_between(force_at=places[..., None, :], seen_at=places[..., :, None], **held))
    values, vectors = np.linalg.eigh(root[..., :, None] * gives * root[..., None, :])
    square, momentum = 1 / values[..., -1], root * vectors[..., -1]
    flat = {name: value[..., 0] for name, value in held.items()}
    to_tip = np.asarray(give_between(force_at=places, seen_at=0.0, **flat))
    tip = square * (to_tip * momentum).sum(axis=-1)  # with a modal mass of 1 kg
    slope = square * (_turn_below(places, **flat) * momentum).sum(axis=-1)
    down = flat["shank_length"] + flat["flute_length"] - places
    mass, once = 1 / tip**2, momentum / tip[..., None]
    moments = [(root**2 * down**power).sum(axis=-1) for power in range(3)]
    return FirstMode(
        np.sqrt(square) / (2 * np.pi), mass, square * mass, once.sum(axis=-1), (once * down).sum(axis=-1), slope / tip,
        (moments[0], moments[1], moments[2]),
    )  # fmt: skip


def _turn_below(
    force_at: Array, *, shank_length: Array, shank_diameter: Array, flute_length: Array, flute_diameter: Array, elastic_modulus: Array,
    shear_modulus: Array,
) -> Array:  # fmt: skip
    """Turn of the tip per force above it; shear turns nothing."""
    turn: Real = 0.0
    for low, high, diameter in (
        (0.0 * force_at, flute_length, flute_diameter), (flute_length, shank_length + flute_length, shank_diameter)
    ):  # fmt: skip
        below = np.clip(force_at, low, high)
        second, _ = _section(diameter, elastic_modulus, shear_modulus)
        turn = turn + ((high - force_at) ** 2 - (below - force_at) ** 2) / (2 * elastic_modulus * second)
    return np.asarray(turn)


def _section(diameter: Metre, elastic_modulus: Pascal, shear_modulus: Pascal) -> tuple[Real, Real]:
    """Second moment and shear area."""
    finite = np.where(np.isfinite(shear_modulus), shear_modulus, elastic_modulus)
    area = round_shear_area(area=np.pi / 4 * diameter**2, poisson=np.clip(elastic_modulus / (2 * finite) - 1, 0.0, 0.5))
    return ring_second_moment(outer=diameter, inner=0.0), area


def _lever_integral(low: Metre, high: Metre, one: Metre, other: Metre) -> Real:
    """Integral of (x - one)(x - other) from low to high."""
    return (high**3 - low**3) / 3 - (one + other) * (high**2 - low**2) / 2 + one * other * (high - low)

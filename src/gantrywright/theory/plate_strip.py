"""How far a sheet gives under a point load when it lies on parallel bearers: a long plate strip, and what holds it in its own plane.

Places are plain floats, measured square to the bearers. The strip is taken as endless along the bearers, which holds from about half a
span away from the sheet's ends; nearer to them it gives more. Bearers do not give here: the frame of the machine knows how they do.
"""

from collections.abc import Sequence

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.samples import along_grid
from gantrywright.base.units import Array, Metre, MetrePerNewton, NewtonMetre, NewtonPerMetre, Number, Pascal, Real

POISSON: float = 0.3
"""Of sheets: metal 0.3, boards 0.2 to 0.35; it moves the give by a few per cent only."""
TERMS = 60
"""Of the series; what is left out is below 2e-4 of the middle."""
RUNS_ON = np.array([1.0, 0.79, 0.667])
"""Give of a span whose sheet runs on over none, one or both of its bearers, over that of a single span (semi-analytic strips of two to
four equal spans, tests/against)."""
OVERHANG: float = 0.254
OVERHANG_POWER: float = 0.306
"""Edge of an overhang s beyond a span a: w = 0.254 (a/s)^0.306 P s^2/D, fitted to semi-analytic strips within 2 % for s of 0.1 a to a."""


@formula("D = E t^3/(12 (1 - nu^2))", source="timoshenko-plates")
def plate_stiffness(*, modulus: Pascal, thickness: Metre, poisson: Number = POISSON) -> NewtonMetre:
    """Bending stiffness of a sheet per width; sheets that only lie on each other add theirs.

    Args:
        modulus: Elastic, of its material.
        thickness: Of the sheet.
        poisson: Ratio.

    Example:
        >>> round(plate_stiffness(modulus=3e9, thickness=0.018), 1)
        1602.2
    """
    return modulus * thickness**3 / (12 * (1 - poisson**2))


@formula("D = sum E_i (t_i^3/12 + t_i (z_i - z_0)^2)/(1 - nu^2), z_0 = sum E_i t_i z_i/sum E_i t_i", source="derived")
def bonded_stiffness(*, moduli: Sequence[Pascal], thicknesses: Sequence[Metre], poisson: Number = POISSON) -> NewtonMetre:
    """Bending stiffness per width of sheets glued to one another, or of the skins of a torsion box with its core between.

    A core of ribs counts by its modulus times the part of the area that it fills. Shear of the core is left out: it counts where the
    span is short against the height.

    Args:
        moduli: Of the layers, in their order.
        thicknesses: Of the same layers.
        poisson: Ratio, one for all.
    """
    level: Real = 0.0
    stretch: Real = 0.0
    first: Real = 0.0
    second: Real = 0.0
    for modulus, thickness in zip(moduli, thicknesses, strict=True):
        middle = level + thickness / 2
        stretch = stretch + modulus * thickness
        first = first + modulus * thickness * middle
        second = second + modulus * (thickness * middle**2 + thickness**3 / 12)
        level = level + thickness
    return (second - first**2 / stretch) / (1 - poisson**2)


@formula("w/P = a^2/(2 pi^3 D) sum sin^2(m pi x/a)/m^3", source="timoshenko-plates")
def strip_give(*, plate: NewtonMetre, span: Metre, place: Number) -> MetrePerNewton:
    """Give under a point load of a long strip that two bearers support simply: 0.01695 a^2/D in the middle.

    Args:
        plate: Bending stiffness per width.
        span: Between the bearers, m.
        place: Of the load, as a part of the span; a float or an array of places.

    Returns:
        Shape of ``place`` on the last axis, after the samples of ``plate``.

    Source:
        [timoshenko-plates] infinitely long plate with simply supported edges.

    Example:
        >>> round(float(strip_give(plate=1.0, span=1.0, place=0.5)), 5)
        0.01696
    """
    share = _series(np.asarray(place, dtype=float))
    return np.square(span) * share / (along_grid(plate) if share.ndim else plate)


@formula("w/P = 0.254 (a/x)^0.306 x^2/D (0.4 + 0.6 x/s)", source="derived")
def overhang_give(*, plate: NewtonMetre, span: Metre, place: Metre, overhang: Metre | None = None) -> MetrePerNewton:
    """Give under a point load beyond the last bearer.

    Args:
        plate: Bending stiffness per width.
        span: Last one between bearers, m.
        place: Distance of the load from the last bearer, m; a float or an array.
        overhang: Of the sheet beyond that bearer, m; left out: the sheet ends at the load.

    Returns:
        Shape of ``place`` on the last axis, after the samples of ``plate``; for overhangs of 0.1 to 1
        span within 2 % at the edge, 8 % on the outer half, 13 % nearer to the bearer.
    """
    x = np.asarray(place, dtype=float)
    ends = 1.0 if overhang is None else 0.4 + 0.6 * np.clip(x / np.maximum(overhang, 1e-9), 0.0, 1.0)
    share = OVERHANG * span**OVERHANG_POWER * x ** (2 - OVERHANG_POWER) * ends
    give: Real = share / (along_grid(plate) if x.ndim else plate)
    return give


@formula("w/P of the span it lies in, or of the overhang", source="timoshenko-plates")
def sheet_give(*, plate: NewtonMetre, bearers: Array, place: Metre, edges: tuple[float, float] | None = None) -> MetrePerNewton:
    """Give of a sheet on parallel bearers under a point load, square to itself.

    Args:
        plate: Bending stiffness per width.
        bearers: Places of two bearers or more, rising, m.
        place: Of the load, m; a float or an array of places.
        edges: Of the sheet, m; left out: it ends at the last bearer, and at the load where that lies beyond.

    Returns:
        Shape of ``place`` on the last axis, after the samples of ``plate``.

    Example:
        >>> lines = np.array([0.0, 0.3, 0.6])
        >>> [round(1e6 * sheet_give(plate=1602.0, bearers=lines, place=x), 3) for x in (0.0, 0.15, 0.7)]
        [0.0, 0.753, 2.219]
    """
    lines, x = np.asarray(bearers, dtype=float), np.asarray(place, dtype=float)
    number = np.clip(np.searchsorted(lines, x) - 1, 0, len(lines) - 2)
    span = lines[number + 1] - lines[number]
    inside = RUNS_ON[(number > 0) * 1 + (number < len(lines) - 2) * 1] * span**2 * _series((x - lines[number]) / span)
    below, above = (None, None) if edges is None else (lines[0] - edges[0], edges[1] - lines[-1])
    before = overhang_give(plate=1.0, span=float(lines[1] - lines[0]), place=np.maximum(lines[0] - x, 0.0), overhang=below)
    behind = overhang_give(plate=1.0, span=float(lines[-1] - lines[-2]), place=np.maximum(x - lines[-1], 0.0), overhang=above)
    share = np.where(x < lines[0], before, np.where(x > lines[-1], behind, inside))
    return share / along_grid(plate) if x.ndim else float(share) / plate


@formula("u/F = 1/(n k) + r^2/(k sum r_i^2), r square to the force from the middle of the screws", source="derived")
def in_plane_give(
    *, stiffness: NewtonPerMetre, screws: Sequence[tuple[float, float]], place: tuple[float, float]
) -> tuple[MetrePerNewton, MetrePerNewton]:
    """Give of a sheet in its own plane through the screws that hold it; the sheet itself is stiff that way.

    Args:
        stiffness: Sideways, of one screw.
        screws: Their places in the plane, m.
        place: Of the force, m.

    Returns:
        Along the first and along the second direction of the plane.
    """
    places = np.asarray(screws, dtype=float)
    middle = places.mean(axis=0)
    polar = float(np.sum((places - middle) ** 2))
    first, second = np.asarray(place) - middle
    turned = (second**2 / polar, first**2 / polar) if polar > 0 else (0.0, 0.0)
    return (1 / len(places) + turned[0]) / stiffness, (1 / len(places) + turned[1]) / stiffness


def _series(part: Array) -> Array:
    """Give of a strip at parts of its span, over a^2/D."""
    m = np.arange(1, TERMS + 1)
    found: Array = np.sum(np.square(np.sin(np.pi * part[..., None] * m)) / m**3, axis=-1) / (2 * np.pi**3)
    return found

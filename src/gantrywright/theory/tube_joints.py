"""Welded joints of tubes: the wall of the chord gives under the branch, which a frame of centre lines leaves out.

The figures come from shell models of square tubes, the branch on the middle of a face of the chord. In plane: the branch turns in the plane
of both axes; out of plane: it turns about the chord's axis.
"""

import csv
from functools import cache
from importlib.resources import files

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Number, Pascal
from gantrywright.theory.joint_stiffness import Springs

TABLE = "tube-joint.csv"
BENDING: float = 3.0
"""Power of wall over width where a narrow branch bends a wall as a plate."""
NARROW: float = 0.75
"""Branch over chord up to which it does."""
END_SHARES: tuple[tuple[float, float], ...] = ((0.83, 0.70), (0.60, 0.27), (0.5, 0.5))
"""What an open end of the chord, half a width from the branch's middle, leaves of the wall in plane, out of plane and of pull, for the
table's narrowest branch and for full width: tube-joint-shells with pure moments; of pull our choice, no source. A plate welded into the end
brings all of it back in plane, and more than that out of plane."""


@cache
def _rows() -> tuple[tuple[float, ...], ...]:
    """Width over wall, branch over chord, coefficient in plane, out of plane, pull."""
    text = files("gantrywright.data").joinpath("defaults", TABLE).read_text("utf-8")
    columns = ("width over wall", "branch over chord", "in plane", "out of plane", "pull")
    return tuple(sorted(tuple(float(row[column]) for column in columns) for row in csv.DictReader(text.splitlines())))


@cache
def _table() -> tuple[Array, Array]:
    """Logarithms of place and coefficients: of full width by slenderness, of one slenderness by width."""
    middle = next(thin for thin, wide, *_ in _rows() if wide < 1.0)
    full = [(thin, *found) for thin, wide, *found in _rows() if wide == 1.0]
    narrow = [(wide, *found) for thin, wide, *found in _rows() if thin == middle]
    return np.log(np.array(full)).T, np.log(np.array(narrow)).T


@cache
def known_range() -> tuple[tuple[float, float], tuple[float, float]]:
    """Slenderness, and width of branch over chord, that the table spans."""
    thin, wide = [row[0] for row in _rows()], [row[1] for row in _rows()]
    return (min(thin), max(thin)), (min(wide), max(wide))


@formula("kappa(W/t, beta): k_theta = kappa E W^3, k_n = kappa_n E W", source="tube-joint-shells")
def wall_coefficients(*, slenderness: Number, width_ratio: Number) -> tuple[Number, Number, Number]:
    """How stiffly a chord's wall holds a welded branch.

    Args:
        slenderness: Width of the chord over its wall; outside the table its nearest end is taken.
        width_ratio: Width of the branch over that of the chord; the same.

    Returns:
        kappa in plane, out of plane, and of pull along the branch.

    Source:
        [tube-joint-shells] between its rows by logarithms; a narrow branch bends the wall as a plate, by the third power of its thickness.

    Example:
        >>> in_plane, out_of_plane, pull = wall_coefficients(slenderness=20.0, width_ratio=1.0)
        >>> round(float(in_plane), 4), round(float(out_of_plane), 4)
        (0.0171, 0.0033)
    """
    full, narrow = _table()
    (thinnest, thickest), (least, most) = known_range()
    thin = np.log(np.minimum(np.maximum(slenderness, thinnest), thickest))
    beta = np.minimum(np.maximum(width_ratio, least), most)
    middle = next(np.log(row[0]) for row in _rows() if row[1] < 1.0)
    plate = np.minimum((1 - beta) / (1 - NARROW), 1.0)
    found = []
    for kind in (1, 2, 3):
        base = np.interp(np.log(beta), narrow[0], narrow[kind])
        ratio = np.interp(thin, full[0], full[kind]) - np.interp(middle, full[0], full[kind])
        found.append(np.exp(base + (1 - plate) * ratio + plate * BENDING * (middle - thin)))
    return found[0], found[1], found[2]


@formula("k_in = kappa_in E W^3, k_out = kappa_out E W^3, k_n = kappa_n E W, k_t = E t", source="tube-joint-shells")
def wall_springs(
    *, elastic_modulus: Pascal, width: Metre, wall: Metre, along: Metre, across: Metre, share: Number = 1.0, at_end: Number = 0.0
) -> Springs:
    """Springs of a chord's wall under what is welded to it, in the chord's own axes.

    Args:
        elastic_modulus: Of the chord.
        width: Of the chord's face, across its axis.
        wall: Thickness of that face.
        along: Extent of the weld along the chord; between the table's narrowest branch and the full width.
        across: Extent of the weld across the chord.
        share: Part of the wall that bears: 1, less for a piece of a long seam.
        at_end: 1 where the branch stands at an open end of the chord, 0 in its middle.

    Returns:
        Along normal, chord, across; about normal (the branch twists), chord (out of plane), across (in plane). In its own plane the wall
        gives as a membrane, next to nothing.

    Source:
        [tube-joint-shells]; membrane derived.
    """
    least, most = (ratio * width for ratio in known_range()[1])
    reach, foot = (np.minimum(np.maximum(extent, least), most) for extent in (along, across))
    coefficients = wall_coefficients(slenderness=width / wall, width_ratio=across / width)
    wide = (foot - least) / (most - least)
    in_plane, out_of_plane, pull = (
        kappa * (1 - at_end * (1 - (narrow + (full - narrow) * wide)))
        for kappa, (narrow, full) in zip(coefficients, END_SHARES, strict=True)
    )
    scale = share * elastic_modulus * np.power(width, 3)
    membrane = share * elastic_modulus * wall * (1 - at_end * (1 - END_SHARES[2][0]))
    return (
        pull * share * elastic_modulus * width, membrane, membrane, membrane * reach * foot / 2,
        out_of_plane * scale, in_plane * scale,
    )  # fmt: skip


@formula("k_a = k_t cos^2 + k_s sin^2", source="derived")
def turned_springs(*, springs: Springs, share: Number) -> Springs:
    """Springs in axes that are turned about the normal.

    Args:
        springs: Along and about normal, first, second.
        share: Squared cosine between the first axis and a; 1 keeps the order, 0 exchanges the two.

    Returns:
        Along and about normal, a, b; what couples a and b between the two is left out.

    Source:
        Derived; exact at 0 and 1.
    """
    n, first, second, about_n, about_first, about_second = springs
    rest = 1 - share
    return (
        n, first * share + second * rest, first * rest + second * share,
        about_n, about_first * share + about_second * rest, about_first * rest + about_second * share,
    )  # fmt: skip

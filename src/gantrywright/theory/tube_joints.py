"""Welded joints of tubes: the wall of the chord gives under the branch, which a frame of centre lines leaves out.

The figures come from shell models of square tubes, the branch on the middle of a face of the chord. In plane: the branch turns in the plane
of both axes; out of plane: it turns about the chord's axis.
"""

import csv
from collections import Counter
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Number, Pascal
from gantrywright.theory.joint_stiffness import Springs, seat_springs

TABLE = "tube-joint.csv"
END_SHARES: tuple[tuple[float, float], ...] = ((0.83, 0.70), (0.5, 0.5))
"""What an open end of the chord, half a width from the branch's middle, leaves of the wall in plane and of pull, for a branch of half the
width and for full width: tube-joint-shells with pure moments; of pull our choice, no source. A plate welded into the end brings all of it
back in plane, and more than that out of plane."""
DISTORTION: float = 2.0
"""How fast the chord's section gets its shape back along it: 1 over length x width x sqrt(width/wall); tube-joint-trend."""
NARROW_PART: float = 0.6
"""What a narrow branch feels of an open end out of plane, over what one of full width feels; tube-joint-trend."""
BESIDE: tuple[float, float] = (3.0, 0.3)
"""Give out of plane and of pull, over width/wall / (E W^3) and / (E W), of a branch whose side walls stand beside the chord and hang on the two
walls that cross it; tube-joint-trend. In plane such a branch is stiffer than one of full width, which is not counted."""
LEAST: float = 0.1
"""No branch is taken as narrower than this part of its chord; common practice, no source."""
OVERHANG: float = 0.1
"""Part of the chord's width by which the branch is wider when its side walls have wholly left the chord; common practice, no source."""


@cache
def _rows() -> tuple[tuple[float, ...], ...]:
    """Width over wall, branch over chord, coefficient in plane, out of plane, pull."""
    text = files("gantrywright.data").joinpath("defaults", TABLE).read_text("utf-8")
    columns = ("width over wall", "branch over chord", "in plane", "out of plane", "pull")
    return tuple(sorted(tuple(float(row[column]) for column in columns) for row in csv.DictReader(text.splitlines())))


@dataclass(frozen=True, slots=True)
class _Table:
    """Logarithms of places and coefficients."""

    middle: float
    """The slenderness at which every width of branch is known."""
    widths: Array
    """That slenderness: rows of branch over chord and the three coefficients."""
    families: tuple[tuple[float, Array], ...]
    """Widths of branch that are known at several slendernesses: rows of slenderness and the three coefficients, over the middle one."""


@cache
def _table() -> _Table:
    by_thin = Counter(thin for thin, *_ in _rows())
    middle = max(by_thin, key=lambda thin: by_thin[thin])
    widths = np.log(np.array([(wide, *found) for thin, wide, *found in _rows() if thin == middle])).T
    families = []
    for beta in sorted({wide for _, wide, *_ in _rows()}):
        own = np.log(np.array([(thin, *found) for thin, wide, *found in _rows() if wide == beta])).T
        if own.shape[1] > 1:
            own[1:] -= own[1:, own[0] == np.log(middle)]
            families.append((float(np.log(beta)), own))
    return _Table(float(np.log(middle)), widths, tuple(families))


@cache
def known_range() -> tuple[tuple[float, float], tuple[float, float]]:
    """Slenderness, and width of branch over chord, that the table spans."""
    thin, wide = [row[0] for row in _rows()], [row[1] for row in _rows()]
    return (min(thin), max(thin)), (min(wide), max(wide))


def _line(x: Number, places: Array, values: Array) -> Number:
    """Straight between places; beyond them on by the slope at the end."""
    first, last = (values[1] - values[0]) / (places[1] - places[0]), (values[-1] - values[-2]) / (places[-1] - places[-2])
    found: Number = np.interp(x, places, values) + first * np.minimum(x - places[0], 0.0) + last * np.maximum(x - places[-1], 0.0)
    return found


@formula("kappa(W/t, beta): k_theta = kappa E W^3, k_n = kappa_n E W", source="tube-joint-trend")
def wall_coefficients(*, slenderness: Number, width_ratio: Number) -> tuple[Number, Number, Number]:
    """How stiffly a chord's wall holds a welded branch.

    At full width the walls carry in plane and pull as membranes, by the first power of the wall; out of plane the chord's section goes
    askew over a length that grows with sqrt(W/t), a beam on an elastic bed, by the power of 2.5. A narrow branch bends the wall as a
    plate: towards the third power where walls are thin, less where they are thick.

    Args:
        slenderness: Width of the chord over its wall; outside the table by the slope at its end.
        width_ratio: Width of the branch over that of the chord, at most 1; below the table by the slope at its end.

    Returns:
        kappa in plane, out of plane, and of pull along the branch.

    Source:
        [tube-joint-shells] and [tube-joint-trend] between their rows by logarithms.

    Example:
        >>> in_plane, out_of_plane, pull = wall_coefficients(slenderness=20.0, width_ratio=1.0)
        >>> round(float(in_plane), 4), round(float(out_of_plane), 4)
        (0.0171, 0.0033)
    """
    table = _table()
    thin, beta = np.log(slenderness), np.log(np.minimum(width_ratio, 1.0))
    known = [place for place, _ in table.families]
    weights = [np.interp(beta, known, own) for own in np.eye(len(known))]
    found = []
    for kind in (1, 2, 3):
        trend = sum(weight * _line(thin, own[0], own[kind]) for weight, (_, own) in zip(weights, table.families, strict=True))
        base = _line(beta, table.widths[0], table.widths[kind])
        found.append(np.exp(base + trend))
    return found[0], found[1], found[2]


@formula("d = max(1, (W/t)/60, 5/(W/t), 0.3/beta)", source="definition")
def beyond_range(*, slenderness: Number, width_ratio: Number) -> Number:
    """How far a joint lies outside the table; 1 within it.

    Args:
        slenderness: Width of the chord over its wall.
        width_ratio: Width of the branch over that of the chord.
    """
    (thickest, thinnest), (least, _) = known_range()
    narrow = least / np.maximum(width_ratio, LEAST)
    found: Number = np.maximum(np.maximum(slenderness / thinnest, thickest / slenderness), np.maximum(narrow, 1.0))
    return found


@formula(
    "s = 1/(1 + (C + 2 D) A - 2 (C + D) B), A, C = exp(-z) (cos z +- sin z), B, D = exp(-z) (sin z, cos z), z = 2 a/(W sqrt(W/t))",
    source="hetenyi-1946",
)
def open_end_share(*, to_end: Metre, width: Metre, wall: Metre) -> Number:
    """What an open end of the chord leaves of its stiffness against going askew, that of full width out of plane.

    Args:
        to_end: From the branch's middle to the end.
        width: Of the chord.
        wall: Of the chord.

    Returns:
        A quarter at the end itself, 1 far from it.

    Source:
        [hetenyi-1946] half-endless beam on an elastic bed; how fast it dies out along the chord: [tube-joint-trend], within a tenth.

    Example:
        >>> round(float(open_end_share(to_end=0.04, width=0.08, wall=0.004)), 2)
        0.39
    """
    z = np.minimum(DISTORTION * to_end / (width * np.sqrt(width / wall)), 50.0)
    fades, wave, swing = np.exp(-z), np.cos(z), np.sin(z)
    a, b, c, d = fades * (wave + swing), fades * swing, fades * (wave - swing), fades * wave
    share: Number = np.minimum(1 / (1 + (c + 2 * d) * a - 2 * (c + d) * b), 1.0)
    return share


@formula("k_in = kappa_in E W^3, k_out = kappa_out E W^3, k_n = kappa_n E W, k_t = E t", source="tube-joint-trend")
def wall_springs(
    *, elastic_modulus: Pascal, width: Metre, wall: Metre, along: Metre, across: Metre, share: Number = 1.0, to_end: Metre = np.inf
) -> Springs:
    """Springs of a chord's wall under what is welded to it, in the chord's own axes; none is stiffer than solid metal.

    Args:
        elastic_modulus: Of the chord.
        width: Of the chord's face, across its axis.
        wall: Thickness of that face.
        along: Extent of the weld along the chord.
        across: Extent of the branch across the chord; where it is wider, its side walls stand beside the chord.
        share: Part of the wall that bears: 1, less for a piece of a long seam.
        to_end: From the branch's middle to an open end of the chord.

    Returns:
        Along normal, chord, across; about normal (the branch twists), chord (out of plane), across (in plane). In its own plane the wall
        gives as a membrane, next to nothing.

    Source:
        [tube-joint-shells], [tube-joint-trend]; membrane derived; solid metal [johnson-contact].
    """
    ratio = np.minimum(np.maximum(across / width, LEAST), 1.0)
    reach, foot = np.minimum(np.maximum(along, LEAST * width), width), ratio * width
    in_plane, out_of_plane, pull = wall_coefficients(slenderness=width / wall, width_ratio=ratio)
    beside = np.minimum(np.maximum(across / width - 1, 0.0) / OVERHANG, 1.0) * width / wall
    out_of_plane, pull = (1 / (1 / kappa + give * beside) for kappa, give in zip((out_of_plane, pull), BESIDE, strict=True))
    wide = np.maximum(2 * ratio - 1, 0.0)
    near = np.minimum(np.maximum(2 * (1 - to_end / width), 0.0), 1.0)
    in_plane, pull = (
        kappa * (1 - near * (1 - (narrow + (full - narrow) * wide)))
        for kappa, (narrow, full) in zip((in_plane, pull), END_SHARES, strict=True)
    )
    askew = open_end_share(to_end=to_end, width=width, wall=wall)
    out_of_plane = out_of_plane * (1 - (1 - askew) * (NARROW_PART + (1 - NARROW_PART) * wide))
    scale = share * elastic_modulus * np.power(width, 3)
    membrane = share * elastic_modulus * wall * (1 - near * (1 - END_SHARES[1][0]))
    springs = (
        pull * share * elastic_modulus * width, membrane, membrane, membrane * reach * foot / 2,
        out_of_plane * scale, in_plane * scale,
    )  # fmt: skip
    solid = seat_springs(elastic_modulus=elastic_modulus, along_a=reach, along_b=foot)
    return tuple(np.minimum(spring, share * most) for spring, most in zip(springs, solid, strict=True))


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

"""What warmth does to a machine: rails that bow the beam they are screwed to, growth that does not match, strains as loads.

A steel rail on an aluminium beam is a bimetal as long as its screws hold. Where the friction of the screws cannot carry the difference
they slip, from the ends of the rail inwards, and the beam bows less: the two cases are the ends of what can happen.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Kelvin, Metre, Newton, NewtonMetre, NewtonSquareMetre, Number, PerKelvin, Real

UNSLIPPING = float("inf")
"""Hold of a rail that cannot slip, N."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A rail along a beam."""

    axial: Newton
    """E A."""
    expansion: PerKelvin
    place: tuple[float, float]
    """Of its middle from the beam's axis: along the height, along the width, m."""
    bend_height: NewtonSquareMetre = 0.0
    """Its own E I in the plane of the height."""
    bend_width: NewtonSquareMetre = 0.0
    hold: Newton = UNSLIPPING
    """Sideways force that all its screws together hold by friction."""


@dataclass(frozen=True, slots=True)
class ThermalBow:
    """How a beam with rails bows over their length; positive towards the positive height and width axis."""

    held_height: Metre
    """Middle against the ends, with screws that hold: the most it can be."""
    held_width: Metre
    height: Metre
    """The same where screws slip that the difference overcomes: the least it can be."""
    width: Metre
    pulls: tuple[Newton, ...]
    """Force along each rail with screws that hold; pulled is positive."""
    parts: tuple[Number, ...]
    """Of each rail's bow that is left when its screws slip."""


@formula("kappa = d_strain e/(e^2 + (EI_1 + EI_2)(1/EA_1 + 1/EA_2))", source="timoshenko-1925")
def bimetal_curvature(
    *,
    mismatch: Number,
    offset: Metre,
    first_axial: Newton,
    second_axial: Newton,
    bend: NewtonSquareMetre,
) -> Number:
    """Curvature, 1/m, of two bars that are held to each other all along and want to grow differently.

    Args:
        mismatch: Strain that the first would take more than the second if both were free.
        offset: Between their axes.
        first_axial: E A of one.
        second_axial: E A of the other.
        bend: E I of both together, each about its own axis.

    Source:
        [timoshenko-1925] for any two sections: force N = kappa EI/e closes the gap between the two.

    Example:
        >>> one = {"mismatch": 1e-4, "offset": 1e-3, "first_axial": 2e5, "second_axial": 2e5, "bend": 2 * 2e5 * 1e-6 / 3 / 4}
        >>> round(bimetal_curvature(**one), 6)  # two equal strips: 1.5 times mismatch over the thickness of both
        0.075
    """
    return mismatch * offset / (offset**2 + bend * (1 / first_axial + 1 / second_axial))


@formula("w = kappa L^2/8", source="definition")
def bow(*, curvature: Number, length: Metre) -> Metre:
    """Height of an even curve over its chord.

    Args:
        curvature: 1/m.
        length: Of the chord.
    """
    return curvature * length**2 / 8


@formula("f = 1 - (4/3) r^2 up to r = 1/2, then 1/(3 r); r = N/(n mu F_M)", source="derived")
def slip_part(*, pull: Newton, hold: Newton) -> Number:
    """Part of the bow of a held rail that is left when its screws slip.

    The force along the rail grows from each end by what the screws hold, up to what the held rail would carry. So the bow falls away
    towards the ends only; where even half of the screws cannot carry the pull, the whole rail slips.

    Args:
        pull: Along the held rail.
        hold: Sideways force that all its screws together hold by friction.

    Example:
        >>> [round(float(slip_part(pull=pull, hold=1000.0)), 3) for pull in (0.0, 250.0, 500.0, 1000.0)]
        [1.0, 0.917, 0.667, 0.333]
    """
    ratio = np.abs(pull) / hold
    return np.where(ratio <= 0.5, 1 - 4 / 3 * np.square(ratio), 1 / (3 * np.maximum(ratio, 0.5)))


@formula(
    "sum N = 0, EI kappa + sum N_i y_i = 0, N_i = EA_i (e + kappa y_i - (alpha_i - alpha) dT); w = kappa L^2/8",
    source="timoshenko-1925",
)
def rail_bow(
    *,
    strips: Sequence[Strip],
    axial: Newton,
    bend_height: NewtonSquareMetre,
    bend_width: NewtonSquareMetre,
    expansion: PerKelvin,
    warming: Kelvin,
    length: Metre,
) -> ThermalBow:
    """How a beam bows when it warms evenly together with the rails on it.

    Rails on opposite faces cancel, rails on one face add; any number, on any faces. Each slips by its own pull.

    Args:
        strips: The rails; none bows nothing.
        axial: E A of the beam.
        bend_height: E I of the beam in the plane of its height.
        bend_width: E I in the other plane.
        expansion: Of the beam.
        warming: Above the temperature at which the rails were screwed down.
        length: Of the rails.

    Returns:
        Bow of the middle against the ends of the rails, and what the rails carry.

    Source:
        [timoshenko-1925] the assumption that sections stay plane, for more than two bars and two planes.
    """
    tall = bend_height + sum((strip.bend_height for strip in strips), start=0.0)
    wide = bend_width + sum((strip.bend_width for strip in strips), start=0.0)
    strain, over, across = _plane_section(strips, axial, tall, wide, expansion, warming)
    pulls = tuple(
        strip.axial * (strain + over * strip.place[0] + across * strip.place[1] - (strip.expansion - expansion) * warming)
        for strip in strips
    )
    parts = tuple(slip_part(pull=pull, hold=strip.hold) for pull, strip in zip(pulls, strips, strict=True))
    height: Real = 0.0
    width: Real = 0.0
    for strip, pull, part in zip(strips, pulls, parts, strict=True):
        height = height - part * pull * strip.place[0] / tall
        width = width - part * pull * strip.place[1] / wide
    return ThermalBow(
        held_height=bow(curvature=over, length=length),
        held_width=bow(curvature=across, length=length),
        height=bow(curvature=height, length=length),
        width=bow(curvature=width, length=length),
        pulls=pulls,
        parts=parts,
    )


@formula("d = L (alpha_1 dT_1 - alpha_2 dT_2)", source="definition")
def growth_mismatch(
    *, length: Metre, first_expansion: PerKelvin, first_warming: Kelvin, second_expansion: PerKelvin, second_warming: Kelvin
) -> Metre:
    """How much more one length grows than another beside it: scale against work, frame against screw, rail against beam.

    Args:
        length: Of both.
        first_expansion: Of the one.
        first_warming: Of the one.
        second_expansion: Of the other.
        second_warming: Of the other.

    Example:
        >>> same = {"first_warming": 5.0, "second_warming": 5.0}
        >>> round(1e6 * growth_mismatch(length=1.0, first_expansion=23e-6, second_expansion=11.5e-6, **same), 1)
        57.5
    """
    return length * (first_expansion * first_warming - second_expansion * second_warming)


@formula("N = E A alpha dT", source="definition")
def thermal_force(*, axial: Newton, expansion: PerKelvin, warming: Kelvin) -> Newton:
    """Push of a bar that warms between ends that do not give: the load of its axial mode.

    Args:
        axial: E A.
        expansion: Of the bar.
        warming: Of the bar.
    """
    return axial * expansion * warming


@formula("M = E I alpha dT/h", source="definition")
def thermal_moment(*, bend: NewtonSquareMetre, expansion: PerKelvin, difference: Kelvin, height: Metre) -> NewtonMetre:
    """Moment in a bar that is warmer on one face than on the other, between ends that do not turn.

    Args:
        bend: E I in the plane of the difference.
        expansion: Of the bar.
        difference: Of temperature between the faces.
        height: Between the faces.
    """
    return bend * expansion * difference / height


@formula("kappa = alpha dT/h", source="definition")
def gradient_curvature(*, expansion: PerKelvin, difference: Kelvin, height: Metre) -> Number:
    """Curvature, 1/m, of a free bar that is warmer on one face; it bows towards that face.

    Args:
        expansion: Of the bar.
        difference: Of temperature between the faces.
        height: Between the faces.
    """
    return expansion * difference / height


def _plane_section(
    strips: Sequence[Strip], axial: Newton, tall: NewtonSquareMetre, wide: NewtonSquareMetre, expansion: PerKelvin, warming: Kelvin
) -> tuple[Real, Real, Real]:
    """Strain beyond free growth, and curvature along height and width, of a section that stays plane."""
    entries: list[Real] = [axial, tall, wide, 0.0, 0.0, 0.0]
    loads: list[Real] = [0.0, 0.0, 0.0]
    for strip in strips:
        y, z = strip.place
        free = strip.axial * (strip.expansion - expansion) * warming
        for k, factor in enumerate((1.0, y * y, z * z, y, z, y * z)):
            entries[k] = entries[k] + strip.axial * factor
        for k, factor in enumerate((1.0, y, z)):
            loads[k] = loads[k] + free * factor
    n, yy, zz, y1, z1, yz = np.broadcast_arrays(*entries, *loads)[:6]
    matrix: Array = np.stack([np.stack([n, y1, z1], -1), np.stack([y1, yy, yz], -1), np.stack([z1, yz, zz], -1)], -2)
    right = np.stack(np.broadcast_arrays(*entries, *loads)[6:], -1)
    found = np.linalg.solve(matrix, right[..., None])[..., 0]
    return found[..., 0], found[..., 1], found[..., 2]

"""Forces of a milling cut: linear-edge force model.

Per slice dz of a tooth at angle phi: tangential (Kt h + Kte) dz, radial (Kr h + Kre) dz, axial (Ka h + Kae) dz with h = fz sin(phi).
Feed along +x, y to the left of the feed, spindle clockwise seen from above, phi clockwise from +y. Forces are those on the tool.
"""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Array,
    Metre,
    MetrePerSecond,
    Newton,
    NewtonMetre,
    NewtonPerMetre,
    Number,
    Pascal,
    Radian,
    RadianPerSecond,
    Real,
    Watt,
)

ANGLES = 90
"""Rotation angles over one tooth pitch at which a peak is looked for."""
STRAIGHT = 1e-4
"""Helix angle that stands for a straight flute: a quarter of a micrometre of lag on a 6 mm deep cut."""


@dataclass(frozen=True, slots=True)
class Coefficients:
    """Cutting coefficients of a work material with a kind of edge."""

    shear: Pascal
    """Tangential, per area of the chip."""
    edge: NewtonPerMetre
    """Tangential, per length of the edge."""
    radial_shear: Pascal
    radial_edge: NewtonPerMetre
    axial_shear: Pascal = 0.0
    """Positive: an up-cut helix pulls the tool towards the work."""
    axial_edge: NewtonPerMetre = 0.0


@dataclass(frozen=True, slots=True)
class MeanForces:
    """Mean over a revolution, on the tool."""

    along_feed: Newton
    across: Newton
    """To the left of the feed."""
    axial: Newton
    """Towards the work."""
    torque: NewtonMetre

    @property
    def in_plane(self) -> Newton:
        """Resultant in the plane across the spindle."""
        return np.hypot(self.along_feed, self.across)


@dataclass(frozen=True, slots=True)
class PeakForces:
    """Greatest over a revolution."""

    in_plane: Newton
    along_feed: Newton
    """Greatest magnitude."""
    across: Newton
    axial: Newton
    """Greatest magnitude, with its sign: positive towards the work."""
    torque: NewtonMetre


@dataclass(frozen=True, slots=True)
class EdgeSums:
    """Geometry of the engaged edges at each rotation angle: what the coefficients are multiplied with.

    Each is shaped (n_angles,), or (n_samples, n_angles) where depth, width or feed are sampled.
    """

    edge: Array
    """Engaged length, m."""
    edge_sin: Array
    edge_cos: Array
    chip: Array
    """Chip area, m2."""
    chip_sin: Array
    chip_cos: Array


@formula("Ka = 0.28 Kt tan(beta)/tan(30 deg)", source="altintas-manufacturing-automation")
def coefficients(*, shear: Pascal, edge: NewtonPerMetre, shear_ratio: Number, edge_ratio: Number, helix: Radian) -> Coefficients:
    """Coefficients of a material by its tangential ones and the ratios of the radial to them.

    Args:
        shear: Tangential shear coefficient.
        edge: Tangential edge coefficient.
        shear_ratio: Radial over tangential shear coefficient.
        edge_ratio: Radial over tangential edge coefficient.
        helix: Positive lifts the chip (up-cut).
    """
    axial = 0.28 * shear * np.tan(helix) / np.tan(np.pi / 6)
    return Coefficients(shear, edge, shear * shear_ratio, edge * edge_ratio, axial)


@formula("closed form of the slice sum, independent of helix", source="altintas-manufacturing-automation")
def mean_forces(
    *, cut: Coefficients, flutes: int, depth: Metre, feed_per_tooth: Metre, diameter: Metre, start: Radian, stop: Radian
) -> MeanForces:
    """Mean forces on the tool over a revolution.

    Args:
        cut: Coefficients.
        flutes: Teeth.
        depth: Of cut, along the spindle.
        feed_per_tooth: From tooth to tooth.
        diameter: Of the cutter.
        start: Angle at which a tooth enters.
        stop: Angle at which it leaves.
    """
    kt, kr, ka, kte, kre, kae = cut.shear, cut.radial_shear, cut.axial_shear, cut.edge, cut.radial_edge, cut.axial_edge
    chip = flutes * depth * feed_per_tooth / (8 * np.pi)
    edge = flutes * depth / (2 * np.pi)
    arc = 2 * (stop - start) - (np.sin(2 * stop) - np.sin(2 * start))
    cos2 = np.cos(2 * stop) - np.cos(2 * start)
    sin, cos = np.sin(stop) - np.sin(start), np.cos(stop) - np.cos(start)
    return MeanForces(
        along_feed=chip * (kt * cos2 - kr * arc) + edge * (-kte * sin + kre * cos),
        across=chip * (kt * arc + kr * cos2) - edge * (kte * cos + kre * sin),
        axial=edge * (-ka * feed_per_tooth * cos + kae * (stop - start)),
        torque=edge * diameter / 2 * (-kt * feed_per_tooth * cos + kte * (stop - start)),
    )


@formula("P = Kt ap ae vf + Kte ap N n (D/2) phi_s", source="altintas-manufacturing-automation")
def cutting_power(
    *, cut: Coefficients, flutes: int, depth: Metre, width: Metre, diameter: Metre, feed: MetrePerSecond, speed: RadianPerSecond
) -> Watt:
    """Mean power at the cutting edges."""
    arc: Real = np.arccos(1 - 2 * np.clip(width / diameter, 0.0, 1.0))
    chip = cut.shear * depth * width * feed
    return chip + cut.edge * depth * flutes * speed / (2 * np.pi) * diameter / 2 * arc


@formula("integral over z of engaged edge, chip and their components; exact along the helix", source="derived")
def edge_sums(
    *, flutes: int, depth: Metre, feed_per_tooth: Metre, diameter: Metre, helix: Radian, start: Radian, stop: Radian
) -> EdgeSums:
    """Geometry of the engaged edges at `ANGLES` rotation angles over one tooth pitch, without any coefficient.

    A tooth that stands at phi at the tip stands at phi - (2 tan(beta)/D) z at height z: instead of slices, the engaged stretch is
    integrated in closed form.
    """
    depth, chip, lead, enters, leaves = (_columns(v) for v in (depth, feed_per_tooth, _lag(helix, diameter), start, stop))
    pitch = 2 * np.pi / flutes
    tips = pitch * np.arange(ANGLES)[:, None] / ANGLES + pitch * np.arange(flutes)
    span = lead * depth
    totals: list[Real] = [0.0] * 5
    for turn in _turns(span):
        tip = tips + 2 * np.pi * turn
        high = np.clip(np.maximum(tip, tip - span), enters, leaves)
        low = np.clip(np.minimum(tip, tip - span), enters, leaves)
        parts = _integrals(high, low)
        totals = [total + np.sum(part, axis=-1) for total, part in zip(totals, parts, strict=True)]
    per_angle = 1 / np.abs(lead[..., 0])
    edge, sine, cosine, square, product = (np.asarray(total * per_angle) for total in totals)
    thick = chip[..., 0]
    return EdgeSums(edge, sine, cosine, sine * thick, square * thick, product * thick)


@formula("F(theta) = K . geometry(theta), greatest over theta", source="altintas-manufacturing-automation")
def peak_forces(*, cut: Coefficients, sums: EdgeSums, diameter: Metre) -> PeakForces:
    """Greatest forces on the tool within a revolution.

    Args:
        cut: Coefficients; sampled ones give sampled peaks by one product with the geometry.
        sums: Geometry from `edge_sums`.
        diameter: Of the cutter.
    """
    kt, kte, kr, kre, ka, kae = (
        np.asarray(k)[..., None] for k in (cut.shear, cut.edge, cut.radial_shear, cut.radial_edge, cut.axial_shear, cut.axial_edge)
    )
    along = -(kt * sums.chip_cos + kte * sums.edge_cos) - (kr * sums.chip_sin + kre * sums.edge_sin)
    across = (kt * sums.chip_sin + kte * sums.edge_sin) - (kr * sums.chip_cos + kre * sums.edge_cos)
    axial = ka * sums.chip + kae * sums.edge
    torque = (kt * sums.chip + kte * sums.edge) * np.asarray(diameter)[..., None] / 2
    low, high = axial.min(axis=-1), axial.max(axis=-1)
    return PeakForces(
        in_plane=_plain(np.hypot(along, across).max(axis=-1)),
        along_feed=_plain(np.abs(along).max(axis=-1)),
        across=_plain(np.abs(across).max(axis=-1)),
        axial=_plain(np.where(high >= -low, high, low)),
        torque=_plain(torque.max(axis=-1)),
    )


def _lag(helix: Radian, diameter: Metre) -> Real:
    steep = np.where(np.abs(helix) < STRAIGHT, STRAIGHT, helix)
    return 2 * np.tan(steep) / diameter


def _turns(span: Array) -> range:
    """Whole turns by which tips between 0 and 2 pi can be shifted and still have edge engaged between 0 and pi.

    More than one where the helix reaches so far round that a tooth is met again higher up.
    """
    ahead, behind = max(float(span.max()), 0.0), max(float(-span.min()), 0.0)
    first = int(np.floor(-(2 * np.pi + behind) / (2 * np.pi))) if behind else 0
    return range(first, int((np.pi + ahead) / (2 * np.pi)) + 1)


def _integrals(high: Array, low: Array) -> tuple[Array, ...]:
    """Of 1, sin, cos, sin^2 and sin cos."""
    sin_high, sin_low, cos_high, cos_low = np.sin(high), np.sin(low), np.cos(high), np.cos(low)
    length = high - low
    square = (length - (sin_high * cos_high - sin_low * cos_low)) / 2
    return length, cos_low - cos_high, sin_high - sin_low, square, (sin_high**2 - sin_low**2) / 2


def _columns(value: Real) -> Array:
    return np.asarray(value, dtype=float)[..., None, None]


def _plain(value: Array) -> Real:
    return float(value) if value.ndim == 0 else value

"""Forces of a milling cut: linear-edge force model.

Per slice dz of a tooth at angle phi: tangential (Kt h + Kte) dz, radial (Kr h + Kre) dz, axial (Ka h + Kae) dz with h = fz sin(phi).
Feed along +x, y to the left of the feed, spindle clockwise seen from above, phi clockwise from +y. Forces are those on the tool.
"""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
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

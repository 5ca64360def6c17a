"""Forces over a turn of the spindle: what tool, machine and hold-down feel from one angle to the next, and the greatest of it.

Along the feed, to the left of it, along the spindle towards the work, and the torque; forces are those on the tool. Run-out makes the turn, not
the tooth, the period.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Array, Metre, Radian, Real
from gantrywright.theory.cutting.edges import Stretch, local
from gantrywright.theory.cutting.forces import Coefficients, MeanForces, PeakForces
from gantrywright.theory.cutting.sums import EdgeSums, StretchSums, edge_sums

ANGLES = 360
"""Places of a turn at which the forces are told."""
FEW_ANGLES = 72
"""Places of a turn at which a peak is looked for, beside those where a stretch of a tooth enters or leaves."""

MOST_EVENTS = 2
"""Stretches up to which the places of entering and leaving are looked at."""


@dataclass(frozen=True, slots=True)
class Grain:
    """What a material with grain adds: coefficients across the fibres and where the grain lies."""

    across: Coefficients
    angle: Radian
    """From the feed to the grain, counter-clockwise."""


@dataclass(frozen=True, slots=True)
class Cycle:
    """Forces on the tool over a turn; each shaped (..., angles)."""

    angles: Array
    """Of tooth 0 at the tip, clockwise from the left of the feed."""
    along_feed: Array
    across: Array
    """To the left of the feed."""
    axial: Array
    """Towards the work."""
    torque: Array

    @property
    def in_plane(self) -> Array:
        """Resultant in the plane across the spindle."""
        return np.asarray(np.hypot(self.along_feed, self.across), dtype=float)

    @property
    def mean(self) -> MeanForces:
        """Mean over the angles, which is that over a turn where they are even."""
        return MeanForces(*(_plain(trace.mean(axis=-1)) for trace in (self.along_feed, self.across, self.axial, self.torque)))

    @property
    def peak(self) -> PeakForces:
        """Greatest among the angles."""
        low, high = self.axial.min(axis=-1), self.axial.max(axis=-1)
        return PeakForces(
            in_plane=_plain(self.in_plane.max(axis=-1)),
            along_feed=_plain(np.abs(self.along_feed).max(axis=-1)),
            across=_plain(np.abs(self.across).max(axis=-1)),
            axial=_plain(np.where(high >= -low, high, low)),
            torque=_plain(self.torque.max(axis=-1)),
        )

    def turned(self, direction: float) -> "Cycle":
        """The same in the axes of the table.

        Args:
            direction: Of the feed, from the X axis counter-clockwise, rad.

        Returns:
            Forces along X and along Y in place of those along and across the feed.
        """
        sine, cosine = np.sin(direction), np.cos(direction)
        x, y = cosine * self.along_feed - sine * self.across, sine * self.along_feed + cosine * self.across
        return Cycle(self.angles, x, y, self.axial, self.torque)


def rotation_angles(count: int = ANGLES) -> Array:
    """Even angles over a turn, from 0."""
    return np.linspace(0.0, 2 * np.pi, count, endpoint=False)


def telling_angles(edge: Sequence[Stretch], flutes: int, count: int = FEW_ANGLES) -> Array:
    """Even angles, and those at which either end of a stretch of a tooth enters or leaves: a straight flute jumps there.

    Returns:
        Shape (angles,), or (n, angles) where the edge is sampled.
    """
    events: list[Real] = []
    foot: Real = 0.0
    for part in edge:
        top = foot + part.lag * part.height
        events += [limit + end for limit in (part.start, part.stop) for end in (foot, top)]
        foot = top
    if len(edge) > MOST_EVENTS:  # slices of a ball enter one by one, so that nothing jumps
        events = []
    teeth = 2 * np.pi / flutes * np.arange(flutes)
    places = [rotation_angles(count), *(np.asarray(event, dtype=float)[..., None] + teeth for event in events)]
    shape = np.broadcast_shapes(*(place.shape[:-1] for place in places))
    return np.concatenate([np.broadcast_to(place, (*shape, place.shape[-1])) for place in places], axis=-1)


@formula("F(theta) = sum over stretches of K . geometry(theta)", source="altintas-manufacturing-automation")
def forces_at(*, cut: Coefficients, sums: Sequence[StretchSums], angles: Radian, grain: Grain | None = None) -> Cycle:
    """Forces of a geometry that is known: sampled coefficients cost one product each.

    Args:
        cut: Coefficients; along the fibres where the material has grain.
        sums: From `edge_sums`, for the same angles and grain.
        angles: At which the sums were made.
        grain: Of the material.

    Returns:
        Forces at every angle.
    """
    total: list[Real] = [0.0] * 4
    for part in sums:
        traces = _traces(local(cut, part.stretch), part.whole, part.stretch.diameter)
        if grain is not None and part.across_grain is not None:
            more = _traces(local(_beyond(grain.across, cut), part.stretch), part.across_grain, part.stretch.diameter)
            traces = tuple(one + other for one, other in zip(traces, more, strict=True))
        total = [so_far + trace for so_far, trace in zip(total, traces, strict=True)]
    return Cycle(np.asarray(angles), *(np.asarray(trace) for trace in total))


@formula("F(theta) over a turn, multi-tooth chip with run-out", source="altintas-manufacturing-automation")
def force_cycle(
    *,
    cut: Coefficients,
    edge: Sequence[Stretch],
    flutes: int,
    feed_per_tooth: Metre,
    run_out: Metre,
    run_out_angle: Radian,
    angles: Radian | None = None,
    grain: Grain | None = None,
) -> Cycle:
    """Forces on the tool over a turn.

    Args:
        cut: Coefficients; along the fibres where the material has grain.
        edge: Stretches of the engaged edge, from the tip up (`edges`).
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth.
        run_out: Eccentricity; half of what an indicator shows.
        run_out_angle: Where it points, from tooth 0. With two flutes 0 is the worst.
        angles: At which they are wanted, shape (angles,) or (n, angles); None for `ANGLES` even ones.
        grain: Of the material; None for one without.

    Returns:
        Forces at every angle.
    """
    places = rotation_angles() if angles is None else np.asarray(angles)
    sums = edge_sums(
        edge=edge, flutes=flutes, feed_per_tooth=feed_per_tooth, run_out=run_out, run_out_angle=run_out_angle, angles=places,
        grain_angle=None if grain is None else grain.angle,
    )  # fmt: skip
    return forces_at(cut=cut, sums=sums, angles=places, grain=grain)


@formula("greatest F(theta), also where teeth enter and leave", source="altintas-manufacturing-automation")
def peak_forces(
    *,
    cut: Coefficients,
    edge: Sequence[Stretch],
    flutes: int,
    feed_per_tooth: Metre,
    run_out: Metre,
    run_out_angle: Radian,
    grain: Grain | None = None,
) -> PeakForces:
    """Greatest forces on the tool within a turn.

    Args:
        cut: Coefficients; along the fibres where the material has grain.
        edge: Stretches of the engaged edge, from the tip up (`edges`).
        flutes: Teeth.
        feed_per_tooth: From tooth to tooth.
        run_out: Eccentricity; half of what an indicator shows.
        run_out_angle: Where it points, from tooth 0.
        grain: Of the material; None for one without.

    Returns:
        Greatest forces.
    """
    return force_cycle(
        cut=cut, edge=edge, flutes=flutes, feed_per_tooth=feed_per_tooth, run_out=run_out, run_out_angle=run_out_angle,
        angles=telling_angles(edge, flutes), grain=grain,
    ).peak  # fmt: skip


def _traces(cut: Coefficients, sums: EdgeSums, diameter: Metre) -> tuple[Array, ...]:
    kt, kte, kr, kre, ka, kae, reach = (
        np.asarray(k)[..., None]
        for k in (cut.shear, cut.edge, cut.radial_shear, cut.radial_edge, cut.axial_shear, cut.axial_edge, diameter / 2)
    )
    return (
        -(kt * sums.chip_cos + kte * sums.edge_cos) - (kr * sums.chip_sin + kre * sums.edge_sin),
        (kt * sums.chip_sin + kte * sums.edge_sin) - (kr * sums.chip_cos + kre * sums.edge_cos),
        ka * sums.chip + kae * sums.edge,
        (kt * sums.chip + kte * sums.edge) * reach,
    )


def _beyond(across: Coefficients, along: Coefficients) -> Coefficients:
    """What cutting across the fibres adds to cutting along them."""
    return Coefficients(
        shear=across.shear - along.shear,
        edge=across.edge - along.edge,
        radial_shear=across.radial_shear - along.radial_shear,
        radial_edge=across.radial_edge - along.radial_edge,
        axial_shear=across.axial_shear - along.axial_shear,
        axial_edge=across.axial_edge - along.axial_edge,
    )


def _plain(value: Array) -> Real:
    return float(value) if value.ndim == 0 else value

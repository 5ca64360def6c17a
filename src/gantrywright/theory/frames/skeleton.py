"""A machine as bars, ties and lumps: lines in space with stiffness and mass, before any mesh and at any pose.

Places are in the machine frame as drawn. A bar is a straight prismatic line; a tie is a six-way spring between two anchors. An anchor
is a point held rigidly by a bar: the step from the bar's axis to the point is an exact rigid arm, whatever its length.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from gantrywright.base.units import (
    Array,
    Kilogram,
    KilogramPerMetre,
    Metre,
    Newton,
    NewtonPerMetre,
    NewtonSquareMetre,
    Number,
    Real,
)

Point: TypeAlias = tuple[float, float, float]
Stiffness: TypeAlias = tuple[Real, Real, Real, Real, Real, Real]

GROUND = -1
"""Number of the bar that an anchor in the floor names."""
RIGID = float("inf")
"""Shear stiffness of a bar that is taken not to give in shear."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A straight elastic line. Its own axes: x from start to stop, y the height axis, z = x cross y.

    The line joins the centroids of its sections; height axis and z are their principal axes.
    """

    part: str
    """Path of the part of the machine that it stands for; shares are booked to it."""
    body: str
    """Body of the chain that it moves with."""
    start: Point
    stop: Point
    height_axis: Point
    """Unit vector square to the axis."""
    axial: Newton
    """E A."""
    torsion: NewtonSquareMetre
    """G J."""
    bend_height: NewtonSquareMetre
    """E I that resists bending in the plane of the height axis."""
    bend_width: NewtonSquareMetre
    """E I that resists bending in the other plane."""
    shear_height: Newton = RIGID
    """G A_s for a force along the height axis."""
    shear_width: Newton = RIGID
    """G A_s for a force along z."""
    shear_centre: tuple[Metre, Metre] = (0.0, 0.0)
    """Place of the shear centre from the centroid, along the height axis and along z; a force beside it twists the bar."""
    mass_per_length: KilogramPerMetre = 0.0
    rotary_height: Number = 0.0
    """rho I of bending in the plane of the height axis, kg m."""
    rotary_width: Number = 0.0
    """rho I of bending in the other plane, kg m."""
    loss: Number = 0.0
    """Loss factor of its material."""
    kind: str = "member"
    """member, plate, top, spindle, tool."""


@dataclass(frozen=True, slots=True)
class Anchor:
    """A point held by a bar."""

    bar: int
    """Number in the skeleton's bars, or `GROUND`."""
    point: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """A spring between two anchors: three ways along its axes, three about them.

    Its stretch is the motion of b's point against a's point, so two anchors that lie apart must lie on the line of its force.
    """

    part: str
    """Path that its share is booked to."""
    kind: str
    """joint, block, drive, foot, bearing, clamp, collet."""
    a: Anchor
    b: Anchor
    axes: tuple[Point, Point, Point]
    """Unit vectors, right-handed."""
    stiffness: Stiffness
    """N/m along the axes, N m/rad about them; 0 where it lets go."""
    axis: str = ""
    """Name of the machine axis that it is a contact of; empty for a tie that no motion changes."""
    slides: str = ""
    """``a`` or ``b``: the side along whose bar the contact moves with that axis; its point then moves with the other side."""
    along: Callable[[Real], NewtonPerMetre] | None = None
    """Stiffness along the first axis as a function of the pose of ``axis``, m, where it depends on it (a drive); else None.

    Takes a float or an array of poses on the last axis.
    """
    links: Callable[[Real], Mapping[str, NewtonPerMetre]] | None = None
    """The springs in series that make up ``along``, by path, at a pose: its share is split among them."""
    loss: Number = 0.0
    """Loss factor."""


@dataclass(frozen=True, slots=True)
class Lump:
    """A mass held by a bar."""

    part: str
    at: Anchor
    mass: Kilogram
    inertia: tuple[tuple[float, float, float], ...] = ((0.0, 0.0, 0.0),) * 3
    """About its own centre, machine frame, kg m2, shape (3, 3); typical."""


@dataclass(frozen=True, slots=True)
class Motion:
    """How one axis moves bodies."""

    axis: str
    travel: float
    drawn: float
    shift: Mapping[str, Point]
    """Shift of each body per metre of pose, bodies that stand still left out."""


def no_give(_: Point) -> Stiffness:
    """Nothing gives locally."""
    return (0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Rest:
    """What the work lies on: one bar, or several side by side between which a load is shared by the lever rule."""

    bars: tuple[int, ...]
    """Ordered along ``across``; all of one body."""
    across: Point = (0.0, 1.0, 0.0)
    """Unit vector from bar to bar."""
    body: str = ""
    give: Callable[[Point], Stiffness] = no_give
    """Local compliance (m/N along X, Y, Z, then rad/(N m)) of what lies on the bars, at a place in the measures of the drawn pose."""
    part: str = ""
    """Path that the local give is booked to."""
    loss: Number = 0.0


@dataclass(frozen=True, slots=True)
class Skeleton:
    """Everything that carries, with what moves it."""

    bars: tuple[Bar, ...]
    ties: tuple[Tie, ...]
    lumps: tuple[Lump, ...]
    tip: Anchor
    """Tip of the tool."""
    rest: Rest
    motions: tuple[Motion, ...]
    """In the order in which axes hang on each other from the ground, those of the work's side first."""
    notes: Mapping[str, str] = field(default_factory=dict)
    """What had to be left out or guessed, by part."""

    def shifts(self, pose: Mapping[str, float]) -> dict[str, Array]:
        """Shift of every body that moves at a pose (by axis name; axes left out stand as drawn), m."""
        import numpy as np

        moved: dict[str, Array] = {}
        for motion in self.motions:
            by = pose.get(motion.axis, motion.drawn) - motion.drawn
            for body, per_metre in motion.shift.items():
                moved[body] = moved.get(body, np.zeros(3)) + by * np.array(per_metre)
        return moved

"""How the machine gives and rings."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.base.units import (
    Array,
    Hertz,
    Metre,
    MetrePerNewton,
    MetrePerSecondSquared,
    Newton,
    NewtonMetre,
    NewtonPerMetre,
    Number,
    Second,
)
from gantrywright.model.frame import Vector
from gantrywright.results.readings import Reading
from gantrywright.theory.frames.frame import Numbers
from gantrywright.theory.frames.modes import Modes
from gantrywright.theory.frames.solver import Prepared

LETTERS = ("x", "y", "z")


@dataclass(frozen=True, slots=True)
class Share:
    """What one part holds of the tip's give at one pose."""

    part: str
    """Path of the part, the joint or the spring."""
    kind: str
    """member, plate, top, spindle, tool, joint, block, drive, foot, bearing, clamp, collet, sheet."""
    group: str
    """Like parts that are changed together: ``axis.x.blocks``, ``axis.y.drive.left``, else the part itself."""
    along: tuple[Number, Number, Number]
    """Share of the give along X, Y, Z; over all parts each sums to 1."""
    weakest: Number
    """Share of the give in the softest direction."""
    ways: Mapping[str, tuple[Number, Number, Number]] = field(default_factory=dict)
    """The same split by how a bar gives: axial, torsion, bending, shear."""


@dataclass(frozen=True, slots=True)
class Tip:
    """Give between tool and work at one pose."""

    pose: Mapping[str, float]
    """Place of each axis, m."""
    place: Vector
    """Tip of the tool against the machine's zero at that pose, m."""
    give: Array
    """Motion of the tool against the work per newton (and radian per newton metre), machine axes, shape (..., 6, 6)."""
    stiffness: tuple[NewtonPerMetre, NewtonPerMetre, NewtonPerMetre]
    """1 over the give along X, Y, Z."""
    least: NewtonPerMetre
    """In the softest direction."""
    softest: Vector
    """That direction, typical."""
    shares: tuple[Share, ...]
    """Largest in the softest direction first."""

    def soft_parts(self) -> tuple[tuple[str, float], ...]:
        """Groups of parts with their share of the give in the softest direction, largest first; typical."""
        found: dict[str, float] = {}
        for share in self.shares:
            found[share.group] = found.get(share.group, 0.0) + typical(share.weakest)
        return tuple(sorted(found.items(), key=lambda pair: -pair[1]))


@dataclass(frozen=True, slots=True)
class StiffnessGrid:
    """Give over all poses; typical."""

    axes: tuple[str, ...]
    places: tuple[Array, ...]
    """Poses of each axis on the grid, m."""
    give: Array
    """Shape (n_1, n_2, n_3, 3, 3), machine axes, m/N."""
    over: Array
    """Whether the tool is over what the work lies on, shape (n_1, n_2, n_3); elsewhere the give is that of a table that is not there."""

    def softest(self) -> dict[str, float]:
        """The pose over the table where the softest direction is softest; empty where no pose is over it."""
        if not np.any(self.over):
            return {}
        most = np.where(self.over, np.linalg.eigvalsh(self.give)[..., -1], -np.inf)
        at = np.unravel_index(int(np.argmax(most)), most.shape)
        return {axis: float(places[k]) for axis, places, k in zip(self.axes, self.places, at, strict=True)}


@dataclass(frozen=True, slots=True)
class JobGive:
    """How far the cutter is pushed off by one job at the worst pose."""

    job: str
    mean: Metre
    """In the plane of the table, in its softest direction, under the mean force."""
    peak: Metre
    upright: Metre
    """Along the spindle under the peak axial force; positive for away from the work."""
    needed: NewtonPerMetre | None
    """Stiffness in the plane that the job needs for its share of the wanted accuracy; None where none is wanted."""


@dataclass(frozen=True, slots=True)
class AxisGive:
    """What accelerating one axis does."""

    axis: str
    accel: MetrePerSecondSquared
    """The wanted acceleration, or the promised where none is wanted or it is less."""
    tilt: Metre
    """Motion of the tool against the work while it accelerates, greatest component."""
    rock: Metre
    """Greatest motion of the machine on its feet meanwhile."""
    settle: Second | None
    """Time after a stop with that acceleration and the rise time of the axis until the tool stays within the tolerance; None where it is
    unknown."""
    tolerance: Metre
    ramp: Second | None
    """Rise time of the acceleration that keeps what is left after a stop within the tolerance."""
    jerk: Number | None
    """accel over ramp, m/s3."""
    binds: str = ""
    """The mode that binds."""
    left: Metre | None = None
    """How far the tool rings just after that stop; None where the promised speed is unknown."""
    quiet: MetrePerSecondSquared | None = None
    """Acceleration that with the rise time of the axis comes to rest within the tolerance in a sensible time."""
    rise: Second = 0.0
    """Rise time that the axis is set to."""
    period: Second | None = None
    """One period of the mode that a sudden stop swings most, typical: as rise time it leaves that mode at rest."""
    period_left: Metre | None = None
    """How far the tool would ring just after the stop with that rise time, typical."""


@dataclass(frozen=True, slots=True)
class Mode:
    """One natural mode at the worst pose."""

    number: int
    frequency: Hertz
    name: str
    """Its character in the trade's words."""
    damping: Number
    """Damping ratio."""
    tip_share: tuple[Number, Number, Number]
    """Share of the tip's static give along X, Y, Z that it holds."""
    strain: tuple[tuple[str, float], ...]
    """Groups that hold its strain energy, largest first."""
    kinetic: tuple[tuple[str, float], ...]
    """Groups that hold its kinetic energy, largest first."""


@dataclass(frozen=True, slots=True)
class TipResponse:
    """Receptance of the tool against the work along X, Y, Z; typical, with a band where it was sampled."""

    frequencies: Array
    receptance: Array
    """Complex, shape (n, 3), m/N."""
    peak: tuple[MetrePerNewton, MetrePerNewton, MetrePerNewton]
    peak_at: tuple[float, float, float]
    """Hz."""
    lowest_real: tuple[float, float, float]
    """Most negative real part, m/N: what limits chatter."""
    band_frequencies: Array | None = None
    """Hz, shape (b,); None until sampled."""
    band: Array | None = None
    """The 5 %, 50 % and 95 % points of the size of the receptance at those frequencies, m/N, shape (3, b, 3): point, frequency, direction."""


@dataclass(frozen=True, slots=True)
class BoltedAnswer:
    """One bolted joint under all load cases."""

    joint: str
    slip: Number | None
    """In-plane load over what friction holds; None where bolts are unknown."""
    opening: Number | None
    """Greatest pull on a bolt over its clamp force."""
    shear: Newton | None
    """Greatest shear of one bolt were there no friction."""
    worst: str = ""
    """Loads under which it is nearest to slipping."""
    missing: str = ""
    figure: str = ""
    """Path before ``.slip`` and ``.opening`` of its figures."""
    worst_opening: str = ""
    """Loads under which it is nearest to opening."""
    clamp: Newton | None = None
    """Least clamp force of one screw; None where it is unknown."""
    bears: Newton | None = None
    """Greatest clamp force that screw and thread bear."""
    tightened: Newton | None = None
    """What the told torque gives a screw; None where none is told."""
    torque: NewtonMetre | None = None
    """That gives a screw as much as it and its thread bear."""
    limited: str = ""
    """What limits the clamp force, in words."""


@dataclass(frozen=True, slots=True)
class HeatAnswer:
    """What a change of temperature does."""

    subject: str
    value: Metre
    """Worst, nothing slips."""
    relieved: Metre
    """Where screws slip as soon as friction lets them."""
    warming: Number
    """K."""
    words: str = ""
    kind: str = "bow"
    """bow: of what carries rails; growth: of a drive against the work; frame: of what carries the rails against the work."""
    figure: str = ""
    """Path of its working."""


@dataclass(frozen=True, slots=True)
class Slotted:
    """A profile with slots against the plain tube of its outer size and area."""

    member: str
    section: str
    bending: Number
    """Part of the tube's bending stiffness, in the plane of the height, that it keeps."""
    torsion: Number


@dataclass(frozen=True, slots=True)
class Shape:
    """One way of deforming, for those who draw it: shift of every node, m (per newton, or scaled to 1 for a mode)."""

    name: str
    shift: Array
    """Shape (n, 3)."""
    turn: Array | None = None
    """Turn of every node about x, y, z, rad (per newton, or scaled as the shift), shape (n, 3): for smooth bars between nodes."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """Nodes and elements of the structure at one pose with how they move."""

    pose: Mapping[str, float]
    nodes: Array
    """(n, 3), m."""
    lines: tuple[tuple[int, int, str], ...]
    """Two nodes and the path of the part."""
    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class Basis:
    """What the typical machine hands to the sampled one: springs and what each holds of the tip's give."""

    coefficients: Array
    """Natural coefficients, shape (c,)."""
    held: Array
    """Give that each holds along X, Y, Z, m/N, shape (c, 3)."""


@dataclass(frozen=True, slots=True)
class RingBasis:
    """What the typical machine hands to the sampled one of its modes: their shapes, from which those of every sample are made."""

    pose: Mapping[str, float]
    coefficients: Array
    """Natural coefficients of the finer mesh, shape (c,)."""
    prepared: Prepared
    """Its frame."""
    mass: Any
    """Of all degrees of freedom, sparse."""
    load: Array
    """Unit forces at the tip, shape (6 n, 3)."""
    whole: Modes
    """Natural modes and what else answers at the tip, (6 n, w)."""
    told: Numbers
    """Numbers among those of the modes that are told, shape (m,)."""
    shares: Array
    """What each coefficient holds of the strain energy of each mode that is told, shape (c, m)."""
    momenta: Mapping[str, Array]
    """By axis: mass times what it moves, shape (6 n,)."""
    swings: Mapping[str, Array]
    """By axis: static part of each told mode in the motion of the tip per acceleration, m per m/s2, shape (3, m)."""
    modes: tuple[Mode, ...]


@dataclass(frozen=True, slots=True)
class TipMotion:
    """How the tip of the drawn tool swings against the work: all that another tool, or another direction, needs to be told of it."""

    pose: Mapping[str, float]
    squares: Array
    """Squares of the circular frequencies, shape (m,)."""
    at_tip: Array
    """Shift along and turn about X, Y, Z in each mode of modal mass 1 kg, shape (6, m)."""
    damping: Array
    """Damping ratio of each mode, shape (m,)."""
    give: Array
    """Static give for forces along and moments about X, Y, Z, all modes together, shape (6, 6)."""


@dataclass(frozen=True, slots=True)
class StructureResult:
    """Everything that the structure answers; what could not be answered says why."""

    lacking: tuple[str, ...] = ()
    """What must be known before there is a structure."""
    broken: tuple[str, ...] = ()
    """Self checks that failed; then no number stands."""
    adrift: Mapping[str, str] = field(default_factory=dict)
    """Parts on the way from the tool to the ground that are joined to nothing, with what each carries, such as "carries rails"; then there is
    no structure."""
    notes: Mapping[str, str] = field(default_factory=dict)
    worst: Tip | None = None
    """At the pose where the softest direction is softest."""
    middle: Tip | None = None
    """All axes half way."""
    grid: StiffnessGrid | None = None
    jobs: tuple[JobGive, ...] = ()
    axes: Mapping[str, AxisGive] = field(default_factory=dict)
    slotted: tuple[Slotted, ...] = ()
    sag: Metre | None = None
    """How much the height of the tool over the work changes over the table by the weight of the parts."""
    modes: tuple[Mode, ...] = ()
    response: TipResponse | None = None
    bolted: tuple[BoltedAnswer, ...] = ()
    readings: tuple[Reading, ...] = ()
    """What was pushed or tapped on the finished machine."""
    heat: tuple[HeatAnswer, ...] = ()
    least_foot: Newton | None = None
    """Least force under a foot while the machine works; negative: it would lift."""
    foot_case: str = ""
    """Loads under which that is so."""
    foot_axis: str = ""
    """Name of the axis that accelerates then; empty where none does."""
    drawing: Drawing | None = None
    """Under static loads."""
    modes_drawing: Drawing | None = None
    """In its modes; other nodes than those of ``drawing``."""
    basis: Basis | None = None
    ring_basis: RingBasis | None = None
    tip_motion: TipMotion | None = None
    """Typical; of a sampled machine that of the typical one."""
    first_order: Mapping[str, NewtonPerMetre] = field(default_factory=dict)
    """Stiffness by axis letter from the energy shares alone (forces unchanged): to be held against the full solution."""

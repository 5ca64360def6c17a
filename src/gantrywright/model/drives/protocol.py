"""What every kind of linear drive answers, whatever turns inside it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Protocol

from gantrywright.base.units import (
    KilogramSquareMetre,
    Metre,
    MetrePerTurn,
    Newton,
    NewtonMetre,
    NewtonPerMetre,
    Number,
    RadianPerSecond,
    Real,
)
from gantrywright.catalog import kinds
from gantrywright.model.drives.series import Link, Spring


@dataclass(frozen=True, slots=True)
class SpeedLimit:
    """A speed of the driven shaft that must not be passed."""

    reason: str
    """whirl, speed value, belt speed ..."""
    speed: RadianPerSecond
    source: str
    remedy: str
    hard: bool = True
    """False: a caution only, it caps no promise."""


@dataclass(frozen=True, slots=True)
class LoadLimit:
    """A force along the axis that must not be passed."""

    reason: str
    """buckling, static rating, tooth root, belt tension, flank pressure ..."""
    force: Newton
    source: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Working:
    """One figure of a drive: the theory function and what it is given, so that the figure can be opened."""

    name: str
    """Last word of the figure's path."""
    function: Callable[..., Any]
    inputs: Mapping[str, tuple[str, Any] | tuple[str, Any, str]]
    """By argument: path in the machine file (empty where it has none), value, and what it is where the path does not say it."""

    @property
    def value(self) -> Real:
        """What the function gives."""
        result: Real = self.function(**{name: given[1] for name, given in self.inputs.items()})
        return result


@dataclass(frozen=True, slots=True)
class DriveParts:
    """All that a machine file says of one drive, looked up and in SI; a kind takes what it needs."""

    path: str
    kind: str
    part: kinds.Part
    """The long piece: `BallScrew`, `LeadScrew`, `Rack` or `Belt`."""
    free_length: float
    """Bearing to bearing, pulley to pulley, rack end to end, m."""
    travel: float
    nearest: float
    """Distance of the grip from the motor (fixed) end at the near end of the travel, m."""
    farthest: float
    """At the far end of the travel, m."""
    rise: float
    """1 upright, 0 level."""
    turns: str = "screw"
    runs: str = "moving-belt"
    ends: str = "fixed-supported"
    whirl_root: Number = 15.418
    """lambda^2 of the end fixity; an array where the fixity is in doubt."""
    buckling_factor: Number = 2.046
    """Euler factor of the end fixity."""
    far_end_held: Number = 0.0
    """1 where the far end also takes axial load (fixed-fixed, clamped-clamped), else 0; an array where in doubt."""
    far_end_may_hold: bool = False
    """One of the fixities that are possible lets the far end take axial load; the same for all samples of a machine."""
    nut: kinds.Nut | None = None
    bearing: kinds.Bearing | None = None
    pinion: kinds.Pinion | None = None
    pulley: kinds.Pulley | None = None
    bracket: NewtonPerMetre | None = 100e6
    """None is unknown."""
    pretension: Newton | None = None
    travel_per_turn: MetrePerTurn | None = None
    """Given or measured; None: from the parts."""
    efficiency: Number | None = None
    """Given; None: computed."""
    coupling: kinds.Coupling | None = None
    ratio: Number = 1.0
    """Motor turns per turn of the driven shaft."""
    remaining: Number = 1.0
    elastic_modulus: Number = 206e9
    """Of screw and rail steel, Pa."""
    shear_modulus: Number = 79.3e9
    density: Number = 7850.0
    expansion: Number = 11.5e-6

    @property
    def travel_input(self) -> tuple[str, float]:
        """The travel of its axis as an input of a working."""
        return f"{self.path.partition('.drive.')[0]}.travel", self.travel


class Drive(Protocol):
    """A linear drive: long piece, grip, and what they do to force, speed and place.

    Torques and speeds are those of the driven shaft (screw, turning nut, pinion, drive pulley), before any reduction.
    """

    @property
    def kind(self) -> str:
        """Word of the machine file."""
        ...

    @property
    def parts(self) -> DriveParts:
        """What it was made from."""
        ...

    @property
    def travel_per_turn(self) -> MetrePerTurn:
        """Travel of the axis per turn of the driven shaft."""
        ...

    @property
    def inertia(self) -> KilogramSquareMetre:
        """Of all that turns with the driven shaft, without motor, coupling and reduction."""
        ...

    @property
    def efficiency(self) -> Number:
        """Work out over work in while driving."""
        ...

    @property
    def back_efficiency(self) -> Number:
        """Work out over work in while the load drives; 0 where it locks itself."""
        ...

    @property
    def drag_torque(self) -> NewtonMetre:
        """Torque to turn it without load: seals, preload, end bearings."""
        ...

    @property
    def lost_motion(self) -> Metre | None:
        """Play along the axis; None is unknown."""
        ...

    def springs(self) -> tuple[Spring, ...]:
        """What gives along the axis, one behind the other, motor shaft held still."""
        ...

    def series(self, distance: Metre) -> tuple[Link, ...]:
        """These springs as they are at a place; a link whose stiffness is None is unknown.

        Args:
            distance: Of the grip from the motor end, m; a float or an array of places (last axis). The stiffness of a link that depends
                on it has that axis last, samples in front; that of any other is a number, or with samples and places shape (n, 1).
        """
        ...

    def axial_stiffness(self, distance: Metre) -> NewtonPerMetre | None:
        """Of all these links in series; None is unknown.

        Args:
            distance: As in `series`; the answer has its axis last, samples in front.
        """
        ...

    def speed_limits(self) -> tuple[SpeedLimit, ...]:
        """Its own limits of turning speed, least and others."""
        ...

    def load_limits(self) -> tuple[LoadLimit, ...]:
        """Its own limits of force along the axis."""
        ...

    def life(self, *, mean_force: Newton) -> Metre | None:
        """Travel at 90 % survival under a mean force, m; None where the kind has no such law or the rating is unknown."""
        ...

    def lead_error(self) -> Metre | None:
        """Expected error of travel over the whole travel when new; None is unknown."""
        ...

    def growth(self, warming: Real) -> Metre:
        """Growth over the travel when it warms by so many kelvin."""
        ...

    def self_locking(self) -> Real:
        """1 where it cannot be driven back, 0 where it can."""
        ...

    def workings(self) -> tuple[Working, ...]:
        """The figures behind its answers, for those who want to open them."""
        ...

"""What everything weighs."""

from dataclasses import dataclass

from gantrywright.base.units import Kilogram, KilogramSquareMetre, Metre, Money


@dataclass(frozen=True, slots=True)
class RigidMass:
    """Mass, centre and inertia of a group of solids at the drawn pose; each component is `Real`."""

    subject: str
    """Body name, or ``axis.x`` for all that the axis moves."""
    mass: Kilogram
    """Of the solids whose mass is known."""
    centre: tuple[Metre, Metre, Metre]
    """Machine frame, m."""
    inertia: tuple[KilogramSquareMetre, KilogramSquareMetre, KilogramSquareMetre]
    """Ixx, Iyy, Izz about the centre, axes of the machine frame."""
    unknown: tuple[str, ...] = ()
    """Paths of solids whose mass is unknown: everything that uses this mass is a lower bound."""
    parts: tuple[tuple[str, Kilogram], ...] = ()
    """Path and mass of each solid, heaviest first."""


@dataclass(frozen=True, slots=True)
class Cost:
    """What is still to be paid."""

    total: Money
    """Of all that has a price and is not owned, in the machine's currency."""
    lacking: tuple[str, ...] = ()
    """Paths of parts that are to be bought and have no price."""
    priced: int = 0
    """How many parts have one."""

    @property
    def known(self) -> bool:
        """Whether there is an answer at all: a sum of no price is none."""
        return bool(self.priced) or not self.lacking


@dataclass(frozen=True, slots=True)
class MassResult:
    """Masses of the bodies, of what each axis moves, of the whole; and what it costs."""

    bodies: dict[str, RigidMass]
    axes: dict[str, RigidMass]
    """By axis name: the moving body and all that hangs on it."""
    total: RigidMass
    cost: Cost = Cost(0.0)

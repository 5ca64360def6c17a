"""What feeds the axes, and what a hard stop gives back."""

from dataclasses import dataclass

from gantrywright.base.units import Farad, Joule, Volt, Watt


@dataclass(frozen=True, slots=True)
class SupplyLoad:
    """One supply and what hangs on it."""

    supply: str
    drives: tuple[str, ...]
    holding: Watt | None
    """All motors standing and holding; None where a motor, its driver or its axis lacks data."""
    typical: Watt | None
    """One axis accelerating, the others feeding."""
    greatest: Watt | None
    """Sum of the largest power of each on its envelope."""
    returned: Joule | None
    """Energy that the hardest simultaneous stop gives back to the bus: friction, copper and iron taken off where they are known."""
    bus_peak: Volt | None
    """Bus voltage after that stop; None where a capacitance is unknown."""
    driver_limit: Volt | None
    set: Volt | None
    best_set: Volt | None
    """Highest setting that keeps the peak below the drivers' limit."""
    kinetic: Joule | None = None
    """Of all that moves and turns, at the speed of that stop: the upper bound of what comes back."""
    two_thirds: Watt | None = None
    """Power by the rule of thumb of two thirds of the phase currents, for comparison."""
    capacitance: Farad | None = None
    """Of supply and drivers, as far as known."""
    capacitance_missing: tuple[str, ...] = ()
    """Paths of capacitances that are not known; the bus peak is then too high rather than too low."""
    low_line: Volt | None = None
    """Bus voltage with the outlet 10 % low."""
    high_line: Volt | None = None
    """Bus voltage with the outlet 10 % high and, unregulated, no load; setting tolerance included."""
    missing: str = ""
    """What must be known before power can be told."""


@dataclass(frozen=True, slots=True)
class ElectricResult:
    """All supplies by name."""

    supplies: dict[str, SupplyLoad]

"""What feeds the axes, and what a hard stop gives back."""

from dataclasses import dataclass

from gantrywright.base.units import Joule, Volt, Watt


@dataclass(frozen=True, slots=True)
class SupplyLoad:
    """One supply and what hangs on it."""

    supply: str
    drives: tuple[str, ...]
    holding: Watt
    """All motors standing and holding."""
    typical: Watt
    """One axis accelerating, the others holding or feeding."""
    greatest: Watt
    """Sum of the largest power of each on its envelope."""
    returned: Joule
    """Kinetic energy given back by the hardest simultaneous stop, friction work taken off."""
    bus_peak: Volt | None
    """Bus voltage after that stop; None where a capacitance is unknown."""
    driver_limit: Volt | None
    set: Volt | None
    best_set: Volt | None
    """Highest setting that keeps the peak below the drivers' limit."""


@dataclass(frozen=True, slots=True)
class ElectricResult:
    """All supplies by name."""

    supplies: dict[str, SupplyLoad]

"""Uncertain values that placing itself brings in."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from gantrywright.base.spread import Origin, Spread
from gantrywright.base.units import Array, Real
from gantrywright.intake.tree import Entry


@dataclass(slots=True)
class Doubts:
    """Uncertain values that placing itself brings in, with samples for them where there are any."""

    samples: Mapping[str, Array] = field(default_factory=dict)
    spreads: dict[str, Spread] = field(default_factory=dict)
    entries: dict[str, Entry] = field(default_factory=dict)

    def value(self, path: str, spread: Spread, origin: Origin) -> Real:
        """Register an estimate; its samples, else its typical value."""
        self.spreads.setdefault(path, spread)
        self.entries.setdefault(path, Entry(spread.typical, origin, spread))
        sample = self.samples.get(path)
        known = self.spreads[path].typical
        return spread.typical if sample is None else spread.typical / known * sample

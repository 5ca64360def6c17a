"""Numbers of a diagram in one unit of the builder's choice."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from gantrywright.base.quantities import unit_for
from gantrywright.base.quantities.kinds import factor_of
from gantrywright.base.quantities.showing import BY_SYMBOL, OTHERS


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit that all numbers of an axis are told in."""

    name: str
    factor: float
    """SI per unit."""

    @classmethod
    def of(cls, unit: str, typical: float, system: str) -> "Unit":
        """The unit in which a typical value would be shown.

        Args:
            unit: Symbol of the SI unit.
            typical: A value that is usual on the axis, SI.
            system: metric or inch.
        """
        if unit in OTHERS:
            return cls(*OTHERS[unit]["inch" if system == "inch" else "metric"])
        name = unit_for(typical, unit, system)
        known = factor_of(BY_SYMBOL.get(unit, unit), name) if name else None
        return cls(name or unit, float(Fraction(known[0]) / Fraction(known[1])) if known else 1.0)

    def __call__(self, value: float) -> float:
        """A number in the unit."""
        return float(value) / self.factor

    def all(self, values: Iterable[float]) -> list[float]:
        """Numbers in the unit."""
        return [self(value) for value in values]

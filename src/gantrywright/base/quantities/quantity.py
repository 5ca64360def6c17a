"""What a text became."""

from dataclasses import dataclass
from typing import Any

from gantrywright.base.spread import Spread


@dataclass(frozen=True, slots=True)
class Quantity:
    """One value as it was meant.

    ``value``: a float in SI for a scalar kind; an int for a count; a tuple of floats for points, pairs, sizes and ranges; `Rating`,
    `PhaseCurrent` or `Bolts` for those kinds. Money is in its own currency, which the unit names.
    """

    value: Any
    unit: str = ""
    """The unit as it was written; of a list of numbers, the last one's."""
    spread: Spread | None = None
    """In SI; of a rating or a phase current, the spread of its number."""

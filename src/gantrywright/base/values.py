"""Values that are more than one number: a rating with its reference, a phase current with its convention."""

from dataclasses import dataclass
from typing import Literal

from gantrywright.base.units import Ampere, Metre, Newton, Number, Real


@dataclass(frozen=True, slots=True)
class Rating:
    """A load rating with what it refers to; a bare rating is refused when the file is read.

    ``distance``: dynamic rating of a guide for 90 % survival over ``reference`` metres. ``turns``: dynamic rating of a screw or
    bearing over ``reference`` revolutions. ``static``: permanent-deformation rating, no reference.
    """

    force: Newton
    basis: Literal["distance", "turns", "static"]
    reference: Metre | Number = 0.0


@dataclass(frozen=True, slots=True)
class PhaseCurrent:
    """Current of one motor phase, and how it was measured; ``dc`` is both phases carrying the value (two-phase-on)."""

    value: Ampere
    convention: Literal["peak", "rms"]

    @property
    def peak(self) -> Real:
        """Peak of the sine, A."""
        return self.value if self.convention == "peak" else self.value * 2**0.5


@dataclass(frozen=True, slots=True)
class Bolts:
    """``"8 x M8"``."""

    count: int
    thread: str

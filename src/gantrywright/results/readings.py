"""What was read on the finished machine, beside what was said of it."""

from dataclasses import dataclass

from gantrywright.base.units import Array, Number


@dataclass(frozen=True, slots=True)
class ReadingBasis:
    """What the typical machine hands to the sampled one of a mode that was heard."""

    coefficients: Array
    """Natural coefficients, shape (c,)."""
    shares: Array
    """What each holds of the strain energy of the mode, shape (c,)."""
    frequency: float


@dataclass(frozen=True, slots=True)
class Reading:
    """One stiffness, frequency or cutting coefficient that was read on the finished machine, beside what was said of it."""

    name: str
    """In ``measured.NAME``."""
    observe: str
    """stiffness, frequency, shear or edge."""
    unit: str
    measured: Number | None
    deviation: float | None
    """Standard uncertainty of the instrument, in ``unit``; None where the file does not tell it."""
    predicted: Number | None
    where: str
    """Direction and place in words."""
    mode: str = ""
    """Of a frequency: character of the mode that it is compared with."""
    held: tuple[tuple[str, float], ...] = ()
    """Groups of parts with their share of the give, or of the strain, largest first; typical."""
    others: tuple[tuple[str, float], ...] = ()
    """Other modes that a tap may have shown, with their frequency, Hz; loudest first, typical."""
    missing: str = ""
    basis: ReadingBasis | None = None
    path: str = ""
    """Of its working, where that is not its prediction."""

    @property
    def figure(self) -> str:
        """Path of the working of its prediction, or of the reading where that is worked out of several."""
        return self.path or f"structure.reading.{self.name}"

"""What is known of the board under the work: how it is faced, how often it still can be, how far it sags."""

from dataclasses import dataclass

from gantrywright.base.units import Metre, Number, RadianPerSecond, Second


@dataclass(frozen=True, slots=True)
class SpoilboardResult:
    """The spoilboard; what cannot be worked out is None, and `missing` says why."""

    ridge: Metre | None = None
    """Between facing passes, left by a head that is not square to the board."""
    spacing: Metre | None = None
    """Between passes, at most, so that ridges are not felt."""
    fastest: RadianPerSecond | None = None
    """At which both facing cutter and spindle may turn; None also where the cutter may only turn slower than the spindle can."""
    time: Second | None = None
    """Of one pass over the whole work area."""
    facing: Metre | None = None
    """That must come off before the cutter has touched all of it."""
    passes: Number | None = None
    left: Number | None = None
    """How often it can be faced before it is replaced."""
    least: Metre | None = None
    """Thickness that stays."""
    sag: Metre | None = None
    """Between its bearers under cutter and vacuum; None also where it lies on another layer."""
    rests: bool = False
    """Whether it lies on another layer, so that it does not sag by itself."""
    missing: tuple[tuple[str, str], ...] = ()
    """What must be known, by ``ridge``, ``fastest``, ``facing``, ``left``, ``sag``."""

    def lacks(self, name: str) -> str:
        """What must be known before this is."""
        return dict(self.missing).get(name, "")

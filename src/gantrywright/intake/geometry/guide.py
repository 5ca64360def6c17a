"""How an axis moves its body, and the mating faces that its recipe asks for."""

from dataclasses import dataclass

from gantrywright.intake.geometry.frames import tidy
from gantrywright.model.frame import Vector, cross


@dataclass(frozen=True, slots=True)
class Motion:
    """How an axis moves what it carries, before anything is placed."""

    name: str
    t: Vector
    sign: int
    travel: float
    drawn: float
    offset: float
    carrier: str
    moving: str

    @property
    def drawn_shift(self) -> float:
        """Of the middle of the blocks from the middle of the rails as drawn, along t."""
        return (self.drawn - self.travel / 2) * self.sign + self.offset


@dataclass(frozen=True, slots=True)
class Pad:
    """Where one rail's blocks are bolted to the moving body (or its rail, where rails ride)."""

    at: Vector
    """In the moving body's measures, on the mating face, middle of the row."""
    normal: Vector


@dataclass(frozen=True, slots=True)
class Guide:
    """What the recipe of the moving body needs to know of what carries it."""

    motion: Motion
    n: Vector
    pads: tuple[Pad, ...]

    @property
    def s(self) -> Vector:
        """n x t."""
        return tidy(cross(self.n, self.motion.t))

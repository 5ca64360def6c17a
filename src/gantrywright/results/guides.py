"""What the guides bear."""

from dataclasses import dataclass

from gantrywright.base.units import Metre, Newton, Number


@dataclass(frozen=True, slots=True)
class AxisFriction:
    """Friction that the drive of an axis must overcome."""

    axis: str
    moving: Newton
    """Seals plus rolling friction under weight, preload and mean cutting force."""
    seals: Newton


@dataclass(frozen=True, slots=True)
class FrictionResult:
    """Friction of every axis."""

    axes: dict[str, AxisFriction]


@dataclass(frozen=True, slots=True)
class BlockLoad:
    """Worst and mean load of one block."""

    block: str
    """Path of the block."""
    equivalent: Newton
    """Greatest |lateral| + |normal| (+ moments of a lone block) over travel and load cases."""
    mean: Newton
    """Cube mean over the travel at ordinary work, load factor included: for life."""
    misalignment: Newton
    """Added by the flatness and parallelism that the builder can reach."""
    static_safety: Number | None
    life: Metre | None
    """Distance at 90 % survival; None where the rating is unknown."""
    lifts: Number
    """Greatest load that pulls the block off its rail, N; 0 where none does."""
    worst: str
    """Load case and pose of the greatest load, in words."""


@dataclass(frozen=True, slots=True)
class GuideResult:
    """Loads of all blocks."""

    blocks: dict[str, BlockLoad]

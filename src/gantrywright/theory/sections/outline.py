"""Outlines of sections: an outer ring and openings, (width, height) points in metres."""

from dataclasses import dataclass

Ring = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Outline:
    """Outer ring and openings of a section."""

    ring: Ring
    openings: tuple[Ring, ...] = ()


def arc_pieces(radius: float) -> int:
    """Straight pieces for a quarter of a circle: four for the small fillets, more for large ones."""
    return max(4, min(16, round(radius / 0.0015)))

"""Values that a remedy proposes: round numbers in the units of the machine, as text for its file and for people alike."""

import math
from typing import Literal

from gantrywright.base.quantities.kinds import factor_of
from gantrywright.base.quantities.showing import show

ROUND: dict[str, dict[str, tuple[str, int, int]]] = {
    "length": {"metric": ("mm", 1, 1), "inch": ("in", 1, 20)},
    "fine-length": {"metric": ("mm", 1, 200), "inch": ("in", 1, 5000)},
    "depth": {"metric": ("mm", 1, 10), "inch": ("in", 1, 200)},
    "force": {"metric": ("N", 10, 1), "inch": ("lbf", 2, 1)},
    "torque": {"metric": ("N m", 1, 2), "inch": ("lbf in", 5, 1)},
    "pressure": {"metric": ("kPa", 1, 1), "inch": ("psi", 1, 4)},
    "area": {"metric": ("cm2", 5, 1), "inch": ("in2", 1, 1)},
    "speed": {"metric": ("m/min", 1, 20), "inch": ("in/min", 2, 1)},
    "accel": {"metric": ("m/s2", 1, 20), "inch": ("in/s2", 1, 1)},
    "time": {"metric": ("ms", 1, 1), "inch": ("ms", 1, 1)},
}
"""Unit, and the step that is rounded to as a fraction of it, top and under."""


def propose(value: float, what: str, system: str, side: Literal["up", "down", "nearest"] = "nearest") -> str:
    """A value as a builder would write it, rounded to the side on which it mends; never rounded down to nothing.

    Args:
        value: In SI.
        what: A key of ``ROUND``.
        system: ``metric`` or ``inch``.
        side: Where to round to.

    Example:
        >>> propose(0.0312, "length", "metric", "up"), propose(0.0312, "length", "inch", "up")
        ('32 mm', '1.25 in')
    """
    unit, top, under = ROUND[what][system]
    kind = {"fine-length": "length", "depth": "length"}.get(what, what)
    factor = factor_of(kind, unit)
    assert factor is not None, (kind, unit)
    count = value * factor[1] / factor[0] * under / top
    whole = {"up": math.ceil(count - 1e-6), "down": math.floor(count + 1e-6), "nearest": round(count)}[side]
    return f"{max(whole, 1) * top / under:.10g} {unit}"


def beside(value: float, proposed: str, kind: str, system: str) -> str:
    """What a proposal stands instead of, in the unit of that proposal."""
    return show(value, kind, system, hint=proposed.partition(" ")[2])

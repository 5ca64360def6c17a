"""One limit of a job in words, the same on every face: how much of it is used, and of what."""

from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.results.jobs import Limit

FAR = 999
"""Per cent beyond which a number says no more than that it is far over."""
FELT = {"N": 1e-3}
"""By unit: what is smaller is nothing."""


def used(limit: Limit) -> str:
    """Part of a limit that the job uses; never a round 100 % of what is just exceeded."""
    if limit.used is None:
        return "unknown"
    if idle(limit):
        return "0 %"
    return share(abs(typical(limit.used)))


def share(part: float) -> str:
    """A part of a limit in per cent, as far as that says anything.

    Example:
        >>> share(0.74), share(1.002), share(36.0)
        ('74 %', 'just over 100 %', 'over 10 times')
    """
    if 100 * part > FAR:
        return "over 10 times"
    if 0 < part < 0.01:
        return "< 1 %"
    return "just over 100 %" if 1 < part < 1.005 else f"{100 * part:.0f} %"


def sizes(limit: Limit) -> tuple[float | None, float | None]:
    """What the job has and what is allowed; nothing where it is too small to be felt."""
    return _felt(limit.value, limit.unit), _felt(limit.limit, limit.unit)


def idle(limit: Limit) -> bool:
    """Whether the job uses nothing of a limit that there is: no removal rate would use it up."""
    value, most = sizes(limit)
    return value == 0 and bool(most) and not limit.least


def _felt(value: Real | None, unit: str) -> float | None:
    if value is None:
        return None
    size = typical(value)
    return 0.0 if abs(size) < FELT.get(unit, 0.0) else size

"""What the machine can promise, axis by axis: the first thing that a builder reads."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from gantrywright.study.study import Study


@dataclass(frozen=True, slots=True)
class Promise:
    """One promised number."""

    subject: str
    """``axis.x``, or ``machine``."""
    what: str
    """rapid, acceleration, cutting force at feed, drive stiffness, travel, mass."""
    value: float | None
    """Typical; None is unknown."""
    unit: str
    low: float | None = None
    high: float | None = None
    wanted: float | None = None
    binds: str = ""
    next: str = ""
    figure: str = ""


def promises(study: Study) -> tuple[Promise, ...]:
    """All promises, axis by axis, then the whole machine."""
    made: list[Promise] = []
    for axis in study.machine.axes:
        moved = study.results.motion.axes.get(axis.name)
        if moved is None:
            continue
        path = axis.path
        made.append(_promise(study, path, "rapid", moved.rapid, "m/s", axis.rapid, moved.binds, moved.next))
        made.append(_promise(study, path, "acceleration", moved.accel, "m/s2", axis.accel, moved.accel_binds))
        made.append(_promise(study, path, "force at feed", moved.feed_force, "N", study.results.cutting.mean_in_plane))
        made.append(_promise(study, path, "drive stiffness", moved.stiffness, "N/m", None, moved.softest))
        far = study.results.travel.axes.get(axis.name)
        if far is not None:
            made.append(_promise(study, path, "travel", far.gives, "m", far.wanted, far.binds))
    made.append(_promise(study, "machine", "mass", study.results.masses.total.mass, "kg", None))
    return tuple(made)


FIGURES = {
    "rapid": "rapid_promise", "acceleration": "accel_promise", "force at feed": "feed_force", "drive stiffness": "drive_stiffness",
    "travel": "travel_possible",
}  # fmt: skip


def _promise(
    study: Study, subject: str, what: str, value: Any, unit: str, wanted: Any, binds: str = "", following: str = ""
) -> Promise:
    figure = f"{subject}.{FIGURES[what]}" if what in FIGURES else "mass.total"
    low, high = study.bands.get(figure, (None, None))
    return Promise(subject, what, _plain(value), unit, low, high, _plain(wanted), binds, following, figure)


def _plain(value: Any) -> float | None:
    return None if value is None else float(np.median(np.asarray(value, dtype=float)))

"""What each job of the machine comes to: whether it runs, what binds first, how true the wall is, which settings the machine can hold."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.base.units import (
    Array,
    Metre,
    MetrePerSecond,
    Newton,
    Number,
    RadianPerSecond,
    Real,
    SquareMetre,
)

CubicMetrePerSecond = Real
"""Removal rate."""


TINY = 1e-12
"""Instead of a limit of nothing: whatever there is exceeds it."""


class Runs(StrEnum):
    """Whether a job runs, best first."""

    YES = "runs"
    IF = "runs if"
    NO = "does not"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Limit:
    """One thing that a job must not exceed, and the removal rate at which it would."""

    id: str
    """``spindle-power``, ``axis-force``, ``accuracy``, ``chatter``, ``hold-down``, ``chip-load`` ..."""
    words: str
    """What it is, in the trade's words."""
    value: Real | None
    """At the settings of the file."""
    limit: Real | None
    unit: str
    scales: str
    """``depth`` or ``feed``: what the removal rate is changed by until the limit is met, everything else as in the file."""
    ceiling: CubicMetrePerSecond | None
    """Greatest removal rate that it allows; None is unknown."""
    figure: str = ""
    missing: str = ""
    """What must be known, where it is unknown."""
    note: str = ""
    least: bool = False
    """The value must not be less than the limit, instead of not more."""

    @property
    def used(self) -> Number | None:
        """Part of the limit that the job uses; None is unknown."""
        if self.value is None or self.limit is None:
            return None
        value, limit = (self.limit, self.value) if self.least else (self.value, self.limit)
        return value / np.where(np.asarray(limit) == 0, TINY, limit)

    @property
    def exceeded(self) -> bool:
        """With typical values."""
        used = self.used
        return used is not None and not typical(used) <= 1.0


@dataclass(frozen=True, slots=True)
class Wall:
    """How far the tool stands off the wall that it leaves; the part of an error that deflection and run-out make, no more."""

    way: str
    """``climb`` or ``conventional``; of a slot both sides are walls."""
    most: Metre
    """Farthest into the part that should stay (overcut)."""
    least: Metre
    """Farthest short of it (material left); negative."""
    mean: Metre
    figure: str = ""

    @property
    def worst(self) -> Metre:
        """The larger of both, with its sign: positive is overcut."""
        worst: Real = np.where(np.abs(self.most) >= np.abs(self.least), self.most, self.least)
        return worst


@dataclass(frozen=True, slots=True)
class Ringing:
    """The mode that chatters first, with the job's cutter in the collet; typical."""

    frequency: float
    """Hz."""
    damping: float
    """Ratio."""
    stiffness: float
    """Of the mode at the tip, in the plane of the table where it swings most, N/m."""


@dataclass(frozen=True, slots=True)
class Lobes:
    """Depth at which a cut begins to chatter, against the speed of the spindle; typical."""

    speeds: Array
    """rad/s, shape (n,)."""
    depth: Array
    """Limit of depth, m, of the worst direction of feed, shape (n,)."""
    error: Array
    """Size of the wall error under forced vibration at the depth of the file, m, shape (n,); empty where it was not worked out."""
    here: Metre
    """Limit at the job's speed."""
    low: Metre
    """Limit at the job's speed where frequencies are off by what they may be: the least."""
    frequency: float
    """Of the chatter that begins first at the job's speed, Hz."""
    direction: str
    """Feed along which it begins: ``along X``, ``along Y``, ``between``."""
    method: str
    """How it was found: zero-order, semi-discretisation."""
    way: str
    """Way of cutting in which it begins."""
    worst: Array
    """Limit at each speed if all frequencies are off by what they may be, shape (n,)."""
    best: RadianPerSecond | None = None
    """Speed within reach of the spindle at which most may be cut even if all frequencies are off by what they may be."""
    best_depth: Metre | None = None
    rings: Ringing | None = None

    def at(self, speeds: Array) -> Array:
        """Limit at other speeds, even if all frequencies are off by what they may be."""
        held: Array = np.interp(speeds, self.speeds, self.worst)
        return held


@dataclass(frozen=True, slots=True)
class Second:
    """A second opinion on chatter: the delay method, tooth by tooth, and a run in time at the settings of the file."""

    job: str
    speeds: Array
    """About the job's own, rad/s, shape (n,)."""
    depth: Array
    """Limit of depth in the direction that is worst by the first opinion, m, shape (n,)."""
    first_depth: Array
    """What the first opinion says of the same direction and way, m, shape (n,)."""
    here: Metre
    """At the job's speed."""
    first: Metre
    """What the first opinion said there."""
    direction: str
    way: str
    growth: Number
    """By what a disturbance grows from tooth to tooth at the depth of the file: above 1 it chatters."""
    swing: Metre
    """Of the tool along and across the feed in the run, from peak to peak, the larger of both."""
    unlike: Metre
    """How far the motion differs from tooth to tooth at the end of the run: nothing in a steady cut of a true cutter."""
    wall: tuple[Array, Array]
    """Places along the feed and depth of the wall that it leaves, m."""


@dataclass(frozen=True, slots=True)
class Holding:
    """Whether the work stays where it is."""

    slip: Newton | None
    """Push in the plane of the table that it takes to move the work, at the worst place; None is unknown."""
    lift: Newton | None
    """Pull that it takes to lift or tip it."""
    push: Newton
    """What the job pushes in the plane, at most."""
    pull: Newton
    """What the job lifts with, at most; 0 where it presses."""
    missing: str = ""
    words: str = ""
    """How it is held, in words."""
    smallest: SquareMetre | None = None
    """Least area of a part that holds by itself, where the area holds it."""
    formula: str = ""
    inputs: Mapping[str, Any] = field(default_factory=dict)
    """What the push that it stands was worked out of, by name; `ledger.Named` values."""
    note: str = ""
    """What else is to be kept in mind, in sentences."""
    lift_formula: str = "F = N/S"


@dataclass(frozen=True, slots=True)
class Advice:
    """Settings that the machine can hold, each with its reason."""

    speed: RadianPerSecond
    feed: MetrePerSecond
    depth: Metre
    width: Metre
    passes: int
    chip: Metre
    """Feed per tooth."""
    removal: CubicMetrePerSecond
    reasons: Mapping[str, str]
    """By ``speed``, ``feed``, ``depth``, ``passes``, ``width``: why this number."""
    binds: str
    """Limit that sets the depth."""


@dataclass(frozen=True, slots=True)
class Trace:
    """Force on the tool over one turn of the spindle, typical: x along the feed, y to its left, z up."""

    angles: Array
    """rad, shape (n,)."""
    x: Array
    y: Array
    z: Array
    torque: Array
    way: str


@dataclass(frozen=True, slots=True)
class WallProfile:
    """Error of the worst wall over its height, typical."""

    way: str
    heights: Array
    """Above the tip, m, shape (h,)."""
    error: Array
    """Positive into the part that should stay, m; by direction of feed, shape (directions, h)."""
    directions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class JobAnswer:
    """One job on this machine."""

    job: str
    removal: CubicMetrePerSecond | None
    """At the settings of the file; None where they are not known."""
    limits: tuple[Limit, ...] = ()
    """Known ones by ceiling, the lowest first; then those that are unknown."""
    walls: tuple[Wall, ...] = ()
    bottom: Metre | None = None
    """How far the bottom of the cut moves: positive is too deep."""
    holding: Holding | None = None
    lobes: Lobes | None = None
    advice: Advice | None = None
    trace: Trace | None = None
    profile: WallProfile | None = None
    missing: str = ""
    """What must be known before anything can be said."""
    pending: bool = False
    """Whether chatter and advice are still to be worked out."""
    no_advice: str = ""
    """Why no settings could be found."""

    @property
    def wall(self) -> Wall | None:
        """The wall that is worst, by typical values."""
        return max(self.walls, key=lambda wall: abs(typical(wall.worst)), default=None)

    @property
    def unknown(self) -> tuple[Limit, ...]:
        """Limits of which nothing is known."""
        return tuple(limit for limit in self.limits if limit.ceiling is None)

    @property
    def runs(self) -> Runs:
        """By typical values: every limit kept; or kept with the advised settings; or not. A limit that is unknown is never taken as kept."""
        if self.missing or not self.limits:
            return Runs.UNKNOWN
        if any(limit.exceeded for limit in self.limits):
            return Runs.IF if self.advice is not None else Runs.NO
        return Runs.UNKNOWN if self.unknown else Runs.YES

    @property
    def binds(self) -> Limit | None:
        """The limit that is met first."""
        known = [limit for limit in self.limits if limit.ceiling is not None]
        return known[0] if known else None

    @property
    def next(self) -> Limit | None:
        """The limit that would be met next."""
        known = [limit for limit in self.limits if limit.ceiling is not None]
        return known[1] if len(known) > 1 else None


@dataclass(frozen=True, slots=True)
class JobsResult:
    """All jobs, in the order of the file."""

    jobs: Mapping[str, JobAnswer] = field(default_factory=dict)
    """By name."""

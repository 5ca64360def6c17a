"""Spindle speeds at which the turns or the teeth of a cutter keep clear of the modes that move the tool."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.base.units import Array, Real
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results.structure import Mode

COUNTS = 0.05
"""Part of the tip's give, along X, Y or Z, from which a mode matters to the cut; common practice, no source."""
SWING = 5.0
"""A mode must not swing the tool farther than so many times what it gives at rest; common practice, no source."""
APART = 1.0
"""Distance of a mode from a frequency that shakes it, over the distance that this takes: a mode that holds the part s of the give swings
s/|1 - (f/f_r)^2| of it, about s/(2 d) at the relative distance d, so d = s/(2 SWING) is needed."""
CLEAR = SWING
"""Distance at which nobody need watch: the mode alone then swings no farther than the tool gives at rest."""
FAR = 100.0
"""Greater distances are not told apart."""
RPM = 30 / np.pi
STEP = 50.0
"""Speeds are looked at in such steps, rpm."""


@dataclass(frozen=True, slots=True)
class Resonances:
    """Modes that matter to the cut."""

    modes: tuple[Mode, ...]
    natural: Array
    """Hz, shape (..., m)."""
    held: Array
    """Share of the give along the direction in which each holds most of it, shape (..., m)."""

    def distances(self, speeds: Array, flutes: int) -> Array:
        """Distance of every mode from what turns and teeth shake, over that needed; `FAR` where a mode holds too little.

        Args:
            speeds: rad/s, shape (..., s).
            flutes: Of the cutter.

        Returns:
            Shape (..., s, m, 2): from the turns, from the teeth.
        """
        shaken = speeds[..., None] / (2 * np.pi) * np.array([1.0, flutes])
        apart = np.abs(self.natural[..., None, :, None] / shaken[..., None, :] - 1)
        held = self.held[..., None, :, None]
        return np.where(held > COUNTS, np.minimum(2 * SWING * apart / np.maximum(held, COUNTS), FAR), FAR)


def resonances(modes: tuple[Mode, ...]) -> Resonances:
    """Of modes, those that hold enough of the tip's give, typical or in some sample."""
    held = [np.max([np.asarray(share) for share in mode.tip_share], axis=0) for mode in modes]
    chosen = [k for k, one in enumerate(held) if np.max(one) > COUNTS]
    if not chosen:
        return Resonances((), np.zeros(0), np.zeros(0))
    natural = np.stack(np.broadcast_arrays(*(np.asarray(modes[k].frequency, dtype=float) for k in chosen)), axis=-1)
    return Resonances(tuple(modes[k] for k in chosen), natural, np.stack([held[k] for k in chosen], axis=-1))


def wanted_speeds(machine: Machine, job: Job) -> Array:
    """Speeds at which a job is run, rad/s, shape (..., s): its own, or all of the range that the file gives it."""
    spread = machine.spreads.get(f"{job.path}.speed")
    if spread is None or not spread.high > spread.low:
        return np.asarray(job.speed, dtype=float)[..., None]
    return _between(spread.low * RPM, spread.high * RPM) / RPM


def _between(low: float, high: float) -> Array:
    """Both ends and all whole steps between them, rpm."""
    told: Array = np.unique(np.concatenate(((low, high), STEP * np.arange(np.ceil(low / STEP), np.floor(high / STEP) + 1))))
    return told


def spindle_range(machine: Machine) -> tuple[float, float] | None:
    """Lowest and highest speed of the spindle, of its inverter where that is narrower, rpm; None where one is unknown."""
    spindle = machine.spindle
    if spindle is None or spindle.part.lowest is None or spindle.part.highest is None:
        return None
    ends = [(spindle.part.lowest, spindle.part.highest)]
    if spindle.inverter is not None:
        ends.append((spindle.inverter.lowest or 0.0, spindle.inverter.highest or np.inf))
    low, high = max(typical(least) for least, _ in ends), min(typical(most) for _, most in ends)
    return (low * RPM, high * RPM) if high > low else None


def free_speeds(found: Resonances, flutes: int, allowed: tuple[float, float]) -> tuple[tuple[float, float], ...]:
    """Ranges of speed at which nobody need watch any mode, rpm; from typical frequencies, by the rule of the check.

    Args:
        found: Typical.
        flutes: Of the cutter.
        allowed: Lowest and highest speed, rpm.
    """
    speeds = _between(*allowed)
    clear = nearest(found, speeds / RPM, flutes) >= CLEAR
    edges = np.flatnonzero(np.diff(np.concatenate(([False], clear, [False])).astype(int)))
    return tuple((float(speeds[a]), float(speeds[b - 1])) for a, b in zip(edges[::2], edges[1::2], strict=True) if b - 1 > a)


def nearest(found: Resonances, speeds: Array, flutes: int) -> Array:
    """Least distance of any mode at every speed (rad/s), shape (..., s)."""
    if not found.modes:
        return np.full(speeds.shape, FAR)
    least: Array = found.distances(speeds, flutes).min(axis=(-2, -1))
    return least


def worded(ranges: tuple[tuple[float, float], ...]) -> str:
    """Ranges of speed in words.

    Example:
        >>> worded(((6000.0, 7100.0), (14150.0, 24000.0)))
        '6000 to 7100 rpm, 14 150 to 24 000 rpm'
    """
    return ", ".join(f"{_grouped(low)} to {_grouped(high)} rpm" for low, high in ranges)


def _grouped(value: float) -> str:
    return f"{value:,.0f}".replace(",", " ") if value >= 10000 else f"{value:.0f}"


def value_of(least: Array) -> Real:
    """Least over all speeds: one number, or one a sample."""
    worst = least.min(axis=-1)
    return worst if worst.ndim else float(worst)

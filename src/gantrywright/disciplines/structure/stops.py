"""What a stop of each axis at its promised acceleration leaves ringing at the tool."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from gantrywright.base.samples import plain, typical
from gantrywright.base.units import Array, Metre, MetrePerSecondSquared, Number, Real, Second
from gantrywright.model.axis import Axis
from gantrywright.model.machine import Machine
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.motion import AxisMotion, MotionResult
from gantrywright.results.structure import AxisGive, Mode
from gantrywright.theory.frames.frame import Numbers
from gantrywright.theory.frames.transients import left_by_stop, quiet_acceleration, quiet_ramp, reached_part, settling_time

TOLERANCE_SHARE = 0.25
"""Part of the wanted accuracy within which a stopped tool counts as at rest; common practice, no source."""
SENSIBLE = 0.2
"""Time within which a stop should have come to rest, s; common practice, no source."""
STEP = 1e-3
"""Rise time that counts as none, s: about the cycle of a controller; common practice, no source."""
STILL = 1e-9
"""An acceleration of less than this is none, m/s2."""
COUNTS = 0.005
"""Modes that hold less of the whole swing than this in every direction are left out of it."""


@dataclass(frozen=True, slots=True)
class Stop:
    """One axis brought to rest from its promised rapid speed; all that `AxisGive` wants to know."""

    axis: str
    left: Metre
    """How far the tool rings just after, in its worst direction."""
    tolerance: Metre
    """0 where no accuracy is wanted; what follows is then None."""
    settle: Second | None
    ramp: Second | None
    jerk: Number | None
    quiet: MetrePerSecondSquared | None
    binds: str
    """The mode that swings most."""
    rise: Second = 0.0
    """Rise time that the axis is set to."""
    period: Second | None = None
    """Of the mode that a sudden stop swings most."""
    period_left: Metre | None = None
    """How far the tool rings with that period as rise time; typical."""


def stops(
    machine: Machine, motion: MotionResult, modes: tuple[Mode, ...], swings: Mapping[str, Array], frequencies: Array, damping: Array,
    ledger: Ledger,
) -> dict[str, Stop]:  # fmt: skip
    """Every axis whose speed and acceleration are promised and whose rise time is known.

    Args:
        machine: Typical or sampled.
        motion: What each axis promises.
        modes: Their names and typical frequencies.
        swings: By axis: static part of each mode per acceleration, m per m/s2, shape (..., 3, m).
        frequencies: Hz, shape (..., m).
        damping: Damping ratios, shape (..., m).
        ledger: Where figures are written down.
    """
    wanted = machine.purpose.accuracy
    tolerance = None if wanted is None else TOLERANCE_SHARE * wanted
    found: dict[str, Stop] = {}
    for axis in machine.axes:
        promised = motion.axes.get(axis.name)
        if promised is None or promised.accel is None or promised.rapid is None or axis.rise_time is None:
            continue
        found[axis.name] = _stop(axis, promised, modes, swings[axis.name], 2 * np.pi * frequencies, damping, tolerance, ledger)
    return found


def used_accel(axis: Axis, promised: Real) -> Real:
    """Acceleration that the axis will be driven with: the wanted one, or the promised where none is wanted or it is less."""
    return promised if axis.accel is None else np.minimum(promised, axis.accel)


def _stop(axis: Axis, promised: AxisMotion, modes: tuple[Mode, ...], per_accel: Array, circular: Array, damping: Array,
          tolerance: Real | None, ledger: Ledger) -> Stop:  # fmt: skip
    """One axis, by each mode that counts."""
    if promised.accel is None or promised.rapid is None or axis.rise_time is None:
        raise ValueError(f"{axis.path}: neither speed, acceleration nor rise time may be unknown here")
    path, accel = axis.path, used_accel(axis, promised.accel)
    rise = axis.rise_time
    kept = _counting(per_accel)
    per_accel, circular, damping = per_accel[..., kept], circular[..., kept], damping[..., kept]
    inputs = {
        "accel": ledger.link(f"{path}.accel_promise", accel, "m/s2", "wanted, or promised where that is less"),
        "rapid": ledger.link(f"{path}.rapid_promise", promised.rapid, "m/s"), "rise_time": Named(f"{path}.rise_time", rise, "s"),
    }  # fmt: skip
    swing = _Swing(per_accel, circular, damping, accel, promised.rapid)
    each = swing.left(rise)
    binds, sudden = _most(each), _most(swing.left(0.0))
    words = _named(modes, kept, binds)
    how = "a sudden stop" if typical(rise) == 0 else "a stop with the rise time"
    left = ledger.note(
        f"{path}.stop.left", _worst(each.sum(axis=-1)), unit="m", source="derived", formula="sum_r |q_r| R_r(tau) (1 + exp(-zeta_r w_r v/a))",
        title=f"How far the tool rings just after {how} of the axis; most of it: {words}", **inputs,
    )  # fmt: skip
    if tolerance is None:
        return Stop(promised.axis, left, 0.0, None, None, None, None, words, rise)
    period = None if sudden is None else float(2 * np.pi / np.median(circular[..., sudden]))
    if period is not None and sudden is not None:
        ledger.note(
            f"{path}.stop.period", period, unit="s", source="derived", formula="tau = 1/f",
            title=f"Rise time of the acceleration that leaves {_named(modes, kept, sudden)} at rest, the mode that a sudden stop swings most",
            frequency=_frequency(modes, kept, sudden, ledger),
        )  # fmt: skip
    within = np.asarray(tolerance)[..., None]
    inputs["tolerance"] = ledger.link("", tolerance, "m", "a quarter of purpose.accuracy; common practice, no source")
    settle = ledger.note(
        f"{path}.stop.settle", _worst(settling_time(swings=each, circular=circular, damping=damping, tolerance=within)), unit="s",
        source="derived", formula="t: sum_r |q_r| exp(-zeta_r w_r t) = tolerance", title=f"Time until the tool is at rest after {how} of the axis", **inputs,
    )  # fmt: skip
    full, both = np.asarray(accel)[..., None, None], swing.both_ends
    ramp = ledger.note(
        f"{path}.stop.ramp", _worst(quiet_ramp(swings=full * both, circular=circular, damping=damping, tolerance=within)), unit="s",
        source="derived", formula="tau: sum_r |q_r| min(1, (1 + exp(-zeta w tau))/(w tau)) = tolerance",
        title="Rise time of the acceleration after which the tool is at rest as soon as the axis stands, whatever the phase",
        **{name: given for name, given in inputs.items() if name != "rise_time"},
    )  # fmt: skip
    jerk = ledger.note(
        f"{path}.stop.jerk", plain(accel / np.maximum(ramp, STEP)), unit="m/s3", source="definition", formula="a/max(tau, 1 ms)",
        title="Jerk limit that leaves the tool at rest as soon as the axis stands", ramp=ledger.named(f"{path}.stop.ramp"), accel=inputs["accel"],
    )  # fmt: skip
    quiet = _least(
        quiet_acceleration(swings=both, circular=circular, damping=damping, tolerance=within, ramp=_column(rise), time=SENSIBLE)
    )
    ledger.note(
        f"{path}.stop.quiet_acceleration", quiet, unit="m/s2", source="derived", formula="a = tolerance/sum_r |q_r/a| R_r exp(-zeta_r w_r t)",
        title=f"Acceleration that with the rise time of the axis comes to rest within {SENSIBLE:g} s", tolerance=inputs["tolerance"],
        rise_time=inputs["rise_time"],
    )  # fmt: skip
    ramped = None if period is None else typical(_worst(swing.left(period).sum(axis=-1)))
    return Stop(promised.axis, left, tolerance, settle, ramp, jerk, quiet, words, rise, period, ramped)


@dataclass(frozen=True, slots=True)
class _Swing:
    """What the modes of one axis do when it stops."""

    per_accel: Array
    """Static part of each mode per acceleration, shape (..., 3, m)."""
    circular: Array
    """Shape (..., m), as `damping`."""
    damping: Array
    accel: Real
    rapid: Real

    def left(self, rise: Real) -> Array:
        """Envelope of each mode just after a stop whose deceleration comes and goes over a rise time, shape (..., 3, m)."""
        accel = np.maximum(self.accel, STILL)
        part = reached_part(accel=accel, speed=self.rapid, ramp=rise)
        braking = _column(self.rapid / np.maximum(accel * part, STILL))
        left = left_by_stop(circular=self.circular, damping=self.damping, ramp=_column(rise * part), braking=braking)
        told: Array = np.abs(np.asarray(self.accel * part)[..., None, None] * self.per_accel * np.asarray(left)[..., None, :])
        return told

    @property
    def both_ends(self) -> Array:
        """Static part per acceleration with what is left of the stop's beginning, shape (..., 3, m)."""
        braking = np.asarray(self.rapid / np.maximum(self.accel, STILL))[..., None]
        told: Array = self.per_accel * (1 + np.exp(-self.damping * self.circular * braking))[..., None, :]
        return told


def _column(value: Real) -> Array:
    """A number that meets modes on a last axis."""
    return np.asarray(value, dtype=float)[..., None]


def _counting(per_accel: Array) -> Numbers:
    """Numbers of the modes whose swing counts in some direction; read from typical values, so that samples change nothing."""
    heights = np.abs(per_accel)
    middle = np.median(heights.reshape(-1, *heights.shape[-2:]), axis=0)
    whole = middle.sum(axis=-1, keepdims=True).max()
    chosen = (middle >= COUNTS * whole).any(axis=0) if whole > 0 else np.zeros(middle.shape[-1], dtype=bool)
    return np.flatnonzero(chosen)


def _most(each: Array) -> int | None:
    """Place of the mode that swings most; None where none swings."""
    middle = np.median(each.reshape(-1, *each.shape[-2:]), axis=0)
    return int(middle.max(axis=0).argmax()) if middle.size else None


def _frequency(modes: tuple[Mode, ...], kept: Numbers, number: int, ledger: Ledger) -> Named:
    """Frequency of one of the kept modes, as an input."""
    mode = modes[int(kept[number])]
    return ledger.link(f"structure.mode.{mode.number}.frequency", mode.frequency, "Hz", mode.name)


def _named(modes: tuple[Mode, ...], kept: Numbers, place: int | None) -> str:
    """A mode in words."""
    if place is None:
        return ""
    mode = modes[int(kept[place])]
    return f"{mode.name}, {typical(mode.frequency):.0f} Hz"


def _worst(values: Number) -> Real:
    """Greatest over the directions, shape (..., 3)."""
    return plain(np.asarray(values).max(axis=-1))


def _least(values: Number) -> Real:
    return plain(np.asarray(values).min(axis=-1))


def filled(axes: Mapping[str, AxisGive], ended: Mapping[str, Stop]) -> dict[str, AxisGive]:
    """What is told of each axis, with what its stop leaves."""
    return {name: _filled(given, ended[name]) if name in ended else given for name, given in axes.items()}


def _filled(given: AxisGive, stop: Stop) -> AxisGive:
    return replace(
        given, settle=stop.settle, tolerance=stop.tolerance, ramp=stop.ramp, jerk=stop.jerk, binds=stop.binds, left=stop.left,
        quiet=stop.quiet, rise=stop.rise, period=stop.period, period_left=stop.period_left,
    )  # fmt: skip

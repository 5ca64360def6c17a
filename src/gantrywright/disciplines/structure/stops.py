"""What a stop of each axis at its promised acceleration leaves ringing at the tool."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from gantrywright.base.samples import plain, typical
from gantrywright.base.units import Array, Metre, MetrePerSecondSquared, Number, Real, Second
from gantrywright.model.axis import Axis
from gantrywright.model.machine import Machine
from gantrywright.results.ledger import Ledger
from gantrywright.results.motion import AxisMotion, MotionResult
from gantrywright.results.structure import AxisGive, Mode
from gantrywright.theory.frames.frame import Numbers
from gantrywright.theory.frames.transients import left_by_stop, quiet_acceleration, quiet_ramp, settling_time

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
    """How far the tool rings just after, in its worst direction, where the deceleration ends at once."""
    tolerance: Metre
    """0 where no accuracy is wanted; what follows is then None."""
    settle: Second | None
    ramp: Second | None
    jerk: Number | None
    quiet: MetrePerSecondSquared | None
    binds: str
    """The mode that swings most."""


def stops(
    machine: Machine, motion: MotionResult, modes: tuple[Mode, ...], swings: Mapping[str, Array], frequencies: Array, damping: Array,
    ledger: Ledger,
) -> dict[str, Stop]:  # fmt: skip
    """Every axis whose speed and acceleration are promised.

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
        if promised is not None and promised.accel is not None and promised.rapid is not None:
            found[axis.name] = _stop(
                axis.path, promised, used_accel(axis, promised.accel), promised.rapid, modes, swings[axis.name], 2 * np.pi * frequencies, damping,
                tolerance, ledger,
            )  # fmt: skip
    return found


def used_accel(axis: Axis, promised: Real) -> Real:
    """Acceleration that the axis will be driven with: the wanted one, or the promised where none is wanted or it is less."""
    return promised if axis.accel is None else np.minimum(promised, axis.accel)


def _stop(
    path: str, promised: AxisMotion, accel: Real, rapid: Real, modes: tuple[Mode, ...], per_accel: Array, circular: Array,
    damping: Array, tolerance: Real | None, ledger: Ledger,
) -> Stop:  # fmt: skip
    kept = _counting(per_accel)
    per_accel, circular, damping = per_accel[..., kept], circular[..., kept], damping[..., kept]
    braking = np.asarray(rapid / np.maximum(accel, STILL))[..., None]
    twice = 1 + np.exp(-damping * circular * braking)
    both = per_accel * twice[..., None, :]  # the end of the stop, and what is left of its beginning
    heights = per_accel * np.asarray(left_by_stop(circular=circular, damping=damping, ramp=0.0, braking=braking))[..., None, :]
    full = np.asarray(accel)[..., None, None]
    each = np.abs(full * heights)
    binds = _binds(modes, kept, each)
    inputs = {
        "accel": ledger.link(f"{path}.accel_promise", accel, "m/s2", "wanted, or promised where that is less"),
        "rapid": ledger.link(f"{path}.rapid_promise", rapid, "m/s"),
    }
    left = ledger.note(
        f"{path}.stop.left", _worst(each.sum(axis=-1)), unit="m", source="derived", formula="sum_r |q_r| (1 + exp(-zeta_r w_r v/a))/sqrt(1 - zeta_r^2)",
        title=f"How far the tool rings just after a sudden stop of the axis; most of it: {binds}", **inputs,
    )  # fmt: skip
    if tolerance is None:
        return Stop(promised.axis, left, 0.0, None, None, None, None, binds)
    within = np.asarray(tolerance)[..., None]
    inputs["tolerance"] = ledger.link("", tolerance, "m", "a quarter of purpose.accuracy; common practice, no source")
    settle = ledger.note(
        f"{path}.stop.settle", _worst(settling_time(swings=each, circular=circular, damping=damping, tolerance=within)), unit="s",
        source="derived", formula="t: sum_r |q_r| exp(-zeta_r w_r t) = tolerance", title="Time until the tool is at rest after a sudden stop of the axis", **inputs,
    )  # fmt: skip
    ramp = ledger.note(
        f"{path}.stop.ramp", _worst(quiet_ramp(swings=full * both, circular=circular, damping=damping, tolerance=within)), unit="s",
        source="derived", formula="tau: sum_r |q_r| min(1, (1 + exp(-zeta w tau))/(w tau)) = tolerance",
        title="Rise time of the acceleration after which the tool is at rest as soon as the axis stands", **inputs,
    )  # fmt: skip
    jerk = ledger.note(
        f"{path}.stop.jerk", plain(accel / np.maximum(ramp, STEP)), unit="m/s3", source="definition", formula="a/max(tau, 1 ms)",
        title="Jerk limit that leaves the tool at rest as soon as the axis stands", ramp=ledger.named(f"{path}.stop.ramp"), accel=inputs["accel"],
    )  # fmt: skip
    quiet = _least(quiet_acceleration(swings=both, circular=circular, damping=damping, tolerance=within, ramp=0.0, time=SENSIBLE))
    ledger.note(
        f"{path}.stop.quiet_acceleration", quiet, unit="m/s2", source="derived", formula="a = tolerance/sum_r |q_r/a| R_r exp(-zeta_r w_r t)",
        title=f"Acceleration that without any jerk limit comes to rest within {SENSIBLE:g} s", tolerance=inputs["tolerance"],
    )  # fmt: skip
    return Stop(promised.axis, left, tolerance, settle, ramp, jerk, quiet, binds)


def _counting(per_accel: Array) -> Numbers:
    """Numbers of the modes whose swing counts in some direction; read from typical values, so that samples change nothing."""
    heights = np.abs(per_accel)
    middle = np.median(heights.reshape(-1, *heights.shape[-2:]), axis=0)
    whole = middle.sum(axis=-1, keepdims=True).max()
    chosen = (middle >= COUNTS * whole).any(axis=0) if whole > 0 else np.zeros(middle.shape[-1], dtype=bool)
    return np.flatnonzero(chosen)


def _binds(modes: tuple[Mode, ...], kept: Numbers, each: Array) -> str:
    """The mode that swings most, in words."""
    middle = np.median(each.reshape(-1, *each.shape[-2:]), axis=0)
    if not middle.size:
        return ""
    mode = modes[int(kept[int(middle.max(axis=0).argmax())])]
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
        quiet=stop.quiet,
    )  # fmt: skip

"""MOT-1xx and MOT-4xx: whether the speed and acceleration that are wanted may be promised, and what simulation says of the promise."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import greatest, least, typical
from gantrywright.base.units import Real
from gantrywright.disciplines.motion import alternatives
from gantrywright.disciplines.motion.promise import OPEN_LOOP
from gantrywright.findings import Change, Verdict, ceiling, check, floor, unknown
from gantrywright.model.axis import Axis
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.motion import AxisMotion

MEASURED_DAMPING = 0.05
"""Part of critical that a motor has which reached the torque of its curve beyond the corner speed (simulated motors needed as much)."""
ALWAYS = 1e9
"""As a watch margin: never better than to be watched."""


def _each(machine: Machine, results: Results) -> Iterator[tuple[Axis, AxisMotion]]:
    for axis in machine.axes:
        yield axis, results.motion.axes[axis.name]


def _without_open_loop(moved: AxisMotion) -> Real:
    """The speed that everything but the missing promise of an open-loop motor allows."""
    return least(*(cap.speed for cap in moved.caps if cap.reason != OPEN_LOOP))


def _open_loop_alone(moved: AxisMotion, wanted: Real) -> bool:
    """Whether only the missing promise of an open-loop motor stands against a wanted speed, by typical values."""
    if moved.rapid is None or typical(moved.rapid) >= typical(wanted):
        return False
    return moved.beyond_band is not None and typical(_without_open_loop(moved)) >= typical(wanted)


def _curve_keys(axis: Axis) -> str:
    path = next(drive.path for drive in axis.drives if drive.motor is not None)
    return f"{path}.motor.curve_speeds and {path}.motor.curve_torques"


def _no_promise(machine: Machine, axis: Axis, moved: AxisMotion, wanted: Real) -> Verdict:
    """Unknown: the band, and what would settle it."""
    return unknown(
        axis.path, unit="m/s", limit=wanted, note=_band_words(machine, moved),
        missing="a pull-out curve measured on this motor with this driver: " + _curve_keys(axis),
    )  # fmt: skip


def _wanted_feed(machine: Machine, axis: Axis) -> Real:
    """The feed wanted of an axis: its own, and those of the jobs; an upright axis plunges unless its feed stands in the file."""
    upright = axis.rise > 0.5
    told = machine.origins.get(f"{axis.path}.feed")
    feeds = [job.plunge if upright else job.feed for job in machine.jobs]
    if not upright or not feeds or (told is not None and told.kind == "file"):
        feeds.append(axis.feed)
    return greatest(*feeds)


@check(
    "MOT-101", title="The wanted rapid may be promised",
    why="The axis loses steps, hits a limit of its drive, or the rapid must be set lower than planned.",
    source="of each limit", remedy="Mend the limit that binds: it is named in the note.",
)  # fmt: skip
def rapid(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Unknown where only the model of an open-loop motor ends below the wanted speed: MOT-401 tells the band."""
    for axis, moved in _each(machine, results):
        if moved.rapid is None:
            yield unknown(axis.path, missing=moved.missing, unit="m/s", limit=axis.rapid)
        elif _open_loop_alone(moved, axis.rapid):
            yield _no_promise(machine, axis, moved, axis.rapid)
        else:
            note = f"binds: {moved.binds}; next: {moved.next}" if moved.next else f"binds: {moved.binds}"
            yield floor(
                axis.path, value=moved.rapid, limit=axis.rapid, unit="m/s", what="promised", note=note, figure=f"{axis.path}.rapid_promise",
                remedy=moved.caps[0].remedy, changes=_speed_changes(machine, axis, moved),
            )  # fmt: skip


def _band_words(machine: Machine, moved: AxisMotion) -> str:
    promised = alternatives.speed_words(machine, moved.rapid if moved.rapid is not None else 0.0)
    if moved.beyond_band is None:
        return f"promised up to {promised}"
    least_end = np.maximum(moved.beyond_band[0], 0.0 if moved.rapid is None else moved.rapid)
    low, high = (alternatives.speed_words(machine, end) for end in (least_end, moved.beyond_band[1]))
    return f"promised up to {promised}; beyond, the axis ends somewhere between {low} and {high}, depending on the damping of motor and driver"


def _speed_changes(machine: Machine, axis: Axis, moved: AxisMotion) -> tuple[Change, ...]:
    binds = moved.caps[0].reason
    if binds == "pulse rate":
        fits = [drive for drive in axis.drives if drive.path == moved.caps[0].drive]
        return tuple(
            change for fit in fits for change in alternatives.fewer_microsteps(fit, axis.rapid / moved.caps[0].speed)
        ) + alternatives.longer_leads(axis)
    if binds == "motor torque":
        return (
            *alternatives.parallel_winding(axis), *alternatives.higher_voltage(machine, axis), *alternatives.longer_leads(axis),
            *alternatives.stronger_motor(axis),
        )  # fmt: skip
    if binds == OPEN_LOOP:
        return _open_loop_changes(machine, axis)
    return alternatives.longer_leads(axis)


def _open_loop_changes(machine: Machine, axis: Axis) -> tuple[Change, ...]:
    leads, voltages = alternatives.longer_leads(axis), alternatives.higher_voltage(machine, axis)
    both = (alternatives.together((leads[-1], voltages[-1])),) if leads and voltages else ()
    return (*alternatives.parallel_winding(axis), *leads, *voltages, *both, *alternatives.closed_loop(machine, axis))


@check(
    "MOT-102", title="The wanted acceleration may be promised up to the wanted rapid",
    why="Short moves, corners and arcs take longer than planned; set higher, an open-loop axis loses steps.",
    source="derived", remedy="Less moving mass, more motor torque at speed, another lead.",
)  # fmt: skip
def accel(machine: Machine, results: Results) -> Iterator[Verdict]:
    """At the top of the ramp, where the motor is weakest."""
    for axis, moved in _each(machine, results):
        if axis.accel is None:
            continue
        if moved.accel is None:
            yield unknown(axis.path, missing=moved.missing, unit="m/s2", limit=axis.accel)
            continue
        changes = (
            *alternatives.full_current(axis), *alternatives.parallel_winding(axis), *alternatives.higher_voltage(machine, axis),
            *alternatives.stronger_motor(axis), *alternatives.longer_leads(axis, 1),
        )  # fmt: skip
        yield floor(
            axis.path, value=moved.accel, limit=axis.accel, unit="m/s2", what="promised", note=f"binds: {moved.accel_binds}",
            figure=f"{axis.path}.accel_promise", changes=changes,
        )  # fmt: skip


@check(
    "MOT-103", title="The wanted cutting feed lies below the promised rapid",
    why="The feed of the jobs cannot be reached with margin; chips get too thin and the cutter rubs.",
    source="derived", remedy="As for the rapid.",
)  # fmt: skip
def feed(machine: Machine, results: Results) -> Iterator[Verdict]:
    """The fastest of the wanted feed and of the jobs' feeds."""
    for axis, moved in _each(machine, results):
        wanted = _wanted_feed(machine, axis)
        if moved.rapid is None:
            yield unknown(axis.path, missing=moved.missing, unit="m/s", limit=wanted)
        elif _open_loop_alone(moved, wanted):
            yield _no_promise(machine, axis, moved, wanted)
        else:
            yield floor(
                axis.path, value=moved.rapid, limit=wanted, unit="m/s", what="promised rapid", note=f"binds: {moved.binds}", figure=f"{axis.path}.rapid_promise",
                changes=_speed_changes(machine, axis, moved),
            )  # fmt: skip


@check(
    "MOT-401", title="Open-loop motors run no faster than their model may promise",
    why="Beyond 1.3 times the corner speed the current no longer follows: a rotor with little damping may lose step at a quarter of the"
    " computed torque, and nobody notices.",
    source="cao-schwartz-1999", remedy="A longer lead, a higher bus voltage, a closed-loop motor, or a curve measured on this motor.",
)  # fmt: skip
def beyond_corner(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Beyond, to be watched while even a quarter of the torque would do; fails where it would not."""
    for axis, moved in _each(machine, results):
        if moved.rapid is None:
            if any(drive.motor is not None and drive.motor.part.type == "stepper" for drive in axis.drives):
                yield unknown(axis.path, missing=moved.missing, unit="m/s")
            continue
        if moved.beyond_band is None:
            continue
        promised = axis.rapid / np.maximum(moved.beyond_corner, 1e-9)
        beyond = typical(moved.beyond_corner) > 1
        limit = np.maximum(promised, moved.beyond_band[0]) if beyond else promised
        yield ceiling(
            axis.path, value=axis.rapid, limit=limit, unit="m/s", what="rapid", watch=ALWAYS if beyond else 0.0,
            note=f"caution: beyond what the model may promise; {_band_words(machine, moved)}" if beyond else "", figure=f"{axis.path}.rapid_promise",
            changes=_open_loop_changes(machine, axis),
        )  # fmt: skip


@check(
    "MOT-402", title="The promised ramp keeps step in simulation",
    why="The axis stalls on the first hard ramp, or slips whole fractions of a turn that shift the rest of the work.",
    source="derived", remedy="Set a lower acceleration; more damping or a higher bus voltage helps.", simulated=True,
)  # fmt: skip
def simulated(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Only where the promise was simulated; with a measured curve the runs with at least 5 % of damping count."""
    if results.simulation is None:
        return
    for run in results.simulation.axes.values():
        words = ", ".join(
            f"{100 * each.damping:g} %: {'x ' if each.lost_beyond else 'more than x '}{each.loss_factor:.2f}" for each in run.runs
        )
        ramp = f"{show(typical(run.acceleration), 'm/s2', machine.show)} to {alternatives.speed_words(machine, run.speed)}"
        counts = [each.loss_factor for each in run.runs if each.damping >= (MEASURED_DAMPING if run.measured else 0.0)]
        yield floor(
            run.drive, value=min(counts), limit=1.0, unit="", what="kept over promised", figure=f"axis.{run.axis}.accel_promise",
            note=f"ramp of {ramp}; acceleration up to which step is kept, over the promised one, by damping: {words}",
        )  # fmt: skip

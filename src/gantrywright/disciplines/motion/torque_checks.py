"""MOT-2xx: what is left of the torque, how far the rotor lags, what shakes it."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.disciplines.motion import alternatives
from gantrywright.findings import Change, Verdict, cautioned, ceiling, check, floor, unknown
from gantrywright.model.axis import Axis
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.motion import DriveMotion

LAG_SHARE = 0.25
"""Part of the wanted accuracy that the lag of the rotor may take; common practice, no source."""
RATIO_GUIDE = 10.0
"""Load over rotor that a servo loop is easily tuned for; common practice, no source."""
OVER = 1.15
"""A stronger motor has so much more than what was asked of the present one, for its own larger rotor."""
NEAR = 0.6
"""Part of a limit from which on changes are looked for."""
RESONANCE_GUARD = 0.15
"""Distance of a feed from a resonance, over the resonance; common practice, no source."""


def _each(machine: Machine, results: Results) -> Iterator[tuple[Axis, DriveMotion]]:
    for axis in machine.axes:
        for made in results.motion.axes[axis.name].drives:
            yield axis, made


def _stronger(axis: Axis, times: float) -> tuple[Change, ...]:
    return (*alternatives.full_current(axis), *alternatives.shorter_travel(axis), *alternatives.stronger_motor(axis, times))


def _unknown_axes(machine: Machine, results: Results, unit: str = "") -> Iterator[Verdict]:
    for axis in machine.axes:
        if results.motion.axes[axis.name].missing:
            yield unknown(axis.path, missing=results.motion.axes[axis.name].missing, unit=unit)


@check(
    "MOT-201", title="Motors push the mean cutting force at the wanted feed with margin",
    why="The axis stalls or lags in the cut; an open-loop axis loses its place.",
    source="derived", remedy="Cut less, a shorter lead, a stronger motor, a driver current nearer the rating.",
)  # fmt: skip
def feed_torque(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Torque in the cut over the part of the motor's torque that may be promised at that speed."""
    yield from _unknown_axes(machine, results)
    for axis, made in _each(machine, results):
        if made.feed_torque_share is None:
            yield unknown(made.path, missing="the mean cutting force: a [job] whose material has cutting coefficients")
        else:
            yield ceiling(
                made.path, value=made.feed_torque_share, limit=1.0, unit="", what="part of the torque", figure=f"{made.path}.feed.torque",
                note=f"torque in the cut over what may be promised; this motor bears up to {100 * typical(made.share):.0f} % of the moving mass",
                changes=_stronger(axis, OVER * typical(made.feed_torque_share)) if typical(made.feed_torque_share) > NEAR else (),
            )  # fmt: skip


@check(
    "MOT-202", title="The rotor's lag behind its commanded place is a small part of the accuracy wanted",
    why="A rotor hangs behind its magnetic field as on a spring: the harder the cut, the farther; corners and round holes show it.",
    source="derived", remedy="A shorter lead, a stronger motor, a driver current nearer the rating.",
)  # fmt: skip
def lag(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Against a quarter of the wanted accuracy."""
    accuracy = machine.purpose.accuracy
    if accuracy is None:
        return
    for axis, made in _each(machine, results):
        if made.lag is not None:
            yield ceiling(
                made.path, value=made.lag, limit=LAG_SHARE * accuracy, unit="m", what="lag", source="common practice, no source",
                figure=f"{made.path}.feed.lag",
                changes=_stronger(axis, 1.0) if typical(made.lag) > NEAR * LAG_SHARE * typical(accuracy) else (),
            )  # fmt: skip


@check(
    "MOT-203", title="Inertia of the load suits the loop of the motor",
    why="Far above ten times the rotor a servo loop is hard to tune: it hums or overshoots. No limit of open-loop steppers.",
    source="common practice, no source", remedy="A motor with more inertia, a shorter lead, a reduction.",
)  # fmt: skip
def ratio(machine: Machine, results: Results) -> Iterator[Verdict]:
    """A guide to tuning, never worse than to be watched."""
    for axis in machine.axes:
        moved = results.motion.axes[axis.name]
        closes = [drive for drive in axis.drives if drive.motor is not None and drive.motor.part.type != "stepper"]
        if moved.inertia_ratio is not None and closes:
            yield cautioned(ceiling(
                axis.path, value=moved.inertia_ratio, limit=RATIO_GUIDE, unit="", what="inertia ratio", figure=f"{closes[0].path}.inertia_ratio",
                note="a guide to tuning, no limit: inertia of the load over that of the rotor",
            ))  # fmt: skip


@check(
    "MOT-204", title="Feeds keep clear of the low-speed resonances of open-loop motors",
    why="Where the error frequency of the driver meets the swing of the rotor on its magnetic spring, the axis buzzes and leaves ripples.",
    source="derived", remedy="Another feed, more microsteps, a driver with damping; a little friction helps.",
)  # fmt: skip
def resonance(machine: Machine, results: Results) -> Iterator[Verdict]:
    """How strong it is cannot be told from a data sheet: never worse than to be watched."""
    for axis, made in _each(machine, results):
        if not made.resonant_feeds:
            continue
        feeds: list[Real] = [axis.feed, *((job.plunge if axis.rise > 0.5 else job.feed) for job in machine.jobs)]
        away = [np.abs(feed / speed - 1) for feed in feeds for speed in made.resonant_feeds]
        nearest: Real = away[0]
        for each in away[1:]:
            nearest = np.minimum(nearest, each)
        words = ", ".join(alternatives.speed_words(machine, speed) for speed in made.resonant_feeds)
        swing = "" if made.natural_frequency is None else f"the rotor swings at {show(typical(made.natural_frequency), 'Hz')}; "
        yield cautioned(floor(
            made.path, value=nearest, limit=RESONANCE_GUARD, unit="", what="distance from a resonance", figure=f"{made.path}.natural_frequency",
            note=f"{swing}the nearest feed is {100 * typical(nearest):.0f} % away; within 15 % of {words} it may buzz",
        ))  # fmt: skip


@check(
    "MOT-205", title="Servo motors stay cool in hard to-and-fro moves",
    why="The drive trips on overload in jobs with many short rapids.",
    source="definition", remedy="A lower acceleration, a stronger motor, pauses.",
)  # fmt: skip
def duty(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Mean heat of moves over half the travel with the promised acceleration."""
    for axis, made in _each(machine, results):
        if made.rms_torque_share is not None:
            yield ceiling(
                made.path, value=made.rms_torque_share, limit=1.0, unit="", what="part of the torque", figure=f"{made.path}.duty.rms_torque",
                note="torque that heats as much as the moves do, over the continuous torque",
                changes=alternatives.stronger_motor(axis, OVER * typical(made.rms_torque_share)),
            )  # fmt: skip

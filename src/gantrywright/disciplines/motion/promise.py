"""The promise of an axis: the speed and acceleration that its motors give with margin, and everything that caps them."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from gantrywright.base.samples import along_grid, greatest, least, typical
from gantrywright.base.units import Array, MetrePerSecond, MetrePerSecondSquared, Newton, Number, RadianPerSecond, Real
from gantrywright.disciplines.motion.loads import DriveLoad, named, voltage_of
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.machine import Machine
from gantrywright.results.drives import DriveAnswer, DriveResult
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.motion import Cap, Envelope
from gantrywright.theory.axis_envelope import acceleration, greatest_speed, thrust
from gantrywright.theory.pulses import pulse_speed, steps_per_metre

GRID = np.linspace(0.0, 1.0, 97) ** 2
"""Points of a speed grid, closer where the torque falls fast."""
RESERVE = 0.5
"""Acceleration that an axis must still have at its promised rapid, m/s2; common practice, no source."""
OPEN_LOOP = "step loss beyond 1.3 x corner speed"
"""The cap of what the model of an open-loop motor may promise."""
MARGIN = "part of the torque that is promised, by kind of motor; common practice, no source"
BAND = (0.25, 1.0)
"""Parts of the pull-out torque that simulated motors held beyond 1.3 times the corner speed."""


@dataclass(frozen=True, slots=True)
class Curves:
    """Torque of every motor of the axis on one grid of axis speeds."""

    speeds: Array
    """m/s, (n_points,) or (n_samples, n_points)."""
    loads: tuple[DriveLoad, ...]
    torques: tuple[Array, ...]
    """Without margin, N m, one for each load; same shape as speeds."""
    margins: tuple[Array, ...]
    continuous: tuple[Array | None, ...]
    """For motors whose short-time torque is more than the lasting one."""

    def left(self, index: int, margin: Real | None = None) -> Array:
        """Thrust of a motor at each speed, friction and weight taken off."""
        return self._thrust(index, self.torques[index], self.margins[index] if margin is None else margin)

    def spare(self, index: int, accel: Real, margin: Real | None = None) -> Array:
        """What is left for speed: thrust over that of an acceleration; for servos also the lasting torque over the steady load."""
        load = self.loads[index]
        spare = self.left(index, margin) - along_grid(load.effective_mass * accel)
        lasting = self.continuous[index]
        return spare if lasting is None else np.minimum(spare, self._thrust(index, lasting, self.margins[index]))

    def _thrust(self, index: int, torque: Array, margin: Real) -> Array:
        load = self.loads[index]
        pushed = thrust(
            torque=torque, margin=margin, drag_torque=along_grid(load.drag), efficiency=along_grid(load.efficiency),
            travel_per_radian=along_grid(load.radius),
        )  # fmt: skip
        return np.asarray(pushed - along_grid(load.force))

    def envelope(self) -> Envelope:
        """Of the whole axis: the motor that first has nothing left binds."""
        whole = [self.left(i) / along_grid(load.share) for i, load in enumerate(self.loads)]
        speeds, together = np.broadcast_arrays(self.speeds, np.asarray(least(*whole)))
        return Envelope(speeds, together)


def curves_of(loads: tuple[DriveLoad, ...], reserve: MetrePerSecondSquared) -> Curves:
    """Torques on a grid that reaches beyond the greatest speed at which any motor of the axis still moves it."""
    ends = []
    for load in loads:
        needed = load.drag + (load.force + load.effective_mass * reserve) * load.radius / load.efficiency
        ends.append(load.motor.end_speed(needed, load.voltage) * load.radius)
    speeds = np.asarray(along_grid(greatest(*ends)) * GRID)
    torques, margins, lasting = [], [], []
    for load in loads:
        motor, voltage = load.motor.along_grid(), along_grid(load.voltage)
        shaft = speeds / along_grid(load.radius)
        torques.append(np.asarray(motor.torque(shaft, voltage)))
        margins.append(np.asarray(motor.margin(shaft, voltage)))
        lasting.append(np.asarray(motor.torque(shaft, voltage, continuous=True)) if motor.kind == "servo" else None)
    return Curves(speeds, loads, tuple(torques), tuple(margins), tuple(lasting))


def motor_caps(curves: Curves, reserve: MetrePerSecondSquared, ledger: Ledger) -> list[Cap]:
    """Speeds that the motors' torque caps, and those beyond which an open-loop motor promises nothing."""
    caps = []
    for index, load in enumerate(curves.loads):
        speed = greatest_speed(speeds=curves.speeds, reserve=curves.spare(index, reserve))
        path = f"{load.path}.cap.motor"
        ledger.note(
            path, speed, unit="m/s", formula="greatest v with (k T(v/r) - T_drag) eta/r - F >= (m + J eta/r^2) a", source="derived",
            title="Speed up to which the motor's torque, margin taken off, still accelerates the axis",
            **named(load, ledger, "mass", "force", "inertia", "travel_per_radian", "efficiency", "drag_torque"), voltage=voltage_of(load),
            acceleration=Named("", reserve, "m/s2", "the wanted one, at most 0.5 m/s2; common practice, no source"),
        )  # fmt: skip
        caps.append(
            Cap("motor torque", speed, load.path, "derived", "higher bus voltage, a stronger motor, less mass or friction", path)
        )
        if load.motor.open_loop:
            caps.append(_open_loop_cap(load, ledger))
        if load.motor.top_speed is not None:
            caps.append(_top_speed_cap(load, load.motor.top_speed, ledger))
    return caps


def _open_loop_cap(load: DriveLoad, ledger: Ledger) -> Cap:
    speed = ledger.note(
        f"{load.path}.cap.open_loop", load.motor.promised_up_to(load.voltage) * load.radius, unit="m/s",
        formula="1.3 w_corner r, or the fastest point of the motor's own curve, times V over that of the curve", source="derived",
        title="Speed beyond which the model of an open-loop motor promises nothing",
        **named(load, ledger, "travel_per_radian"), voltage=voltage_of(load),
    )  # fmt: skip
    words = (
        "a longer lead, a higher bus voltage, a motor with less inductance, a closed-loop motor, or a curve measured on this motor"
    )
    return Cap(OPEN_LOOP, speed, load.path, "derived", words, f"{load.path}.cap.open_loop")


def _top_speed_cap(load: DriveLoad, top: RadianPerSecond, ledger: Ledger) -> Cap:
    speed = ledger.note(
        f"{load.path}.cap.motor_top", top * load.radius, unit="m/s", formula="v = w_top r", source="definition",
        title="Speed of the axis at the highest speed of the motor", top_speed=Named(f"{load.path}.motor.top_speed", top),
        **named(load, ledger, "travel_per_radian"),
    )  # fmt: skip
    source = load.fit.motor.part.source if load.fit.motor is not None else ""
    return Cap(
        "highest speed of the motor", speed, load.path, source, "a longer lead or less reduction", f"{load.path}.cap.motor_top"
    )


def metal_caps(machine: Machine, axis: Axis, driven: DriveResult, ledger: Ledger) -> list[Cap]:
    """Speeds that the drives themselves and the step pulses cap."""
    caps: list[Cap] = []
    for answer in driven.of_axis(axis.name):
        for limit in answer.speed_limits:
            if limit.hard:
                path = f"{answer.path}.cap.{limit.reason.replace(' ', '_')}"
                ledger.note(
                    path, limit.speed, unit="m/s", formula=SPEED_LIMITS.get(limit.reason, "v = n s, n the limit of the driven shaft"),
                    source=limit.source, title=f"Speed of the axis at the limit of its drive: {limit.reason}",
                    **_limit_inputs(answer.path, limit.reason, ledger),
                )  # fmt: skip
                caps.append(Cap(limit.reason, limit.speed, answer.path, limit.source, limit.remedy, path))
    for drive in axis.drives:
        pulses = pulse_cap(machine, drive, driven.drives[drive.path], ledger)
        if pulses is not None:
            caps.append(pulses)
    return caps


SPEED_LIMITS = {"whirl": "v = 0.8 n_c s, n_c the whirl speed", "speed value": "v = n_max s, n_max by diameter times speed"}
"""Formula of a limit by its reason."""


def _limit_inputs(path: str, reason: str, ledger: Ledger) -> dict[str, Any]:
    figures = {"whirl": "whirl_speed", "speed value": "speed_value_limit"}
    names = (figures.get(reason, ""), "travel_per_turn")
    return {name: ledger.named(f"{path}.{name}") for name in names if f"{path}.{name}" in ledger}


def takes_pulses(drive: DriveFit) -> bool:
    """Whether its driver takes a pulse a microstep; a servo drive's pulses a turn are a setting of its own."""
    return drive.motor is not None and drive.motor.part.type in ("stepper", "closed-loop")


def pulses_per_metre(drive: DriveFit, answer: DriveAnswer, ledger: Ledger) -> Number | None:
    """Pulses for a metre; None where a number is unknown."""
    if drive.motor is None or drive.driver is None or not takes_pulses(drive):
        return None
    poles, microsteps = drive.motor.part.pole_pairs, drive.driver.part.microsteps
    if poles is None or microsteps is None:
        return None
    return ledger.figure(
        f"{drive.path}.steps_per_metre", steps_per_metre, travel_per_radian=Named(f"{drive.path}.travel_per_radian", answer.travel_per_radian),
        pole_pairs=Named(f"{drive.path}.motor.pole_pairs", poles), microsteps=Named(f"{drive.path}.driver.microsteps", microsteps),
    )  # fmt: skip


def pulse_rate(machine: Machine, drive: DriveFit) -> Real | None:
    """Highest pulse rate of controller and driver; None where neither is known."""
    rates = [rate for rate in (
        None if machine.controller is None else machine.controller.pulse_rate,
        None if drive.driver is None else drive.driver.part.pulse_rate,
    ) if rate is not None]  # fmt: skip
    return least(*rates) if rates else None


def _slower(machine: Machine, drive: DriveFit) -> str:
    """Path of the pulse rate that is lower, by typical value."""
    rates = {
        "controller.pulse_rate": None if machine.controller is None else machine.controller.pulse_rate,
        f"{drive.path}.driver.pulse_rate": None if drive.driver is None else drive.driver.part.pulse_rate,
    }
    known = {path: typical(rate) for path, rate in rates.items() if rate is not None}
    return min(known, key=lambda path: known[path])


def pulse_cap(machine: Machine, drive: DriveFit, answer: DriveAnswer, ledger: Ledger) -> Cap | None:
    """Speed at the highest pulse rate of controller and driver."""
    per_metre, rate = pulses_per_metre(drive, answer, ledger), pulse_rate(machine, drive)
    if per_metre is None or rate is None:
        return None
    speed = ledger.figure(
        f"{drive.path}.cap.pulses",
        pulse_speed,
        frequency=Named(_slower(machine, drive), rate),
        steps_per_metre=ledger.named(f"{drive.path}.steps_per_metre"),
    )
    return Cap(
        "pulse rate", speed, drive.path, "definition", "fewer microsteps, or a faster controller", f"{drive.path}.cap.pulses"
    )


def sorted_caps(caps: list[Cap]) -> tuple[Cap, ...]:
    """Least first, by typical value."""
    return tuple(sorted(caps, key=lambda cap: typical(cap.speed)))


def rapid_of(axis: Axis, caps: tuple[Cap, ...], ledger: Ledger) -> MetrePerSecond:
    """The promised rapid: least of all caps."""
    named = {f"cap_{number}": ledger.named(cap.figure) for number, cap in enumerate(caps, 1)}
    speed = least(*(cap.speed for cap in caps))
    return ledger.note(
        f"{axis.path}.rapid_promise", speed, unit="m/s", formula="least of everything that caps the speed", source="derived",
        title="Rapid that may be promised, with margin", **named,
    )  # fmt: skip


def accel_of(axis: Axis, loads: tuple[DriveLoad, ...], speed: MetrePerSecond, ledger: Ledger) -> tuple[Real, str]:
    """The acceleration at the top of a ramp, and what caps it."""
    found: list[tuple[Real, str]] = []
    for load in loads:
        shaft = speed / load.radius
        path = f"{load.path}.ramp"
        ledger.figure(
            f"{path}.thrust", thrust, torque=Named("", load.motor.torque(shaft, load.voltage), note=f"of {load.path}.motor at that speed, by its model"),
            margin=Named("", load.motor.margin(shaft, load.voltage), note=MARGIN), **named(load, ledger, "drag_torque", "efficiency", "travel_per_radian"),
        )  # fmt: skip
        left = ledger.figure(
            f"{path}.acceleration", acceleration, thrust=ledger.named(f"{path}.thrust"),
            **named(load, ledger, "force", "mass", "inertia", "efficiency", "travel_per_radian"),
        )  # fmt: skip
        found.append((left, f"torque of {load.path}.motor at the top of the ramp"))
        for reason, limit, _, _ in load.answers[0].load_limits:
            found.append(((limit * len(load.answers) - load.force) / load.mass, f"{reason} of {load.path}"))
    value = np.maximum(least(*(accel for accel, _ in found)), 0.0)
    binds = min(found, key=lambda pair: typical(pair[0]))[1]
    ledger.note(
        f"{axis.path}.accel_promise", value, unit="m/s2", formula="least of (F_thrust - F)/(m + J eta/r^2) and of what the drive bears",
        source="derived", title="Acceleration that may be promised up to the wanted or the promised rapid, whichever is lower",
        top_speed=Named("", speed, "m/s", f"the lower of {axis.path}.rapid and {axis.path}.rapid_promise"), **{f"drive_{n}": ledger.named(f"{load.path}.ramp.acceleration") for n, load in enumerate(loads, 1)},
    )  # fmt: skip
    return value, binds


def feed_force_of(axis: Axis, loads: tuple[DriveLoad, ...], ledger: Ledger) -> Newton:
    """Thrust that is left for cutting at the wanted feed."""
    found = []
    for load in loads:
        shaft = axis.feed / load.radius
        path = f"{load.path}.feed.thrust"
        push = ledger.figure(
            path, thrust, torque=Named("", load.motor.torque(shaft, load.voltage, continuous=True), note=f"of {load.path}.motor at the feed, by its model"),
            margin=Named("", load.motor.margin(shaft, load.voltage), note=MARGIN), **named(load, ledger, "drag_torque", "efficiency", "travel_per_radian"),
        )  # fmt: skip
        found.append((push - load.force) / load.cutting_share)
    return ledger.note(
        f"{axis.path}.feed_force", np.maximum(least(*found), 0.0), unit="N", formula="least of (F_thrust - F)/share over the motors",
        source="derived", title="Thrust that is left for cutting at the wanted feed, with margin", feed=Named(f"{axis.path}.feed", axis.feed),
        **{f"thrust_{n}": ledger.named(f"{load.path}.feed.thrust") for n, load in enumerate(loads, 1)},
    )  # fmt: skip


def beyond_band(curves: Curves, reserve: MetrePerSecondSquared, ledger: Ledger, axis: Axis) -> tuple[Real, Real] | None:
    """Speeds between which an open-loop axis would end beyond 1.3 times the corner speed; None where none of its motors is open-loop."""
    opened = [index for index, load in enumerate(curves.loads) if load.motor.open_loop]
    if not opened:
        return None
    ends = [
        least(*(greatest_speed(speeds=curves.speeds, reserve=curves.spare(index, reserve, part)) for index in opened))
        for part in BAND
    ]
    for name, part, end in zip(("low", "high"), BAND, ends, strict=True):
        ledger.note(
            f"{axis.path}.beyond.{name}", end, unit="m/s", formula=f"greatest v with ({part} T(v/r) - T_drag) eta/r - F >= (m + J eta/r^2) a",
            source="derived", title="End of the band of speeds that an open-loop motor may reach, without a promise",
            acceleration=Named("", reserve, "m/s2", "the wanted one, at most 0.5 m/s2; common practice, no source"),
            **{f"{name}_{n}": given for n, i in enumerate(opened, 1) for name, given in named(curves.loads[i], ledger, "mass", "force").items()},
        )  # fmt: skip
    return ends[0], ends[1]

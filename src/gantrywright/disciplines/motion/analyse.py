"""Motors, drives and loads of every axis: what may be promised.

The promised rapid is the least of all caps: whatever caps the drive itself, the step pulses, and the greatest speed at which the motor,
with its margin, still accelerates the axis against friction and weight by the wanted acceleration, or by 0.5 m/s2 where more is wanted. The
promised acceleration is the one left at the top of the ramp to the wanted rapid, or to the promised one where that is lower.
"""

from typing import Any

import numpy as np

from gantrywright.base.samples import greatest, least, typical
from gantrywright.base.units import MetrePerSecond, Newton, NewtonMetre, NewtonPerMetre, Number, Radian, Real
from gantrywright.disciplines.motion import promise
from gantrywright.disciplines.motion.best_lead import best_lead
from gantrywright.disciplines.motion.loads import AxisForces, DriveLoad, drive_stiffness, forces_of, loads_of, named
from gantrywright.model.axis import Axis
from gantrywright.model.machine import Machine
from gantrywright.model.motors import Missing
from gantrywright.results.cutting import CuttingResult
from gantrywright.results.drives import DriveResult
from gantrywright.results.guides import FrictionResult
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.masses import MassResult
from gantrywright.results.motion import AxisMotion, Cap, DriveMotion, MotionResult
from gantrywright.theory.axis_envelope import motor_torque, reflected_inertia
from gantrywright.theory.load_angle import linear_stiffness, load_angle, magnetic_stiffness, natural_frequency, resonant_speed
from gantrywright.theory.pulses import pulse_frequency
from gantrywright.theory.servos import inertia_ratio, rms_torque

HELD = 0.9
"""Part of its stall torque up to which a motor's spring is counted."""
NO_CUT = Named("", 0.0, note="nothing is cut on a ramp")
STEADY = Named("", 0.0, note="steady")
ORDERS = (1, 2, 4)
"""Electrical orders that shake the rotor: offset, unequal phases, detent."""


def analyse(
    machine: Machine, masses: MassResult, cutting: CuttingResult, friction: FrictionResult, driven: DriveResult, ledger: Ledger
) -> MotionResult:
    """All axes."""
    return MotionResult({
        axis.name: _axis(machine, axis, masses, forces_of(axis, masses, cutting, friction, ledger), driven, ledger) for axis in machine.axes
    })  # fmt: skip


def _axis(machine: Machine, axis: Axis, masses: MassResult, forces: AxisForces, driven: DriveResult, ledger: Ledger) -> AxisMotion:
    caps = promise.metal_caps(machine, axis, driven, ledger)
    loads = loads_of(machine, axis, forces, masses, driven, ledger)
    if isinstance(loads, Missing):
        return _unknown(axis, promise.sorted_caps(caps), loads.what)
    reserve = promise.RESERVE if axis.accel is None else np.minimum(axis.accel, promise.RESERVE)
    curves = promise.curves_of(loads, reserve)
    ordered = promise.sorted_caps(caps + promise.motor_caps(curves, reserve, ledger))
    rapid = promise.rapid_of(axis, ordered, ledger)
    top = np.minimum(rapid, axis.rapid)
    accel, accel_binds = promise.accel_of(axis, loads, top, ledger)
    drives = tuple(_drive(axis, load, top, accel, ledger) for load in loads)
    stiffness = _stiffness(axis, loads, drives, ledger)
    best_lead(axis, loads[0], ledger)
    following = [cap for cap in ordered if cap.reason != ordered[0].reason]
    return AxisMotion(
        axis=axis.name, rapid=rapid, accel=accel, feed_force=promise.feed_force_of(axis, loads, ledger), caps=ordered,
        binds=_words(ordered[0]), next=_words(following[0]) if following else "",
        margin_used=least(*(load.motor.margin(rapid / load.radius, load.voltage) for load in loads)),
        stiffness=stiffness, inertia_ratio=_ratio(axis, loads, ledger), load_angle=_angle(loads, drives, ledger),
        envelope=curves.envelope(), stall_force=_stall(axis, loads, ledger), accel_binds=accel_binds,
        beyond_corner=_beyond(axis, loads), beyond_band=promise.beyond_band(curves, reserve, ledger, axis), drives=drives,
        rapid_reserve=reserve, softest="" if stiffness is None else _softest(loads, ledger),
    )  # fmt: skip


def _words(cap: Cap) -> str:
    return f"{cap.reason} ({cap.drive})"


def _unknown(axis: Axis, caps: tuple[Cap, ...], missing: str) -> AxisMotion:
    return AxisMotion(
        axis=axis.name, rapid=None, accel=None, feed_force=None, caps=caps, binds="", next="", margin_used=0.0, stiffness=None,
        inertia_ratio=None, load_angle=None, envelope=None, stall_force=None, missing=missing,
    )  # fmt: skip


def _drive(axis: Axis, load: DriveLoad, top: MetrePerSecond, accel: Real, ledger: Ledger) -> DriveMotion:
    speed = Named("", top, note=f"the lower of {axis.path}.rapid and {axis.path}.rapid_promise")
    ramp = _torque(f"{load.path}.ramp.torque", load, speed, ledger.link(f"{axis.path}.accel_promise", accel), NO_CUT, ledger)
    wanted, cut = (
        Named(f"{axis.path}.feed", axis.feed),
        Named("", load.cutting, note="its share of the mean cutting force along the axis"),
    )
    feed = None if load.cutting is None else _torque(f"{load.path}.feed.torque", load, wanted, STEADY, cut, ledger)
    shaft = axis.feed / load.radius
    allowed = load.motor.margin(shaft, load.voltage) * load.motor.torque(shaft, load.voltage, continuous=True)
    frequency = _swing(load, _spring_torque(load, feed), ledger)
    return DriveMotion(
        path=load.path, share=load.share, mass=load.mass, force=load.force, cutting=load.cutting, inertia=load.turning,
        travel_per_radian=load.radius, efficiency=load.efficiency, drag_torque=load.drag, voltage=load.voltage, accel_torque=ramp,
        feed_torque=feed, feed_torque_share=None if feed is None else feed / np.maximum(allowed, 1e-9),
        rms_torque_share=_heat(axis, load, top, accel, ledger) if load.motor.kind == "servo" else None, natural_frequency=frequency,
        resonant_feeds=() if frequency is None else _resonances(load, frequency, ledger), lag=_lag(load, feed, ledger),
        pulses=_pulses(axis, load, ledger),
    )  # fmt: skip


def _torque(path: str, load: DriveLoad, speed: Any, accel: Any, cutting: Any, ledger: Ledger) -> NewtonMetre:
    """Torque at the shaft; friction and weight together work against the motion."""
    return ledger.figure(
        path, motor_torque, speed=speed, acceleration=accel, cutting=cutting, rise=Named("", 0.0, note="the weight is in the friction"),
        **named(load, ledger, "mass", "friction", "travel_per_radian", "inertia", "efficiency", "back_efficiency", "drag_torque"),
    )  # fmt: skip


def _spring_torque(load: DriveLoad, feed: NewtonMetre | None) -> NewtonMetre:
    """Torque that the magnetic spring is looked at with; one asked for more than it has is told by the check of its torque, not here."""
    return 0.0 if feed is None else np.minimum(feed, HELD * load.motor.stall_torque)


def _swing(load: DriveLoad, torque: NewtonMetre, ledger: Ledger) -> Real | None:
    stiffness = load.motor.stiffness(torque)
    if stiffness is None:
        return None
    inertia = load.turning + reflected_inertia(mass=load.mass, travel_per_radian=load.radius)
    return ledger.figure(
        f"{load.path}.natural_frequency",
        natural_frequency,
        stiffness=Named("", stiffness, note=f"magnetic spring of {load.path}.motor under the load of the feed"),
        inertia=Named("", inertia, note="of all that turns, and the moving mass at the motor shaft"),
    )


def _resonances(load: DriveLoad, frequency: Real, ledger: Ledger) -> tuple[Real, ...]:
    return tuple(
        load.radius
        * ledger.figure(
            f"{load.path}.resonance.order_{order}", resonant_speed, frequency=Named(f"{load.path}.natural_frequency", frequency),
            pole_pairs=_poles(load), order=Named("", order, note="1 offset, 2 unequal phases, 4 detent"),
        )
        for order in ORDERS
    )  # fmt: skip


def _lag(load: DriveLoad, feed: NewtonMetre | None, ledger: Ledger) -> Real | None:
    if feed is None or load.motor.load_angle(feed) is None:
        return None
    angle = ledger.figure(
        f"{load.path}.feed.load_angle", load_angle, torque=ledger.named(f"{load.path}.feed.torque"),
        peak_torque=_stall_torque(load), pole_pairs=_poles(load),
    )  # fmt: skip
    return ledger.note(
        f"{load.path}.feed.lag", angle * load.radius, unit="m", formula="x = d r, d the load angle", title="How far the axis lags at the wanted feed",
        load_angle=ledger.named(f"{load.path}.feed.load_angle"), **named(load, ledger, "travel_per_radian"),
    )  # fmt: skip


def _heat(axis: Axis, load: DriveLoad, top: MetrePerSecond, accel: Real, ledger: Ledger) -> Number:
    """Torque of to-and-fro moves over half the travel, as heat, over the lasting torque at their mean speed."""
    speed = Named("", top, note=f"the lower of {axis.path}.rapid and {axis.path}.rapid_promise")
    ramp = top / np.maximum(accel, 1e-9)
    cruise = np.maximum(axis.travel / 2 / np.maximum(top, 1e-9) - ramp, 0.0)
    parts = [
        _torque(f"{load.path}.duty.{name}", load, speed, Named("", a, note=words), NO_CUT, ledger)
        for name, a, words in (("up", accel, "as promised"), ("on", 0.0, "steady"), ("down", -accel, "as promised, braking"))
    ]
    stacked = np.stack(np.broadcast_arrays(*parts), axis=-1)
    times = np.stack(np.broadcast_arrays(ramp, cruise, ramp), axis=-1)
    heat = ledger.figure(f"{load.path}.duty.rms_torque", rms_torque, times=Named("", times, note="up, on, down: to and fro over half the travel"),
        torques=Named("", stacked, note=f"{load.path}.duty.up, .on, .down"),
    )  # fmt: skip
    mean = (ramp + cruise) * top / np.maximum(2 * ramp + cruise, 1e-9)
    return heat / np.maximum(load.motor.torque(mean / load.radius, load.voltage, continuous=True), 1e-9)


def _pulses(axis: Axis, load: DriveLoad, ledger: Ledger) -> tuple[Number, Real] | None:
    path = f"{load.path}.steps_per_metre"
    if path not in ledger:
        return None
    rate = ledger.figure(
        f"{load.path}.pulse_rate",
        pulse_frequency,
        speed=Named(f"{axis.path}.rapid", axis.rapid),
        steps_per_metre=ledger.named(path),
    )
    return ledger[path].value, rate


def _stiffness(axis: Axis, loads: tuple[DriveLoad, ...], drives: tuple[DriveMotion, ...], ledger: Ledger) -> NewtonPerMetre | None:
    torques = [_spring_torque(load, made.feed_torque) for load, made in zip(loads, drives, strict=True)]
    each = [drive_stiffness(load.motor, load.answers, torque) for load, torque in zip(loads, torques, strict=True)]
    known = [stiffness for stiffness in each if stiffness is not None]
    if len(known) < len(each):
        return None
    for load, value, torque in zip(loads, known, torques, strict=True):
        sprung = _motor_spring(load, torque, ledger)
        words = ", the magnetic spring of its motor in series" if sprung else "; a loop holds its motor, which is taken as rigid"
        ledger.note(
            f"{load.path}.stiffness", value, unit="N/m", formula="k = 1/(1/k_drive + 1/k_motor)" if sprung else "k = k_drive",
            title=f"Least stiffness of the drive along the axis{words}", **_in_series(load, ledger), **sprung,
        )  # fmt: skip
    inputs: dict[str, Any] = {f"drive_{n}": ledger.named(f"{load.path}.stiffness") for n, load in enumerate(loads, 1)}
    return ledger.note(
        f"{axis.path}.drive_stiffness", sum(known, 0.0), unit="N/m",
        formula="sum over the motors, at the load of the feed", title="Least stiffness of the drives along the axis",
        **inputs,
    )  # fmt: skip


def _motor_spring(load: DriveLoad, torque: NewtonMetre, ledger: Ledger) -> dict[str, Any]:
    """The magnetic spring of a motor along the axis as a figure; nothing where a loop holds its shaft."""
    if load.motor.stiffness(torque) is None:
        return {}
    ledger.figure(
        f"{load.path}.magnetic_stiffness", magnetic_stiffness, torque=Named("", torque, note="of the feed"),
        peak_torque=_stall_torque(load), pole_pairs=_poles(load),
    )  # fmt: skip
    ledger.figure(
        f"{load.path}.motor_stiffness", linear_stiffness, stiffness=ledger.named(f"{load.path}.magnetic_stiffness"),
        **named(load, ledger, "travel_per_radian"),
    )  # fmt: skip
    return {"motor": ledger.named(f"{load.path}.motor_stiffness")}


def _softest(loads: tuple[DriveLoad, ...], ledger: Ledger) -> str:
    """Which spring of the drives gives most, and whether those of the motors are in the stiffness."""
    springs = {f"{name} ({answer.path})": link for load in loads for answer in load.answers for name, link in answer.links.items()}
    sprung = {f"magnetic spring ({load.path})": f"{load.path}.motor_stiffness" for load in loads}
    springs |= {words: ledger[path].value for words, path in sprung.items() if path in ledger}
    held = "motors taken as rigid: a loop holds them"
    motors = "magnetic spring of the motors in it" if any(path in ledger for path in sprung.values()) else held
    first = min(springs, key=lambda words: typical(springs[words]), default="")
    return f"{first}; {motors}" if first else motors


def _ratio(axis: Axis, loads: tuple[DriveLoad, ...], ledger: Ledger) -> Number:
    for load in loads:
        ledger.figure(
            f"{load.path}.inertia_ratio", inertia_ratio, rotor=Named(f"{load.path}.motor.inertia", load.motor.inertia),
            load=Named("", load.turning - load.motor.inertia + reflected_inertia(mass=load.mass, travel_per_radian=load.radius),
                       note="of all that turns but the rotor, and the moving mass at the motor shaft"),
        )  # fmt: skip
    return greatest(*(ledger[f"{load.path}.inertia_ratio"].value for load in loads))


def _angle(loads: tuple[DriveLoad, ...], drives: tuple[DriveMotion, ...], ledger: Ledger) -> Radian | None:
    angles = [
        ledger[f"{load.path}.feed.load_angle"].value for load, made in zip(loads, drives, strict=True) if made.lag is not None
    ]
    return greatest(*angles) if angles else None


def _stall(axis: Axis, loads: tuple[DriveLoad, ...], ledger: Ledger) -> Newton:
    each = [np.maximum(load.motor.stall_torque - load.drag, 0.0) * load.efficiency / load.radius for load in loads]
    inputs: dict[str, Any] = {}
    for n, load in enumerate(loads, 1):
        inputs[f"torque_{n}"] = _stall_torque(load)
        inputs |= {
            f"{name}_{n}": given for name, given in named(load, ledger, "drag_torque", "efficiency", "travel_per_radian").items()
        }
    return ledger.note(
        f"{axis.path}.stall_force", greatest(*each), unit="N", formula="(T_stall - T_drag) eta / r, greatest of the motors",
        title="Thrust of one drive when it stalls", **inputs,
    )  # fmt: skip


def _poles(load: DriveLoad) -> Named:
    return Named(f"{load.path}.motor.pole_pairs", load.motor.pole_pairs)


def _stall_torque(load: DriveLoad) -> Named:
    """The greatest torque that the motor's model gives: not the row's holding torque where the current is set lower."""
    return Named("", load.motor.stall_torque, "N m", f"greatest of {load.path}.motor at its set current")


def _in_series(load: DriveLoad, ledger: Ledger) -> dict[str, Any]:
    paths = [f"{answer.path}.stiffness_least" for answer in load.answers]
    return {f"k_{n}": ledger.named(path) for n, path in enumerate(paths, 1) if path in ledger}


def _beyond(axis: Axis, loads: tuple[DriveLoad, ...]) -> Number:
    opened = [load.motor.promised_up_to(load.voltage) * load.radius for load in loads if load.motor.open_loop]
    return axis.rapid / np.maximum(least(*opened), 1e-9) if opened else 0.0

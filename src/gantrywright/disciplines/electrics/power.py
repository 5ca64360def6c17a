"""Power that one motor takes from its bus at rest, at feed, on a ramp, at most; and the energy that a hard stop gives back."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from gantrywright.base.samples import along_grid, greatest, least
from gantrywright.base.units import (
    Joule,
    KilogramSquareMetre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Newton,
    NewtonMetre,
    Real,
    Watt,
)
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.motors import Missing, Motor, motor_of
from gantrywright.results.drives import DriveAnswer
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.motion import AxisMotion, DriveMotion
from gantrywright.theory.axis_envelope import motor_torque
from gantrywright.theory.supplies import kinetic_energy

OPEN_LOOP_CAP = "step loss"
"""How the reason of that cap starts: a real machine runs beyond it, so that a stop is judged from the speed that is wanted."""
GRID = np.linspace(0.0, 1.0, 25)


@dataclass(frozen=True, slots=True)
class DrivePower:
    """One motor on its bus."""

    path: str
    axis: str
    power: "Powers | None"
    """None where driver or winding lack data."""
    lacking: str
    kinetic: Joule
    returned: Joule
    """Without copper and iron where power is unknown: an upper bound."""


@dataclass(frozen=True, slots=True)
class Powers:
    """What it takes from its bus."""

    holding: Watt
    feeding: Watt
    accelerating: Watt
    greatest: Watt


def hard_stops(axis: Axis, moved: AxisMotion) -> tuple[tuple[MetrePerSecond, MetrePerSecondSquared], ...]:
    """Speed and deceleration of the stops that are looked at.

    Never faster than wanted, since that is what the machine will be set to: as hard as can be promised from what can be promised, and
    as hard as wanted from the wanted speed, as far as the drive itself can run.
    """
    if moved.rapid is None or moved.accel is None:
        return ()
    others = [cap.speed for cap in moved.caps if not cap.reason.startswith(OPEN_LOOP_CAP)]
    wanted = least(axis.rapid, *others)
    return (least(moved.rapid, axis.rapid), moved.accel), (
        wanted,
        moved.accel if axis.accel is None else least(axis.accel, moved.accel),
    )


def power_of(
    axis: Axis, fit: DriveFit, made: DriveMotion, moved: AxisMotion, answer: DriveAnswer, mass: Real, forces: tuple[Newton, Newton],
    ledger: Ledger,
) -> DrivePower | Missing:  # fmt: skip
    """What one motor takes and gives back.

    Args:
        axis: Its axis.
        fit: The drive that carries it.
        made: What it has to do.
        moved: What the axis can promise.
        answer: What its drive does.
        mass: Its even part of the moving mass: all motors of the axis together move it once.
        forces: Friction and weight, its even parts.
        ledger: Where figures are written down.
    """
    motor, stops = motor_of(fit), hard_stops(axis, moved)
    if isinstance(motor, Missing):
        return motor
    if moved.rapid is None or not stops:
        return Missing(moved.missing)
    friction, weight = forces
    energy = ledger.figure(
        f"{fit.path}.kinetic_energy", kinetic_energy, mass=Named("", mass, note="even part of the moving mass"), inertia=ledger.link(f"{fit.path}.turning_inertia", made.inertia),
        travel_per_radian=ledger.link(f"{fit.path}.travel_per_radian", made.travel_per_radian),
        speed=Named("", greatest(*(speed for speed, _ in stops)), note="of the faster of the two stops that are looked at"),
    )  # fmt: skip
    back = greatest(*(_returned(motor, made, answer, stop, mass, friction, weight) for stop in stops))
    ledger.note(
        f"{fit.path}.returned_energy", back, unit="J", formula="integral of -P over the stop where P < 0, P = T w + copper + iron",
        title="Energy that this motor gives back to its bus in a hard stop, as promised or as wanted",
        speed_promised=Named("", stops[0][0], "m/s", f"the lower of {axis.path}.rapid and {axis.path}.rapid_promise"), deceleration_promised=ledger.link(f"{axis.path}.accel_promise", stops[0][1], "m/s2"),
        speed_wanted=Named("", stops[1][0], "m/s", f"{axis.path}.rapid as far as the drive can run"), deceleration_wanted=Named("", stops[1][1], "m/s2", f"{axis.path}.accel, at most what is promised"),
        kinetic=ledger.named(f"{fit.path}.kinetic_energy"),
    )  # fmt: skip
    powers = _powers(
        axis, fit, made, motor, least(moved.rapid, axis.rapid), weight * made.travel_per_radian * answer.back_efficiency, ledger
    )
    return DrivePower(fit.path, axis.name, powers, "" if powers else _lacking(fit), energy, back)


def _powers(
    axis: Axis, fit: DriveFit, made: DriveMotion, motor: Motor, top: MetrePerSecond, standing: NewtonMetre, ledger: Ledger
) -> Powers | None:
    """Power at rest, at feed, at the top of the ramp and at most."""
    radius = made.travel_per_radian
    holding = motor.electrical_power(0.0, standing, made.voltage)
    feeding = motor.electrical_power(axis.feed / radius, _feed_torque(made), made.voltage)
    ramp = motor.electrical_power(top / radius, made.accel_torque, made.voltage)
    if holding is None or feeding is None or ramp is None:
        return None
    powers = Powers(holding, feeding, ramp, _most(motor, made))
    for name, title in (
        ("holding", "at rest"), ("feeding", "at the wanted feed"), ("accelerating", "at the top of the ramp"),
        ("greatest", "at most, anywhere on its curve"),
    ):  # fmt: skip
        ledger.note(
            f"{fit.path}.power.{name}", getattr(powers, name), unit="W", formula="(R (id^2 + iq^2) + T w)/eta + P_idle",
            title=f"Power that this motor takes {title}", voltage=Named(f"supply.{fit.supply}.set", made.voltage),
            **_of_power(fit, motor, ledger, name),
        )  # fmt: skip
    return powers


def _of_power(fit: DriveFit, motor: Motor, ledger: Ledger, name: str) -> dict[str, Any]:
    """Winding, driver and torque of one of the powers, as inputs."""
    torques = {"feeding": "feed.torque", "accelerating": "ramp.torque"}
    torque = f"{fit.path}.{torques.get(name, '')}"
    found = {"torque": ledger.named(torque)} if torque in ledger else {}
    if fit.motor is not None:
        found["resistance"] = Named(f"{fit.path}.motor.resistance", fit.motor.part.resistance)
    if fit.driver is not None:
        found |= {word: Named(f"{fit.path}.driver.{word}", getattr(fit.driver.part, word)) for word in ("efficiency", "idle")}
    return found


def _lacking(fit: DriveFit) -> str:
    """Paths of what power hangs on and is not known."""
    driver = (
        []
        if fit.driver is None
        else [f"driver.{name}" for name in ("idle", "efficiency") if getattr(fit.driver.part, name) is None]
    )
    motor = (
        []
        if fit.motor is None
        else [f"motor.{name}" for name in ("resistance", "current") if getattr(fit.motor.part, name) is None]
    )
    return ", ".join(f"{fit.path}.{name}" for name in (*driver, *motor))


def _feed_torque(made: DriveMotion) -> NewtonMetre:
    if made.feed_torque is not None:
        return made.feed_torque
    return made.drag_torque + made.force * made.travel_per_radian / made.efficiency


def _most(motor: Motor, made: DriveMotion) -> Watt:
    """Largest power on the envelope."""
    grid, voltage = motor.along_grid(), along_grid(made.voltage)
    speeds = along_grid(motor.end_speed(0.1 * motor.stall_torque, made.voltage)) * GRID
    torque = grid.torque(speeds, voltage)
    power = np.asarray(grid.electrical_power(speeds, torque, voltage), dtype=float)
    most: Real = np.max(np.where(torque > 0, power, 0.0), axis=-1)[()]
    return most


def _returned(
    motor: Motor, made: DriveMotion, answer: DriveAnswer, stop: tuple[MetrePerSecond, MetrePerSecondSquared], mass: Real,
    friction: Newton, weight: Newton,
) -> Joule:  # fmt: skip
    """Energy that comes back on the way down from a speed; a weight that sinks adds to it."""
    speed, deceleration = stop
    radius, accel = along_grid(made.travel_per_radian), along_grid(np.maximum(deceleration, 1e-6))
    place = along_grid(speed) * GRID
    turning: KilogramSquareMetre = along_grid(made.inertia)
    # downwards, slowing: the weight drives, friction brakes
    torque = motor_torque(
        speed=np.maximum(place, 1e-9), acceleration=-accel, mass=along_grid(mass), cutting=-along_grid(weight), friction=along_grid(friction),
        rise=0.0, travel_per_radian=radius, inertia=turning, efficiency=along_grid(made.efficiency),
        back_efficiency=along_grid(answer.back_efficiency), drag_torque=along_grid(made.drag_torque),
    )  # fmt: skip
    taken = motor.along_grid().electrical_power(place / radius, torque, along_grid(made.voltage))
    power = np.asarray(torque * place / radius if taken is None else taken, dtype=float)
    time = np.broadcast_to(place / accel, np.shape(power))
    back = np.trapezoid(np.maximum(-power, 0.0), time, axis=-1)
    limit = 0.5 * (mass + made.inertia / made.travel_per_radian**2) * speed**2 + weight * speed**2 / (
        2 * np.maximum(deceleration, 1e-6)
    )
    least_of_both: Real = np.minimum(back, limit)
    return least_of_both

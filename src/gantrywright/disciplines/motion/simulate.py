"""Tests the promised ramp of every axis in the time domain: motor, chopper driver and load, at several dampings.

From typical values. The compiled loops are imported only here, so that an answer without simulation does not wait for them.
"""

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.machine import Machine
from gantrywright.model.motors import motor_of
from gantrywright.model.motors.stepper import Stepper
from gantrywright.results import Results
from gantrywright.results.motion import AxisMotion, DriveMotion
from gantrywright.results.simulation import AxisSimulation, DampedRun, SimulationResult

DAMPINGS = (0.0, 0.02, 0.05, 0.10)
"""Parts of critical; above 0.1 the assumed damping would itself help on the ramp."""
MOST = 4.0
"""Largest factor on the promised acceleration that is tried."""
LEAST_SPEED = 1e-4
"""A promise of less speed than this is none, m/s."""


def simulate(machine: Machine, results: Results) -> SimulationResult:
    """Every axis that has a promise and an open-loop motor.

    Args:
        machine: Typical values.
        results: Of that machine.
    """
    found = {}
    for axis in machine.axes:
        moved = results.motion.axes[axis.name]
        run = _axis(axis, moved, typical(results.friction.axes[axis.name].moving))
        if run is not None:
            found[axis.name] = run
    return SimulationResult(found)


def _axis(axis: Axis, moved: AxisMotion, friction: float) -> AxisSimulation | None:
    fits = {drive.path: drive for drive in axis.drives}
    opened = [(fits[made.path], made) for made in moved.drives if _is_open(fits[made.path])]
    if moved.rapid is None or moved.accel is None or not opened:
        return None
    speed, accel = min(typical(moved.rapid), typical(axis.rapid)), typical(moved.accel)
    if speed < LEAST_SPEED or accel <= 0:
        return None
    fit, made = max(opened, key=lambda pair: typical(pair[1].share))
    measured = fit.motor is not None and bool(fit.motor.part.curve_speeds)
    return AxisSimulation(axis.name, fit.path, speed, accel, _runs(fit, made, speed, accel, friction), measured)


def _is_open(fit: DriveFit) -> bool:
    return isinstance(motor_of(fit), Stepper)


def _runs(fit: DriveFit, made: DriveMotion, speed: float, accel: float, friction: float) -> tuple[DampedRun, ...]:
    from gantrywright.theory.step_loss import SimulatedMotor, loss_factor  # needs the compiler: only when it is asked for

    motor = motor_of(fit)
    if not isinstance(motor, Stepper):
        return ()
    radius, efficiency = typical(made.travel_per_radian), typical(made.efficiency)
    rubbing = typical(made.share) * friction
    microsteps = fit.driver.part.microsteps if fit.driver is not None else None
    simulated = SimulatedMotor(
        resistance=typical(motor.resistance), inductance=typical(motor.inductance), torque_constant=typical(motor.torque_constant),
        pole_pairs=float(typical(motor.pole_pairs)), current=typical(motor.current), voltage=typical(motor.usable(made.voltage)),
        inertia=typical(made.inertia) + typical(made.mass) * radius**2 / efficiency,
        friction=rubbing * radius / efficiency + typical(made.drag_torque),
        weight=max(typical(made.force) - rubbing, 0.0) * radius / efficiency, loss_torque=typical(motor.loss_torque),
        loss_per_speed=typical(motor.loss_per_speed), detent=0.0 if motor.detent is None else typical(motor.detent),
        microsteps=float(microsteps or 16),
    )  # fmt: skip
    runs = []
    for damping in DAMPINGS:
        factor = loss_factor(motor=simulated, speed=speed / radius, acceleration=accel / radius, damping=damping, most=MOST)
        runs.append(DampedRun(damping, bool(factor >= 1.0), float(factor), bool(not np.isclose(factor, MOST))))
    return tuple(runs)

"""Which lead would move this axis quickest with the motor that it has; from typical values alone, a figure and no promise."""

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.base.units import Array
from gantrywright.disciplines.motion.loads import DriveLoad, named
from gantrywright.model.axis import Axis
from gantrywright.results.ledger import Ledger, Named
from gantrywright.theory.optimum_lead import least_move_time

SPAN = np.geomspace(0.1, 16.0, 41)
"""Leads that are tried, over the one that is there."""
SPEEDS = np.linspace(0.02, 1.0, 50)


def move_times(axis: Axis, load: DriveLoad, factors: Array) -> Array:
    """Times of a move over half the travel with several leads, by typical values.

    Args:
        axis: The axis.
        load: One of its motors.
        factors: Lead over the one that is there, shape (n_leads,).
    """
    voltage, radius = typical(load.voltage), typical(load.radius)
    motor = load.motor
    needed = typical(load.drag + load.force * load.radius / load.efficiency)
    top = np.minimum(typical(motor.promised_up_to(voltage)), typical(motor.end_speed(max(needed, 1e-3), voltage)))
    speeds = SPEEDS * top
    grid = motor.along_grid()
    torque = np.asarray(grid.margin(speeds, voltage) * grid.torque(speeds, voltage))
    if torque.ndim > 1:
        torque = np.median(torque, axis=0)
    return least_move_time(
        stroke=axis.travel / 2, travel_per_radian=radius * factors, motor_speeds=speeds, torques=torque - typical(load.drag),
        inertia=typical(load.turning), mass=typical(load.mass), force=typical(load.force), efficiency=typical(load.efficiency),
    )  # fmt: skip


def best_lead(axis: Axis, load: DriveLoad, ledger: Ledger) -> None:
    """Write down the best lead and what it would gain."""
    lead = typical(load.answers[0].travel_per_turn)
    times = move_times(axis, load, np.append(SPAN, (1.0, 0.5, 2.0)))
    best = int(np.argmin(times[: SPAN.size]))
    words = "least time over half the travel, with the promised part of the motor's torque"
    for name, value, unit, title in (
        ("best_lead", lead * float(SPAN[best]), "m/rev", "Lead that would move this axis quickest with this motor"),
        ("move_time", float(times[-3]), "s", "Time of a move over half the travel with the lead that is there"),
        ("move_time_half_lead", float(times[-2]), "s", "Time of that move with half the lead"),
        ("move_time_double_lead", float(times[-1]), "s", "Time of that move with twice the lead"),
        ("move_time_best", float(times[best]), "s", "Time of that move with the best lead"),
    ):
        ledger.note(f"{axis.path}.{name}", value, unit=unit, formula=words, title=title,
                    lead=ledger.link(f"{load.path}.travel_per_turn", load.answers[0].travel_per_turn, "m/rev"), travel=Named(f"{axis.path}.travel", axis.travel),
                    **named(load, ledger, "mass", "force", "inertia", "efficiency", "drag_torque"))  # fmt: skip

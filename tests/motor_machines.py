"""The hand-built machine with other motors, drivers or wishes."""

from dataclasses import replace
from typing import Any

from gantrywright.base.values import PhaseCurrent
from gantrywright.catalog import kinds
from gantrywright.model.machine import Machine
from motor_cases import RPM
from simple_machine import DRIVER, STEPPER, simple_machine

SERVO = kinds.Motor(
    id="servo-750w", type="servo", pole_pairs=4, current=PhaseCurrent(4.2, "rms"), resistance=1.3, inductance=5e-3, rated_torque=2.39,
    peak_torque=7.1, rated_speed=3000 * RPM, top_speed=5000 * RPM, inertia=1.5e-4,
)  # fmt: skip


def with_part(machine: Machine, motor: kinds.Motor | None = None, driver: kinds.Driver | None = None) -> Machine:
    """Other motors or drivers everywhere."""
    axes = []
    for axis in machine.axes:
        drives = []
        for drive in axis.drives:
            changed = drive if motor is None else replace(drive, motor=replace(drive.motor, part=motor))
            drives.append(changed if driver is None else replace(changed, driver=replace(changed.driver, part=driver)))
        axes.append(replace(axis, drives=tuple(drives)))
    return replace(machine, axes=tuple(axes))


def wishing(machine: Machine, **wishes: Any) -> Machine:
    """Other wishes (rapid, feed, accel) of every axis."""
    return replace(machine, axes=tuple(replace(axis, **wishes) for axis in machine.axes))


def set_to(machine: Machine, current: PhaseCurrent | None) -> Machine:
    """All drivers set to a current."""
    axes = []
    for axis in machine.axes:
        axes.append(replace(axis, drives=tuple(replace(d, driver=replace(d.driver, current=current)) for d in axis.drives)))
    return replace(machine, axes=tuple(axes))


def supplied(machine: Machine, **changes: Any) -> Machine:
    """Its supply changed; ``part=dict(...)`` changes fields of the part."""
    supply = machine.supplies[0]
    part = changes.pop("part", None)
    if isinstance(part, dict):
        supply = replace(supply, part=replace(supply.part, **part))
    return replace(machine, supplies=(replace(supply, **changes),))


CLOSED = with_part(simple_machine(), replace(STEPPER, type="closed-loop"))
SERVOS = set_to(
    supplied(
        with_part(simple_machine(), SERVO, replace(DRIVER, current=None, highest=400.0, lowest=200.0)), set=320.0, direct=True
    ),
    None,
)

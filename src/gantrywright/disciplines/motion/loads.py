"""What each motor of an axis bears: its share of mass, friction, weight and cutting force, and all that turns with it."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np

from gantrywright.base.samples import greatest
from gantrywright.base.units import (
    GRAVITY,
    Kilogram,
    KilogramSquareMetre,
    Metre,
    Newton,
    NewtonMetre,
    NewtonMetrePerRadian,
    NewtonPerMetre,
    Number,
    Real,
    Volt,
)
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.frame import Vector, dot
from gantrywright.model.machine import Machine, shifts
from gantrywright.model.motors import Missing, Motor, motor_of
from gantrywright.results.cutting import CuttingResult
from gantrywright.results.drives import DriveAnswer, DriveResult
from gantrywright.results.guides import FrictionResult
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.masses import MassResult
from gantrywright.theory.gantry_drives import drive_share, guide_yaw_stiffness
from gantrywright.theory.load_angle import linear_stiffness


@dataclass(frozen=True, slots=True)
class DriveLoad:
    """One motor and what hangs on it."""

    fit: DriveFit
    """The drive that carries the motor."""
    answers: tuple[DriveAnswer, ...]
    """That drive's own first, then of those that it turns."""
    motor: Motor
    voltage: Volt
    share: Number
    mass: Kilogram
    force: Newton
    cutting: Newton | None
    cutting_share: Number
    turning: KilogramSquareMetre
    drag: NewtonMetre

    @property
    def path(self) -> str:
        """Of the drive."""
        return self.fit.path

    @property
    def radius(self) -> Metre:
        """Travel per radian of the motor shaft."""
        return self.answers[0].travel_per_radian

    @property
    def efficiency(self) -> Number:
        """While the motor drives."""
        return self.answers[0].efficiency

    @property
    def back_efficiency(self) -> Number:
        """While the load drives."""
        return self.answers[0].back_efficiency

    @property
    def effective_mass(self) -> Kilogram:
        """Mass that the thrust must accelerate, what turns included."""
        return self.mass + self.turning * self.efficiency / self.radius**2


@dataclass(frozen=True, slots=True)
class AxisForces:
    """What the whole axis must move."""

    mass: Kilogram
    friction: Newton
    weight: Newton
    """Along the axis, counterweight taken off; upwards or downwards, whichever is worse."""
    cutting: Newton | None


def motor_drives(axis: Axis) -> tuple[DriveFit, ...]:
    """The drives with a motor of their own."""
    return tuple(drive for drive in axis.drives if not drive.driven_by)


def driven_with(axis: Axis, master: DriveFit) -> tuple[DriveFit, ...]:
    """A drive and those that its motor turns as well."""
    return (master, *(drive for drive in axis.drives if drive.driven_by in (master.path, master.path.rpartition(".")[2])))


def forces_of(axis: Axis, masses: MassResult, cutting: CuttingResult, friction: FrictionResult, ledger: Ledger) -> AxisForces:
    """Mass, friction, weight and cutting force of an axis."""
    moving = masses.axes[axis.name].mass
    counter = axis.counterweight
    carried = counter.force if counter else 0.0
    mass = moving + carried / GRAVITY if counter and counter.kind == "weight" else moving
    weight = ledger.note(
        f"{axis.path}.weight", np.abs(moving * GRAVITY * axis.rise - carried), unit="N", formula="W = |m g rise - F_counter|",
        title="Weight that the drives of the axis bear", m=ledger.link(f"mass.{axis.path}", moving, "kg"),
        rise=Named("", axis.rise, note="1 upright, 0 level"), F_counter=Named(f"{axis.path}.counterweight.force" if counter else "", carried, "N", "" if counter else "there is none"),
    )  # fmt: skip
    cut = None
    if cutting.known:
        axial = greatest(*(np.abs(job.mean_axial) for job in cutting.jobs)) if cutting.jobs else 0.0
        cut = axial if axis.rise > 0.5 else cutting.mean_in_plane
    return AxisForces(mass, friction.axes[axis.name].moving, weight, cut)


def loads_of(
    machine: Machine, axis: Axis, forces: AxisForces, masses: MassResult, driven: DriveResult, ledger: Ledger
) -> tuple[DriveLoad, ...] | Missing:
    """The motors of an axis with what they bear, or what is missing for that."""
    drives = motor_drives(axis)
    motors = [motor_of(drive) for drive in drives]
    voltages = [supply_voltage(machine, drive.supply) for drive in drives]
    lacking = [motor.what for motor in motors if isinstance(motor, Missing)]
    lacking += [f"supply.{drive.supply or 'NAME'}.set" for drive, voltage in zip(drives, voltages, strict=True) if voltage is None]
    lacking += [f"mass of {path}" for path in masses.axes[axis.name].unknown]
    if not drives:
        lacking.append(f"{axis.path}.drive (none has a motor)")
    if lacking:
        return Missing(", ".join(dict.fromkeys(lacking)))
    answers = [tuple(driven.drives[drive.path] for drive in driven_with(axis, master)) for master in drives]
    stiff = [_stiffness(motor, group) for motor, group in zip(motors, answers, strict=True) if not isinstance(motor, Missing)]
    made = []
    for index, (drive, motor, voltage, group) in enumerate(zip(drives, motors, voltages, answers, strict=True)):
        if isinstance(motor, Missing) or voltage is None:
            continue  # cannot be: told above
        share, cutting_share = _shares(machine, axis, masses, index, stiff, ledger)
        ledger.note(
            f"{drive.path}.share", share, unit="", formula="greatest of f/F over the poses of what rides on the axis",
            title="Share of the moving mass that this motor bears at the worst place",
            lever=ledger.link(f"{drive.path}.moving_share", share, note="" if f"{drive.path}.moving_share" in ledger else "equal parts"),
        )  # fmt: skip
        mass = ledger.note(
            f"{drive.path}.moving_mass", share * forces.mass, unit="kg", formula="m_d = share m", title="Moving mass that this motor bears at the worst place",
            share=ledger.named(f"{drive.path}.share"),
            m=ledger.link(f"mass.{axis.path}", forces.mass, "kg", "" if axis.counterweight is None else "with a weight that moves along"),
        )  # fmt: skip
        force = ledger.note(
            f"{drive.path}.steady_force", share * (forces.friction + forces.weight), unit="N", formula="F = share (F_friction + W)",
            title="Friction and weight that this motor bears at the worst place", share=ledger.named(f"{drive.path}.share"),
            friction=ledger.link(f"{axis.path}.friction", forces.friction, "N"), weight=ledger.named(f"{axis.path}.weight"),
        )  # fmt: skip
        made.append(DriveLoad(
            drive, group, motor, voltage, share, mass, force, None if forces.cutting is None else cutting_share * forces.cutting,
            cutting_share, _turning(drive, motor, group, ledger), _drag(drive, group, ledger),
        ))  # fmt: skip
    return tuple(made)


def _turning(drive: DriveFit, motor: Motor, group: tuple[DriveAnswer, ...], ledger: Ledger) -> KilogramSquareMetre:
    return ledger.note(
        f"{drive.path}.turning_inertia", motor.inertia + sum((answer.inertia for answer in group), 0.0), unit="kg m2",
        formula="J = J_rotor + sum of J_load", title="Inertia of all that turns, at the motor shaft", source="definition",
        rotor=Named(f"{drive.path}.motor.inertia", motor.inertia), **_of_group("inertia", group, ledger),
    )  # fmt: skip


def _drag(drive: DriveFit, group: tuple[DriveAnswer, ...], ledger: Ledger) -> NewtonMetre:
    return ledger.note(
        f"{drive.path}.drag_of_all", sum((answer.drag_torque for answer in group), 0.0), unit="N m",
        formula="sum over the drives that this motor turns", title="Drag of all that this motor turns, at its shaft", source="definition",
        **_of_group("drag_torque", group, ledger),
    )  # fmt: skip


def _of_group(word: str, group: tuple[DriveAnswer, ...], ledger: Ledger) -> dict[str, Any]:
    return {
        f"drive_{number}": ledger.link(f"{answer.path}.{word}", getattr(answer, word)) for number, answer in enumerate(group, 1)
    }


NAMES = {
    "mass": ("moving_mass", "mass"), "force": ("steady_force", "force"), "inertia": ("turning_inertia", "turning"),
    "efficiency": ("efficiency", "efficiency"), "back_efficiency": ("back_efficiency", "back_efficiency"), "drag_torque": ("drag_of_all", "drag"),
    "travel_per_radian": ("travel_per_radian", "radius"), "friction": ("steady_force", "force"),
}  # fmt: skip
"""The figure of a drive, and the field of its load, for each input that formulas of motion take."""


def named(load: DriveLoad, ledger: Ledger, *names: str) -> dict[str, Any]:
    """What hangs on a motor, as inputs of a figure."""
    return {name: ledger.link(f"{load.path}.{NAMES[name][0]}", getattr(load, NAMES[name][1])) for name in names}


def voltage_of(load: DriveLoad) -> Named:
    """The voltage of its supply as an input of a figure."""
    return Named(f"supply.{load.fit.supply}.set", load.voltage)


def supply_voltage(machine: Machine, name: str) -> Volt | None:
    """What a supply is set to, else its nominal voltage."""
    for supply in machine.supplies:
        if supply.name == name:
            return supply.part.voltage if supply.set is None and supply.part else supply.set
    return None


def drive_stiffness(motor: Motor, answers: tuple[DriveAnswer, ...], torque: NewtonMetre) -> NewtonPerMetre | None:
    """Along the axis: screws side by side, the motor's magnetic spring in series with them."""
    parts = [answer.stiffness_least for answer in answers]
    known = [part for part in parts if part is not None]
    if len(known) < len(parts):
        return None
    metal = sum(known, 0.0)
    spring = motor.stiffness(torque)
    if spring is None:
        return metal
    magnet = linear_stiffness(stiffness=spring, travel_per_radian=answers[0].travel_per_radian)
    return metal * magnet / np.maximum(metal + magnet, 1e-9)


def yaw_stiffness(axis: Axis) -> NewtonMetrePerRadian:
    """Of the blocks about the normal of their guide."""
    if not axis.blocks:
        return 0.0
    places = [dot(block.centre, axis.direction) for block in axis.blocks]
    middle = sum(places) / len(places)
    return sum(
        guide_yaw_stiffness(lateral_stiffness=block.lateral_stiffness, sum_of_squares=(place - middle) ** 2)
        for block, place in zip(axis.blocks, places, strict=True)
    )


def across(axis: Axis, place: Vector) -> float:
    """Coordinate across the guide."""
    return dot(place, axis.across)


def drive_distance(axis: Axis) -> float:
    """Between the outermost grips, across the guide; 0 for one drive."""
    places = [across(axis, drive.grip) for drive in axis.drives]
    return max(places) - min(places) if places else 0.0


def _stiffness(motor: Motor, answers: tuple[DriveAnswer, ...]) -> NewtonPerMetre | None:
    return drive_stiffness(motor, answers, 0.0)


def _shares(
    machine: Machine, axis: Axis, masses: MassResult, index: int, stiff: list[NewtonPerMetre | None], ledger: Ledger
) -> tuple[Real, Real]:
    """Greatest share of the moving mass, and of a force at the tool, that one motor bears."""
    drives = motor_drives(axis)
    if len(drives) == 1:
        return 1.0, 1.0
    if len(drives) > 2:
        return 1 / len(drives), 1 / len(drives)
    mine, other = (across(axis, drives[i].grip) for i in (index, 1 - index))
    distance = abs(mine - other)
    if distance < 1e-3:
        return 0.5, 0.5
    towards = 1.0 if mine > other else -1.0
    middle = (mine + other) / 2
    stiffness = [each for each in stiff if each is not None]
    yaw = yaw_stiffness(axis) if len(stiffness) == 2 else 0.0
    each_side = (stiffness[0] + stiffness[1]) / 2 if len(stiffness) == 2 else 1.0
    path = drives[index].path
    ledger.note(
        f"{axis.path}.yaw_stiffness", yaw, unit="N m/rad", formula="sum of k_lateral d^2 over the blocks",
        blocks=Named("", len(axis.blocks), note="each at its distance d from the middle"), lateral=Named(f"{axis.path}.blocks.stiffness.lateral", axis.blocks[0].lateral_stiffness) if axis.blocks else None,
        title="Resistance of the blocks against yaw; 0 where the stiffness of a drive is unknown",
    )  # fmt: skip

    def share(what: str, offset: Real) -> Real:
        return ledger.figure(
            f"{path}.{what}_share", drive_share, offset=Named("", offset, note="of that force off the middle of both drives, at the worst pose"),
            distance=Named("", distance, note="between both drives"), drive_stiffness=Named("", each_side, note="mean of both drives, motors in series"),
            yaw_stiffness=ledger.named(f"{axis.path}.yaw_stiffness"),
        )  # fmt: skip

    weights = [towards * (place - middle) for place in _mass_places(machine, axis, masses)]
    tools = [towards * (place - middle) for place in _tool_places(machine, axis)]
    return share("moving", greatest(*weights)), share("cutting", greatest(*tools) if tools else greatest(*weights))


def _poses(machine: Machine, axis: Axis) -> Iterator[dict[str, float]]:
    """Both ends of every other axis, this one as drawn."""
    others = [other for other in machine.axes if other.name != axis.name]
    for ends in product(*((0.0, other.travel) for other in others)):
        yield {other.name: end for other, end in zip(others, ends, strict=True)}


def _mass_places(machine: Machine, axis: Axis, masses: MassResult) -> Iterator[Real]:
    bodies = [masses.bodies[name] for name in sorted(machine.above(axis.moving)) if name in masses.bodies]
    total = sum((body.mass for body in bodies), 0.0)
    for pose in _poses(machine, axis):
        moved = shifts(machine, pose)
        moment = sum((body.mass * (_across(axis, body.centre) + across(axis, moved[body.subject])) for body in bodies), 0.0)
        yield moment / np.maximum(total, 1e-12)


def _across(axis: Axis, place: tuple[Real, Real, Real]) -> Real:
    return place[0] * axis.across[0] + place[1] * axis.across[1] + place[2] * axis.across[2]


def _tool_places(machine: Machine, axis: Axis) -> Iterator[float]:
    if machine.tool is None:
        return
    for pose in _poses(machine, axis):
        yield across(axis, machine.tool.tip) + across(axis, shifts(machine, pose)[machine.tool_body])

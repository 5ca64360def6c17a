"""Whether the work stays where it is under the greatest forces of a job: what presses it down, what pushes and lifts it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from gantrywright.base.samples import plain
from gantrywright.base.units import Metre, Newton, Number, Pascal, SquareMetre
from gantrywright.disciplines.cutting.cut import Cut, Load, Setting
from gantrywright.disciplines.cutting.holding_data import holding as usual
from gantrywright.disciplines.cutting.holding_data import table_friction
from gantrywright.disciplines.cutting.limits import along_spindle, in_plane
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import HoldDown, Job
from gantrywright.results.jobs import Holding
from gantrywright.results.ledger import Named
from gantrywright.theory.cutting.fasteners import screw_clamp_force, tape_force, wood_screw_clamp
from gantrywright.theory.cutting.grip import least_share, worst_rectangle_share
from gantrywright.theory.cutting.hold_down import lift_pull, pressing_force, slip_push, smallest_area, tipping_use
from gantrywright.theory.cutting.vacuum import held_pressure

STRIP = 0.41
"""Part of the friction force that is left wherever a long part is pushed: of a part whose size is not known; derived (`grip`)."""
WATER = 1000.0
"""Density that specific gravity counts from, kg/m3."""


@dataclass(frozen=True, slots=True)
class Pressed:
    """What holds the work before anything cuts."""

    force: Newton | None
    """That presses; None is unknown."""
    share: Number
    """Part of the friction that is left where the work is pushed at its worst place."""
    words: str
    missing: str = ""
    pressure: Pascal | None = None
    """Of vacuum, over its area."""
    sheared: Newton | None = None
    """What holds a push without friction: tape."""
    pulled: Newton | None = None
    """What tape holds against a lift."""


def holding(machine: Machine, cut: Cut, setting: Setting, loads: tuple[Load, ...]) -> Holding | None:
    """Push and lift that the hold-down stands, and those of the job; None where the file does not say how the work is held.

    Args:
        machine: Typical or sampled.
        cut: The cutter in its material.
        setting: Its settings.
        loads: Its forces.
    """
    job = cut.job
    hold = job.hold_down
    if hold is None:
        return None
    push, (lift, _) = in_plane(loads), along_spindle(loads)
    pressed = WAYS[hold.kind](machine, job, hold)
    if pressed.missing or (pressed.force is None and pressed.sheared is None):
        return Holding(None, None, push, lift, pressed.missing, pressed.words)
    row = table_friction(job.material.group)
    friction, words = (
        (hold.friction, "between work and table")
        if hold.friction is not None
        else (row.value, f"{row.title}, {row.text}; {row.source}")
    )
    inputs: dict[str, Any] = {
        "safety": Named(f"{job.path}.hold_down.safety", hold.safety),
        "share": Named("", pressed.share, "", "of the hold that is left where the work is pushed at its worst place, in the worst direction"),
    }  # fmt: skip
    if pressed.sheared is not None:
        slip = pressed.sheared * pressed.share / hold.safety
        up = None if pressed.pulled is None else pressed.pulled / hold.safety
        return Holding(
            slip,
            up,
            push,
            lift,
            "",
            pressed.words,
            None,
            "F = s_shear A s/S",
            {**inputs, "sheared": Named("", pressed.sheared, "N", "strength of the tape over its area")},
        )
    assert pressed.force is not None
    slip = slip_push(pressing=pressed.force, friction=friction, lift=lift, share=pressed.share, safety=hold.safety)
    tips = _tips(job, pressed.force, push, lift)
    slip = plain(np.asarray(np.where(tips * hold.safety > 1, np.minimum(slip, push / np.maximum(tips * hold.safety, 1e-9)), slip)))
    least: SquareMetre | None = None
    if pressed.pressure is not None:
        least = smallest_area(
            push=push, pressure=pressed.pressure, friction=friction, lift=lift, share=pressed.share, safety=hold.safety
        )
    inputs |= {
        "pressing": Named("", pressed.force, "N", pressed.words), "friction": Named(f"{job.path}.hold_down.friction" if hold.friction is not None else "", friction, "", words),
        "lift": Named(f"{job.path}.peak_axial", lift, "N", "pull of the cutter"),
    }  # fmt: skip
    return Holding(
        slip,
        lift_pull(pressing=pressed.force, safety=hold.safety),
        push,
        lift,
        "",
        pressed.words,
        least,
        "F = mu (N - F_lift) s/S, no more than what tips it",
        inputs,
    )


def _tips(job: Job, pressing: Newton, push: Newton, lift: Newton) -> Number:
    """How near the work is to tipping over its nearer edge; nothing where its size is not known."""
    if job.work is None:
        return 0.0
    width, height = min(job.work.size[0], job.work.size[1]), job.work.size[2]
    return tipping_use(push=push, height=height, pressing=pressing, lever=width / 2, lift=lift, lift_lever=width)


def _vacuum(machine: Machine, job: Job, hold: HoldDown) -> Pressed:
    path = f"{job.path}.hold_down"
    if hold.area is None:
        return Pressed(None, 1.0, "vacuum", f"{path}.area")
    pressure, words = hold.pressure, "vacuum as told"
    if hold.pump_pressure is not None and hold.pump_flow is not None:
        board = _board(machine, hold)
        leak = 0.0 if hold.leak is None else hold.leak
        pressure = held_pressure(
            blocked_pressure=hold.pump_pressure, open_flow=hold.pump_flow, gap_area=leak, permeability=0.0 if board is None else usual()["board-permeability"].value,
            board_area=0.0 if board is None else _open_board(machine, hold), thickness=1.0 if board is None else board,
        )  # fmt: skip
        words = "vacuum where the pump draws just what leaks in"
    if pressure is None:
        return Pressed(None, 1.0, "vacuum", f"{path}.pressure")
    return Pressed(pressing_force(pressure=pressure, area=hold.area), _face(job), f"{words}, over its area", pressure=pressure)


def _board(machine: Machine, hold: HoldDown) -> Metre | None:
    if hold.board is not None:
        return hold.board
    return None if machine.spoilboard is None else machine.spoilboard.thickness


def _open_board(machine: Machine, hold: HoldDown) -> SquareMetre:
    """Board that nothing covers: the whole work area less the part."""
    whole = machine.purpose.work_area[0] * machine.purpose.work_area[1]
    return np.maximum(whole - (0.0 if hold.area is None else hold.area), 0.0)


def _face(job: Job) -> Number:
    """Share of an evenly held part; that of a strip, the least of all, where its size is not known."""
    return STRIP if job.work is None else worst_rectangle_share(length=job.work.size[0], width=job.work.size[1])


def _points(job: Job, count: int) -> Number:
    """Share of a few clamps that stand evenly along the two long sides of the part."""
    if job.work is None or count < 2:
        return 0.0 if count < 2 else STRIP
    x, y = job.work.size[0] / 2, job.work.size[1] / 2
    along = np.linspace(-1.0, 1.0, (count + 1) // 2)
    places = np.array([(side * x, edge * y) if x >= y else (edge * x, side * y) for edge in (-1.0, 1.0) for side in along][:count])
    corners = np.array([(x, y), (x, -y), (-x, y), (-x, -y)])
    return least_share(points=places, shares=np.full(count, 1 / count), corners=corners)


def _clamps(machine: Machine, job: Job, hold: HoldDown) -> Pressed:
    path, count = f"{job.path}.hold_down", hold.count
    force = hold.force
    if force is None and hold.torque is not None and hold.thread is not None and hold.thread.diameter is not None:
        force = screw_clamp_force(torque=hold.torque, diameter=hold.thread.diameter, nut_factor=usual()["nut-factor"].value)
    if force is None:
        return Pressed(None, 1.0, "clamps", f"{path}.force, or {path}.torque and {path}.thread")
    if count is None:
        return Pressed(None, 1.0, "clamps", f"{path}.count")
    return Pressed(count * force, _points(job, count), f"{count} clamps, spread along the work")


def _screws(machine: Machine, job: Job, hold: HoldDown) -> Pressed:
    path, count, force = f"{job.path}.hold_down", hold.count, hold.force
    if count is None:
        return Pressed(None, 1.0, "screws", f"{path}.count")
    if force is None:
        if hold.screw_diameter is None or hold.screw_depth is None:
            return Pressed(None, 1.0, "screws", f"{path}.screw_diameter and {path}.screw_depth, or {path}.force")
        board = machine.spoilboard.material if machine.spoilboard is not None else None
        if board is None or board.density is None:
            return Pressed(None, 1.0, "screws", "spoilboard.material, which the screws bite in")
        force = wood_screw_clamp(
            specific_gravity=board.density / WATER, diameter=hold.screw_diameter, length=hold.screw_depth, used=usual()["wood-screw-use"].value
        )  # fmt: skip
    return Pressed(
        count * force, _points(job, count), f"{count} screws, spread along the work; what they hold in shear comes on top"
    )


def _tape(machine: Machine, job: Job, hold: HoldDown) -> Pressed:
    path = f"{job.path}.hold_down"
    if hold.area is None:
        return Pressed(None, 1.0, "tape", f"{path}.area")
    shear = usual()["tape-shear"].value if hold.strength is None else hold.strength
    pull = shear * usual()["tape-tension"].value / usual()["tape-shear"].value
    return Pressed(
        None,
        _face(job),
        "double-sided tape",
        sheared=tape_force(strength=shear, area=hold.area),
        pulled=tape_force(strength=pull, area=hold.area),
    )


WAYS: dict[str, Callable[[Machine, Job, HoldDown], Pressed]] = {
    "vacuum": _vacuum, "clamps": _clamps, "slots": _clamps, "screws": _screws, "tape": _tape,
}  # fmt: skip
"""A new way of holding is a row of this."""

"""Whether the work stays where it is under the greatest forces of a job: what holds it, what pushes and lifts it."""

from typing import Any

import numpy as np

from gantrywright.base.samples import plain
from gantrywright.base.units import Newton, Number, SquareMetre
from gantrywright.disciplines.cutting.cut import Cut, Load
from gantrywright.disciplines.cutting.held import WAYS, Pressed
from gantrywright.disciplines.cutting.limits import along_spindle, in_plane
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import HoldDown, Job
from gantrywright.results.jobs import Holding
from gantrywright.results.ledger import Named
from gantrywright.theory.cutting.fasteners import tape_force, tape_use
from gantrywright.theory.cutting.hold_down import gaping_use, lift_pull, slip_push, smallest_area, tipping_use

LEAST = 1e-9
"""Instead of nothing where something is divided by a use."""


def holding(machine: Machine, cut: Cut, loads: tuple[Load, ...]) -> Holding | None:
    """Push and lift that the hold-down stands, and those of the job; None where the file does not say how the work is held.

    Args:
        machine: Typical or sampled.
        cut: The cutter in its material.
        loads: Its forces.
    """
    push, (lift, _) = in_plane(loads), along_spindle(loads)
    return held(machine, cut.job, push, lift)


def held(machine: Machine, job: Job, push: Newton, lift: Newton) -> Holding | None:
    """The same against any push in the plane of the table and any lift."""
    hold = job.hold_down
    if hold is None:
        return None
    pressed = WAYS[hold.kind](machine, job, hold)
    missing = pressed.missing
    if pressed.sheared is None and hold.friction is None:
        missing = missing or f"{job.path}.hold_down.friction"
    if missing:
        return Holding(None, None, push, lift, missing, pressed.words)
    inputs: dict[str, Any] = {
        **pressed.inputs,
        "safety": Named(f"{job.path}.hold_down.safety", hold.safety),
        "share": Named("", pressed.share, "", "of the hold that is left where the work is pushed at its worst place, in the worst direction"),
        "lift": Named(f"{job.path}.peak_axial", lift, "N", "pull of the cutter"),
    }  # fmt: skip
    if pressed.sheared is not None:
        return _stuck(job, hold, pressed, push, lift, inputs)
    return _pressed(job, hold, pressed, push, lift, inputs)


def _stuck(job: Job, hold: HoldDown, pressed: Pressed, push: Newton, lift: Newton, inputs: dict[str, Any]) -> Holding:
    """Tape: push and lift use it up together, so that the push that it stands is told with the lift in the same proportion."""
    assert pressed.sheared is not None
    assert pressed.pulled is not None
    assert hold.area is not None
    used = tape_use(
        push=push, lift=lift, shear_strength=pressed.sheared, tensile_strength=pressed.pulled, area=hold.area, share=pressed.share
    )
    pulls = tape_force(strength=pressed.pulled, area=hold.area)
    used = np.maximum(used, _opens(job, pulls, push, lift))
    return Holding(
        plain(np.asarray(push / np.maximum(used * hold.safety, LEAST))), pulls / hold.safety, push, lift, "", pressed.words, None,
        "F/(S u), u = F/(s_shear A share) + F_lift/(s_tension A), no less than what peels its edge", inputs, _note(job, pressed), "F = s_tension A/S",
    )  # fmt: skip


def _pressed(job: Job, hold: HoldDown, pressed: Pressed, push: Newton, lift: Newton, inputs: dict[str, Any]) -> Holding:
    assert pressed.force is not None
    assert hold.friction is not None
    friction = hold.friction
    inputs |= {
        "pressing": Named("", pressed.force, "N", pressed.words),
        "friction": Named(f"{job.path}.hold_down.friction", friction),
    }  # fmt: skip
    slip = slip_push(pressing=pressed.force, friction=friction, lift=lift, share=pressed.share, safety=hold.safety)
    slip = slip + pressed.sideways * pressed.share / hold.safety
    vacuum = pressed.pressure is not None
    tips = (_opens if vacuum else _tips)(job, pressed.force, push, lift) * hold.safety
    slip = plain(np.asarray(np.where(tips > 1, np.minimum(slip, push / np.maximum(tips, LEAST)), slip)))
    least: SquareMetre | None = None
    if pressed.pressure is not None:
        least = smallest_area(
            push=push, pressure=pressed.pressure, friction=friction, lift=lift, share=pressed.share, safety=hold.safety
        )
    beside = " + n u F_1 s/S" if pressed.inputs.get("sideways_each") is not None else ""
    return Holding(
        slip, lift_pull(pressing=pressed.force, safety=hold.safety), push, lift, "", pressed.words, least,
        f"F = mu (N - F_lift) s/S{beside}, no more than what {'opens the seal at an edge' if vacuum else 'tips it'}", inputs, _note(job, pressed),
    )  # fmt: skip


def _note(job: Job, pressed: Pressed) -> str:
    unsized = f"Tipping is not looked at, as {job.path}.work does not tell its size." if job.work is None else ""
    return " ".join(words for words in (pressed.note, unsized) if words)


def _tips(job: Job, pressing: Newton, push: Newton, lift: Newton) -> Number:
    """How near the work is to tipping over its nearer edge; nothing where its size is not known."""
    if job.work is None:
        return 0.0
    width, height = min(job.work.size[0], job.work.size[1]), job.work.size[2]
    return tipping_use(push=push, height=height, pressing=pressing, lever=width / 2, lift=lift, lift_lever=width)


def _opens(job: Job, pressing: Newton, push: Newton, lift: Newton) -> Number:
    """How near an edge is to coming up, at a third of what tips the work: a seal then leaks, and tape peels."""
    if job.work is None:
        return 0.0
    width, height = min(job.work.size[0], job.work.size[1]), job.work.size[2]
    return gaping_use(push=push, height=height, pressing=pressing, width=width, lift=lift, lift_lever=width)

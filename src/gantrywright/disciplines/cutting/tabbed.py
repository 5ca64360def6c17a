"""What the tabs of a part bear: half of them a push along the kerf, all of them a lift."""

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from gantrywright.base.samples import plain
from gantrywright.base.units import Newton
from gantrywright.model.purpose import Job
from gantrywright.results.jobs import Holding
from gantrywright.results.ledger import Named
from gantrywright.theory.cutting.tabs import tab_lift, tab_push

STUCK = ("vacuum", "tape")
"""Ways of holding that hold a part after it is cut free."""


@dataclass(frozen=True, slots=True)
class Bridges:
    """What a part bears once it hangs on its tabs, over the wanted safety, with what holds it besides."""

    push: Newton
    lift: Newton
    words: str
    inputs: dict[str, Any] = field(default_factory=dict)


def bridges(job: Job, held: Holding | None) -> Bridges | str | None:
    """Of the tabs of a job; what must be known first, in words; None where the file tells no tabs.

    Args:
        job: Of the file.
        held: What holds the work besides.
    """
    hold = job.hold_down
    if hold is None or hold.tabs is None:
        return None
    tabs, material, kerf, path = hold.tabs, job.material, job.cutter.diameter, f"{job.path}.hold_down.tabs"
    row = f"part.{material.id or 'NAME'}"
    known = {
        f"{path}.width": tabs.width, f"{path}.thickness": tabs.thickness, f"{job.path}.cutter.diameter": kerf,
        f"{row}.shear_strength": material.shear_strength, f"{row}.strength": material.strength,
    }  # fmt: skip
    lacking = [where for where, value in known.items() if value is None]
    if lacking:
        return ", ".join(lacking)
    shape: dict[str, Any] = {
        "width": tabs.width, "thickness": tabs.thickness, "kerf": kerf, "shear_strength": material.shear_strength, "strength": material.strength,
    }  # fmt: skip
    push = tab_push(count=max(tabs.count // 2, 1), **shape) / hold.safety
    lift = tab_lift(count=tabs.count, **shape) / hold.safety
    inputs: dict[str, Any] = {
        "count": Named(f"{path}.count", tabs.count), "width": Named(f"{path}.width", tabs.width), "thickness": Named(f"{path}.thickness", tabs.thickness),
        "kerf": Named(f"{job.path}.cutter.diameter", kerf), "shear_strength": Named(f"material.{material.id}.shear_strength", material.shear_strength),
        "strength": Named(f"material.{material.id}.strength", material.strength), "safety": Named(f"{job.path}.hold_down.safety", hold.safety),
    }  # fmt: skip
    beside = ""
    if held is not None and hold.kind in STUCK and held.slip is not None and held.lift is not None:
        beside = f", {hold.kind} holds besides"
        push, lift = push + held.slip, lift + held.lift
        inputs |= {
            "held_push": Named(f"{job.path}.held_push", held.slip, "N"),
            "held_lift": Named(f"{job.path}.held_lift", held.lift, "N"),
        }
    words = f"{tabs.count} tabs; half of them bear a push{beside}"
    return Bridges(plain(np.asarray(push)), plain(np.asarray(lift)), words, inputs)

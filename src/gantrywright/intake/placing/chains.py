"""Cable chains: half of each weighs on the body that holds its fixed end, half on the moving one."""

from collections.abc import Iterator
from dataclasses import replace
from math import pi

from gantrywright.base.units import Real
from gantrywright.catalog import kinds
from gantrywright.intake.geometry.frames import LEVEL
from gantrywright.intake.placing.world import World
from gantrywright.intake.tree import Branch
from gantrywright.intake.uses import record, use
from gantrywright.model.axis import CableChainFit
from gantrywright.model.bodies import Solid
from gantrywright.model.frame import Vector

POINT: Vector = (0.0, 0.0, 0.0)


def place_chain(world: World, axis: Branch) -> CableChainFit | None:
    """The cable chain of an axis, each end in the measures of its own body; None where it has none."""
    branch = axis.sub("cable_chain")
    part = record(branch.sub("part"), kinds.CableChain) if branch is not None else None
    if branch is None or part is None or branch.get("fixed_at") is None or branch.get("moving_at") is None:
        return None
    on = world.solid_named(str(branch.get("on") or ""), f"{branch.path}.on")
    radius = branch.get("radius", part.radius)
    return CableChainFit(part, on.path, branch["fixed_at"], branch["moving_at"], radius, use(branch).fitted)


def chain_solids(path: str, chain: CableChainFit, branch: Branch, moving: str, travel: float) -> Iterator[Solid]:
    """The two halves as points at their ends."""
    per_length = chain.part.mass_per_length
    half: Real | None = None if per_length is None or chain.radius is None else per_length * chain_length(travel, chain.radius) / 2
    how = use(branch)
    yield Solid(f"{path}.fixed-half", chain.on.split(".")[0], "cable-chain", half, chain.fixed_at, LEVEL, POINT, how)
    yield Solid(f"{path}.moving-half", moving, "cable-chain", half, chain.moving_at, LEVEL, POINT, replace(how, price=0.0))


def chain_length(travel: float, radius: float) -> float:
    """Fixed at mid travel: half the travel and the bend."""
    return travel / 2 + pi * radius

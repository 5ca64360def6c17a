"""Bodies that were weighed: what the list of parts lacks is a lump at their centre of mass."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from gantrywright.base.units import Real
from gantrywright.intake.geometry.frames import LEVEL
from gantrywright.intake.placing.world import World
from gantrywright.model.bodies import Solid, Use
from gantrywright.model.frame import Vector
from gantrywright.model.machine import Observation


def lumps(world: World, observations: Sequence[Observation], solids: Sequence[Solid]) -> list[Solid]:
    """A solid for each weighed body, in the frame of ``solids``.

    Parts of unknown mass are in what the scale showed, so the lump stands for them as well.
    """
    found = []
    for seen in observations:
        if seen.observe != "mass" or seen.value is None or seen.of not in world.bodies:
            continue
        own = [solid for solid in solids if solid.body == seen.of]
        listed: Real = sum((solid.mass for solid in own if solid.mass is not None), start=0.0)
        rest = seen.value - listed
        found.append(
            Solid(
                f"{seen.of}.not-listed",
                seen.of,
                "lump",
                rest,
                centre_of(own),
                LEVEL,
                (0.0, 0.0, 0.0),
                Use(note=f"weighed: {seen.name}"),
            )
        )
    return found


def without_unknown(solids: Sequence[Solid], weighed: Sequence[Solid]) -> list[Solid]:
    """Solids of weighed bodies with 0 for every unknown mass: the lump stands for them."""

    bodies = {lump.body for lump in weighed}
    return [replace(s, mass=0.0) if s.mass is None and s.body in bodies else s for s in solids]


def centre_of(solids: Sequence[Solid]) -> Vector:
    """Centre of mass by typical masses; the origin of a body of no mass."""
    masses = np.array([float(np.mean(s.mass)) if s.mass is not None else 0.0 for s in solids])
    if masses.sum() <= 0:
        return (0.0, 0.0, 0.0)
    centre = masses @ np.array([s.centre for s in solids]) / masses.sum()
    return (float(centre[0]), float(centre[1]), float(centre[2]))

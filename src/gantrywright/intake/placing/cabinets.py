"""The cabinet: a box of sheet with what sits in it."""

from gantrywright.base.names import nearest_sentence
from gantrywright.base.units import Real
from gantrywright.catalog import kinds
from gantrywright.intake.geometry.frames import LEVEL
from gantrywright.intake.placing.weights import mass_given
from gantrywright.intake.placing.world import Unplaced, World
from gantrywright.intake.tree import Branch
from gantrywright.intake.uses import record, use
from gantrywright.model.bodies import Solid

SHEET, BOARD = 0.0015, 0.012
"""Wall of a cabinet of metal and of anything lighter, m; common practice, no source."""
LIGHT = 2000.0
"""A material lighter than this is no metal, kg/m3."""


def place_cabinet(world: World, branch: Branch, ground: str) -> Solid:
    """Its box; its mass as said, else of its walls and the devices in it.

    Args:
        world: Bodies and materials.
        branch: Its table.
        ground: Body that carries it where the file does not say.
    """
    body = world.body_of(str(branch.get("on") or ground))
    if body not in world.bodies:
        known = [link.body for link in world.links]
        raise (
            world.problem(f"{branch.path}.on", f"no body '{body}'{nearest_sentence(body, known)}")
            if body not in known
            else Unplaced(branch.path)
        )
    mass = mass_given(branch)
    if mass is None:
        mass = _walls(world, branch)
    return Solid("cabinet", body, "cabinet", mass, branch["at"], LEVEL, branch["size"], use(branch))


def _walls(world: World, branch: Branch) -> Real | None:
    material = world.material(branch.get("material"), f"{branch.path}.material")
    density = material.density
    if density is None:
        return None
    x, y, z = branch["size"]
    wall = BOARD if bool((density < LIGHT) if isinstance(density, float) else (density.mean() < LIGHT)) else SHEET
    mass: Real = density * wall * 2 * (x * y + y * z + x * z)
    for _, device in branch.children("device"):
        part = record(device.sub("part"), kinds.Device)
        if part is not None and part.mass is not None:
            mass = mass + part.mass
    return mass

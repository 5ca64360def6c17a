"""What the work lies on: layers, or a box of skins and webs."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor

from gantrywright.base.units import Real
from gantrywright.intake.geometry.frames import LEVEL, bounds
from gantrywright.intake.placing.weights import mass_given
from gantrywright.intake.placing.world import Placed, Unplaced, World
from gantrywright.intake.tree import Branch
from gantrywright.intake.uses import use
from gantrywright.model.bodies import Layer, Solid
from gantrywright.model.frame import Vector

EACH_WAY = 0.1
"""A top without a size reaches this far over the work area on every side, m; common practice, no source."""


@dataclass(slots=True)
class Pile:
    """Layers put on each other from the bottom up."""

    world: World
    body: Placed
    middle: tuple[float, float]
    size: tuple[float, float]
    height: float

    def put(self, name: str, branch: Branch, thickness: float, mass: Real | None) -> Solid:
        """The next layer."""
        centre: Vector = (*self.middle, self.height + thickness / 2)
        self.height += thickness
        given = mass_given(branch)
        weight = mass if given is None else given
        path = f"{self.body.name}.top.{name}"
        self._keep(path, name, branch, centre, thickness)
        return Solid(path, self.body.name, "layer", weight, centre, LEVEL, (*self.size, thickness), use(branch))

    def _keep(self, path: str, name: str, branch: Branch, centre: Vector, thickness: float) -> None:
        """The layer with its material, for what it bears."""
        material = self.world.material(branch.get("material"), f"{branch.path}.material")
        kind = "webs" if name == "webs" else "skin" if name.startswith("skin") else "sheet"
        web = (branch["thickness"], branch["pitch"], branch["across_pitch"]) if kind == "webs" else None
        self.body.sheets.append(Layer(path, self.body.name, kind, material, centre, (*self.size, thickness), web))

    def sheet(self, name: str, branch: Branch) -> Solid:
        """A full sheet."""
        if branch.get("thickness") is None or branch.get("material") is None:
            raise Unplaced(branch.path)
        density = self.world.density(branch["material"], f"{branch.path}.material")
        thickness = branch["thickness"]
        mass = None if density is None else self.size[0] * self.size[1] * thickness * density
        return self.put(name, branch, thickness, mass)


def place_top(world: World, body: Placed, branch: Branch, work_area: Vector) -> list[Solid]:
    """The layers of a top, lowest first, in the measures of its body."""
    if not branch.get("on"):
        raise Unplaced(branch.path)
    carriers = world.solids_named(branch["on"], f"{branch.path}.on")
    least, most = bounds(carriers)
    size = branch.get("size") or (work_area[0] + 2 * EACH_WAY, work_area[1] + 2 * EACH_WAY)
    plane = body.middle if body.middle is not None else (least[0] + most[0]) / 2
    middle = branch.get("at") or (plane, (least[1] + most[1]) / 2)
    pile = Pile(world, body, middle, size, most[2])
    layers = list(_box(pile, branch)) if branch.get("recipe") == "torsion-box" else []
    layers.extend(pile.sheet(f"layer-{name}", layer) for name, layer in branch.children("layers"))
    return layers


def _box(pile: Pile, branch: Branch) -> Iterator[Solid]:
    """Lower skin, webs, upper skin."""
    skins, webs, height = branch.sub("skins"), branch.sub("webs"), branch.get("height")
    if skins is None or webs is None or height is None or skins.get("thickness") is None:
        raise Unplaced(branch.path)
    inside = height - 2 * skins["thickness"]
    if inside <= 0:
        raise pile.world.problem(f"{branch.path}.height", "the box is no higher than its two skins together")
    yield pile.sheet("skin-lower", skins)
    density = pile.world.density(webs["material"], f"{webs.path}.material")
    mass = None if density is None else web_area(pile.size, webs) * inside * density
    yield pile.put("webs", webs, inside, mass)
    yield pile.sheet("skin-upper", skins)


def web_area(size: tuple[float, float], webs: Branch) -> float:
    """Area that the webs cover, m2: one at each edge and at most a pitch apart, crossings counted once."""
    short, long = sorted(size)
    thick = webs["thickness"]
    lengthwise = floor(short / webs["pitch"] + 1e-9) + 1
    crosswise = floor(long / webs["across_pitch"] + 1e-9) + 1
    return float(thick * (lengthwise * long + crosswise * (short - lengthwise * thick)))

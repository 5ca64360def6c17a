"""One body: its recipe followed, its parts placed in own measures."""

from collections.abc import Callable
from typing import Any

from gantrywright.intake.placing.bars import place_bar
from gantrywright.intake.placing.plates import place_foot, place_item, place_plate
from gantrywright.intake.placing.tops import place_top
from gantrywright.intake.placing.world import Placed, Unplaced, World
from gantrywright.intake.recipes import recipes
from gantrywright.intake.recipes.making import Carried, NoRecipe
from gantrywright.intake.tree import Branch
from gantrywright.model.bodies import Link, Solid
from gantrywright.model.frame import Vector

SlideBase = Callable[[Placed], dict[str, Any]]
"""What slides on a body add to it, once its own parts are placed."""


def place_body(
    world: World, link: Link, origin: Vector, carried: Carried, *, made: dict[str, Any], slides: SlideBase, work_area: Vector
) -> Placed:
    """Place everything of one body; parts that fail are told and left out.

    Args:
        world: Takes the body.
        link: Its place in the chain.
        origin: In the measures of the ground body, as drawn.
        carried: By which guide.
        made: What a slide that moves it made.
        slides: Gives what slides that stand on it make.
        work_area: For a top without a size.
    """
    name = link.body
    tables = merged(_by_recipe(world, name, carried), made)
    body = _filled(world, link, origin, tables, carried)
    more = slides(body)
    if more:
        body = _filled(world, link, origin, merged(tables, more), carried)
    _top(world, body, work_area)
    return body


def merged(below: dict[str, Any], over: dict[str, Any]) -> dict[str, Any]:
    """Two nests of tables in one; the second wins."""
    result = dict(below)
    for key, value in over.items():
        old = result.get(key)
        result[key] = merged(old, value) if isinstance(old, dict) and isinstance(value, dict) else value
    return result


def _by_recipe(world: World, name: str, carried: Carried) -> dict[str, Any]:
    recipe = world.reading.recipe(name)
    if recipe is None:
        return {}
    maker = recipes().get(str(recipe.get("recipe") or ""))
    if maker is None:
        return {}
    try:
        return maker(recipe, carried)
    except NoRecipe as error:
        where = f"{name}.{error.key}"
        if not any(problem.path == where for problem in world.reading.problems):
            world.problem(where, error.told(world.said))
        world.unmade[name] = str(recipe.get("recipe"))
    except (KeyError, TypeError):  # a key that the recipe needs failed or is unknown: told already, or told by the caller
        world.unplaced.append(name)
        world.unmade[name] = str(recipe.get("recipe"))
    return {}


def _filled(world: World, link: Link, origin: Vector, tables: dict[str, Any], carried: Carried) -> Placed:
    branch = world.reading.body(link.body, made=tables)
    middle = branch.get("middle")
    if middle is None and (world.reading.recipe(link.body) is not None or link.axis):
        middle = 0.0
    body = Placed(link.body, branch, middle, origin)
    world.bodies[link.body] = body
    for group, place in (("member", _member), ("plate", _plate), ("item", _item), ("foot", _foot)):
        for name, part in branch.children(group):
            try:
                solid = place(world, body, name, part)
            except Unplaced:
                world.unplaced.append(part.path)
                continue
            _keep(world, body, solid, part)
    return body


def _keep(world: World, body: Placed, solid: Solid, branch: Branch) -> None:
    if solid.path in body.solids:
        world.problem(
            branch.path, f"'{solid.path}' is the name of another part of this body; parts of a body share one list of names"
        )
    if not solid.use.fitted:
        body.planned.append(solid)
        body.members.pop(solid.path, None)
        body.plates.pop(solid.path, None)
        return
    body.solids[solid.path] = solid
    body.branches[solid.path] = branch


def _member(world: World, body: Placed, name: str, branch: Branch) -> Solid:
    member, solid = place_bar(world, body, name, branch)
    body.members[member.path] = member
    return solid


def _plate(world: World, body: Placed, name: str, branch: Branch) -> Solid:
    plate, solid = place_plate(world, body, name, branch)
    body.plates[plate.path] = plate
    return solid


def _item(world: World, body: Placed, name: str, branch: Branch) -> Solid:
    return place_item(body, name, branch)


def _foot(world: World, body: Placed, name: str, branch: Branch) -> Solid:
    foot, solid = place_foot(world, body, name, branch)
    if solid.use.fitted:
        body.feet.append(foot)
    return solid


def _top(world: World, body: Placed, work_area: Vector) -> None:
    top = body.branch.sub("top")
    if top is None:
        return
    try:
        layers = place_top(world, body, top, work_area)
    except (Unplaced, KeyError, TypeError):
        world.unplaced.append(top.path)
        return
    body.layers = layers
    for layer in layers:
        body.solids[layer.path] = layer

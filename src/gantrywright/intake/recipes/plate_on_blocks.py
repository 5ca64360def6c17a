"""One plate on the blocks, or one that carries the riding rails."""

from typing import Any

from gantrywright.intake.geometry.frames import face_axes
from gantrywright.intake.recipes.making import Carried, said, vector
from gantrywright.intake.tree import Branch
from gantrywright.intake.values import Computed
from gantrywright.model.frame import add, along, scale

NAME = "plate-on-blocks"


def make(recipe: Branch, carried: Carried) -> dict[str, Any]:
    """``plate``, its back face on the mating face of the guide or so far off it."""
    n = carried.by_guide(NAME).n
    first, second = face_axes(n)
    aside, aslant = recipe.get("shift") or (0.0, 0.0)
    place = along((0.0, 0.0, 0.0), n, (recipe.get("spacers") or 0.0) + recipe["size"][2] / 2)
    place = add(place, add(scale(first, aside), scale(second, aslant)))
    own = said(recipe, "size") | said(recipe, "material")
    return {"plate": {"plate": own | {"normal": vector(n), "at": Computed(place)}}}

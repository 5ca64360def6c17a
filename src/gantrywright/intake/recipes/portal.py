"""Two upright bars and a beam."""

from typing import Any

from gantrywright.intake.geometry.frames import direction_of
from gantrywright.intake.recipes.beam_on_uprights import beam_between, is_short
from gantrywright.intake.recipes.making import Carried, NoRecipe, handed, point, section_size
from gantrywright.intake.tree import Branch

NAME = "portal"


def make(recipe: Branch, carried: Carried) -> dict[str, Any]:
    """``upright-left``, ``upright-right``, ``beam``."""
    leg, beam, half = recipe.branches["upright"], recipe.branches["beam"], recipe["stance"] / 2
    width, height = section_size(leg)
    up = direction_of(leg.get("up") or "back")
    thick = height if abs(up[0]) > 0.5 else width
    if leg["top"] <= leg["bottom"]:
        raise NoRecipe(
            "upright.top", "the upright ends at {}, not above its lower end at {}; top must be more", leg["top"], leg["bottom"]
        )
    if is_short(beam, 2 * half, thick):
        words = "an upright is {} wide; nothing is left between the two for the beam; stance must be more than {}"
        raise NoRecipe("stance", words, thick, thick)
    bars = {}
    for name, x in (("left", -half), ("right", half)):
        ends = {"from": point(x, 0.0, leg["bottom"]), "to": point(x, 0.0, leg["top"])}
        bars[f"upright-{name}"] = handed(leg, "section", "up", "fill") | ends
    bars["beam"] = beam_between(beam, -half, half, thick)
    return {"member": bars}

"""Two plates against the block faces and a beam between or on them."""

from typing import Any

from gantrywright.intake.recipes.making import Carried, NoRecipe, handed, point
from gantrywright.intake.tree import Branch

NAME = "beam-on-uprights"


def make(recipe: Branch, carried: Carried) -> dict[str, Any]:
    """``upright-left``, ``upright-right``, ``beam``."""
    beam, uprights = recipe.branches["beam"], recipe.branches["uprights"]
    left, right = carried.outermost(NAME)
    thick = uprights["size"][2]
    stand = uprights.get("spacers") or 0.0
    middles = [pad.at[0] + pad.normal[0] * (stand + thick / 2) for pad in (left, right)]
    apart = middles[1] - middles[0]
    if is_short(beam, apart, thick):
        words = "the uprights stand {} apart, middle to middle, and are {} thick; nothing is left between them for the beam; "
        raise NoRecipe("uprights.size", words + "set the rails further apart or the uprights thinner", apart, thick)
    y, z = uprights.get("at") or (0.0, 0.0)
    plates = {}
    for name, x in zip(("left", "right"), middles, strict=True):
        plates[f"upright-{name}"] = handed(uprights, "size", "material") | {"normal": name, "at": point(x, y, z)}
    return {"plate": plates, "member": {"beam": beam_between(beam, middles[0], middles[1], thick)}}


def is_short(beam: Branch, apart: float, thick: float) -> bool:
    """Whether a beam that stands between two uprights and has no length of its own would have none."""
    return beam.get("sits", "between") == "between" and not beam.get("length") and apart <= thick


def beam_between(beam: Branch, left: float, right: float, thick: float) -> dict[str, Any]:
    """The beam of two uprights: as long as they leave room for, or as they are apart outside.

    Args:
        beam: Its table.
        left: Middle of the left upright, x.
        right: Middle of the right upright, x.
        thick: What an upright measures along x.
    """
    at = beam["at"]
    room = right - left - thick if beam.get("sits", "between") == "between" else right - left + thick
    long = beam.get("length") or room
    middle = (left + right) / 2 + at[0]
    ends = {"from": point(middle - long / 2, at[1], at[2]), "to": point(middle + long / 2, at[1], at[2])}
    return handed(beam, "section", "up", "fill") | ends

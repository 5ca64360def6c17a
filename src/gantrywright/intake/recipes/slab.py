"""One slab along y on its feet."""

from typing import Any

from gantrywright.intake.recipes.making import Carried, handed, point
from gantrywright.intake.tree import Branch
from gantrywright.intake.values import Computed

NAME = "slab"


def make(recipe: Branch, carried: Carried) -> dict[str, Any]:
    """``slab``, ``foot-1`` ...: measures from the middle in x, the front end in y, the top face in z."""
    width, long, thick = recipe["size"]
    bar: dict[str, Any] = {
        "section": {"shape": "bar", "width": Computed(width), "height": Computed(thick), "material": recipe.entries["material"]},
        "material": recipe.entries["material"], "from": point(0.0, 0.0, -thick / 2), "to": point(0.0, long, -thick / 2), "up": "top",
    }  # fmt: skip
    made: dict[str, Any] = {"member": {"slab": bar}}
    feet = recipe.sub("feet")
    if feet is not None:
        made["foot"] = slab_feet(feet, width, long, -thick)
    return made


def slab_feet(feet: Branch, width: float, long: float, height: float) -> dict[str, Any]:
    """Feet in pairs from the front to the back; of an odd number the last stands alone behind."""
    count = int(feet.get("count") or 3)
    side, end = feet.get("inset") or (width / 10, long / 5)
    rows = (count + 1) // 2
    places = []
    for number in range(count):
        row = number // 2
        y = long / 2 if rows == 1 else end + (long - 2 * end) * row / (rows - 1)
        alone = number == count - 1 and count % 2 == 1
        places.append((0.0 if alone else (width / 2 - side) * (1 if number % 2 else -1), y))
    own = handed(feet, "part", "stiffness")
    return {f"foot-{number}": own | {"at": point(x, y, height)} for number, (x, y) in enumerate(places, 1)}

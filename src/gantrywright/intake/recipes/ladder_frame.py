"""Two sides, crosses between them, legs and stretchers."""

import itertools
from dataclasses import dataclass
from typing import Any

from gantrywright.intake.recipes.making import Carried, NoRecipe, handed, part_of, point, section_size
from gantrywright.intake.tree import Branch

NAME = "ladder-frame"


@dataclass(frozen=True, slots=True)
class Frame:
    """Sizes of one ladder frame: measures from the middle in x, the front end in y, the top face in z."""

    recipe: Branch
    long: float
    side_x: float
    """Middle of the right side."""
    side: tuple[float, float]
    """Width and height."""

    def section(self, part: str) -> Any:
        """The section of a part; the side's where it has none of its own."""
        return part_of(self.recipe, part if self.recipe.sub(part) is not None else "side")

    def size(self, part: str) -> tuple[float, float]:
        """Width and height of a part's section."""
        return section_size(self.recipe, part if self.recipe.sub(part) is not None else "side")

    def spread(self, count: int, wide: float) -> list[float]:
        """Middles of so many parts over the length, the outer ones flush with the ends."""
        if count == 1:
            return [self.long / 2]
        return [wide / 2 + (self.long - wide) * number / (count - 1) for number in range(count)]

    def check(self, legs: int) -> None:
        """Raise `NoRecipe` where a part between two others would have no length."""
        wide, high = self.side
        if self.recipe["width"] <= 2 * wide:
            raise NoRecipe(
                "width", "the sides are {} wide each; nothing is left between them; width must be more than {}", wide, 2 * wide
            )
        cross = self.size("cross")[0]
        if int(self.recipe["cross_members"]) > 1 and self.long <= cross:
            raise NoRecipe(
                "length", "a cross is {} wide and the outer ones are flush with the ends; length must be more than {}", cross, cross
            )
        if legs and self.recipe["height"] <= high:
            raise NoRecipe(
                "height", "the sides are {} high; nothing is left below them for legs; height must be more than {}", high, high
            )
        if self.recipe.get("stretcher_height") is not None and legs > 2:
            self._check_stretchers(legs // 2)

    def _check_stretchers(self, pairs: int) -> None:
        wide, deep = self.size("leg")
        least = wide + self.side[0]
        if 2 * self.side_x <= wide:
            raise NoRecipe(
                "width", "the legs are {} wide each; nothing is left between them; width must be more than {}", wide, least
            )
        if self.long <= pairs * deep:
            words = "the legs are {} deep each; nothing is left between them along y; length must be more than {}"
            raise NoRecipe("length", words, deep, pairs * deep)


def make(recipe: Branch, carried: Carried) -> dict[str, Any]:
    """Sides, crosses, legs, stretchers, feet."""
    side = section_size(recipe, "side")
    frame = Frame(recipe, recipe["length"], recipe["width"] / 2 - side[0] / 2, side)
    legs = int(recipe.get("legs") or 0)
    if legs % 2:
        raise NoRecipe("legs", f"{legs} legs cannot stand in pairs; give an even number")
    frame.check(legs)
    bars = _sides(frame) | _crosses(frame)
    rows = frame.spread(legs // 2, frame.size("leg")[1]) if legs else []
    bars |= _legs(frame, rows) | _stretchers(frame, rows)
    made: dict[str, Any] = {"member": bars}
    feet = recipe.sub("feet")
    if feet is not None:
        made["foot"] = {
            f"foot-{name}-{number}": handed(feet, "part", "stiffness") | {"at": point(x, y, -recipe["height"])}
            for name, x in (("left", -frame.side_x), ("right", frame.side_x))
            for number, y in enumerate(rows, 1)
        }
    return made


def _sides(frame: Frame) -> dict[str, Any]:
    z = -frame.side[1] / 2
    return {
        f"{name}-side": {"section": frame.section("side"), "from": point(x, 0.0, z), "to": point(x, frame.long, z)}
        for name, x in (("left", -frame.side_x), ("right", frame.side_x))
    }


def _crosses(frame: Frame) -> dict[str, Any]:
    wide, high = frame.size("cross")
    reach = frame.side_x - frame.side[0] / 2
    return {
        f"cross-{number}": {
            "section": frame.section("cross"), "from": point(-reach, y, -high / 2), "to": point(reach, y, -high / 2), "up": "top",
        }
        for number, y in enumerate(frame.spread(int(frame.recipe["cross_members"]), wide), 1)
    }  # fmt: skip


def _legs(frame: Frame, rows: list[float]) -> dict[str, Any]:
    floor, top = -frame.recipe["height"], -frame.side[1]
    return {
        f"leg-{name}-{number}": {"section": frame.section("leg"), "from": point(x, y, floor), "to": point(x, y, top), "up": "back"}
        for name, x in (("left", -frame.side_x), ("right", frame.side_x))
        for number, y in enumerate(rows, 1)
    }


def _stretchers(frame: Frame, rows: list[float]) -> dict[str, Any]:
    """Between neighbouring legs at each side, and across between the first and the last pair."""
    height = frame.recipe.get("stretcher_height")
    if height is None or len(rows) < 2:
        return {}
    section, z = frame.section("stretcher"), height - frame.recipe["height"]
    wide, deep = frame.size("leg")
    bars: dict[str, Any] = {}
    for name, x in (("left", -frame.side_x), ("right", frame.side_x)):
        for number, (front, back) in enumerate(itertools.pairwise(rows), 1):
            child = f"stretcher-{name}" if len(rows) == 2 else f"stretcher-{name}-{number}"
            bars[child] = {"section": section, "from": point(x, front + deep / 2, z), "to": point(x, back - deep / 2, z)}
    reach = frame.side_x - wide / 2
    for name, y in (("front", rows[0]), ("back", rows[-1])):
        bars[f"stretcher-{name}"] = {"section": section, "from": point(-reach, y, z), "to": point(reach, y, z)}
    return bars

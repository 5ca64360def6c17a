"""What recipes share: what carries the body, and how keys are handed on."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from gantrywright.base.spread import Origin
from gantrywright.intake.geometry.guide import Guide, Pad
from gantrywright.intake.layers import FAILED
from gantrywright.intake.tree import Branch, Entry
from gantrywright.intake.values import Computed
from gantrywright.model.frame import Vector

THING = ("stock", "owned", "price", "condition", "label", "note", "remaining", "mass", "fitted", "made")


class NoRecipe(ValueError):
    """The recipe cannot be followed here; says which key is wrong and why."""

    def __init__(self, key: str, message: str, *lengths: float) -> None:
        """Keep what is wrong.

        Args:
            key: The key, below the body.
            message: Why; each ``{}`` stands for a length.
            lengths: Metres, said in the units of the machine.
        """
        super().__init__(message)
        self.key = key
        self.lengths = lengths

    def told(self, said: Callable[[float], str]) -> str:
        """The message with its lengths as texts."""
        return str(self).format(*map(said, self.lengths)) if self.lengths else str(self)


@dataclass(frozen=True, slots=True)
class Carried:
    """What carries a body: a guide, or nothing that the recipe need know of."""

    guide: Guide | None = None

    def by_guide(self, recipe: str) -> Guide:
        """The guide; raises `NoRecipe` for a body that has none."""
        if self.guide is None:
            raise NoRecipe("recipe", f"{recipe} needs an axis that carries the body; list its parts instead")
        return self.guide

    def outermost(self, recipe: str) -> tuple[Pad, Pad]:
        """The pads that lie furthest left and right."""
        pads = sorted(self.by_guide(recipe).pads, key=lambda pad: pad.at[0])
        if pads[-1].at[0] - pads[0].at[0] < 1e-3:
            raise NoRecipe("recipe", f"{recipe} needs rails left and right; these lie above each other")
        return pads[0], pads[-1]


def point(x: float, y: float, z: float) -> Computed:
    """A place that the recipe worked out."""
    return Computed((x, y, z))


def vector(direction: Vector) -> Computed:
    """A direction."""
    return Computed(direction)


def handed(branch: Branch, *keys: str) -> dict[str, Any]:
    """Keys of a recipe's table for the parts that it makes: those named, and what is said of every thing."""
    found: dict[str, Any] = {}
    for key in keys:
        if key in branch.branches:
            found[key] = part_of(branch, key)
        else:
            found.update(said(branch, key))
    for key in THING:
        entry = branch.entries.get(key)
        if entry is not None and entry.origin.kind != "default":
            found[key] = entry
    return found


def said(branch: Branch, key: str) -> dict[str, Entry]:
    """A key for a part that the recipe makes; a material that could not be read is told already, so the part does not miss it."""
    if key in branch.entries:
        return {key: branch.entries[key]}
    return {key: Entry(FAILED, Origin("recipe"))} if key == "material" else {}


def part_of(branch: Branch, key: str) -> Branch | dict[str, Any]:
    """What stands under a key: a part as it is, any other table as its entries."""
    below = branch.branches[key]
    if not below.entries and not below.branches:  # no part of that name: told already
        return below
    if "kind" not in below.entries:
        return dict(below.entries)
    return Branch(below.path, below.line, {name: entry for name, entry in below.entries.items() if name != "kind"})


def section_size(branch: Branch, key: str = "section") -> tuple[float, float]:
    """Width and height of a section named in a recipe; raises `NoRecipe` where it is unknown."""
    row = branch.sub(key)
    width, height = (row.get("width"), row.get("height")) if row is not None else (None, None)
    height = height if height is not None else width
    width = width if width is not None else height
    if width is None or height is None:
        raise NoRecipe(key, "the section's width and height must be known to place what it carries")
    return float(width), float(height)

"""A bought slide: rails, blocks, the screw, a base on the carrying body and a saddle on the moving one.

It is made for an axis, not for a body, so it is no part of the register.
"""

from dataclasses import dataclass
from typing import Any

from gantrywright.catalog import kinds
from gantrywright.intake.geometry.frames import Face, face_axes, left_over
from gantrywright.intake.recipes.making import NoRecipe, handed, vector
from gantrywright.intake.tree import Branch
from gantrywright.intake.values import Computed
from gantrywright.model.frame import DIRECTIONS, Vector, add, along, dot, scale

METAL = "al-6082"
"""Base and saddle of a bought slide are taken as aluminium; the row gives their mass, common practice, no source."""
PAIRS = {"x": ("left", "right"), "y": ("front", "back"), "z": ("lower", "upper")}


@dataclass(frozen=True, slots=True)
class SlideMade:
    """What a slide makes, in the grammar of the file."""

    axis: dict[str, Any]
    carrier: dict[str, Any]
    moving: dict[str, Any]
    saddle: float
    """Thickness of the saddle: the moving body's origin lies on its outer face."""


def make(slide: Branch, row: kinds.Slide, face: Face, t: Vector, carrier: str, block_height: float) -> SlideMade:
    """Everything that a slide makes.

    Args:
        slide: Its table.
        row: Its part.
        face: Of the part that its base is screwed to, in the measures of the carrying body.
        t: Direction of the axis.
        carrier: Name of the carrying body.
        block_height: Rail foot to block face of its blocks.
    """
    for name in ("height", "base", "saddle", "rail_spacing", "block_spacing", "rail_length", "free_length"):
        if getattr(row, name) is None:
            raise NoRecipe("slide.part", f"the slide's {name} must be known to place it")
    assert row.base is not None
    assert row.saddle is not None
    n, s = face.normal, left_over(t, face.normal)
    first, second = face_axes(n)
    pair = slide.get("at") or (0.0, 0.0)
    foot = add(face.middle, add(scale(first, pair[0]), scale(second, pair[1])))
    base = _plate(row.base, foot, n, t, 1.0) | handed(slide) | _mass(slide.sub("part"), "mass_fixed")
    saddle = _plate(row.saddle, (0.0, 0.0, 0.0), n, t, -1.0) | _mass(slide.sub("part"), "mass_moving")
    shim = float(row.height) - row.base[2] - row.saddle[2] - block_height  # type: ignore[arg-type]
    return SlideMade(
        axis=_axis(row, t, n, s, f"{carrier}.slide-base", shim, block_height),
        carrier={"plate": {"slide-base": base}}, moving={"plate": {"saddle": saddle}}, saddle=row.saddle[2],
    )  # fmt: skip


def _plate(size: Vector, foot: Vector, n: Vector, t: Vector, side: float) -> dict[str, Any]:
    """A plate of across x along x thick on the outer (or, of the saddle, inner) side of a place."""
    across, long, thick = size
    lies_along = abs(dot(face_axes(n)[0], t)) > 0.5
    flat = (long, across) if lies_along else (across, long)
    return {
        "size": Computed((*flat, thick)), "normal": vector(n), "at": Computed(along(foot, n, side * thick / 2)), "material": METAL,
    }  # fmt: skip


def _mass(part: Branch | None, key: str) -> dict[str, Any]:
    entry = part.entries.get(key) if part is not None else None
    return {} if entry is None else {"mass": entry}


def _axis(row: kinds.Slide, t: Vector, n: Vector, s: Vector, base: str, shim: float, block_height: float) -> dict[str, Any]:
    letter = next((name for name, axis in (("x", "+x"), ("y", "+y"), ("z", "+z")) if dot(DIRECTIONS[axis], s) > 0.99), "x")
    word = ", ".join(f"{part:.9g}" for part in n)
    rails = {
        name: {
            "part": row.rail, "length": Computed(row.rail_length), "on": base, "face": word, "shim": Computed(shim),
            "across": Computed(sign * float(row.rail_spacing) / 2),  # type: ignore[arg-type]
        }
        for name, sign in zip(PAIRS[letter], (-1.0, 1.0), strict=True)
    }  # fmt: skip
    return {
        "rail": rails,
        "blocks": {"part": row.block, "per_rail": 2, "spacing": Computed(row.block_spacing)},
        "drive": {
            "main": {
                "kind": "ball-screw", "part": row.screw, "offset": Computed(scale(n, block_height / 2)), "length": Computed(row.free_length),
                "motor_end": vector(t),
            }
        },
    }  # fmt: skip

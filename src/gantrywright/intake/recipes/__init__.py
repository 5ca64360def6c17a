"""Recipes of bodies, one file each; the folder is the register.

A module defines ``NAME`` (its word in machine files) and ``make(recipe, carried)``, which gives tables just as a builder would list them:
nested dicts in the grammar of the file whose leaves are texts, `Computed` values, entries or parts taken over from the recipe's own table.
"""

from collections.abc import Callable, Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import Any

from gantrywright.intake.recipes.making import Carried
from gantrywright.intake.tree import Branch

Made = dict[str, Any]
Maker = Callable[[Branch, Carried], Made]


@cache
def recipes() -> Mapping[str, Maker]:
    """Every recipe by its word in machine files."""
    found: dict[str, Maker] = {}
    for item in iter_modules(__path__):
        module = import_module(f"{__name__}.{item.name}")
        if hasattr(module, "NAME"):
            found[module.NAME] = module.make
    return found

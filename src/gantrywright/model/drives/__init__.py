"""The kinds of linear drive, one module each; the folder is the register.

A module defines ``KIND`` (its word in machine files), ``PART`` (the catalog record of its long piece) and ``make(parts)``.
"""

from collections.abc import Callable, Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from gantrywright.model.drives.protocol import Drive, DriveParts


@cache
def drive_kinds() -> Mapping[str, Callable[[DriveParts], Drive]]:
    """Every kind by its word in machine files, with the function that makes one."""
    kinds: dict[str, Callable[[DriveParts], Drive]] = {}
    for found in iter_modules(__path__):
        if found.name != "protocol":
            module = import_module(f"{__name__}.{found.name}")
            kinds[module.KIND] = module.make
    return kinds

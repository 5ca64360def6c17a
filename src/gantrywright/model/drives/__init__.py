"""The kinds of linear drive, one module each; the folder is the register.

A module that makes one defines ``KIND`` (its word in machine files), ``PART`` (the catalog record of its long piece) and ``make(parts)``.
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
        module = import_module(f"{__name__}.{found.name}")
        if hasattr(module, "KIND"):
            kinds[module.KIND] = module.make
    return kinds

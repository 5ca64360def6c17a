"""Machines whose scenes are tested, read once."""

from functools import cache
from pathlib import Path

from gantrywright.intake.resolve import load_machine
from gantrywright.model.machine import Machine
from gantrywright.scene import Scene, scene_of

ROOT = Path(__file__).parents[1]
FILES = {
    **{name: ROOT / "src" / "gantrywright" / "data" / "demo" / f"{name}.toml" for name in ("as-built", "first-idea", "bench")},
    **{name: ROOT / "tests" / "machines" / f"{name}.toml" for name in ("long_bed", "fixed_gantry", "salvaged")},
}
NAMES = tuple(FILES)


@cache
def machine(name: str) -> Machine:
    """One of the machines."""
    return load_machine(FILES[name])


@cache
def scene(name: str) -> Scene:
    """Its scene."""
    return scene_of(machine(name))

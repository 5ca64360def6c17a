"""The kinds of motor, one module each; the folder is the register.

A module that defines ``KIND`` (its word in the parts tables) and ``make(parts)`` is a kind.
"""

from collections.abc import Callable, Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from gantrywright.model.axis import DriveFit
from gantrywright.model.motors.protocol import Missing, Motor, MotorParts

__all__ = ["Missing", "Motor", "MotorParts", "motor_kinds", "motor_of"]


@cache
def motor_kinds() -> Mapping[str, Callable[[MotorParts], Motor | Missing]]:
    """Every kind by its word in the parts tables, with the function that makes one."""
    modules = (import_module(f"{__name__}.{found.name}") for found in iter_modules(__path__))
    return {module.KIND: module.make for module in modules if hasattr(module, "KIND")}


def motor_of(drive: DriveFit) -> Motor | Missing:
    """The motor of a drive, or what must be known to have one."""
    if drive.motor is None:
        return Missing(f"{drive.path}.motor")
    kind = drive.motor.part.type
    if kind not in motor_kinds():
        return Missing(f"{drive.motor.path}.type (one of {', '.join(sorted(motor_kinds()))})")
    return motor_kinds()[kind](MotorParts(drive.path, drive.motor.part, drive.driver))

"""What stands in the machine file, as it was typed: a change is proposed in the same unit, and names every part that takes it."""

from collections.abc import Iterable

from gantrywright.base.errors import GantrywrightError
from gantrywright.base.quantities import parse, show
from gantrywright.base.quantities.characters import plain
from gantrywright.base.quantities.scalar import part_band
from gantrywright.model.machine import Machine

INCHES = ("in", "inch", "inches", '"', "thou", "ft", "'")
"""Units of the inch system, and their signs."""


def system_of(machine: Machine, path: str, kind: str) -> str:
    """The system of units that a value was typed in; that of the machine where it was not typed.

    Args:
        machine: The machine.
        path: Of the value.
        kind: ``length``, ``size3`` ...
    """
    text = _text(machine, path)
    if not text:
        return machine.show
    try:
        unit = parse(text, kind).unit
    except GantrywrightError:
        return machine.show
    return "inch" if unit in INCHES or '"' in text else "metric"


def typed(machine: Machine, path: str, value: float) -> str:
    """A length as it was typed, without its band; worded anew where the file does not say it.

    Example:
        ``1-1/8 in``
    """
    return part_band(_text(machine, path))[0] or show(value, "m", machine.show, digits=4)


def typed_last(machine: Machine, path: str, value: float) -> str:
    """The last of several lengths as it was typed: of ``10 x 24 x 1/2 in`` the ``1/2 in``."""
    text = _text(machine, path)
    return plain(text).rpartition("x")[2].strip() or show(value, "m", machine.show, digits=4)


def _text(machine: Machine, path: str) -> str:
    stated = machine.stated.get(path)
    return "" if stated is None or stated.path != path else stated.origin.text


def source_of(machine: Machine, path: str) -> str:
    """The key that a value is edited at: that of the sibling where a part is its mirror image, else its own."""
    while True:
        stated = machine.stated.get(path) or machine.stated.get(f"{path}.part")
        if stated is None or stated.origin.kind != "mirror" or not stated.origin.path:
            return path
        path = stated.origin.path


def named(paths: Iterable[str]) -> str:
    """Parts by name, each once.

    Example:
        >>> named(("base.left", "base.right", "base.left"))
        'base.left and base.right'
    """
    each = list(dict.fromkeys(paths))
    return " and ".join((", ".join(each[:-1]), each[-1])) if len(each) > 1 else each[0]

"""SI values as text: for people in their system, and for files exactly."""

import math
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from gantrywright.base.quantities.kinds import SCALARS, factor_of

System = Literal["metric", "inch"]

_Steps = tuple[tuple[float, str], ...]
"""Units by the size in SI from which they are used, the largest first."""


def _both(steps: _Steps) -> dict[System, _Steps]:
    return {"metric": steps, "inch": steps}


_HOUR, _MINUTE = 3600.0, 60.0
_TILT: dict[System, _Steps] = {
    "metric": ((1e6, "MN m/rad"), (1e3, "kN m/rad"), (0, "N m/rad")), "inch": ((0, "lbf in/rad"),)
}  # fmt: skip
_STIFFNESS: dict[System, _Steps] = {"metric": ((1e5, "N/um"), (0, "N/mm")), "inch": ((0, "lbf/in"),)}

STEPS: dict[str, dict[System, _Steps]] = {
    "length": {
        "metric": ((1e4, "km"), (20.0, "m"), (1e-4, "mm"), (0, "um")),
        "inch": ((1e4, "mi"), (20.0, "ft"), (2.54e-4, "in"), (0, "thou")),
    },
    "area": {"metric": ((0.01, "m2"), (0, "mm2")), "inch": ((0.1, "ft2"), (0, "in2"))},
    "second-moment": {"metric": ((1e-10, "cm4"), (0, "mm4")), "inch": ((0, "in4"),)},
    "angle": _both(((0.1 * math.pi / 180, "deg"), (math.pi / 10800, "arcmin"), (0, "arcsec"))),
    "mass": {"metric": ((0.1, "kg"), (0, "g")), "inch": ((0.1, "lb"), (0, "oz"))},
    "linear-mass": {"metric": ((0, "kg/m"),), "inch": ((0, "lb/ft"),)},
    "density": {"metric": ((0, "kg/m3"),), "inch": ((0, "lb/ft3"),)},
    "inertia": {"metric": ((0.01, "kg m2"), (1e-6, "kg cm2"), (0, "g cm2")), "inch": ((1e-4, "lb in2"), (0, "oz in2"))},
    "force": {"metric": ((1e4, "kN"), (0, "N")), "inch": ((0.1, "lbf"), (0, "ozf"))},
    "torque": {"metric": ((0.1, "N m"), (0, "mN m")), "inch": ((0.113, "lbf in"), (0, "oz in"))},
    "pressure": {"metric": ((1e9, "GPa"), (1e6, "MPa"), (0, "kPa")), "inch": ((6.894e7, "ksi"), (0, "psi"))},
    "stiffness": _STIFFNESS,
    "edge-force": {"metric": ((0, "N/mm"),), "inch": ((0, "lbf/in"),)},
    "tilt-stiffness": _TILT,
    "twist-stiffness": _TILT,
    "viscous": _both(((0.01, "N m s"), (0, "mN m s"))),
    "pressure-speed": {"metric": ((0, "MPa m/s"),), "inch": ((0, "psi ft/min"),)},
    "speed": {"metric": ((0.1 / 60, "m/min"), (0, "mm/min")), "inch": ((0, "in/min"),)},
    "accel": {"metric": ((0.1, "m/s2"), (0, "mm/s2")), "inch": ((0, "in/s2"),)},
    "turn-speed": _both(((0, "rpm"),)),
    # chips fly by the cubic centimetre a minute, air by the cubic metre an hour
    "flow": {"metric": ((5e-4, "m3/h"), (0, "cm3/min")), "inch": ((5e-4, "ft3/min"), (0, "in3/min"))},
    "frequency": _both(((1e4, "kHz"), (0, "Hz"))),
    "time": _both(((2 * _HOUR, "h"), (2 * _MINUTE, "min"), (0.1, "s"), (1e-4, "ms"), (0, "us"))),
    "lead": {"metric": ((0, "mm/rev"),), "inch": ((0, "in/rev"),)},
    "voltage": _both(((0.1, "V"), (0, "mV"))),
    "current": _both(((0.1, "A"), (0, "mA"))),
    "power": _both(((1e3, "kW"), (0, "W"))),
    "resistance": _both(((0.01, "ohm"), (0, "mohm"))),
    "inductance": _both(((1e-4, "mH"), (0, "uH"))),
    "capacitance": _both(((1e-2, "mF"), (0, "uF"))),
    "temperature": {"metric": ((0, "°C"),), "inch": ((0, "°F"),)},
    "tempdiff": {"metric": ((0, "K"),), "inch": ((0, "°F"),)},
    "expansion": {"metric": ((0, "um/m/K"),), "inch": ((0, "uin/in/°F"),)},
    "straightness": {"metric": ((1e-3, "mm/m"), (0, "um/m")), "inch": ((0, "thou/ft"),)},
}
"""The units that a kind is shown in."""

OTHERS: dict[str, dict[System, tuple[str, float]]] = {
    "J": {"metric": ("J", 1.0), "inch": ("lbf ft", 1.3558179483314004)},
    "Wb": {"metric": ("mWb", 1e-3), "inch": ("mWb", 1e-3)},
    "m/N": {"metric": ("um/N", 1e-6), "inch": ("thou/lbf", 2.54e-5 / 4.4482216152605)},
    "m/rad": {"metric": ("mm/rad", 1e-3), "inch": ("in/rad", 0.0254)},
    "N m/A": {"metric": ("N m/A", 1.0), "inch": ("oz in/A", 0.007061551833333)},
}
"""Units of results that no key of a file takes, with their worth in SI."""

BY_SYMBOL = {
    "m": "length", "m2": "area", "m4": "second-moment", "m/rev": "lead", "m/m": "straightness", "rad": "angle", "rad/s": "turn-speed", "m/s": "speed",
    "m/s2": "accel", "s": "time", "m3/s": "flow", "Hz": "frequency", "kg": "mass", "kg/m": "linear-mass", "kg/m3": "density", "kg m2": "inertia",
    "N": "force", "N m": "torque", "N/m": "stiffness", "N m/rad": "tilt-stiffness", "N m s": "viscous", "Pa": "pressure",
    "Pa m/s": "pressure-speed", "W": "power", "V": "voltage", "A": "current", "ohm": "resistance", "H": "inductance",
    "F": "capacitance", "K": "tempdiff", "1/K": "expansion", "": "number", "money": "money",
}  # fmt: skip
"""The kind that a symbol of ``base.units`` stands for."""

_ABSOLUTE = 200.0
"""Kelvin from which a bare "K" is a temperature: no part grows this much warmer, and no workshop is colder."""


LARGE = 4
"""Power of ten from which digits before the decimal point say more than is known."""


def unit_for(value: float, unit: str, system: str = "metric") -> str:
    """The name of the unit that a value would be shown in: a hint for others that stand beside it; empty where the unit has no steps.

    Example:
        >>> unit_for(4.5e-5, "m"), show(1.1e-4, "m", hint=unit_for(4.5e-5, "m"))
        ('um', '110 um')
    """
    kind = BY_SYMBOL.get(unit, unit)
    if kind not in STEPS or kind == "tempdiff" or not math.isfinite(value) or not value:
        return ""
    return _unit(value, unit, system, "")[0]


def show(value: float | None, unit: str, system: str = "metric", *, digits: int = 3, hint: str = "") -> str:
    """Word a value for people, in their system.

    Args:
        value: In SI; None and not-a-number are unknown.
        unit: Symbol of its SI unit (``m/s``) or a kind (``speed``).
        system: ``metric`` or ``inch``.
        digits: Significant digits; those before the decimal point are rounded away from 10 000 on only.
        hint: A kind that says more than the symbol, or a unit to use as it is (``mm``, ``um``, ``rad/s``, ``%``, a currency).

    Example:
        >>> show(0.2, "m/s"), show(0.2, "m/s", "inch")
        ('12 m/min', '472 in/min')
        >>> show(0.0381, "length", "inch", digits=4)
        '1.5 in'
    """
    if unit == "flag":
        return "unknown" if value is None else "yes" if value else "no"
    if value is None or math.isnan(value):
        return "unknown"
    if math.isinf(value):
        return "no limit" if value > 0 else "-no limit"
    name, into = _unit(value, unit, system, hint)
    return f"{_digits(into(value), 2 if unit == 'money' else None, digits)} {name}".strip()


def show_band(
    low: float, typical: float, high: float, unit: str, system: str = "metric", *, digits: int = 3, hint: str = ""
) -> str:
    """Word a value and its band in one unit, as the reader takes it.

    Example:
        >>> show_band(1e8, 2.5e8, 4e8, "N/m")
        '250 N/um (100..400)'
    """
    if any(math.isnan(v) or math.isinf(v) for v in (low, typical, high)):
        return f"{show(typical, unit, system, digits=digits, hint=hint)} ({show(low, unit, system)}..{show(high, unit, system)})"
    name, into = _unit(typical or max(-low, high), unit, system, hint)
    numbers = [_digits(into(v), None, digits) for v in (typical, low, high)]
    return f"{numbers[0]} {name} ({numbers[1]}..{numbers[2]})".replace("  ", " ")


def write(value: float, unit: str, kind: str) -> str:
    """The text that `parse` reads back as this value, in the unit wanted: for edits of a file.

    Example:
        >>> write(0.0127, "in", "length"), write(293.15, "°C", "temperature")
        ('0.5 in', '20 °C')
    """
    factor = factor_of(kind, unit)
    if factor is None:
        raise KeyError(f"{kind} has no unit {unit!r}")
    exact = (Fraction(value) - factor[2]) * factor[1] / factor[0]
    if factor[2]:  # the zero of the scale was rounded into the float: bring back the decimals that were meant
        exact = Fraction(round(exact, 13 - max(0, math.ceil(math.log10(abs(value) + 1)))))
    text = format(Decimal(repr(float(exact))), "f") if 1e-9 <= abs(exact) < 1e15 else repr(float(exact))
    text = text.removesuffix(".0")
    return f"{text} {unit}".strip()


def _unit(value: float, unit: str, system: str, hint: str) -> tuple[str, Callable[[float], float]]:
    """Unit to show a value in, and how it is reached."""
    which: System = "inch" if system == "inch" else "metric"
    kind = hint if hint in STEPS else BY_SYMBOL.get(unit, unit)
    if kind == "tempdiff" and unit == "K" and hint != "tempdiff" and abs(value) >= _ABSOLUTE:
        kind = "temperature"
    if hint and hint not in STEPS:
        factor = factor_of(kind, hint) if kind in SCALARS and kind != "money" else None
        return (hint, _into(kind, hint)) if factor else (hint, float)
    if kind in STEPS:
        steps = STEPS[kind][which]
        name = next(name for least, name in steps if abs(value) * (1 + 1e-9) >= least) if value else _ordinary(steps)
        return name, _into(kind, name)
    if kind in OTHERS:
        name, worth = OTHERS[kind][which]
        return name, lambda v: v / worth
    return ("" if kind in {"number", "count", "money"} else kind), float


def _ordinary(steps: _Steps) -> str:
    """The unit that zero is shown in."""
    names = [name for _, name in steps]
    return next((name for name in ("mm", "in", "deg", "s", "Hz", "N", "kPa", "W") if name in names), names[0])


def _into(kind: str, unit: str) -> Callable[[float], float]:
    factor = factor_of(kind, unit)
    assert factor is not None, (kind, unit)
    top, under, zero = factor[0], factor[1], float(factor[2])
    return lambda value: (value - zero) * under / top


def _digits(number: float, places: int | None, digits: int) -> str:
    if number == 0:
        return "0"
    size = math.floor(math.log10(abs(number)))
    if places is None and digits <= size < 15 and size >= LARGE:
        number = round(number, digits - 1 - size)
    if places is None and not -4 <= size < 15:
        text = f"{number:.{digits - 1}e}"
        body, _, power = text.partition("e")
        return f"{body.rstrip('0').rstrip('.') if '.' in body else body}e{int(power)}"
    text = f"{number:.{max(0, digits - 1 - size) if places is None else places}f}"
    if places is not None:
        text = text.removesuffix(".00")
    else:
        text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text

"""Values as text, in the units of the machine and in the other ones."""

import re
from collections.abc import Sequence
from datetime import date
from typing import Any

from gantrywright.base.errors import UnreadableText
from gantrywright.base.quantities import SCALARS, parse, show, show_band
from gantrywright.base.spread import Spread
from gantrywright.base.values import Bolts, PhaseCurrent, Rating
from gantrywright.intake.edits import written
from gantrywright.intake.grammar.shape import Key
from gantrywright.intake.values import DIRECTIONS

POINTS = {"point": ", ", "pair": ", ", "size2": " x ", "size3": " x "}
_IMPERIAL = re.compile(r"\b(in|ft|thou|mi|lb|lbf|oz|ozf|psi|ksi|hp)\b|°F|in2|ft2|in4")
_EXACT = 1e-9


def other_system(system: str) -> str:
    """The system that is not shown."""
    return "metric" if system == "inch" else "inch"


def as_written(raw: Any) -> str:
    """A raw value of the file as a builder would type it again; of a part its name."""
    if isinstance(raw, str):
        return raw
    if isinstance(raw, dict):
        return str(raw.get("part", ""))
    return "" if raw is None else written(raw)


def said(value: Any, key: Key, system: str, *, like: str = "", currency: str = "") -> str:
    """One value as a text that the reader takes.

    Args:
        value: As the tree of the file holds it.
        key: Its key.
        system: metric or inch.
        like: The text that it was read from: its unit is kept where it belongs to the system.
        currency: Of the machine.
    """
    if value is None:
        return "unknown"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str | date):
        return str(value)
    if key.item_kind and isinstance(value, tuple):
        return written([said(item, key.item, system) for item in value])
    if isinstance(value, tuple):
        return _several(value, key.kind, system)
    if isinstance(value, Rating):
        return f"{_number(float(value.force), 'force', system, '')}{_reference(value)}"
    if isinstance(value, PhaseCurrent):
        return f"{_number(float(value.value), 'current', system, '')} {value.convention}"
    if isinstance(value, Bolts):
        return f"{value.count} x {value.thread}"
    if isinstance(value, int):
        return str(value)
    if key.kind == "quantity":
        return like
    if isinstance(value, float):
        return _number(value, key.kind, system, _hint(key.kind, system, like, currency))
    return ""


def band(spread: Spread | None, key: Key, system: str, *, like: str = "") -> str:
    """The band of a value: ``100..400 N/um``, or the words that it may be."""
    if spread is None:
        return ""
    if spread.shape == "choice":
        return " or ".join(spread.choices)
    kind = {"rating": "force", "static-rating": "force", "phase-current": "current"}.get(key.kind, key.kind)
    hint = _hint(kind, system, like, "")
    text = show_band(spread.low, spread.typical, spread.high, kind, system, hint=hint)
    head, _, inside = text.partition("(")
    unit = head.strip().partition(" ")[2]
    return f"{inside.rstrip(')')} {unit}".strip()


def _number(value: float, kind: str, system: str, hint: str) -> str:
    """With as many digits as it takes to read back as the same, five at most."""
    text = ""
    for digits in (3, 4, 5):
        text = show(value, kind, system, digits=digits, hint=hint)
        if _same(text, value, kind):
            break
    return text


def _same(text: str, value: float, kind: str) -> bool:
    try:
        return bool(abs(parse(text, kind).value - value) <= _EXACT * abs(value))
    except (UnreadableText, KeyError):
        return True  # no kind of the file: any digits will do


def _hint(kind: str, system: str, like: str, currency: str) -> str:
    """The unit as it was written, where it belongs to the system."""
    if kind == "money":
        return (currency or "EUR") + (re.search(r"/\w+$", like) or [""])[0]
    if not like or kind not in SCALARS:
        return ""
    try:
        unit = parse(like, kind).unit
    except UnreadableText:
        return ""
    if kind == "number":
        return "%" if unit == "%" else ""
    if unit not in SCALARS[kind].units:
        unit = SCALARS[kind].also.get(unit, "")
    if show(1.0, kind, "inch") == show(1.0, kind, "metric"):
        return unit
    return unit if bool(_IMPERIAL.search(unit)) == (system == "inch") else ""


def _several(value: Sequence[Any], kind: str, system: str) -> str:
    if kind == "direction":
        return next((word for word, vector in DIRECTIONS.items() if vector == value), ", ".join(f"{part:.6g}" for part in value))
    unit, metres = ("in", 0.0254) if system == "inch" else ("mm", 1e-3)
    if kind == "pose":
        return ", ".join(part if isinstance(part, str) else f"{_plain(part / metres)} {unit}" for part in value)
    if kind == "range":
        return f"{_plain(value[0] / metres)}..{_plain(value[1] / metres)} {unit}"
    return f"{POINTS.get(kind, ', ').join(_plain(part / metres) for part in value)} {unit}"


def _plain(number: float) -> str:
    text = f"{number:.4f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _reference(value: Rating) -> str:
    if value.basis == "distance":
        return f" at {value.reference / 1e3:g} km"
    return f" at {value.reference:.0e} rev".replace("e+0", "e") if value.basis == "turns" else ""

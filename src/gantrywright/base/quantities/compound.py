"""Values of several numbers: points, sizes, ranges, bolts, ratings, phase currents."""

import re
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any, TypeAlias

from gantrywright.base.errors import UnreadableText
from gantrywright.base.quantities.kinds import SCALARS, guess_kind
from gantrywright.base.quantities.number import split
from gantrywright.base.quantities.quantity import Quantity
from gantrywright.base.quantities.scalar import part_band, read_band, read_scalar
from gantrywright.base.values import Bolts, PhaseCurrent, Rating

Reader: TypeAlias = Callable[..., Quantity]
"""Takes a text in plain characters and, or not, the unit that serves numbers without one."""

_BOLTS = re.compile(r"(\d+)\s*x\s*(\S.*)$")
_THREAD = re.compile(
    r"(?:M\d+(?:\.\d+)?(?:x\d+(?:\.\d+)?)?|Tr\d+(?:\.\d+)?x\d+(?:\.\d+)?|(?:UN[CF]-)?(?:#?\d+|\d+/\d+|\d+-\d+/\d+)-\d+)$"
)
_COMMAS = re.compile(r",(?:\s+|$)")
_BARE = 2
"""Commas between three numbers."""
_CROSSES = re.compile(r"\s*x\s*")
_DISTANCES = ("km", "m", "ft", "mi")
_TURNS = ("rev", "turns", "revolutions")


def _several(text: str, parts: list[str], kind: str, unit: str | None, example: str) -> tuple[tuple[float, ...], str]:
    need = example.count(",") + example.count(" x ") + 1
    if len(parts) != need or not all(parts):
        hint = "; a comma that parts numbers has a blank behind it" if "," in text and " x " not in example else ""
        raise UnreadableText(f'{text!r}: {need} numbers are wanted and {sum(map(bool, parts))} read{hint}; write "{example}"')
    if part_band(text)[1]:
        raise UnreadableText(f"{text!r}: a band stands on one number only; give the doubtful component a line of its own")
    last = read_scalar(parts[-1], kind, unit)
    return (*(read_scalar(part, kind, last.unit).value for part in parts[:-1]), last.value), last.unit


def _listed(example: str, kind: str = "length") -> Reader:
    def read(text: str, unit: str | None = None) -> Quantity:
        return Quantity(*_several(text, _parted(text, example), kind, unit, example))

    return read


def _parted(text: str, example: str) -> list[str]:
    """Parted at commas with a blank behind; where three numbers are wanted and two bare commas stand, neither can mark decimals."""
    bare = text.count(",") == _BARE == example.count(",") and not _COMMAS.search(text)
    return text.split(",") if bare else _COMMAS.split(text)


def _sized(example: str) -> Reader:
    def read(text: str, unit: str | None = None) -> Quantity:
        values, used = _several(text, _CROSSES.split(text), "length", unit, example)
        if min(values) <= 0:
            raise UnreadableText(f'{text!r}: a size is above zero; write "{example}"')
        return Quantity(values, used)

    return read


def read_range(text: str, unit: str | None = None, *, kind: str = "") -> Quantity:
    """``2080..2240 mm``; without a kind the unit says it."""
    low, dots, high = text.partition("..")
    if not dots or not low.strip() or not high.strip():
        raise UnreadableText(f'{text!r} is no range; write the lower and the upper end, as in "2080..2240 mm"')
    known = kind or _kind_by_unit(high.strip())
    last = read_scalar(high.strip(), known, unit)
    first = read_scalar(low.strip(), known, last.unit)
    if first.value > last.value:
        raise UnreadableText(f"{text!r}: the lower end of a range stands first")
    return Quantity((first.value, last.value), last.unit)


def read_any(text: str, unit: str | None = None) -> Quantity:
    """A quantity whose unit alone says its kind."""
    head, band = part_band(text)
    kind = _kind_by_unit(head if unit is None else f"{head} {unit}")
    main = read_scalar(head, kind, unit)
    return Quantity(main.value, main.unit, read_band(band, main, kind) if band else None)


def _kind_by_unit(text: str) -> str:
    _, unit = split(text)
    kind = guess_kind(unit)
    if not kind:
        raise UnreadableText(f"{text!r}: no kind of quantity has the unit {unit!r}")
    return kind


def read_bolts(text: str, _: str | None = None) -> Quantity:
    """``8 x M8``."""
    found = _BOLTS.match(text)
    thread = found[2].replace(" ", "") if found else ""
    if found is None or not _THREAD.match(thread) or int(found[1]) < 1:
        raise UnreadableText(f'{text!r}: write how many and which thread, as in "8 x M8", "4 x M8x1" or "6 x 1/4-20"')
    return Quantity(Bolts(int(found[1]), thread))


def read_phase_current(text: str, unit: str | None = None) -> Quantity:
    """``6 A peak``, ``4.2 A rms``, perhaps with a band."""
    head, band = part_band(text)
    number, _, word = head.rpartition(" ")
    if word not in {"peak", "rms"}:
        said = f"{head} peak" if head.endswith("A") else "6 A peak"
        raise UnreadableText(
            f"{text!r} does not say how the current of a phase is measured, and the two differ by 1.41;"
            f' write "{said}" (top of the sine) or "{said.replace("peak", "rms")}" (both phases carry it as direct current)'
        )
    main = read_scalar(number, "current", unit)
    convention = "peak" if word == "peak" else "rms"
    return Quantity(PhaseCurrent(main.value, convention), f"{main.unit} {word}", read_band(band, main, "current") if band else None)  # type: ignore[arg-type]


def read_rating(text: str, unit: str | None = None) -> Quantity:
    """``13.7 kN at 100 km``, ``12 kN (9..14) at 1e6 rev``: a rating over a distance or over turns."""
    load, at, over = text.partition(" at ")
    head, band = part_band(load.strip())
    if not at:
        raise UnreadableText(
            f"{text!r} does not say what the rating refers to, and 50 km against 100 km is a factor of 1.26;"
            f' write "{head} at 100 km" or "{head} at 50 km" (guides), "{head} at 1e6 rev" (screws and bearings)'
        )
    main = read_scalar(head, "force", unit)
    basis, reference = _reference(text, over.strip())
    value = Rating(_above_zero(text, main.value), basis, reference)  # type: ignore[arg-type]
    return Quantity(value, main.unit, read_band(band, main, "force") if band else None)


def read_static_rating(text: str, unit: str | None = None) -> Quantity:
    """``25 kN``: a rating against permanent deformation, which has no reference."""
    head, band = part_band(text.removesuffix("static").strip())
    if " at " in head:
        raise UnreadableText(f'{text!r}: a static rating has no reference; write "{head.partition(" at ")[0]}"')
    main = read_scalar(head, "force", unit)
    spread = read_band(band, main, "force") if band else None
    return Quantity(Rating(_above_zero(text, main.value), "static"), main.unit, spread)


def _reference(text: str, over: str) -> tuple[str, float]:
    number, unit = split(over)
    if number is not None and unit in _TURNS:
        return "turns", _above_zero(text, number[0] / number[1])
    if number is not None and unit in _DISTANCES:
        return "distance", _above_zero(text, read_scalar(over, "length").value)
    raise UnreadableText(f'{text!r}: {over!r} is no reference of a rating; write "at 100 km", "at 50 km" or "at 1e6 rev"')


def _above_zero(text: str, value: float) -> float:
    if value <= 0:
        raise UnreadableText(f"{text!r}: a rating and its reference are above zero")
    return value


def with_number(value: Any, number: Any) -> Any:
    """The value with another number in it: a sampled rating or phase current keeps its reference or convention.

    Example:
        >>> with_number(PhaseCurrent(4.2, "rms"), 4.0)
        PhaseCurrent(value=4.0, convention='rms')
    """
    if isinstance(value, Rating):
        return replace(value, force=number)
    if isinstance(value, PhaseCurrent):
        return replace(value, value=number)
    return number


COMPOUND: dict[str, Reader] = {
    "point": _listed("40, 0, 780 mm"),
    "pair": _listed("0, -20 mm"),
    "vector": _listed("0, 0.7, 0.7", "number"),
    "size2": _sized("1160 x 1900 mm"),
    "size3": _sized("260 x 570 x 20 mm"),
    "range": read_range,
    **{f"range {kind}": partial(read_range, kind=kind) for kind in SCALARS},
    "quantity": read_any,
    "bolts": read_bolts,
    "phase-current": read_phase_current,
    "rating": read_rating,
    "static-rating": read_static_rating,
}
"""Readers of values that are more than one number, or whose unit says their kind."""

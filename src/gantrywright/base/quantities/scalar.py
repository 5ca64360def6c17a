"""One number with its unit: ``12.7 mm``, ``1-1/2"``, ``5' 2-1/2"``, ``15 %``; and the band behind it."""

import re
from dataclasses import dataclass
from fractions import Fraction
from statistics import NormalDist

from gantrywright.base.errors import UnreadableText
from gantrywright.base.quantities.kinds import SCALARS, Factor, bare, factor_of, kinds_with
from gantrywright.base.quantities.number import Ratio, split
from gantrywright.base.spread import Spread

FEET_INCHES = re.compile(r"(?:'|ft|feet|foot)\s*(\d.*?)\s*(?:\"|in|inch|inches)$")
DOLLARS = re.compile(r"\$\s*([\d][^/$]*?)\s*(/.*)?$")
BAND = re.compile(r"\((?P<low>.*)\.\.(?P<high>.*)\)$")
EDGE = NormalDist().inv_cdf(0.95)
"""Of a normal spread, 95 % lie below the middle plus this many standard deviations (1.645)."""


@dataclass(frozen=True, slots=True)
class Scalar:
    """A number, exact, and its unit."""

    number: Ratio
    unit: str
    factor: Factor

    @property
    def value(self) -> float:
        """In SI, rounded once."""
        top, under, zero = self.factor
        if not zero:
            return self.number[0] * top / (self.number[1] * under)
        return float(Fraction(self.number[0] * top, self.number[1] * under) + zero)

    @property
    def difference(self) -> float:
        """In SI, as a difference: without the worth of the unit's zero."""
        top, under, _ = self.factor
        return self.number[0] * top / (self.number[1] * under)


def read_scalar(text: str, kind: str, unit: str | None = None) -> Scalar:
    """Read one number with its unit.

    Args:
        text: Plain characters.
        kind: Name of a scalar kind.
        unit: The unit that serves a number without one; None: such a number is refused unless the kind is a plain number.

    Raises:
        UnreadableText: Says what was read, what units are allowed and what to write.
    """
    number, rest = split(_dollars(text) if kind == "money" else text)
    if number is None:
        raise UnreadableText(f"{text!r} starts with no number; {_advice(kind)}")
    if kind in {"length", "lead"} and (inches := FEET_INCHES.match(rest)):
        return _feet_and_inches(text, number, inches[1], kind)
    used = unit if not rest and unit is not None else rest
    factor = factor_of(kind, used)
    if factor is None:
        raise UnreadableText(_wrong_unit(text, kind, used))
    return Scalar(number, used, factor)


def read_band(text: str, main: Scalar, kind: str) -> Spread:
    """The spread that stands behind a value: ``(100..400)``, ``+- 0.3 N/um``, ``+- 5 %``."""
    if text.startswith("+-"):
        return _measured(text[2:].strip(), main, kind)
    found = BAND.match(text)
    if found is None:
        raise UnreadableText(f"{text!r} is no band; write (low..high), or +- with the expanded uncertainty, as in +- 5 %")
    high = read_scalar(found["high"].strip(), kind, main.unit)
    low = read_scalar(found["low"].strip(), kind, high.unit)
    typical = main.value
    if not low.value <= typical <= high.value:
        raise UnreadableText(
            f"the band {text} does not hold the value before it; write low..high so that the typical value lies between"
        )
    return Spread(low.value, typical, high.value)


def part_band(text: str) -> tuple[str, str]:
    """A text without its band, and the band."""
    if text.endswith(")"):
        at = text.rfind("(")
    else:
        at = text.find("+-")
    return (text, "") if at <= 0 else (text[:at].strip(), text[at:])


def _measured(text: str, main: Scalar, kind: str) -> Spread:
    if text.endswith("%") and kind == "number" and main.unit == "%":
        raise UnreadableText(
            f"+- {text} of a value in % may mean a share of it or points of per cent; write a band, as in 50 % (45..55)"
        )
    if text.endswith("%") and kind != "number":
        if main.factor[2]:
            raise UnreadableText(f"+- {text}: a share of a temperature means nothing; write it in degrees, as in 20 °C +- 2 °C")
        expanded = abs(main.value) * read_scalar(text, "number").value
    elif text.endswith("%"):
        expanded = abs(main.value) * read_scalar(text, "number").value
    else:
        expanded = read_scalar(text, kind, main.unit).difference
    if expanded < 0:
        raise UnreadableText(f"+- {text}: an uncertainty is not negative")
    edge = EDGE * expanded / 2
    return Spread(main.value - edge, main.value, main.value + edge, "normal")


def _dollars(text: str) -> str:
    """The sign, before or behind the number, is taken for the dollar of the United States: others write their code."""
    before = DOLLARS.match(text)
    return f"{before[1]} USD{before[2] or ''}" if before else re.sub(r"\$(?=$|/)", "USD", text)


def _feet_and_inches(text: str, feet: Ratio, inches: str, kind: str) -> Scalar:
    more, rest = split(inches)
    if more is None or rest or more[0] >= 12 * more[1]:
        raise UnreadableText(f"{text!r}: behind the feet stand inches below 12, as in 5' 2-1/2\"")
    sign = -1 if text.startswith("-") else 1
    whole = Fraction(abs(feet[0]) * 12, feet[1]) + Fraction(more[0], more[1])
    factor = factor_of(kind, "in")
    assert factor is not None
    return Scalar((sign * whole.numerator, whole.denominator), "in", factor)


def _advice(kind: str) -> str:
    about = SCALARS[kind]
    written = " or ".join(f'"{example}"' for example in about.examples)
    if kind == "money":
        return f"write {about.words} with its ISO 4217 code, perhaps per m, m2 or kg: {written}"
    if kind == "count":
        return f"write {about.words}: {written}"
    if kind == "number":
        return f"write {about.words}, perhaps in %: {written}"
    return f"write {about.words} in {', '.join(about.units)}: {written}"


def _wrong_unit(text: str, kind: str, unit: str) -> str:
    about = SCALARS[kind]
    if not unit:
        return f"{text!r} has no unit; {_advice(kind)}"
    offered = next((write for wrong, write in about.offers.items() if bare(wrong) == bare(unit)), "")
    if offered and kind == "money":
        return (
            f"{text!r}: {unit!r} may be the sign of several currencies; write the ISO 4217 code, such as {offered}; {_advice(kind)}"
        )
    if offered:
        written = f"{text.removesuffix(unit).strip()} {offered}" if " (" not in offered else offered
        return f'{text!r}: {about.words} is wanted and {unit!r} is not a unit of it; write "{written}"; {_advice(kind)}'
    spelt = [known for known in about.units if known.lower() == unit.lower()]
    if spelt:
        return (
            f"{text!r}: units are read with their capitals, and there is no {unit!r}; perhaps {' or '.join(spelt)}; {_advice(kind)}"
        )
    others = [other.words.split(" ", 1)[1] for other in kinds_with(unit)]
    if others:
        return f"{text!r}: {unit!r} is a unit of {others[0]} and {about.words} is wanted; {_advice(kind)}"
    return f"{text!r}: there is no unit {unit!r} here; {_advice(kind)}"

"""A number as builders write it, read exactly."""

import re

from gantrywright.base.errors import UnreadableText

Ratio = tuple[int, int]
"""Numerator and denominator, not reduced."""

NUMBER = re.compile(
    r"""(?P<sign>[-+]?)\ ?
    (?: (?: (?P<whole>\d+)(?:\ +|-) )? (?P<over>\d+)/(?P<under>\d+) (?![\d.])       # 1/2, 1 1/2, 1-1/2
      | (?P<digits>\d{1,3}(?:\ \d{3})+(?!\d)(?:\.\d+)? | \d+(?:\.\d+)? | \.\d+) (?: [eE](?P<power>[-+]?\d+) (?![\d.]) )? )""",
    re.VERBOSE,
)
_LONGEST = 60
_COMMA = re.compile(r"\d,\d")
_THOUSANDS = re.compile(r"([-+]?\d{1,3}(?:,\d{3})+)(\.\d+)?$")
_DOTTED = re.compile(r"([-+]?\d{1,3}(?:\.\d{3})+),(\d+)$")
_WHOLE = re.compile(r"[-+.,\d]+")


def split(text: str) -> tuple[Ratio | None, str]:
    """The number at the start of a text and what follows it; None where the text starts with no number.

    Raises:
        UnreadableText: The number has a comma, a group of digits that is not three long, or more than two digits of exponent.
    """
    found = NUMBER.match(text)
    if found is None:
        _refuse_commas(text)
        return None, text
    if found.end() > _LONGEST:
        raise UnreadableText(
            f"{text[:_LONGEST]!r}... has more digits than any number of a machine; write it with an exponent, as in 2e-6"
        )
    rest = text[found.end() :]
    if rest[:1] in {",", "."} or (rest[:1] == " " and rest.lstrip()[:1].isdigit() and not rest.lstrip().startswith("1/")):
        _refuse_commas(text)
        _refuse_groups(text, rest)
    return _ratio(found, text), rest.lstrip()


def _ratio(found: re.Match[str], text: str) -> Ratio:
    sign = -1 if found["sign"] == "-" else 1
    if found["over"]:
        under = int(found["under"])
        if under == 0:
            raise UnreadableText(f"{text!r} divides by zero")
        return sign * (int(found["whole"] or 0) * under + int(found["over"])), under
    digits, power = found["digits"].replace(" ", ""), found["power"] or "0"
    if len(power.lstrip("+-")) > 2:
        raise UnreadableText(f"{text!r}: an exponent has two digits at most, as in 2e-6")
    whole, _, decimals = digits.partition(".")
    top, shift = sign * int(whole + decimals), int(power) - len(decimals)
    return (top * 10**shift, 1) if shift >= 0 else (top, 10**-shift)


def _refuse_commas(text: str) -> None:
    if not _COMMA.search(text):
        return
    written = _WHOLE.match(text)
    number = written[0] if written else text
    unit = text[len(number) :].strip()
    raise UnreadableText(f"{text!r}: {_readings(number, unit)}")


def _readings(number: str, unit: str) -> str:
    def said(value: str) -> str:
        return f"{value} {unit}".strip()

    thousands, dotted = _THOUSANDS.match(number), _DOTTED.match(number)
    joined = number.replace(",", "")
    if dotted:
        return f'the mark of decimals is a point; write "{said(dotted[1].replace(".", "") + "." + dotted[2])}"'
    if thousands and (thousands[2] or number.count(",") > 1):
        return f'a comma does not group thousands here; write "{said(joined)}"'
    decimal = number.replace(",", ".", 1)
    if thousands:
        grouped = number.replace(",", " ")
        return f'this may mean {said(joined)} or {said(decimal)}; write "{said(grouped)}" or "{said(decimal)}"'
    if number.count(",") == 1:
        return f'this may mean {said(decimal)}, or {said(joined)} with a lost digit group; the mark of decimals is a point, no comma: write "{said(decimal)}"'
    listed = number.replace(",", ", ")
    return f'this seems to be several numbers; a comma that parts numbers has a blank behind it: write "{said(listed)}"'


def _refuse_groups(text: str, rest: str) -> None:
    if rest[:1] == ",":
        raise UnreadableText(f"{text!r} is a list; one number is wanted here")
    if rest[:1] == ".":
        raise UnreadableText(f"{text!r}: a number has one decimal point with digits behind it, as in 12.5")
    raise UnreadableText(f"{text!r}: blanks part groups of three digits only, as in 18 000; a fraction is written 1 1/2 or 1-1/2")
